// Package quiet silences the Redis client library.
package quiet

import (
	"context"
	"sync"

	"github.com/redis/go-redis/v9"
)

// Client switches off the client library's own log, for the whole process. It
// writes to standard error, which may be a knitter's screen, whenever a connection
// fails; and every failure comes back as an error anyway. Call it before the first
// client is made.
func Client() { once.Do(func() { redis.SetLogger(silent{}) }) }

// once: a client in use may be reading the log while another is made.
var once sync.Once

// silent is a log that nobody reads.
type silent struct{}

func (silent) Printf(context.Context, string, ...any) {}
