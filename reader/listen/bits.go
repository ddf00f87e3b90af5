package listen

import "math/bits"

// bitset is a set of words of the grammar, by their numbers. Nil is the empty set.
type bitset []uint64

func (b bitset) with(i int) bitset {
	for len(b) <= i/64 {
		b = append(b, 0)
	}
	b[i/64] |= 1 << (i % 64)
	return b
}

// or gives a new set with the words of both.
func (b bitset) or(c bitset) bitset {
	if len(b) < len(c) {
		b, c = c, b
	}
	out := append(bitset(nil), b...)
	for i := range c {
		out[i] |= c[i]
	}
	return out
}

// meets reports whether a word is in both.
func (b bitset) meets(c bitset) bool {
	for i := range min(len(b), len(c)) {
		if b[i]&c[i] != 0 {
			return true
		}
	}
	return false
}

func (b bitset) has(i int) bool { return i/64 < len(b) && b[i/64]&(1<<(i%64)) != 0 }

func (b bitset) count() (n int) {
	for _, w := range b {
		n += bits.OnesCount64(w)
	}
	return n
}
