package discordtest

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"
	"strings"
	"unicode/utf8"
)

// form gathers what is wrong with the fields of a body, in the form that the platform
// answers with: documentation, "Opcodes and Status Codes", and "API Reference", error
// messages. Lengths are counted in Unicode code points, from memory.
type form struct {
	errors map[string]any
}

// add keeps an error of a field; at is its path: "components.0.label".
func (f *form) add(at, code, message string, a ...any) {
	if f.errors == nil {
		f.errors = map[string]any{}
	}
	level := f.errors
	for key := range strings.SplitSeq(at, ".") {
		if key == "" {
			continue
		}
		below, is := level[key].(map[string]any)
		if !is {
			below = map[string]any{}
			level[key] = below
		}
		level = below
	}
	list, _ := level["_errors"].([]any)
	level["_errors"] = append(list, map[string]any{"code": code, "message": fmt.Sprintf(message, a...)})
}

// refusal is the answer to a form with errors; nil where there are none.
func (f *form) refusal() *refusal {
	if f.errors == nil {
		return nil
	}
	return &refusal{status: http.StatusBadRequest, code: 50035, message: "Invalid Form Body", errors: f.errors}
}

type object = map[string]any

// join is the path of a field.
func join(at, key string) string {
	if at == "" {
		return key
	}
	return at + "." + key
}

func (f *form) required(at string) { f.add(at, "BASE_TYPE_REQUIRED", "This field is required") }

// text reads a string of lo to hi code points; "" and false where it is missing or null.
func (f *form) text(o object, at, key string, lo, hi int) (string, bool) {
	v, is := o[key]
	if !is || v == nil {
		return "", false
	}
	text, is := v.(string)
	if !is {
		f.add(join(at, key), "STRING_TYPE_CONVERT", "Could not interpret \"%v\" as string.", v)
		return "", false
	}
	switch n := utf8.RuneCountInString(text); {
	case n >= lo && n <= hi:
	case lo > 0 && hi < 1<<20:
		f.add(join(at, key), "BASE_TYPE_BAD_LENGTH", "Must be between %d and %d in length. (%d)", lo, hi, n)
	default:
		f.add(join(at, key), "BASE_TYPE_MAX_LENGTH", "Must be %d or fewer in length. (%d)", hi, n)
	}
	return text, true
}

// must is text that is required.
func (f *form) must(o object, at, key string, lo, hi int) string {
	text, is := f.text(o, at, key, lo, hi)
	if !is && o[key] == nil {
		f.required(join(at, key))
	}
	return text
}

// whole reads a whole number from lo to hi; def where it is missing or null.
func (f *form) whole(o object, at, key string, lo, hi, def int64) int64 {
	v, is := o[key]
	if !is || v == nil {
		return def
	}
	number, _ := v.(json.Number)
	n, err := number.Int64()
	switch {
	case err != nil:
		f.add(join(at, key), "NUMBER_TYPE_COERCE", "Value \"%v\" is not int.", v)
		return def
	case n < lo || n > hi:
		f.add(join(at, key), "NUMBER_TYPE_RANGE", "int value should be between %d and %d. (%d)", lo, hi, n)
	}
	return n
}

// flag reads a boolean; false where it is missing or null.
func (f *form) flag(o object, at, key string) bool {
	v, is := o[key]
	if !is || v == nil {
		return false
	}
	b, is := v.(bool)
	if !is {
		f.add(join(at, key), "BOOLEAN_TYPE_CONVERT", "Must be either true or false.")
	}
	return b
}

// list reads a list of at most hi; nil where it is missing or null.
func (f *form) list(o object, at, key string, hi int) []any {
	v, is := o[key]
	if !is || v == nil {
		return nil
	}
	list, is := v.([]any)
	switch {
	case !is:
		f.add(join(at, key), "BASE_TYPE_LIST", "Only lists are allowed.")
	case len(list) > hi:
		f.add(join(at, key), "BASE_TYPE_MAX_LENGTH", "Must be %d or fewer in length. (%d)", hi, len(list))
	}
	return list
}

// objects reads a list of at most hi objects.
func (f *form) objects(o object, at, key string, hi int) []object {
	var all []object
	for i, v := range f.list(o, at, key, hi) {
		one, is := v.(object)
		if !is {
			f.add(fmt.Sprintf("%s.%d", join(at, key), i), "DICT_TYPE_CONVERT", "Only dictionaries may be used in a DictType")
			one = object{}
		}
		all = append(all, one)
	}
	return all
}

// inner reads an object; nil where it is missing or null.
func (f *form) inner(o object, at, key string) object {
	v, is := o[key]
	if !is || v == nil {
		return nil
	}
	one, is := v.(object)
	if !is {
		f.add(join(at, key), "DICT_TYPE_CONVERT", "Only dictionaries may be used in a DictType")
	}
	return one
}

// id reads a snowflake; "" where it is missing or null.
func (f *form) id(o object, at, key string) string {
	v, is := o[key]
	if !is || v == nil {
		return ""
	}
	if n, number := v.(json.Number); number {
		v = n.String()
	}
	text, _ := v.(string)
	if !snowflake(text) {
		f.add(join(at, key), "NUMBER_TYPE_COERCE", "Value \"%v\" is not snowflake.", v)
		return ""
	}
	return text
}

// parse reads a JSON object with its numbers as they were written.
func parse(data []byte) (object, bool) {
	v, ok := parseAny(data)
	o, is := v.(object)
	return o, ok && is && o != nil
}

func parseAny(data []byte) (any, bool) {
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	var v any
	if d.Decode(&v) != nil || d.More() {
		return nil, false
	}
	return v, true
}
