package discordtest

import (
	"errors"
	"fmt"
	"io"
	"mime"
	"mime/multipart"
	"net/http"
	"strings"
)

const (
	// Documentation, "Message", create message: 10 attachments; "API Reference", uploading
	// files: 10 MiB each by default.
	mostFiles   = 10
	largestFile = 10 << 20
	largestJSON = 1 << 20 // ours: no body that is within the sizes comes near
)

// read reads the body: JSON, or parts of which one, payload_json, is JSON
// (documentation, "API Reference", uploading files; from memory).
func (c *call) read() *refusal {
	if c.r.Method == http.MethodGet || c.r.Method == http.MethodDelete {
		return nil
	}
	kind, params, err := mime.ParseMediaType(c.r.Header.Get("Content-Type"))
	switch {
	case err == nil && kind == "application/json":
		c.json, err = io.ReadAll(io.LimitReader(c.r.Body, largestJSON+1))
		if err != nil || len(c.json) > largestJSON {
			return tooLarge(fmt.Sprintf("more than %d bytes of JSON, or cut off", largestJSON))
		}
		return nil
	case err == nil && kind == "multipart/form-data":
		return c.readParts(multipart.NewReader(c.r.Body, params["boundary"]))
	}
	return &refusal{status: http.StatusBadRequest, code: 50035, message: "Invalid Form Body",
		detail: fmt.Sprintf("Content-Type is %q: expected application/json or multipart/form-data", c.r.Header.Get("Content-Type"))}
}

// tooLarge: documentation, "Opcodes and Status Codes", JSON error codes; from memory.
func tooLarge(detail string) *refusal {
	return &refusal{status: http.StatusRequestEntityTooLarge, code: 40005, message: "Request entity too large", detail: detail}
}

func (c *call) readParts(parts *multipart.Reader) *refusal {
	for {
		part, err := parts.NextPart()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return badJSON()
		}
		if no := c.readPart(part); no != nil {
			return no
		}
	}
	if c.json == nil {
		return &refusal{status: http.StatusBadRequest, code: 50035, message: "Invalid Form Body", detail: "no part payload_json"}
	}
	if len(c.files) > mostFiles {
		return &refusal{status: http.StatusBadRequest, code: 30015, message: "Maximum number of attachments in a message reached (10)"}
	}
	return nil
}

func (c *call) readPart(part *multipart.Part) *refusal {
	data, err := io.ReadAll(io.LimitReader(part, largestFile+1))
	name := part.FormName()
	switch {
	case err != nil:
		return badJSON()
	case name == "payload_json":
		c.json = data
	case strings.HasPrefix(name, "files["):
		if name != fmt.Sprintf("files[%d]", len(c.files)) {
			c.wrong("part %q: expected files[%d]", name, len(c.files))
		}
		if part.FileName() == "" {
			return &refusal{status: http.StatusBadRequest, code: 50035, message: "Invalid Form Body", detail: name + ": no file name"}
		}
		if len(data) > largestFile {
			return tooLarge(fmt.Sprintf("%s: more than %d bytes", name, largestFile))
		}
		c.files = append(c.files, File{Name: part.FileName(), ContentType: part.Header.Get("Content-Type"), Data: data})
	default:
		c.wrong("part %q: expected payload_json or files[n]", name)
	}
	return nil
}
