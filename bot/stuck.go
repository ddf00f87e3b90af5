package bot

import "context"

// stuck lets the host know that she needs help.
func (t *talk) stuck(ctx context.Context) (Reply, error) { return Reply{}, nil }
