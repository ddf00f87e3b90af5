package bot

import (
	"errors"
	"testing"
)

func TestKept(t *testing.T) {
	var k kept[int, string]
	made := 0
	get := func(key int) {
		if v, err := k.get(key, func() (string, error) { made++; return "made", nil }); v != "made" || err != nil {
			t.Fatalf("found %q, %v", v, err)
		}
	}
	get(1)
	get(1)
	if made != 1 {
		t.Errorf("one key was made %d times, expected once", made)
	}
	if _, err := k.get(2, func() (string, error) { return "", errUnfit }); !errors.Is(err, errUnfit) {
		t.Errorf("found %v, expected the error of making it", err)
	}
	get(2)
	if made != 2 {
		t.Errorf("what could not be made was kept")
	}
	for key := range 10 * keptMost {
		get(key)
		if len(k.of) > keptMost {
			t.Fatalf("%d are kept, expected at most %d", len(k.of), keptMost)
		}
	}
}

func TestKeptByWeight(t *testing.T) {
	k := kept[int, int]{weigh: func(v int) int64 { return int64(v) }, most: 10}
	made := 0
	get := func(key, weight int) {
		t.Helper()
		if v, err := k.get(key, func() (int, error) { made++; return weight, nil }); v != weight || err != nil {
			t.Fatalf("found %d, %v", v, err)
		}
		sum := 0
		for _, v := range k.of {
			sum += v
		}
		if sum > 10 || int64(sum) != k.weight {
			t.Fatalf("%d are kept and counted as %d, expected at most ten", sum, k.weight)
		}
	}
	get(1, 6)
	get(2, 4)
	get(1, 6)
	if made != 2 {
		t.Errorf("two keys that fit were made %d times", made)
	}
	get(3, 11)
	get(3, 11)
	get(1, 6)
	if made != 4 {
		t.Errorf("what is too heavy was kept, or put out the others: made %d times, expected four", made)
	}
	get(4, 1)
	get(1, 6)
	if made != 6 {
		t.Errorf("made %d times, expected six: one more did not fit", made)
	}
}
