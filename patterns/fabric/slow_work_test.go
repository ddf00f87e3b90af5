package fabric_test

import (
	"fmt"
	"slices"
	"strings"

	"clew/patterns/instruction"
)

// row works a row, and says why it could not.
func (s *slow) row(nodes []instruction.Node, size int) (err error) {
	defer func() {
		if r := recover(); r != nil {
			m, ok := r.(misfit)
			if !ok {
				panic(r)
			}
			err = fmt.Errorf("%s", string(m))
		}
	}()
	s.size, s.turned, s.ended, s.passed = size, false, false, false
	for i := range s.things {
		s.things[i].slipped = false
	}
	s.begin()
	s.run(nodes)
	if s.turned {
		return nil
	}
	if s.ahead() > 0 {
		return fmt.Errorf("unworked")
	}
	if s.ring {
		if s.passed && !s.ended {
			return fmt.Errorf("past the beginning")
		}
		return nil
	}
	for s.tipIsInside() {
		s.shiftTip()
	}
	s.back = !s.back
	return nil
}

func (s *slow) tipIsInside() bool {
	if s.back {
		return s.tip() > 0
	}
	return s.tip() < len(s.things)-1
}

func (s *slow) shiftTip() {
	at := s.tip()
	to := at + 1
	if s.back {
		to = at - 1
	}
	s.things[at], s.things[to] = s.things[to], s.things[at]
}

func (s *slow) run(nodes []instruction.Node) {
	for _, n := range nodes {
		s.node(n)
	}
}

func (s *slow) node(n instruction.Node) {
	switch n := n.(type) {
	case *instruction.Work:
		s.work(n)
	case *instruction.Repeat:
		s.repeat(n)
	case *instruction.Into:
		l := s.take()
		copies := make([]thing, 0, 50)
		for i := range 50 {
			c := l
			if i > 0 {
				c.column = s.fresh()
			}
			copies = append(copies, c)
		}
		outer := s.supply
		s.supply = &copies
		s.run(n.Body)
		s.supply = outer
	case *instruction.Cross:
		s.cross(n)
	case *instruction.Marker:
		s.marker(n)
	case *instruction.Turn:
		if n.Wrap {
			i := s.next()
			if i < 0 {
				panic(misfit("nothing to wrap"))
			}
			s.things[i].wrapped = true
		}
		s.turn()
	case *instruction.Yarn:
		s.yarn = n.Name
	case *instruction.Bead:
		s.walk(false, func(i int) bool {
			if s.things[i].kind == aStitch && (s.things[i].done || !s.ring) {
				s.things[i].beaded = true
			}
			return s.things[i].kind != aStitch && s.things[i].kind != theWall
		})
	case *instruction.AsLooks:
		for range s.times(n.Extent, 1) {
			l := s.take()
			seen := l.purl != s.back
			s.putWorked(l, seen != n.Opposite, false)
		}
	case *instruction.Held:
		s.hold(n)
	case *instruction.Strip:
		if s.ahead() < n.Width {
			panic(misfit("no room for the panel"))
		}
		s.room = n.Width
		s.put(thing{kind: theWall})
		s.run(n.Body)
		if s.room != 0 {
			panic(misfit("panel left unworked"))
		}
		s.room = -1
		s.things = slices.DeleteFunc(s.things, func(t thing) bool { return t.kind == theWall })
	default:
		panic(fmt.Sprintf("the slow fabric has no %T", n))
	}
}

func (s *slow) stitches() int {
	n := 0
	for _, t := range s.things {
		if t.kind == aStitch {
			n++
		}
	}
	return n
}

func (s *slow) fresh() int {
	s.columns++
	return s.columns - 1
}

// times turns an extent into how often something that uses so many is worked.
func (s *slow) times(e instruction.Extent, uses int) int {
	n := e.N.At(s.size)
	if e.Reach == instruction.Times {
		return n
	}
	over := s.ahead() - s.rest(e)
	if over < 0 || uses == 0 || over%uses != 0 {
		panic(misfit("does not come out"))
	}
	return over / uses
}

// rest is how many stitches an extent leaves ahead.
func (s *slow) rest(e instruction.Extent) int {
	n := e.N.At(s.size)
	switch e.Reach {
	case instruction.ToLast:
		return n
	case instruction.ToMarker:
		count, found, room := 0, false, s.room
		s.walk(true, func(i int) bool {
			switch s.things[i].kind {
			case aStitch:
				if s.things[i].done || room >= 0 && count == room {
					return false
				}
				count++
			case aMarker:
				found = count > 0
			}
			return !found
		})
		if s.ring && count > 0 && count == s.stitches() && len(s.beside(aMarker)) > 0 {
			found = true // once round, back to the one that stands here
		}
		if !found || s.supply != nil {
			panic(misfit("no marker ahead"))
		}
		return s.ahead() - count + n
	}
	return 0
}

