package local

// CompactFrom lets tests compact journals of any size.
func CompactFrom(bytes int64) Option {
	return func(l *Local) { l.least = bytes }
}

// HangUp lets tests end all connections, as if the store had gone.
func HangUp(l *Local) { l.hangUp() }
