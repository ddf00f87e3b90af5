package bot

import "sync"

// keptMost bounds how many plans, and how many listeners, stay in memory. A
// plan of a large pattern takes a few megabytes.
const keptMost = 64

// kept keeps what takes long to make, for the next who needs the same. It is
// safe for concurrent use; two who come at once may both make it.
type kept[K comparable, V any] struct {
	mu sync.Mutex
	of map[K]V
}

// get gives what is kept, or makes and keeps it. What could not be made is not
// kept.
func (k *kept[K, V]) get(key K, make func() (V, error)) (V, error) {
	k.mu.Lock()
	value, ok := k.of[key]
	k.mu.Unlock()
	if ok {
		return value, nil
	}
	value, err := make()
	if err != nil {
		return value, err
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.of == nil || len(k.of) >= keptMost {
		k.of = map[K]V{}
	}
	k.of[key] = value
	return value, nil
}
