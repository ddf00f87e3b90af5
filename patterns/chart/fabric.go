package chart

import (
	"math"
	"slices"
	"strconv"

	"clew/patterns/chart/canvas"
)

// drawFabric draws the fabric as it should look: all of its width, or, where its
// stitches would be too narrow to be told apart and this is not asked for, a part.
func drawFabric(v View, whole bool) (*Picture, error) {
	asked := v
	v, cutTo := cut(v, mostFabricRows(v))
	cloth := pieces(v, v.Plan.Acts)
	facts := factsIn(v, cloth)
	if facts.crop(v, cloth, whole); facts.Drawn > 0 && cutTo == "" {
		cutTo = CutStitches
	}
	if facts.Cut = cutTo; cutTo != "" {
		facts.Whole = [2]int{asked.Plan.Rows[asked.From].Number, asked.Plan.Rows[asked.To].Number}
	}
	for _, p := range cloth {
		p.place()
		p.bend()
	}
	s := newSheet(v, cloth, facts)
	s.draw()
	return &Picture{canvas: s.c, facts: facts}, nil
}

// mostFabricRows is how many rows there is room for.
func mostFabricRows(v View) int {
	h := max(1, math.Round(easyStitch*rowAspect(v)))
	return int((MaxHeight - topMargin - 12*lineHeight) / h)
}

// mostStitches is how many stitches the widest row of a view has.
func mostStitches(v View) int {
	most := 0
	for i := v.From; i <= v.To; i++ {
		most = max(most, stitchesOf(v, i))
	}
	return most
}

// Sizes of a fabric picture, in units.
const (
	tallEnough    = 1500.0 // a picture of many rows has smaller stitches, down to
	easyStitch    = 9.0    // this width, to stay below that height
	clearStitch   = 16.0   // where there are repeats to leave out
	leastClear    = 14.0   // those of which none are left out are at least so wide
	cutStitch     = 10.0   // where the rows have no repeat, and are cut because they are below
	leastSeen     = 8.0    // this width
	lowStrip      = 0.25   // a strip is less high than this share of its width
	leastWedge    = 12     // stitches of a part that narrows, drawn for its shape
	widestStitch  = 44.0
	thinnest      = 3.0 // a narrower stitch can't be told from its neighbour
	sideMargin    = 66.0
	yarnMargin    = 40.0
	sectionMargin = 60.0
	topMargin     = 44.0
	pieceGap      = 40.0
	lineHeight    = 20.0
	bottomMargin  = 12.0
	letterSize    = 14.0
	numberSize    = 12.0
	roomAcross    = Width - 2*sideMargin - yarnMargin - sectionMargin // for the stitches
)

// A sheet is the canvas with the measures of one fabric picture.
type sheet struct {
	c       *canvas.Canvas
	v       View
	facts   Facts
	cloth   []*piece
	w, h    float64 // of a stitch
	middle  float64 // x of the middle of the fabric
	zero    float64 // the place, in stitches, that stands there
	bottom  float64 // y of the bottom of the piece that is drawn
	symbols symbols
	yarns   yarns
	width   float64
	height  float64
	left    float64 // the margins
	right   float64
}

func newSheet(v View, cloth []*piece, facts Facts) *sheet {
	s := &sheet{v: v, facts: facts, cloth: cloth, yarns: yarnsOf(v), left: sideMargin, right: sideMargin}
	if len(s.yarns.order) > 1 {
		s.left += yarnMargin
	}
	if sections(v) > 1 {
		s.right += sectionMargin
	}
	low, high := extent(cloth)
	aspect := rowAspect(v)
	rows := v.To - v.From + 1
	across := high - low
	s.w = min(widestStitch, (Width-s.left-s.right)/max(across, 1))
	if tall := tallEnough / (float64(rows) * aspect); tall < s.w {
		s.w = max(min(easyStitch, s.w), tall)
	}
	if s.w > 1 { // so that stitches that stand above each other are drawn alike
		s.w = math.Floor(s.w)
	}
	s.h = max(1, math.Round(s.w*aspect))
	s.zero = math.Round(low+high) / 2
	s.width = Width
	s.middle = math.Round((s.left + s.width - s.right) / 2)
	if math.Mod(s.w, 2) == 1 && math.Mod(high-low, 2) == 1 {
		s.middle += 0.5
	}
	s.height = math.Ceil(topMargin + float64(rows)*s.h + float64(len(cloth))*pieceGap + s.baseHeight() + s.keyHeight())
	s.c = canvas.New(s.width, s.height, canvas.Plain)
	return s
}

// baseHeight is how far the row reaches down that the first one drawn is worked
// into.
func (s *sheet) baseHeight() float64 {
	if s.cloth[0].castOn {
		return 0
	}
	return s.h
}

// extent is how far the fabric reaches to the left and to the right, in
// stitches.
func extent(cloth []*piece) (low, high float64) {
	for _, p := range cloth {
		for _, row := range p.all() {
			for j := range row.slots {
				low, high = min(low, row.slots[j].x-0.5), max(high, row.slots[j].x+0.5)
			}
		}
	}
	return low, high
}

