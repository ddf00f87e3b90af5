package chart_test

import (
	"bytes"
	"encoding/xml"
	"io"
	"strconv"
	"strings"
)

// A group is a <g> of an SVG with what is in it.
type group struct {
	class string
	data  map[string]string
	inner []*group
}

// groupsOf reads the groups of an SVG that have a class.
func groupsOf(t tester, svg []byte) *group {
	t.Helper()
	root := &group{}
	open := []*group{root}
	d := xml.NewDecoder(bytes.NewReader(svg))
	for {
		token, err := d.Token()
		if err == io.EOF {
			return root
		}
		if err != nil {
			t.Fatalf("the SVG can't be read: %v", err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			g := &group{data: map[string]string{}}
			for _, a := range token.Attr {
				if a.Name.Local == "class" {
					g.class = a.Value
				}
				if name, ok := strings.CutPrefix(a.Name.Local, "data-"); ok {
					g.data[name] = a.Value
				}
			}
			last := open[len(open)-1]
			last.inner = append(last.inner, g)
			open = append(open, g)
		case xml.EndElement:
			open = open[:len(open)-1]
		}
	}
}

// all gives every group of the classes, in the order of the picture.
func (g *group) all(classes ...string) []*group {
	var out []*group
	for _, in := range g.inner {
		for _, c := range classes {
			if in.class == c {
				out = append(out, in)
			}
		}
		out = append(out, in.all(classes...)...)
	}
	return out
}

func (g *group) number(t tester, key string) int {
	t.Helper()
	n, err := strconv.Atoi(g.data[key])
	if err != nil {
		t.Fatalf("%s has %q for %s", g.class, g.data[key], key)
	}
	return n
}
