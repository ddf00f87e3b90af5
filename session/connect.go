package session

import (
	"crypto/tls"
	"errors"
	"fmt"
	"net"
	"net/url"
	"runtime"
	"strconv"
	"strings"
	"time"

	"github.com/redis/go-redis/v9"
	"github.com/redis/go-redis/v9/maintnotifications"

	"clew/session/internal/quiet"
)

// How long a call waits when its context allows longer. A knitter is waiting
// with her hands full; a Redis that takes seconds counts as away.
const (
	dialTimeout = 2 * time.Second
	callTimeout = 3 * time.Second
)

// poolSize is how many connections to one Redis a process has open at most; they
// are opened as they are needed. A call keeps one for its whole round trip, and a
// call that finds none free waits, although Redis takes what has come on all of
// them at once and, with appendfsync always, waits for the disk once for all of
// it. Measured with 64 callers on two processors (BenchmarkPool): against
// the client library's default, 10 for each processor, 64 gave a tenth to a fifth
// more moves a second, and twice as many with appendfsync always; 128 gave no more.
func poolSize() int { return max(64, 10*runtime.GOMAXPROCS(0)) }

// Connect gives a client for the Redis at an address, in one of these forms:
//
//	redis://[user:password@]host[:port][/database]
//	redis+sentinel://[user:password@]host[:port][,host[:port]...]/master[/database]
//	redis+cluster://[user:password@]host[:port][,host[:port]...]
//
// rediss in place of redis speaks TLS. A port left out is 6379, or 26379 with
// Sentinel; a database left out is 0. User and password are percent-encoded
// and are Redis's own; a password alone is written :password@. Sentinels that ask
// for a password of their own cannot be used: an address has no place for one.
//
// It sends nothing: a Redis that is down shows with the first call. The error for
// an address that is none of these never repeats a user or password.
//
// The client library's own log, which writes to standard error whenever a
// connection fails, is switched off for the whole process: every failure comes back as an
// error, and standard error may be a knitter's screen.
func Connect(address string) (redis.UniversalClient, error) {
	quiet.Client()
	options, err := parseAddress(address)
	if err != nil {
		return nil, fmt.Errorf("the Redis address cannot be used: %w", err)
	}
	options.DialTimeout = dialTimeout
	options.DialerRetries = 1
	options.ReadTimeout = callTimeout
	options.WriteTimeout = callTimeout
	options.PoolTimeout = callTimeout
	options.PoolSize = poolSize()
	options.ContextTimeoutEnabled = true
	// A change whose outcome is unknown is told to the caller, who asks again
	// with the same event; sending it again unasked would hide that. (A cluster
	// client may still do so when a node goes away: with an event it is harmless.)
	options.MaxRetries = -1
	options.MaintNotificationsConfig = &maintnotifications.Config{Mode: maintnotifications.ModeDisabled}
	return redis.NewUniversalClient(options), nil
}

var errScheme = errors.New("expected it to begin with redis://, rediss://, redis+sentinel:// or redis+cluster://")

// parseAddress reads the forms that Connect documents. It is not net/url's
// parser, which takes one host only and repeats the address in its errors. The
// errors here quote nothing: in an address with a slip, any part may be the
// password.
func parseAddress(address string) (*redis.UniversalOptions, error) {
	scheme, rest, ok := strings.Cut(address, "://")
	if !ok {
		return nil, errScheme
	}
	options := &redis.UniversalOptions{}
	transport, kind, _ := strings.Cut(scheme, "+")
	switch transport {
	case "redis":
	case "rediss":
		options.TLSConfig = &tls.Config{MinVersion: tls.VersionTLS12}
	default:
		return nil, errScheme
	}

	// A slash may stand in a password, so the hosts begin after the last at sign.
	if at := strings.LastIndex(rest, "@"); at >= 0 {
		user, password, _ := strings.Cut(rest[:at], ":")
		var userErr, passwordErr error
		options.Username, userErr = url.PathUnescape(user)
		options.Password, passwordErr = url.PathUnescape(password)
		if userErr != nil || passwordErr != nil {
			return nil, errors.New("its user or password has a % that is not followed by two hexadecimal digits")
		}
		rest = rest[at+1:]
	}
	hosts, path, _ := strings.Cut(rest, "/")
	database, port := path, "6379"
	switch kind {
	case "":
		if strings.Contains(hosts, ",") {
			return nil, errors.New("it names several hosts, which only redis+sentinel:// and redis+cluster:// can")
		}
	case "sentinel":
		port = "26379"
		options.MasterName, database, _ = strings.Cut(path, "/")
		if options.MasterName == "" {
			return nil, errors.New("expected the master's name after the Sentinels, redis+sentinel://host/master")
		}
	case "cluster":
		options.IsClusterMode = true
		if path != "" {
			return nil, errors.New("a Redis Cluster has no databases, yet something stands after its hosts")
		}
	default:
		return nil, errScheme
	}
	return options, readHosts(options, hosts, port, database)
}

// readHosts fills in the addresses and the database.
func readHosts(options *redis.UniversalOptions, hosts, port, database string) error {
	for i, host := range strings.Split(hosts, ",") {
		if _, _, err := net.SplitHostPort(host); err != nil {
			host = net.JoinHostPort(strings.Trim(host, "[]"), port)
		}
		name, number, err := net.SplitHostPort(host)
		if n, convErr := strconv.Atoi(number); err != nil || name == "" || convErr != nil || n < 1 || n > 65535 {
			return fmt.Errorf("expected host or host:port for its host number %d", i+1)
		}
		options.Addrs = append(options.Addrs, host)
	}
	if database == "" {
		return nil
	}
	n, err := strconv.Atoi(database)
	if err != nil || n < 0 {
		return errors.New("expected the number of a database after its last slash")
	}
	options.DB = n
	return nil
}
