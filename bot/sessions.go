package bot

import "context"

// sessions tells the sessions, or replaces them.
func (d *directing) sessions(ctx context.Context) (Reply, error) { return Reply{}, nil }

// openSession opens a session now.
func (d *directing) openSession(ctx context.Context) (Reply, error) { return Reply{}, nil }
