package bot

import (
	"context"
	"errors"
	"strings"
	"sync/atomic"
	"testing"
	"testing/synctest"
)

func TestKept(t *testing.T) {
	var k kept[int, string]
	made := 0
	get := func(key int) {
		if v, err := k.get(t.Context(), key, func(context.Context) (string, error) { made++; return "made", nil }); v != "made" || err != nil {
			t.Fatalf("found %q, %v", v, err)
		}
	}
	get(1)
	get(1)
	if made != 1 {
		t.Errorf("one key was made %d times, expected once", made)
	}
	if _, err := k.get(t.Context(), 2, func(context.Context) (string, error) { return "", errUnfit }); !errors.Is(err, errUnfit) {
		t.Errorf("found %v, expected the error of making it", err)
	}
	get(2)
	if made != 2 {
		t.Errorf("what could not be made was kept")
	}
	for key := range 10 * keptMost {
		get(key)
		get(1)
		if len(k.of) > keptMost {
			t.Fatalf("%d are kept, expected at most %d", len(k.of), keptMost)
		}
	}
	// All but the first three are new, and the one that is used all along stays.
	if want := 10*keptMost + 1; made > want {
		t.Errorf("made %d times, expected at most %d", made, want)
	}
}

// What no longer fits drops those that were used longest ago, and no others.
func TestKeptByWeight(t *testing.T) {
	k := kept[int, int]{weigh: func(v int) int64 { return int64(v) }, most: 10}
	for _, step := range []struct {
		key, weight int
		made        bool
	}{
		{1, 6, true}, {2, 3, true}, {1, 6, false}, {2, 3, false},
		{3, 11, true}, {3, 11, true}, {1, 6, false}, // what is too heavy by itself is not kept, and drops nothing
		{4, 2, true}, {1, 6, false}, {4, 2, false}, {2, 3, true}, // the second was used longest ago
		{5, 10, true}, {1, 6, true}, {5, 10, true},
	} {
		made := false
		v, err := k.get(t.Context(), step.key, func(context.Context) (int, error) { made = true; return step.weight, nil })
		if v != step.weight || err != nil || made != step.made {
			t.Fatalf("%d found %d, %v, made %v, expected %v", step.key, v, err, made, step.made)
		}
		sum := int64(0)
		for _, one := range k.of {
			sum += int64(one.value)
		}
		if sum > 10 || sum != k.weight {
			t.Fatalf("%d are kept and counted as %d, expected at most ten", sum, k.weight)
		}
	}
}

// Those who come while it is being made get the same.
func TestKeptMadeOnce(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var k kept[string, int]
		var made, got atomic.Int64
		finish := make(chan struct{})
		for range 40 {
			go func() {
				v, err := k.get(t.Context(), "blanket", func(context.Context) (int, error) {
					<-finish
					return int(made.Add(1)), nil
				})
				if v == 1 && err == nil {
					got.Add(1)
				}
			}()
		}
		synctest.Wait()
		close(finish)
		synctest.Wait()
		if made.Load() != 1 || got.Load() != 40 {
			t.Errorf("made %d times for %d of 40, expected once for all", made.Load(), got.Load())
		}
	})
}

// A request that ends waits no longer, and leaves what it asked for to the next.
func TestKeptOutlastsRequests(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var k kept[string, int]
		made, finish := 0, make(chan struct{})
		work := func(ctx context.Context) (int, error) {
			<-finish
			made++
			return made, ctx.Err()
		}
		ctx, cancel := context.WithCancel(t.Context())
		go func() { synctest.Wait(); cancel() }()
		if _, err := k.get(ctx, "blanket", work); !errors.Is(err, errNotYet) || !errors.Is(err, context.Canceled) {
			t.Errorf("found %v, expected that it is not ready", err)
		}
		close(finish)
		synctest.Wait()
		if v, err := k.get(t.Context(), "blanket", work); v != 1 || err != nil {
			t.Errorf("the next finds %d, %v, expected what the first began", v, err)
		}
	})
}

func TestKeptFewAtOnce(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var k kept[int, int]
		var begun, got atomic.Int64
		finish := make(chan struct{})
		for key := range 10 {
			go func() {
				_, _ = k.get(t.Context(), key, func(context.Context) (int, error) {
					begun.Add(1)
					<-finish
					return key, nil
				})
				got.Add(1)
			}()
		}
		synctest.Wait()
		if begun.Load() != madeAtOnce {
			t.Errorf("%d are made at once, expected %d", begun.Load(), madeAtOnce)
		}
		close(finish)
		synctest.Wait()
		if got.Load() != 10 {
			t.Errorf("%d of ten are made", got.Load())
		}
	})
}

// What panics ends the requests that need it, and nothing else.
func TestKeptPanic(t *testing.T) {
	var k kept[int, int]
	if _, err := k.get(t.Context(), 1, func(context.Context) (int, error) { panic("the yarn broke") }); err == nil || !strings.Contains(err.Error(), "the yarn broke") {
		t.Errorf("found %v, expected the panic", err)
	}
	if v, err := k.get(t.Context(), 1, func(context.Context) (int, error) { return 2, nil }); v != 2 || err != nil {
		t.Errorf("then found %d, %v", v, err)
	}
}
