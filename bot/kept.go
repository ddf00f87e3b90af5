package bot

import "sync"

// keptMost bounds how many plans, and how many listeners, stay in memory.
const keptMost = 64

// stitchesMost bounds the stitches of all plans that stay in memory. A stitch
// takes some 120 bytes (measured), so this is about half a gigabyte; the plan of
// a hat takes about a megabyte.
const stitchesMost = 4 << 20

// kept keeps what takes long to make, for the next who needs the same. It is
// safe for concurrent use; two who come at once may both make it.
type kept[K comparable, V any] struct {
	weigh func(V) int64 // what a value takes, of most; nil: nothing
	most  int64

	mu     sync.Mutex
	of     map[K]V
	weight int64
}

// get gives what is kept, or makes and keeps it. What could not be made is not
// kept, nor is what by itself weighs more than may be kept.
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
	weight := int64(0)
	if k.weigh != nil {
		weight = k.weigh(value)
	}
	if weight > k.most {
		return value, nil
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	if _, ok := k.of[key]; ok { // another made it meanwhile
		return value, nil
	}
	if k.of == nil || len(k.of) >= keptMost || k.weight+weight > k.most {
		k.of, k.weight = map[K]V{}, 0
	}
	k.of[key] = value
	k.weight += weight
	return value, nil
}
