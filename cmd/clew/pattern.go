package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"clew/patterns"
	"clew/patterns/problem"
)

// readFile reads a pattern file; "-" is standard input. More than one byte
// past the limit is never read: the pattern reader refuses it in its own words.
func (p *program) readFile(name string) ([]byte, error) {
	in := p.in
	if name != "-" {
		f, err := os.Open(name)
		if err != nil {
			return nil, unreadable(name, err)
		}
		defer f.Close()
		in = f
	}
	src, err := io.ReadAll(io.LimitReader(in, patterns.MaxBytes+1))
	if err != nil {
		return nil, unreadable(name, err)
	}
	return src, nil
}

// unreadable words why a file can't be read.
func unreadable(name string, err error) error { return usage("%s can't be read: %w", name, bare(err)) }

// bare is a file's error without the file's name, which has been said.
func bare(err error) error {
	if path, ok := errors.AsType[*fs.PathError](err); ok {
		return path.Err
	}
	return err
}

// readPattern reads a pattern file that a command works with; the text is given
// as well. Errors are those of readFile and sound.
func (p *program) readPattern(name string) (*patterns.Pattern, string, error) {
	src, err := p.readFile(name)
	if err != nil {
		return nil, "", err
	}
	pattern, err := p.sound(name, src)
	return pattern, string(src), err
}

// sound reads a pattern that a command works with, and refuses one with
// errors, which it shows.
func (p *program) sound(name string, src []byte) (*patterns.Pattern, error) {
	pattern, problems := patterns.Read(src)
	if !patterns.HasErrors(problems) {
		return pattern, nil
	}
	for _, found := range problems {
		if found.Severity == problem.Error {
			fmt.Fprintln(p.errors, problem.Caret(name, src, found))
		}
	}
	return nil, fmt.Errorf("%s has errors and can't be knitted from; mend them and try again", name)
}
