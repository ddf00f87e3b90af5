// Package redistest starts real Redis servers on loopback for tests, and
// compares everything that is in them.
package redistest

import (
	"context"
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/redis/go-redis/v9"
)

// startLimit is how long a server, or a cluster, may take to be ready.
const startLimit = 20 * time.Second

// Need gives the path of one of Redis's programs. Where it is not installed the
// test is skipped, or failed when CLEW_CHECK=1 says that everything must be there.
func Need(t testing.TB, program string) string {
	t.Helper()
	path, err := exec.LookPath(program)
	if err != nil {
		if os.Getenv("CLEW_CHECK") == "1" {
			t.Fatalf("%s is not installed, and CLEW_CHECK=1 forbids skipping", program)
		}
		t.Skipf("%s is not installed: what needs a real Redis is not tested", program)
	}
	return path
}

// Server is a running redis-server with a folder of its own.
type Server struct {
	Addr string // host:port

	dir  string
	args []string
	cmd  *exec.Cmd
}

// Start starts a server that is stopped with the test. More arguments are
// redis-server's own.
func Start(t testing.TB, args ...string) *Server {
	t.Helper()
	Need(t, "redis-server")
	s := &Server{Addr: freeAddr(t), dir: t.TempDir(), args: args}
	s.Run(t)
	t.Cleanup(s.Kill)
	return s
}

// Run starts the server again, on the same port and folder, after Kill.
func (s *Server) Run(t testing.TB) {
	t.Helper()
	_, port, err := net.SplitHostPort(s.Addr)
	if err != nil {
		t.Fatal(err)
	}
	s.start(t, "--port", port, "--bind", "127.0.0.1", "--save", "", "--dir", s.dir, "--loglevel", "warning")
}

// start starts the program with some arguments before the server's own, and
// waits until it answers, if only that it wants a password.
func (s *Server) start(t testing.TB, args ...string) {
	t.Helper()
	s.cmd = exec.Command(Need(t, "redis-server"), append(args, s.args...)...)
	if err := s.cmd.Start(); err != nil {
		t.Fatalf("redis-server does not start: %v", err)
	}
	client := redis.NewClient(&redis.Options{Addr: s.Addr})
	defer client.Close()
	Eventually(t, "redis-server on "+s.Addr+" answers", func(ctx context.Context) error {
		if err := client.Ping(ctx).Err(); !redis.HasErrorPrefix(err, "NOAUTH") {
			return err
		}
		return nil
	})
}

// Kill ends the server at once, as a crash would, and waits for it.
func (s *Server) Kill() {
	if s.cmd == nil {
		return
	}
	// An error means that it has ended already; Wait takes it either way.
	_ = s.cmd.Process.Kill()
	_ = s.cmd.Wait()
	s.cmd = nil
}

// Freeze stops the server from running without closing its connections.
func (s *Server) Freeze(t testing.TB) { s.signal(t, syscall.SIGSTOP) }

// Thaw lets a frozen server go on.
func (s *Server) Thaw(t testing.TB) { s.signal(t, syscall.SIGCONT) }

func (s *Server) signal(t testing.TB, sig os.Signal) {
	t.Helper()
	if err := s.cmd.Process.Signal(sig); err != nil {
		t.Fatal(err)
	}
}

// StartCluster starts a Redis Cluster of three masters, stopped with the test,
// and gives their addresses.
func StartCluster(t testing.TB) []string {
	t.Helper()
	const nodes, slots = 3, 16384
	var servers []*Server
	var addrs, buses []string
	for i := range nodes {
		_, bus, err := net.SplitHostPort(freeAddr(t))
		if err != nil {
			t.Fatal(err)
		}
		s := Start(t, "--cluster-enabled", "yes", "--cluster-port", bus, "--cluster-config-file", fmt.Sprintf("nodes-%d.conf", i))
		servers, addrs, buses = append(servers, s), append(addrs, s.Addr), append(buses, bus)
	}
	for i, s := range servers {
		node := redis.NewClient(&redis.Options{Addr: s.Addr})
		defer node.Close()
		ctx, cancel := context.WithTimeout(context.Background(), startLimit)
		defer cancel()
		if err := node.ClusterAddSlotsRange(ctx, i*slots/nodes, (i+1)*slots/nodes-1).Err(); err != nil {
			t.Fatalf("node %d takes no slots: %v", i, err)
		}
		for j := range i {
			host, port, _ := net.SplitHostPort(addrs[j])
			if err := node.Do(ctx, "CLUSTER", "MEET", host, port, buses[j]).Err(); err != nil {
				t.Fatalf("node %d does not meet node %d: %v", i, j, err)
			}
		}
	}
	for _, addr := range addrs {
		node := redis.NewClient(&redis.Options{Addr: addr})
		defer node.Close()
		Eventually(t, "the cluster node "+addr+" knows all slots", func(ctx context.Context) error { return clusterReady(ctx, node, nodes) })
	}
	return addrs
}

func clusterReady(ctx context.Context, node *redis.Client, nodes int) error {
	info, err := node.ClusterInfo(ctx).Result()
	if err != nil {
		return err
	}
	for _, line := range []string{"cluster_state:ok", "cluster_slots_ok:16384", fmt.Sprintf("cluster_size:%d", nodes)} {
		if !strings.Contains(info, line+"\r\n") {
			return fmt.Errorf("it does not say %s", line)
		}
	}
	return nil
}

// StartSentinel starts a Sentinel that watches a server under a name, stopped
// with the test, and gives its address.
func StartSentinel(t testing.TB, name string, master *Server) string {
	t.Helper()
	addr := freeAddr(t)
	_, port, _ := net.SplitHostPort(addr)
	host, masterPort, _ := net.SplitHostPort(master.Addr)
	conf := filepath.Join(t.TempDir(), "sentinel.conf")
	text := fmt.Sprintf("port %s\nbind 127.0.0.1\nsentinel monitor %s %s %s 1\n", port, name, host, masterPort)
	if err := os.WriteFile(conf, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	s := &Server{Addr: addr, dir: filepath.Dir(conf), args: []string{conf, "--sentinel"}}
	s.start(t)
	t.Cleanup(s.Kill)
	return addr
}

// Eventually asks until there is no error, and fails the test after startLimit.
func Eventually(t testing.TB, what string, ask func(ctx context.Context) error) {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), startLimit)
	defer cancel()
	for {
		err := ask(ctx)
		if err == nil {
			return
		}
		select {
		case <-ctx.Done():
			t.Fatalf("not within %v: %s: %v", startLimit, what, err)
		case <-time.After(20 * time.Millisecond):
		}
	}
}

// freeAddr gives a loopback address that nothing listens on just now.
func freeAddr(t testing.TB) string {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	return l.Addr().String()
}

// Pipe loads a file of commands into the server with redis-cli --pipe.
func (s *Server) Pipe(t testing.TB, file string) {
	t.Helper()
	cli := Need(t, "redis-cli")
	_, port, err := net.SplitHostPort(s.Addr)
	if err != nil {
		t.Fatal(err)
	}
	in, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	ctx, cancel := context.WithTimeout(context.Background(), startLimit)
	defer cancel()
	cmd := exec.CommandContext(ctx, cli, "-p", port, "--pipe")
	cmd.Stdin = in
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("redis-cli --pipe: %v\n%s", err, out)
	}
}
