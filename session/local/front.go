package local

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"net"
	"os"
	"syscall"

	"github.com/alicebob/miniredis/v2/server"
)

// dial gives the client's end of a new connection. It is a socket pair and not
// an in-memory pipe, so that a client may send more than it has read replies for.
func (l *Local) dial() (net.Conn, error) {
	l.connMu.Lock()
	defer l.connMu.Unlock()
	if l.closed {
		return nil, &net.OpError{Op: "dial", Net: "unix", Err: net.ErrClosed}
	}
	theirs, ours, err := socketPair()
	if err != nil {
		return nil, &net.OpError{Op: "dial", Net: "unix", Err: err}
	}
	l.conns[ours] = struct{}{}
	l.serving.Go(func() { l.serve(ours) })
	return theirs, nil
}

func socketPair() (a, b net.Conn, err error) {
	syscall.ForkLock.RLock()
	fds, err := syscall.Socketpair(syscall.AF_UNIX, syscall.SOCK_STREAM, 0)
	if err == nil {
		syscall.CloseOnExec(fds[0])
		syscall.CloseOnExec(fds[1])
	}
	syscall.ForkLock.RUnlock()
	if err != nil {
		return nil, nil, err
	}
	var conns [2]net.Conn
	var errs [2]error
	for i, fd := range fds {
		f := os.NewFile(uintptr(fd), "local store")
		conns[i], errs[i] = net.FileConn(f) // its own copy of the descriptor
		errs[i] = errors.Join(errs[i], f.Close())
	}
	if err := errors.Join(errs[:]...); err != nil {
		for _, conn := range conns {
			if conn != nil {
				err = errors.Join(err, conn.Close())
			}
		}
		return nil, nil, err
	}
	return conns[0], conns[1], nil
}

// hangUp ends every connection and lets no new one begin.
func (l *Local) hangUp() {
	l.connMu.Lock()
	defer l.connMu.Unlock()
	l.closed = true
	for conn := range l.conns {
		conn.Close()
	}
}

// serve answers one connection until either side ends it, or until a write's
// fate is unknown: then no reply is the honest reply.
func (l *Local) serve(conn net.Conn) {
	defer func() {
		l.connMu.Lock()
		defer l.connMu.Unlock()
		delete(l.conns, conn)
		conn.Close()
	}()
	in := bufio.NewReader(conn)
	var out bytes.Buffer
	peer := newPeer(&out)
	for {
		args, _, err := readCommand(in)
		if err != nil {
			return
		}
		out.Reset()
		if err := l.execute(peer, &out, args); err != nil {
			return
		}
		if _, err := conn.Write(out.Bytes()); err != nil {
			return
		}
	}
}

func newPeer(out *bytes.Buffer) *server.Peer {
	return server.NewPeer(bufio.NewWriter(out))
}

// execute runs one command and leaves its reply in out, after all that the reply
// rests on is on the disk: what this command wrote, and what it may have seen of
// others' writes. An error means that it is not known whether that is so.
func (l *Local) execute(peer *server.Peer, out *bytes.Buffer, args []string) error {
	group, wrote, err := l.executeLocked(peer, out, args)
	if err != nil {
		return err
	}
	if l.syncing {
		if err := l.syncTo(group); err != nil {
			return err
		}
	}
	if !wrote {
		return nil
	}
	return l.compactIfLarge()
}

// executeLocked gives the number of the newest group in the journal, whether this
// command added it or not: the reply may rest on it. It gives 0 with a reply that
// rests on nothing, because the command was not served.
func (l *Local) executeLocked(peer *server.Peer, out *bytes.Buffer, args []string) (group int64, wrote bool, err error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	defer peer.Flush()
	if l.failed != nil {
		peer.WriteError("NOTSAVED " + l.failed.Error())
		return 0, false, nil
	}
	l.effects = nil
	l.engine.Dispatch(peer, args)
	if len(l.effects) == 0 {
		return l.journal.groups, false, nil
	}
	if group, err = l.journal.append(l.effects); err == nil {
		return group, true, nil
	}
	// The memory is ahead of the journal: bring it back.
	if undoErr := l.rollBack(); undoErr != nil {
		return 0, false, l.fail(errors.Join(err, undoErr))
	}
	peer.Flush()
	out.Reset()
	peer.WriteError(fmt.Sprintf("NOTSAVED the journal %s could not be written (%v); nothing was changed; make room on the disk and ask again", l.journal.path, err))
	return 0, false, nil
}

// rollBack makes journal and memory what they were before the last command.
func (l *Local) rollBack() error {
	if err := l.journal.dropPartial(); err != nil {
		return err
	}
	found, err := l.reload(l.journal.size)
	if found != nil {
		err = errors.Join(err, found.cause)
	}
	return err
}

// fail ends the service after an error that leaves journal and memory apart, or
// leaves it open what is on the disk. The caller holds mu.
func (l *Local) fail(cause error) error {
	if l.failed != nil {
		return l.failed
	}
	l.failed = fmt.Errorf("the local store in %s stopped after an error of its disk (%w); this request changed nothing, but whether those under way at the error were saved is not known; see to the disk and start Clew again", l.dir, cause)
	return l.failed
}

// note sees every command before the engine runs it, those that scripts call
// among them. It refuses those that the journal does not know, and runs the
// writes itself, to note the ones that succeed. It is only called under mu, or
// while the store is being opened.
func (l *Local) note(peer *server.Peer, name string, args ...string) bool {
	role := commands[name]
	if role == 0 {
		peer.WriteError("ERR the local store does not serve the command " + name)
		return true
	}
	if l.inner || role != writing {
		return false
	}
	l.inner = true
	defer func() { l.inner = false }()
	var out bytes.Buffer
	same := newPeer(&out)
	same.Ctx, same.Resp3 = peer.Ctx, peer.Resp3 // a script's own context, or the connection's
	command := append([]string{name}, args...)
	l.engine.Dispatch(same, command)
	same.Flush()
	if !bytes.HasPrefix(out.Bytes(), []byte("-")) {
		l.effects = append(l.effects, command)
	}
	peer.WriteRaw(out.String())
	return true
}
