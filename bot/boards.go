package bot

import "context"

// board posts the board anew.
func (d *directing) board(ctx context.Context) (Reply, error) { return Reply{}, nil }

// seeBoard tells one who asks how far everybody is.
func (t *talk) seeBoard(ctx context.Context) (Reply, error) { return Reply{}, nil }
