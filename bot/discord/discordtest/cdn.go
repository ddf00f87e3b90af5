package discordtest

import (
	"bytes"
	"fmt"
	"mime"
	"net/http"
	"path"
	"strconv"
	"sync"
	"time"
)

// Where the platform serves files from. A client that is pointed at this server asks
// this server in its place.
const cdnHost = "https://cdn.discordapp.com"

// filesTime is how long an attachment's address serves, from memory.
const filesTime = 24 * time.Hour

// cdn holds the files that are served.
type cdn struct {
	mu    sync.Mutex
	files map[string]*offered // by path
}

// offered is a file that is served.
type offered struct {
	data      []byte
	kind      string
	signature string
	handler   http.HandlerFunc // in place of data; nil for none
}

// Attachment is a file that a person sent. Its fields may be forged before it is used.
type Attachment struct {
	ID, Name, URL, ContentType string
	Size                       int64
}

// Attach makes a file that can be sent with a message or a command.
func (s *Server) Attach(name string, data []byte) *Attachment {
	kind := mime.TypeByExtension(path.Ext(name))
	if kind == "" {
		kind = http.DetectContentType(data)
	}
	return s.attach(name, int64(len(data)), &offered{data: data, kind: kind})
}

// AttachServed is Attach with a handler that serves the file, and the size that is
// claimed for it.
func (s *Server) AttachServed(name, contentType string, size int64, h http.HandlerFunc) *Attachment {
	return s.attach(name, size, &offered{kind: contentType, handler: h})
}

func (s *Server) attach(name string, size int64, o *offered) *Attachment {
	id := s.ids.next()
	return &Attachment{ID: id, Name: name, ContentType: o.kind, Size: size, URL: s.offer(s.app, id, name, o)}
}

// offer serves a file, and gives its address: signed, as the platform's are.
func (s *Server) offer(channel, id, name string, o *offered) string {
	o.signature = secret(43)
	at := fmt.Sprintf("/attachments/%s/%s/%s", channel, id, plainName(name))
	s.cdn.mu.Lock()
	defer s.cdn.mu.Unlock()
	if s.cdn.files == nil {
		s.cdn.files = map[string]*offered{}
	}
	s.cdn.files[at] = o
	now := time.Now()
	return fmt.Sprintf("%s%s?ex=%x&is=%x&hm=%s&", cdnHost, at, now.Add(filesTime).Unix(), now.Unix(), o.signature)
}

// plainName is a file's name as an address has it.
func plainName(name string) string {
	b := []byte(name)
	for i, c := range b {
		plain := c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '.' || c == '-' || c == '_'
		if !plain {
			b[i] = '_'
		}
	}
	return string(b)
}

// serveFile serves a file as the platform's other host does. A token that is sent there
// is sent to a stranger.
func (s *Server) serveFile(w http.ResponseWriter, r *http.Request) {
	if r.Header.Get("Authorization") != "" {
		s.wrong("%s %s: the bot's token was sent where files are served", r.Method, r.URL.Path)
	}
	s.cdn.mu.Lock()
	o := s.cdn.files[r.URL.Path]
	s.cdn.mu.Unlock()
	s.mu.Lock()
	now := s.faults.take(AttachmentFile)
	s.mu.Unlock()
	c := &call{s: s, r: r, log: Request{At: time.Now(), Method: r.Method, Path: r.URL.Path, Route: AttachmentFile}}
	if c.pause(now.late) != nil {
		return
	}
	served := &counted{ResponseWriter: w, status: http.StatusOK}
	defer func() {
		c.log.Status = served.status
		c.keep(nil)
	}()
	switch {
	case now.failure != nil:
		http.Error(served, http.StatusText(now.failure.status), now.failure.status)
	case now.cut:
		panic(http.ErrAbortHandler)
	case o == nil || r.URL.Query().Get("hm") != o.signature:
		http.Error(served, "This content is no longer available.", http.StatusNotFound)
	case c.pause(now.slow) != nil:
	case o.handler != nil:
		o.handler(served, r)
	default:
		served.Header().Set("Content-Type", o.kind)
		served.Header().Set("Content-Length", strconv.Itoa(len(o.data)))
		http.ServeContent(served, r, "", time.Time{}, bytes.NewReader(o.data))
	}
}

// counted knows the status that was written.
type counted struct {
	http.ResponseWriter
	status int
}

func (c *counted) WriteHeader(status int) {
	c.status = status
	c.ResponseWriter.WriteHeader(status)
}

func (c *counted) Unwrap() http.ResponseWriter { return c.ResponseWriter }
