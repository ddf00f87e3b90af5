package bot

import (
	"fmt"
	"sync"
	"testing"
)

func TestLately(t *testing.T) {
	r := lately[string, turn]{most: recentMost}
	if _, ok := r.get("never"); ok {
		t.Error("what was never put is found")
	}
	r.put("first", turn{knitalong: "a"})
	for i := range recentMost { // until the half with it is full
		r.put(fmt.Sprint(i), turn{})
	}
	r.put("first of the next half", turn{saved: true})
	if found, ok := r.get("first"); !ok || found.knitalong != "a" {
		t.Errorf("found %+v, %v, expected what was put", found, ok)
	}
	for i := range 3 * recentMost {
		r.put(fmt.Sprint("more", i), turn{})
		if n := len(r.now) + len(r.before); n > 2*recentMost {
			t.Fatalf("%d are remembered, expected at most %d", n, 2*recentMost)
		}
	}
	if _, ok := r.get("first"); ok {
		t.Error("the oldest is still remembered")
	}
}

func TestLatelyTogether(t *testing.T) {
	r := lately[string, turn]{most: recentMost}
	var all sync.WaitGroup
	for g := range 4 {
		all.Go(func() {
			for i := range 1000 {
				key := fmt.Sprint(g, " ", i)
				r.put(key, turn{knitalong: key})
				if found, _ := r.get(key); found.knitalong != key {
					t.Errorf("found %q, expected %q", found.knitalong, key)
				}
			}
		})
	}
	all.Wait()
}
