package local

// role says what a command does to the journal.
type role int

const (
	_       role = iota
	reading      // changes nothing
	writing      // goes into the journal as it is
	running      // a script: the writes that it calls go into the journal
)

// commands are those that the store serves. Each write gives the same result
// whenever it is replayed, so none of them depends on the time or on chance; and
// there is one database, so nothing selects another.
var commands = map[string]role{
	"HELLO": reading, "PING": reading, "CLIENT": reading,
	"EXISTS": reading, "TYPE": reading, "KEYS": reading,
	"HGET": reading, "HMGET": reading, "HGETALL": reading, "HEXISTS": reading, "HKEYS": reading, "HLEN": reading,
	"LRANGE": reading, "LINDEX": reading, "LLEN": reading,
	"ZRANGE": reading, "ZSCORE": reading, "ZCARD": reading,

	"DEL":  writing,
	"HSET": writing, "HDEL": writing, "HINCRBY": writing,
	"LPUSH": writing, "RPUSH": writing, "LTRIM": writing,
	"ZADD": writing, "ZREM": writing,

	"EVAL": running, "EVALSHA": running, "SCRIPT": running,
}
