package bot

import "context"

// correct replaces the pattern by a corrected text.
func (d *directing) correct(ctx context.Context) (Reply, error) { return Reply{}, nil }

// text gives the text of a revision.
func (d *directing) text(ctx context.Context) (Reply, error) { return Reply{}, nil }

// changes tells what corrections have changed.
func (t *talk) changes(ctx context.Context) (Reply, error) { return Reply{}, nil }