// rowAspect is how high a row is, in widths of a stitch: by the gauge, where
// the pattern gives one that is plausible, and else as is common in stocking
// stitch.
func rowAspect(v View) float64 {
	gauge := v.Plan.Pattern.Gauge
	if own := v.Plan.Rows[v.From].Section.Gauge; own != nil {
		gauge = own
	}
	if gauge == nil || gauge.Rows <= 0 || gauge.Stitches <= 0 {
		return 0.75
	}
	return min(max(gauge.Stitches/gauge.Rows, 0.55), 1)
}

func (s *sheet) x(place float64) float64 { return s.middle + (place-s.zero)*s.w }

// y is where the line between two rows of a piece stands: 0 is its bottom.
func (s *sheet) y(line float64) float64 { return s.bottom - line*s.h }

func (s *sheet) draw() {
	s.symbols = symbols{aspect: s.h / s.w, fine: s.w < fineStitch, made: map[symbolKey]*canvas.Symbol{}}
	s.bottom = s.height - s.keyHeight() - s.baseHeight() - pieceGap/2
	for _, p := range s.cloth {
		s.piece(p)
		s.bottom -= float64(len(p.rows))*s.h + pieceGap
	}
	s.key()
}

// piece draws one piece: the grounds of all its stitches, then the stitches,
// then the strands that cross over them, and last its edges.
func (s *sheet) piece(p *piece) {
	rows := p.all()
	claimed := p.claim()
	for i := 1; i < len(rows); i++ {
		s.grounds(rows, i, claimed[i])
	}
	s.beginning(p)
	for i := 1; i < len(rows); i++ {
		m := rows[i]
		s.c.Begin("row", "row", strconv.Itoa(m.row.Number), "index", strconv.Itoa(m.index), "section", m.row.Section.Name, "side", m.row.Side.String(), "stitches", strconv.Itoa(m.row.After.Count()))
		for j := range m.slots {
			if claimed[i][j] == 0 {
				s.stitch(rows, i, j, false)
			}
		}
		s.c.End()
	}
	s.strands(p, claimed)
	for i := 1; i < len(rows); i++ {
		s.over(rows, i)
	}
	s.needle(p)
	s.edges(p)
}

// claim says which slots of which rows are drawn with the strands of a cross:
// one more than its number, counted from the bottom. The last one that bends a
// stitch has it.
func (p *piece) claim() [][]int32 {
	rows := p.all()
	claimed := make([][]int32, len(rows))
	for i, row := range rows {
		claimed[i] = make([]int32, len(row.slots))
	}
	n := int32(0)
	for i := range rows {
		for k := range rows[i].crosses {
			c := &rows[i].crosses[k]
			n++
			for _, j := range c.slots {
				path := columnPath(rows, i, j, c)
				for d, at := range path.index {
					if r := path.first + d; r > 0 && float64(r) > c.low && float64(r-1) < c.high {
						claimed[r][at] = n
					}
				}
			}
		}
	}
	return claimed
}

// edge is the right edge (side 0) or the left one (side 1) of a slot at the top
// of its row.
func (m *meshRow) edge(j, side int) float64 {
	k := j - 1 + 2*side
	if k < 0 || k >= len(m.slots) {
		return m.slots[j].x + 0.5 - float64(side)
	}
	return (m.slots[j].x + m.slots[k].x) / 2
}

// footEdges are the right and the left edge of a slot at the bottom of its row.
func (m *meshRow) footEdges(below *meshRow, j int) (right, left float64) {
	s := &m.slots[j]
	if len(s.track) == 0 {
		return s.foot, s.foot
	}
	lo, hi := int(slices.Min(s.track)), int(slices.Max(s.track))
	right, left = below.edge(lo, 0), below.edge(hi, 1)
	if n := len(below.children[lo]); n > 1 && lo == hi { // it shares its foot
		k := slices.Index(below.children[lo], int32(j))
		step := (left - right) / float64(n)
		return right + step*float64(k), right + step*float64(k+1)
	}
	return right, left
}

// grounds fills what lies behind the stitches of a row.
func (s *sheet) grounds(rows []*meshRow, i int, claimed []int32) {
	m, below := rows[i], rows[i-1]
	for j := 0; j < len(m.slots); {
		fill, ok := s.ground(m, j, claimed[j] > 0)
		if !ok {
			j++
			continue
		}
		end := j + 1
		for end < len(m.slots) {
			if next, ok := s.ground(m, end, claimed[end] > 0); !ok || next != fill {
				break
			}
			end++
		}
		s.groundRun(m, below, i, j, end, fill)
		j = end
	}
}

// groundRun fills the ground of slots from to end-1 of a row.
func (s *sheet) groundRun(m, below *meshRow, i, from, end int, fill canvas.Color) {
	path := []canvas.Segment{canvas.MoveTo(s.x(m.edge(from, 0)), s.y(float64(i)))}
	for j := from; j < end; j++ {
		path = append(path, canvas.LineTo(s.x(m.edge(j, 1)), s.y(float64(i))))
	}
	low := s.y(float64(i-1)) + 0.4 // so that no seam shows
	for j := end - 1; j >= from; j-- {
		right, left := m.footEdges(below, j)
		path = append(path, canvas.LineTo(s.x(left), low), canvas.LineTo(s.x(right), low))
	}
	s.c.Path(canvas.Stroke{Path: append(path, canvas.ClosePath()), Color: fill})
}
