package bot

import "context"

// who tells who is where.
func (d *directing) who(ctx context.Context) (Reply, error) { return Reply{}, nil }

// export gives the members as a table.
func (d *directing) export(ctx context.Context) (Reply, error) { return Reply{}, nil }
