package bot

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"testing"
	"time"

	"github.com/rs/zerolog"
)

// A proof ends with the time that it has, and waits for its turn no longer than
// that.
func TestProveWithin(t *testing.T) {
	b := New(nil, time.Now, func() string { return "f" }, zerolog.Nop())
	text := []byte("Pattern: Mat\nWorked: in rows\nCast on: 4\nSection: All\nRow 1: knit.\n")
	over, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := b.prove(t.Context(), text); err != nil {
		t.Fatalf("a sound pattern: %v", err)
	}
	for range proofsAtOnce {
		b.proofs <- struct{}{}
	}
	if _, err := b.prove(over, text); !errors.Is(err, errProofsBusy) {
		t.Errorf("with others being proved found %v, expected that", err)
	}
	for range proofsAtOnce {
		<-b.proofs
	}
	large := bytes.Repeat([]byte("Row 1: knit.\n"), 1000)
	if _, err := b.prove(over, append(text, large...)); !errors.Is(err, errProofLong) && !errors.Is(err, errProofsBusy) {
		t.Errorf("with no time left found %v, expected that", err)
	}
	if len(b.proofs) != 0 {
		t.Errorf("%d turns are still taken", len(b.proofs))
	}
}

func TestProofFailed(t *testing.T) {
	for _, err := range []error{errProofsBusy, errProofLong, errTooManyStitches} {
		if r, rest := proofFailed(err); r.Said == "" || rest != nil {
			t.Errorf("%v is answered %q, %v", err, r.Said, rest)
		}
	}
	other := errors.New("other")
	if _, rest := proofFailed(other); rest != other {
		t.Errorf("found %v, expected the error itself", rest)
	}
}

// A text of a few lines can ask for more memory than a process has.
func TestProveRefusesWhatIsTooLarge(t *testing.T) {
	b := New(nil, time.Now, func() string { return "" }, zerolog.Nop())
	pattern := func(rounds int) []byte {
		return fmt.Appendf(nil, "Pattern: The Long Pier (invented)\nWorked: in rounds\nCast on: 1000\n\nSection: Planks\nRounds 1-%d: k to end.\n", rounds)
	}
	if _, err := b.prove(t.Context(), pattern(1001)); !errors.Is(err, errTooManyStitches) {
		t.Errorf("a million stitches and a thousand: %v", err)
	}
	if p, err := b.prove(t.Context(), pattern(1000)); err != nil || p.MostStitches() != 1_000_000 {
		t.Errorf("a million stitches are counted otherwise, or refused: %v", err)
	}
}
