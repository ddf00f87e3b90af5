package local

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"strconv"
)

// Limits on one command. The largest that the store writes is a pattern's text.
const (
	maxArgs    = 1 << 16
	maxCommand = 16 << 20 // bytes, all arguments together
)

// errFormat: the bytes are not a command in Redis's protocol.
var errFormat = errors.New("not a command in Redis's protocol")

// readCommand reads one command, an array of bulk strings, and tells how many
// bytes it took. It gives io.EOF where the input ends before the command and
// io.ErrUnexpectedEOF where it ends within. It takes memory as bytes arrive, not
// as lengths promise.
func readCommand(r *bufio.Reader) (args []string, size int64, err error) {
	count, size, err := readLength(r, '*')
	if err != nil {
		return nil, size, err
	}
	if count < 1 || count > maxArgs {
		return nil, size, fmt.Errorf("%w: %d arguments, expected 1 to %d", errFormat, count, maxArgs)
	}
	left := maxCommand
	for range count {
		length, n, err := readLength(r, '$')
		size += n
		if err != nil {
			return nil, size, within(err)
		}
		if length < 0 || length > left {
			return nil, size, fmt.Errorf("%w: a length of %d, expected 0 to %d", errFormat, length, left)
		}
		left -= length
		var text bytes.Buffer
		copied, err := io.CopyN(&text, r, int64(length)+2)
		size += copied
		if err != nil {
			return nil, size, within(err)
		}
		body, ok := bytes.CutSuffix(text.Bytes(), []byte("\r\n"))
		if !ok {
			return nil, size, fmt.Errorf("%w: no line end after an argument", errFormat)
		}
		args = append(args, string(body))
	}
	return args, size, nil
}

// readLength reads a line of a kind and a number, `*3` say.
func readLength(r *bufio.Reader, kind byte) (n int, size int64, err error) {
	line, err := r.ReadSlice('\n')
	size = int64(len(line))
	if errors.Is(err, bufio.ErrBufferFull) {
		return 0, size, fmt.Errorf("%w: a line without an end", errFormat)
	}
	if err != nil {
		if size > 0 {
			if line[0] != kind { // cut off, but wrong before that
				return 0, size, fmt.Errorf("%w: found %q, expected %q", errFormat, line[0], kind)
			}
			err = within(err)
		}
		return 0, size, err
	}
	digits, ok := bytes.CutSuffix(line, []byte("\r\n"))
	if !ok || len(digits) < 2 || digits[0] != kind {
		return 0, size, fmt.Errorf("%w: found %.20q, expected %q and a length", errFormat, line, kind)
	}
	n, err = strconv.Atoi(string(digits[1:]))
	if err != nil || strconv.Itoa(n) != string(digits[1:]) { // +3 and 03 are nobody's spelling
		return 0, size, fmt.Errorf("%w: found the length %.20q", errFormat, digits[1:])
	}
	return n, size, nil
}

// within turns the end of the input into an end in the middle of something.
func within(err error) error {
	if errors.Is(err, io.EOF) {
		return io.ErrUnexpectedEOF
	}
	return err
}

// appendCommand adds a command in Redis's protocol.
func appendCommand(b []byte, args ...string) []byte {
	b = append(b, '*')
	b = strconv.AppendInt(b, int64(len(args)), 10)
	b = append(b, "\r\n"...)
	for _, arg := range args {
		b = append(b, '$')
		b = strconv.AppendInt(b, int64(len(arg)), 10)
		b = append(b, "\r\n"...)
		b = append(b, arg...)
		b = append(b, "\r\n"...)
	}
	return b
}
