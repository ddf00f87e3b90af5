package local

// syncTo returns when the journal is on the disk up to a group. Callers line up:
// the first one's sync takes in all groups appended by then, so those behind it
// mostly find theirs done. Who finds it done beforehand does not line up.
func (l *Local) syncTo(group int64) error {
	if l.synced.Load() >= group {
		return nil
	}
	l.syncMu.Lock()
	defer l.syncMu.Unlock()
	if l.synced.Load() >= group {
		return nil
	}
	f, upTo, err := l.appended()
	if err != nil {
		return err
	}
	if err := f.Sync(); err != nil {
		// The system may have dropped what it could not write, so a second
		// sync that succeeds would prove nothing.
		l.mu.Lock()
		defer l.mu.Unlock()
		return l.fail(err)
	}
	l.synced.Store(upTo)
	return nil
}

// appended gives the journal's file and the last group in it. The file stays the
// journal's while syncMu is held.
func (l *Local) appended() (file, int64, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.journal.f, l.journal.groups, l.failed
}
