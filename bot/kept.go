package bot

import (
	"context"
	"errors"
	"fmt"
	"runtime/debug"
	"sync"
	"time"
)

// keptMost bounds how many plans, patterns and listeners stay in memory, of
// each.
const keptMost = 64

// stitchesMost bounds the stitches of all plans that stay in memory. A stitch
// takes some 120 bytes (measured), so this is about half a gigabyte; the plan of
// a hat takes about a megabyte.
const stitchesMost = 4 << 20

// madeAtOnce is how many of a kind are made at once, so that large ones leave
// processors to those whose own is made already.
const madeAtOnce = 2

// makeWithin is how long what has to be fetched to make one may take.
const makeWithin = 10 * time.Second

// errNotYet says that a request ended before what it needs was made.
var errNotYet = errors.New("the pattern is still being made ready")

// kept keeps what takes long to make, for the next who needs the same. Each is
// made once, however many ask for it meanwhile. It is safe for concurrent use.
type kept[K comparable, V any] struct {
	weigh func(V) int64 // what a value takes, of most; nil: nothing
	most  int64

	mu     sync.Mutex
	of     map[K]*keeping[V]
	weight int64
	uses   int64
	making map[K]*making[V]
	room   chan struct{} // holds one for each that is being made
}

// A keeping is one value that is kept.
type keeping[V any] struct {
	value  V
	weight int64
	used   int64 // which use of all was the last of this
}

// A making is one value that is being made. Its value and error are set once
// done is closed.
type making[V any] struct {
	done  chan struct{}
	value V
	err   error
}

// get gives what is kept, or makes and keeps it. What could not be made is not
// kept, nor is what by itself weighs more than may be kept. Where ctx ends
// first, making goes on, so that the next who asks finds it.
//
// Errors: those of work; errNotYet.
func (k *kept[K, V]) get(ctx context.Context, key K, work func(context.Context) (V, error)) (V, error) {
	k.mu.Lock()
	if one, ok := k.of[key]; ok {
		k.uses++
		one.used = k.uses
		k.mu.Unlock()
		return one.value, nil
	}
	m, ok := k.making[key]
	if !ok {
		m = k.begin(ctx, key, work)
	}
	k.mu.Unlock()
	select {
	case <-m.done:
		return m.value, m.err
	case <-ctx.Done():
		var none V
		return none, fmt.Errorf("%w: %w", errNotYet, ctx.Err())
	}
}

// begin begins to make a value. The lock is held.
func (k *kept[K, V]) begin(ctx context.Context, key K, work func(context.Context) (V, error)) *making[V] {
	if k.making == nil {
		k.of, k.making, k.room = map[K]*keeping[V]{}, map[K]*making[V]{}, make(chan struct{}, madeAtOnce)
	}
	m := &making[V]{done: make(chan struct{})}
	k.making[key] = m
	go func() {
		k.room <- struct{}{}
		ctx, cancel := context.WithTimeout(context.WithoutCancel(ctx), makeWithin)
		m.value, m.err = unbroken(ctx, work)
		cancel()
		<-k.room
		k.keep(key, m)
		close(m.done)
	}()
	return m
}

// unbroken does the work. A panic in it is an error: it would end all others'
// requests with this one.
func unbroken[V any](ctx context.Context, work func(context.Context) (V, error)) (value V, err error) {
	defer func() {
		if cause := recover(); cause != nil {
			err = fmt.Errorf("panic: %v\n%s", cause, debug.Stack())
		}
	}()
	return work(ctx)
}

// keep keeps what was made, in place of those that were used longest ago.
func (k *kept[K, V]) keep(key K, m *making[V]) {
	weight := int64(0)
	if k.weigh != nil && m.err == nil {
		weight = k.weigh(m.value)
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	delete(k.making, key)
	if m.err != nil || weight > k.most {
		return
	}
	for len(k.of) >= keptMost || k.weight+weight > k.most {
		k.dropOldest()
	}
	k.uses++
	k.of[key] = &keeping[V]{m.value, weight, k.uses}
	k.weight += weight
}

// dropOldest drops the value that was used longest ago.
func (k *kept[K, V]) dropOldest() {
	var oldest K
	used := k.uses + 1
	for key, one := range k.of {
		if one.used < used {
			oldest, used = key, one.used
		}
	}
	k.weight -= k.of[oldest].weight
	delete(k.of, oldest)
}
