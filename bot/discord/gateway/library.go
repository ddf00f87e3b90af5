package gateway

import (
	"errors"
	"fmt"
	"io"
	"net"
	"reflect"
	"regexp"
	"runtime"
	"strings"
	"sync"
	"time"

	"github.com/bwmarrin/discordgo"
	"github.com/gorilla/websocket"
	"github.com/rs/zerolog"
)

// The library has one log function for the whole process, and two of its
// messages come at the only moment at which what it is about to do can still
// be kept from happening: the goroutine is ended there, which is the one that
// opens a link or the one that reads for it. Its deferred calls let go of the
// library's lock, and the link is closed. These are the words of v0.29.0; with
// others the tests of op 7 and op 9 fail.
const (
	// Before any identify is written. After an invalid session (op 9) the
	// library identifies at once and on the same socket, asking nobody. (Were
	// only the wire closed, so that the packet can't be sent, the library
	// would write to a connection that it forgets in the same moment, and
	// crash.)
	saysIdentify = "Identify Packet: \n%#v"
	// Before it closes because the platform asked for that (op 7). Where this
	// is the first or second packet of a connection, Open has the session's
	// lock, and closing waits for it for ever.
	saysReconnect = "Closing and reconnecting in response to Op7"
)

// library hears the library's log for all Runs of the process.
var library = hearer{logs: map[*zerolog.Logger]struct{}{}, links: map[*[2]int]*link{}}

// At init no Session is there yet that could read the variable meanwhile.
func init() { discordgo.Logger = library.hear }

type hearer struct {
	mu    sync.RWMutex
	logs  map[*zerolog.Logger]struct{}
	links map[*[2]int]*link // by the shard in their Identify: that very pointer comes back in saysIdentify
}

// tell lets a log have what the library warns of, until forget is called. The
// library does not say whose warning it is: with several logs, each has it.
func (h *hearer) tell(log *zerolog.Logger) (forget func()) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.logs[log] = struct{}{}
	return func() {
		h.mu.Lock()
		defer h.mu.Unlock()
		delete(h.logs, log)
	}
}

// mind has a link asked before it identifies, until forget is called.
func (h *hearer) mind(l *link) (forget func()) {
	h.mu.Lock()
	defer h.mu.Unlock()
	shard := l.session.Identify.Shard
	h.links[shard] = l
	return func() {
		h.mu.Lock()
		defer h.mu.Unlock()
		delete(h.links, shard)
	}
}

// hear is called by the library in the goroutine that is about to do what the
// message says.
func (h *hearer) hear(level, _ int, format string, args ...any) {
	switch {
	case format == saysIdentify:
		h.mu.RLock()
		l := h.links[identifyShard(args)]
		h.mu.RUnlock()
		if l != nil && !l.mayIdentify() {
			runtime.Goexit()
		}
	case format == saysReconnect && opening():
		runtime.Goexit()
	case level <= discordgo.LogWarning:
		text := plain(format, args)
		h.mu.RLock()
		defer h.mu.RUnlock()
		for log := range h.logs {
			log.Debug().Str("from", "discordgo").Msg(text)
		}
	}
}

// identifyShard is the shard of an identify packet, whose type the library
// does not export.
func identifyShard(args []any) *[2]int {
	if len(args) != 1 {
		return nil
	}
	packet := reflect.ValueOf(args[0])
	if packet.Kind() != reflect.Struct {
		return nil
	}
	data := packet.FieldByName("Data")
	if !data.IsValid() || !data.CanInterface() {
		return nil
	}
	identify, ok := data.Interface().(discordgo.Identify)
	if !ok {
		return nil
	}
	return identify.Shard
}

// opening tells whether this goroutine is one that opens a link.
func opening() bool {
	callers := make([]uintptr, 32)
	frames := runtime.CallersFrames(callers[:runtime.Callers(1, callers)])
	for {
		frame, more := frames.Next()
		if strings.HasSuffix(frame.Function, "gateway.(*link).openSession") {
			return true
		}
		if !more {
			return false
		}
	}
}

var verb = regexp.MustCompile(`%[#+]?[a-z]`)

// plain is a message of the library's without what may be secret: of what it
// would print, which can be the identify packet with the token or an event
// with an interaction's, only numbers and errors of the network are left.
func plain(format string, args []any) string {
	safe := make([]any, len(args))
	for i, arg := range args {
		safe[i] = shown(arg)
	}
	return strings.TrimSpace(fmt.Sprintf(verb.ReplaceAllString(format, "%v"), safe...))
}

func shown(arg any) any {
	var closed *websocket.CloseError
	var network *net.OpError
	switch v := arg.(type) {
	case int, int64, time.Duration:
		return v
	case error:
		switch {
		case errors.As(v, &closed):
			return closed
		case errors.As(v, &network):
			return network
		case errors.Is(v, io.EOF), errors.Is(v, io.ErrUnexpectedEOF):
			return io.EOF
		}
	}
	return fmt.Sprintf("(%T)", arg)
}
