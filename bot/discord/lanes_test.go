package discord

import (
	"context"
	"fmt"
	"slices"
	"sync"
	"testing"
	"time"

	"go.uber.org/goleak"
	"pgregory.net/rapid"
)

func TestLanesKeepEachMembersOrder(t *testing.T) {
	defer goleak.VerifyNone(t)
	rapid.Check(t, func(t *rapid.T) {
		asked := rapid.SliceOfN(rapid.IntRange(0, 4), 1, 60).Draw(t, "who asks")
		var l lanes
		var mu sync.Mutex
		want, got := map[int][]int{}, map[int][]int{}
		for i, member := range asked {
			taken := l.run(fmt.Sprint(member), func() {
				mu.Lock()
				defer mu.Unlock()
				got[member] = append(got[member], i)
			})
			if taken {
				want[member] = append(want[member], i)
			}
		}
		if !l.close(t.Context()) {
			t.Fatal("the jobs did not end")
		}
		for member := range want {
			if !slices.Equal(want[member], got[member]) {
				t.Fatalf("member %d's jobs ran in the order %v, expected %v", member, got[member], want[member])
			}
		}
		if l.waiting != 0 || len(l.jobs) != 0 {
			t.Fatalf("%d jobs and %d lanes are left behind", l.waiting, len(l.jobs))
		}
	})
}

func TestLanesOfDifferentMembersRunAtOnce(t *testing.T) {
	defer goleak.VerifyNone(t)
	var l lanes
	meet := make(chan struct{})
	l.run("wren", func() { meet <- struct{}{} })
	l.run("odo", func() { <-meet }) // each waits for the other
	if !l.close(t.Context()) {
		t.Error("they did not run at once")
	}
}

func TestLanesAreBounded(t *testing.T) {
	defer goleak.VerifyNone(t)
	var l lanes
	hold := make(chan struct{})
	for i := range laneMost {
		if !l.run("wren", func() { <-hold }) {
			t.Fatalf("job %d was not taken, expected %d to be", i+1, laneMost)
		}
	}
	if l.run("wren", func() { t.Error("a job ran that was not taken") }) {
		t.Error("one more job was taken")
	}
	if !l.run("odo", func() {}) {
		t.Error("another member's job was not taken")
	}
	ctx, cancel := context.WithTimeout(t.Context(), 10*time.Millisecond)
	defer cancel()
	if l.close(ctx) {
		t.Error("close says that all is done, and wren's jobs are held")
	}
	if l.run("tamsin", func() { t.Error("a job ran that was not taken") }) {
		t.Error("a job was taken after close")
	}
	close(hold)
	if !l.close(t.Context()) {
		t.Error("the jobs did not end")
	}
}

func TestLanesTogetherAreBounded(t *testing.T) {
	defer goleak.VerifyNone(t)
	var l lanes
	hold := make(chan struct{})
	for i := range waitingMost {
		if !l.run(fmt.Sprint(i), func() { <-hold }) {
			t.Fatalf("job %d was not taken, expected %d to be", i+1, waitingMost)
		}
	}
	if l.run("one more", func() {}) {
		t.Error("one more job was taken")
	}
	close(hold)
	if !l.close(t.Context()) {
		t.Error("the jobs did not end")
	}
}
