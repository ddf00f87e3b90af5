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

// A text of a few lines can ask for more memory, and more of the processor, than
// there is for all.
func TestProveRefusesWhatIsTooLarge(t *testing.T) {
	b := New(nil, time.Now, func() string { return "" }, zerolog.Nop())
	for _, c := range []struct {
		head, cast string
		rounds     int
		want       error
	}{
		{"", "1000", 500, nil},
		{"", "1000", 501, errTooManyStitches},
		{"Sizes: small (large)\n", "1000 (1000)", 500, nil},
		{"Sizes: small (large)\n", "1000 (1000)", 501, errTooManyStitches},
		{"Sizes: small (medium, large)\n", "1000 (1000, 1000)", 333, nil},
		{"Sizes: small (medium, large)\n", "1000 (1000, 1000)", 334, errTooManyStitches},
	} {
		text := fmt.Appendf(nil, "Pattern: The Long Pier (invented)\nWorked: in rounds\n%sCast on: %s\n\nSection: Planks\nRounds 1-%d: k to end.\n", c.head, c.cast, c.rounds)
		p, err := b.prove(t.Context(), text)
		if !errors.Is(err, c.want) {
			t.Errorf("%d rounds of %s stitches: %v, expected %v", c.rounds, c.cast, err, c.want)
		}
		if err == nil && (p.wrong() || p.MostStitches() != int64(1000*c.rounds)) {
			t.Errorf("%d rounds of %s stitches are counted as %d: %v", c.rounds, c.cast, p.MostStitches(), p.problems)
		}
	}
}

// The rows are counted while the pattern has its turn to be proved.
func TestProveCountsRows(t *testing.T) {
	b := New(nil, time.Now, func() string { return "" }, zerolog.Nop())
	p, err := b.prove(t.Context(), []byte("Pattern: Mat\nWorked: in rows\nSizes: small (large)\nCast on: 4 (6)\nSection: All\nRows 1-4: knit.\n"))
	if err != nil || p.rows != "four rows in all" {
		t.Errorf("found %+v, %v", p, err)
	}
}
