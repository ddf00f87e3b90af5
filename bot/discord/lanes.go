package discord

import (
	"context"
	"sync"
)

// Bounds on what waits and on what is worked on at once. A knitter who asks
// faster than this is pressing a button that sticks, and all of them together
// would be more than the store can carry in the time that an answer has.
const (
	laneMost    = 16     // jobs of one member, waiting or being worked on
	waitingMost = 20_000 // jobs of all members
)

// lanes runs each member's jobs in the order in which they came, and those of
// different members at once. The zero value is ready.
type lanes struct {
	mu      sync.Mutex
	jobs    map[string][]func() // by member; the first of each is being worked on
	waiting int
	closed  bool
	all     sync.WaitGroup
}

// run puts a job into a lane. It never waits. It says false where the lane or
// all of them together are full, or closed; then the job is not run. A job must
// not panic.
func (l *lanes) run(lane string, job func()) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	queue := l.jobs[lane]
	if l.closed || len(queue) >= laneMost || l.waiting >= waitingMost {
		return false
	}
	if l.jobs == nil {
		l.jobs = map[string][]func(){}
	}
	l.jobs[lane] = append(queue, job)
	l.waiting++
	if len(queue) == 0 {
		l.all.Go(func() { l.drain(lane) })
	}
	return true
}

// drain works a lane off until it is empty.
func (l *lanes) drain(lane string) {
	for job := l.head(lane); job != nil; job = l.done(lane) {
		job()
	}
}

func (l *lanes) head(lane string) func() {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.jobs[lane][0]
}

// done drops the job that was worked on, and gives the next, or nil.
func (l *lanes) done(lane string) func() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.waiting--
	queue := l.jobs[lane][1:]
	if len(queue) == 0 {
		delete(l.jobs, lane)
		return nil
	}
	l.jobs[lane] = queue
	return queue[0]
}

// close takes no more jobs, and waits for those that it has until ctx ends. It
// says whether all were done.
func (l *lanes) close(ctx context.Context) bool {
	l.mu.Lock()
	l.closed = true
	l.mu.Unlock()
	return waited(ctx, l.all.Wait)
}

// waited waits until wait returns or ctx ends, and says which.
func waited(ctx context.Context, wait func()) bool {
	done := make(chan struct{})
	go func() {
		wait()
		close(done)
	}()
	select {
	case <-done:
		return true
	case <-ctx.Done():
		return false
	}
}
