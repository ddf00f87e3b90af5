package chart_test

import (
	"bytes"
	"image/png"
	"strconv"
	"testing"

	"clew/patterns"
	"clew/patterns/chart"
	"clew/patterns/chart/picturetest"
)

func itoa(n int) string { return strconv.Itoa(n) }

// checkSize says that a picture is as wide as pictures are, and not too high.
func checkSize(t *testing.T, picture *chart.Picture) []byte {
	t.Helper()
	file, err := picture.PNG(1)
	if err != nil {
		t.Fatal(err)
	}
	config, err := png.DecodeConfig(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	if config.Width != chart.Width || config.Height > chart.MaxHeight {
		t.Errorf("the picture is %d by %d pixels", config.Width, config.Height)
	}
	return file
}

// TestFabricPictures compares fabrics with pictures that were looked at.
func TestFabricPictures(t *testing.T) {
	texts := fabricPatterns(t)
	for _, c := range []struct{ pattern, from, to, file string }{
		{"float-hat", "Brim", "Crown", "hat"},
		{"cobble-cowl", "Lower edge", "Upper edge", "cowl"},
		{"gull-kerchief", "Neck tab", "Shore", "kerchief"},
		{"lee-cap", "Wedges", "Closing", "cap"},
		{"mender-mittens", "Cuff", "Drying loop", "mittens"},
		{"boathouse-socks", "Cuff", "Toe", "socks"},
		{"sampler", "Ropes", "Single stitches", "sampler"},
		{"boathouse-socks", "Heel turn", "Heel turn", "heel"},
	} {
		t.Run(c.file, func(t *testing.T) {
			plan := laidOut(t, texts[c.pattern], 0)
			v := chart.View{Plan: plan, From: -1, Here: -1, Fabric: true}
			for i, r := range plan.Rows {
				if r.Section.Name == c.from && v.From < 0 {
					v.From = i
				}
				if r.Section.Name == c.to {
					v.To = i
				}
			}
			v.Here = (v.From + v.To) / 2
			drawAndCompare(t, v, c.file)
		})
	}
	p, _ := patterns.Read([]byte(texts["float-hat"]))
	plan, err := p.PanelPlan(0, "Float")
	if err != nil {
		t.Fatal(err)
	}
	drawAndCompare(t, chart.View{Plan: plan, To: len(plan.Rows) - 1, Here: 4, Fabric: true}, "float")
}

func drawAndCompare(t *testing.T, v chart.View, name string) {
	t.Helper()
	picture, err := chart.Draw(v)
	if err != nil {
		t.Fatal(err)
	}
	picturetest.Compare(t, checkSize(t, picture), "testdata/fabric-"+name+".png")
}
