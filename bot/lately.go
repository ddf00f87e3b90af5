package bot

import "sync"

// lately remembers the newest of something, up to twice most of them; older ones
// drop out. It is of this process alone. It is safe for concurrent use.
type lately[K comparable, V any] struct {
	most int // of each of the two halves

	mu          sync.Mutex
	now, before map[K]V
}

// get gives what is remembered; false for nothing.
func (l *lately[K, V]) get(key K) (V, bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if v, ok := l.now[key]; ok {
		return v, true
	}
	v, ok := l.before[key]
	return v, ok
}

func (l *lately[K, V]) put(key K, v V) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.now == nil || len(l.now) >= l.most {
		l.now, l.before = map[K]V{}, l.now
	}
	l.now[key] = v
}

func (l *lately[K, V]) forget(key K) {
	l.mu.Lock()
	defer l.mu.Unlock()
	delete(l.now, key)
	delete(l.before, key)
}
