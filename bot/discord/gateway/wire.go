package gateway

import (
	"bytes"
	"context"
	"io"
	"net"
	"net/http"
	"sync"
)

// wire is the network connection below a link. The library does not tell when
// it is done with one, and waits on one without limit: here both are seen to,
// since closing the wire ends every read and write on it.
type wire struct {
	net.Conn
	once   sync.Once
	closed chan struct{} // closed when the wire is
}

func newWire(c net.Conn) *wire { return &wire{Conn: c, closed: make(chan struct{})} }

func (w *wire) Close() error {
	err := w.Conn.Close()
	w.once.Do(func() { close(w.closed) })
	return err
}

// either ends when one of the two does.
func either(a, b context.Context) (context.Context, context.CancelFunc) {
	ctx, cancel := context.WithCancel(a)
	stop := context.AfterFunc(b, cancel)
	return ctx, func() {
		stop()
		cancel()
	}
}

// cuttable breaks requests off when the context of the moment ends: the
// library makes them without one.
type cuttable struct {
	base    http.RoundTripper
	context func() context.Context
}

// addressSize is more than the answer with the gateway's address can have.
const addressSize = 1 << 20

func (c cuttable) RoundTrip(r *http.Request) (*http.Response, error) {
	ctx, done := either(r.Context(), c.context())
	defer done()
	answer, err := c.base.RoundTrip(r.WithContext(ctx))
	if err != nil {
		return nil, err
	}
	// All of it now, as the context ends on return.
	body, err := io.ReadAll(io.LimitReader(answer.Body, addressSize))
	answer.Body.Close()
	if err != nil {
		return nil, err
	}
	answer.Body = io.NopCloser(bytes.NewReader(body))
	return answer, nil
}