func (s *slow) work(w *instruction.Work) {
	switch w.Stitch.Abbr {
	case "psso", "p2sso":
		times := w.Extent.N.At(s.size)
		if w.Stitch.Abbr == "p2sso" {
			times *= 2
		}
		for range times {
			s.passOver()
		}
		return
	case "sl":
		for range s.times(w.Extent, 1) {
			l := s.take()
			l.slipped = true
			l.twisted = l.twisted != w.TBL
			s.put(l)
		}
		return
	}
	known, ok := slowStitches[w.Stitch.Abbr]
	if !ok {
		panic("the slow fabric has no " + w.Stitch.Abbr)
	}
	for range s.times(w.Extent, known.uses) {
		var first thing
		for i := range known.uses {
			if l := s.take(); i == 0 {
				first = l
			}
		}
		for i, made := range known.makes {
			l := first
			if i > 0 || known.uses == 0 {
				l = thing{column: s.fresh()}
			}
			lower := strings.ToLower(string(made))
			s.putWorked(l, lower == "p", w.TBL || lower != string(made))
		}
	}
}

func (s *slow) putWorked(l thing, purl, twisted bool) {
	s.put(thing{kind: aStitch, column: l.column, purl: purl != s.back, twisted: twisted, yarn: s.yarn})
}

func (s *slow) passOver() {
	last, lifted := -1, -1
	s.walk(false, func(i int) bool {
		t := s.things[i]
		if t.kind != aStitch {
			return t.kind != theWall
		}
		if s.ring && !t.done {
			return false
		}
		if last >= 0 && t.slipped {
			lifted = i
		}
		last = i
		return lifted < 0
	})
	if lifted < 0 {
		panic(misfit("nothing to pass over"))
	}
	s.things = slices.Delete(s.things, lifted, lifted+1)
}

func (s *slow) repeat(r *instruction.Repeat) {
	if r.Extent.Reach == instruction.Times {
		for range r.Extent.N.At(s.size) {
			s.run(r.Body)
		}
		return
	}
	rest := s.rest(r.Extent)
	if s.ahead() < rest {
		panic(misfit("too few for the extent"))
	}
	for s.ahead() > rest {
		before := s.ahead()
		s.run(r.Body)
		if s.ahead() >= before || s.ahead() < rest {
			panic(misfit("the repeat does not come out"))
		}
	}
}

func (s *slow) cross(c *instruction.Cross) {
	cables := map[instruction.Source][]thing{}
	for i, strand := range c.Slipped {
		for range strand.N {
			from := instruction.Source(i + 1)
			cables[from] = append(cables[from], s.take())
		}
	}
	for _, part := range c.Parts {
		switch {
		case part.Returned > 0:
			cable := cables[instruction.FromFirst]
			for range part.Returned {
				last := len(cable) - 1
				s.giveBack(cable[last])
				if s.room >= 0 {
					s.room++
				}
				cable = cable[:last]
			}
			cables[instruction.FromFirst] = cable
		case part.From == instruction.FromLeft:
			s.run(part.Body)
		default:
			cable := cables[part.From]
			s.supply = &cable
			s.run(part.Body)
			s.supply = nil
			cables[part.From] = cable
		}
	}
	for _, cable := range cables {
		if len(cable) > 0 {
			panic(misfit("the cross is not finished"))
		}
	}
}

func (s *slow) marker(n *instruction.Marker) {
	here := s.beside(aMarker)
	switch {
	case n.Act == instruction.PlaceMarker:
		turned, ended := s.turned, s.ended
		s.put(thing{kind: aMarker})
		s.turned, s.ended = turned, ended
	case len(here) == 0:
		panic(misfit("no marker here"))
	case n.Act == instruction.RemoveMarker:
		slices.Sort(here)
		for _, i := range slices.Backward(here) {
			s.things = slices.Delete(s.things, i, i+1)
		}
		s.slipPast()
	default:
		s.slipPast()
	}
}

// slipPast moves the tip past what is no stitch.
func (s *slow) slipPast() {
	last := -1
	s.walk(true, func(i int) bool {
		if s.things[i].kind == aStitch {
			return false
		}
		last = i
		if s.things[i].kind == theBeginning && !s.passed {
			s.passed, s.ended = true, true
		}
		return true
	})
	if last < 0 {
		return
	}
	t, at := s.things[s.tip()], s.tip()
	s.things = slices.Delete(s.things, at, at+1)
	if at < last {
		last--
	}
	if !s.back {
		last++
	}
	s.things = slices.Insert(s.things, last, t)
}

func (s *slow) hold(n *instruction.Held) {
	count := n.N.At(s.size)
	if count == 0 {
		return
	}
	if !n.Return {
		var group []thing
		for range count {
			group = append(group, s.take())
		}
		if s.back {
			slices.Reverse(group)
		}
		s.held = append(s.held, group)
		return
	}
	i := slices.IndexFunc(s.held, func(g []thing) bool { return len(g) == count })
	if i < 0 {
		panic(misfit("not held"))
	}
	group := slices.Clone(s.held[i])
	s.held = slices.Delete(slices.Clone(s.held), i, i+1)
	if !s.back {
		slices.Reverse(group)
	}
	for _, l := range group {
		l.slipped = false
		s.giveBack(l)
	}
}
