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
