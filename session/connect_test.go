package session

import (
	"crypto/tls"
	"runtime"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/redis/go-redis/v9"
)

func TestParseAddress(t *testing.T) {
	secure := &tls.Config{}
	for _, c := range []struct {
		address string
		want    redis.UniversalOptions
	}{
		{"redis://lamp", redis.UniversalOptions{Addrs: []string{"lamp:6379"}}},
		{"redis://lamp:7000/2", redis.UniversalOptions{Addrs: []string{"lamp:7000"}, DB: 2}},
		{"redis://lamp/", redis.UniversalOptions{Addrs: []string{"lamp:6379"}}},
		{"redis://[::1]", redis.UniversalOptions{Addrs: []string{"[::1]:6379"}}},
		{"redis://[::1]:7000", redis.UniversalOptions{Addrs: []string{"[::1]:7000"}}},
		{"redis://:hush@lamp", redis.UniversalOptions{Addrs: []string{"lamp:6379"}, Password: "hush"}},
		{"redis://odo:hu%40s:h/h@lamp", redis.UniversalOptions{Addrs: []string{"lamp:6379"}, Username: "odo", Password: "hu@s:h/h"}},
		{"redis://odo:h@sh@lamp", redis.UniversalOptions{Addrs: []string{"lamp:6379"}, Username: "odo", Password: "h@sh"}},
		{"rediss://lamp", redis.UniversalOptions{Addrs: []string{"lamp:6379"}, TLSConfig: secure}},
		{"redis+sentinel://a,b:7000/lamp", redis.UniversalOptions{Addrs: []string{"a:26379", "b:7000"}, MasterName: "lamp"}},
		{"rediss+sentinel://:hush@a/lamp/3", redis.UniversalOptions{Addrs: []string{"a:26379"}, MasterName: "lamp", DB: 3, Password: "hush", TLSConfig: secure}},
		{"redis+cluster://a,b:7000", redis.UniversalOptions{Addrs: []string{"a:6379", "b:7000"}, IsClusterMode: true}},
		{"rediss+cluster://a", redis.UniversalOptions{Addrs: []string{"a:6379"}, IsClusterMode: true, TLSConfig: secure}},
	} {
		got, err := parseAddress(c.address)
		if err != nil {
			t.Errorf("%s: %v", c.address, err)
			continue
		}
		if diff := cmp.Diff(&c.want, got, cmpopts.IgnoreTypes(tls.Config{}), cmp.Comparer(func(a, b *tls.Config) bool { return (a == nil) == (b == nil) }),
			cmpopts.IgnoreUnexported(redis.UniversalOptions{})); diff != "" {
			t.Errorf("%s (-expected +found):\n%s", c.address, diff)
		}
	}
}

func TestPoolSize(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for processors, want := range map[int]int{1: 64, 6: 64, 7: 70, 32: 320} {
		runtime.GOMAXPROCS(processors)
		client, err := Connect("redis://lamp")
		if err != nil {
			t.Fatal(err)
		}
		one, ok := client.(*redis.Client)
		if !ok || one.Options().PoolSize != want {
			t.Errorf("on %d processors: found a %T with %+v, expected a pool of %d", processors, client, one.Options(), want)
		}
		client.Close()
	}
}

func TestParseAddressErrors(t *testing.T) {
	for address, want := range map[string]string{
		"":                               "expected it to begin with redis://",
		"hush":                           "expected it to begin with redis://",
		"hush://lamp":                    "expected it to begin with redis://",
		"redis+hush://lamp":              "expected it to begin with redis://",
		"redis://":                       "expected host or host:port for its host number 1",
		"redis://:hush":                  "expected host or host:port for its host number 1",
		"redis://odo:hush":               "expected host or host:port for its host number 1",
		"redis://:hush@lamp:x":           "expected host or host:port for its host number 1",
		"redis://:hush@lamp:65536":       "expected host or host:port for its host number 1",
		"redis://:hush@lamp:0":           "expected host or host:port for its host number 1",
		"redis://:hush@a,b":              "several hosts",
		"redis://:hush@lamp/hush":        "the number of a database",
		"redis://:hush@lamp/-1":          "the number of a database",
		"redis://:hush%zz@lamp":          "two hexadecimal digits",
		"redis+sentinel://:hush@a,b":     "the master's name",
		"redis+sentinel://:hush@a,/lamp": "host number 2",
		"redis+sentinel://:hush@a/l/x":   "the number of a database",
		"redis+cluster://:hush@a/1":      "no databases",
	} {
		client, err := Connect(address)
		if err == nil {
			client.Close()
			t.Errorf("%s: no error, expected one about %s", address, want)
			continue
		}
		if !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "hush") {
			t.Errorf("%s: found %q, expected it to say %q and nothing secret", address, err, want)
		}
	}
}
