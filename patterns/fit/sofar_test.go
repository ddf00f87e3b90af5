package fit_test

import (
	"errors"
	"testing"

	"clew/patterns"
	"clew/patterns/fit"
)

// pouch is an invented piece: ten stitches over eight rows, five over four, and a
// strap that is cast on by itself. At 20 rows to 10 cm a row is half a centimetre.
const pouch = `Pattern: Quay Pouch (invented)
Worked: in rows
Gauge: 10 sts and 20 rows = 10 cm
Cast on: 10
Section: Front
Rows 1-7: knit.
Row 8: k2tog 5 times.
Section: Flap
Rows 1-4: knit.
Row 5: bind off 5.
Section: Strap
Cast on: 4
Rows 1-6: knit.
`

// By hand: the front's eight rows work ten stitches each, which is 80, and the
// flap's five rows five each, which is 25. So with the front done it is 80 of 105,
// and with two rows of the flap 90 of 105.
func TestSoFar(t *testing.T) {
	p, problems := patterns.Read([]byte(pouch))
	if patterns.HasErrors(problems) {
		t.Fatal(problems)
	}
	plan := layOut(t, p, 0)
	front, flap, strap := p.Sections[0], p.Sections[1], p.Sections[2]
	for _, c := range []struct {
		row     int
		section *patterns.Section
		want    fit.Progress
	}{
		{-1, nil, fit.Progress{Rows: 13, InAll: 6.5}},
		{0, nil, fit.Progress{Rows: 13, InAll: 6.5}},
		{1, nil, fit.Progress{Rows: 13, Done: 1, InAll: 6.5, Length: 0.5, Share: 10.0 / 105}},
		{8, nil, fit.Progress{Rows: 13, Done: 8, InAll: 6.5, Length: 4, Share: 80.0 / 105}},
		{10, nil, fit.Progress{Rows: 13, Done: 10, InAll: 6.5, Length: 5, Share: 90.0 / 105}},
		{10, front, fit.Progress{Rows: 8, Done: 8, InAll: 4, Length: 4, Share: 1}},
		{10, flap, fit.Progress{Rows: 5, Done: 2, InAll: 2.5, Length: 1, Share: 10.0 / 25}},
		{10, strap, fit.Progress{Rows: 6, InAll: 3}},
		{13, nil, fit.Progress{Rows: 6, InAll: 3}},
		{16, nil, fit.Progress{Rows: 6, Done: 3, InAll: 3, Length: 1.5, Share: 0.5}},
		{19, nil, fit.Progress{Rows: 6, Done: 6, InAll: 3, Length: 3, Share: 1}},
		{99, nil, fit.Progress{Rows: 6, Done: 6, InAll: 3, Length: 3, Share: 1}},
	} {
		found, err := fit.SoFar(plan, c.row, c.section, nil)
		if err != nil || found.Rows != c.want.Rows || found.Done != c.want.Done || !near(found.Length, c.want.Length) || !near(found.InAll, c.want.InAll) || !near(found.Share, c.want.Share) {
			t.Errorf("at row %d it is %+v (%v), expected %+v", c.row, found, err, c.want)
		}
	}
	if found, err := fit.SoFar(plan, 8, nil, &fit.Gauge{Stitches: 20, Rows: 40}); err != nil || !near(found.Length, 2) {
		t.Errorf("at her own gauge it is %+v (%v), expected two centimetres", found, err)
	}
}

// Where all is done it is as long as the piece, and without a gauge the rows are
// told.
func TestSoFarOfSamples(t *testing.T) {
	for _, name := range []string{"float-hat", "boathouse-socks", "gull-kerchief", "lee-cap", "cobble-cowl"} {
		plan := layOut(t, sample(t, name), 0)
		pieces, err := fit.Pieces(plan, nil)
		if err != nil {
			t.Fatal(err)
		}
		found, err := fit.SoFar(plan, len(plan.Rows), nil, nil)
		last := pieces[len(pieces)-1]
		if err != nil || found.Share != 1 || found.Done != last.Rows || !near(found.Length, last.Length) || !near(found.InAll, last.Length) {
			t.Errorf("%s is %+v (%v) at its end, expected %+v", name, found, err, last)
		}
		before := 0.0
		for row := range plan.Rows {
			if found, err = fit.SoFar(plan, row, nil, nil); err != nil || found.Share < 0 || found.Share > 1 || found.Length > found.InAll+0.001 {
				t.Fatalf("%s at row %d: %+v (%v)", name, row, found, err)
			}
			if found.Done > 0 && found.Length < before {
				t.Errorf("%s becomes shorter at row %d: %+v, before %g", name, row, found, before)
			}
			before = found.Length
		}
	}
	p, _ := patterns.Read([]byte("Pattern: Strip (invented)\nWorked: in rows\nCast on: 4\nSection: Strip\nRows 1-4: knit.\n"))
	if found, err := fit.SoFar(layOut(t, p, 0), 1, nil, nil); !errors.Is(err, fit.ErrNoGauge) || found.Done != 1 || found.Share != 0.25 {
		t.Errorf("without a gauge: %+v (%v)", found, err)
	}
}
