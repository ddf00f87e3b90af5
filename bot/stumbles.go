package bot

import "context"

// stumbles tells which rows the members stumble over.
func (d *directing) stumbles(ctx context.Context) (Reply, error) { return Reply{}, nil }
