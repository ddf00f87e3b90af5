package reader_test

import (
	"go/parser"
	gotoken "go/token"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// These rows are said by hand, to show what the listener hears before the
// reader says a word. Acts are told in short: "knit*4" is four times knit.
var spoken = []struct {
	name string
	said string
	at   needle
	want string
}{
	{"plain", "Knit four, purl one.", needle{all: 5, ahead: 5}, "knit*4, purl"},
	{"opening", "Lanterns, sixteen rounds. Round forty-one, Lanterns. Knit two.", needle{all: 2, ahead: 2}, "knit*2"},
	{"opening of one row", "Edge, one row. Row one, Edge. Row one, right side. Knit two.", needle{all: 2, ahead: 2}, "knit*2"},
	{"tip", "Knit two. Tip: keep the cable needle close. Knit no more.", needle{all: 2, ahead: 2}, "knit*2"},
	{"whole row", "Knit all ninety-six stitches.", needle{all: 96, ahead: 96}, "knit*96"},
	{"whole row tbl", "Purl all three stitches through the back loop.", needle{all: 3, ahead: 3}, "purl through the back loop*3"},
	{"great number", "Knit all one thousand two hundred and five stitches.", needle{all: 1205, ahead: 1205}, "knit*1205"},
	{"reach", "Knit two, purl three, to the last one, knit one, to the end.", needle{all: 6, ahead: 6}, "knit*2, purl*3, knit"},
	{"reach to marker", "Knit two, to one before the marker, purl one, to the marker, slip the marker, knit one.", needle{all: 4, ahead: 4, markers: []int{1}}, "knit*2, purl, slip marker, knit"},
	{"slips", "Slip one, slip two purlwise with the yarn in front, slip one knitwise.", needle{all: 4, ahead: 4},
		"slip, slip purlwise with the yarn in front*2, slip knitwise"},
	{"longest wins", "Make one left, make one. You should now have two stitches.", needle{all: 0, ahead: 0}, "make one left, make one"},
	{"commas inside", "Slip, slip, knit. Slip, slip, slip, purl. You should now have two stitches.", needle{all: 5, ahead: 5}, "slip slip knit, slip slip slip purl"},
	{"times in all", "Slip, slip, knit, two times in all. You should now have two stitches.", needle{all: 4, ahead: 4}, "slip slip knit*2"},
	{"skp", "Slip one knitwise, knit one, pass the slipped stitch over, two times in all. You should now have two stitches.", needle{all: 4, ahead: 4},
		"slip knitwise, knit, pass one over, slip knitwise, knit, pass one over"},
	{"tbl", "Knit two through the back loop, knit two together through the back loop twice. You should now have four stitches.", needle{all: 6, ahead: 6},
		"knit through the back loop*2, knit 2 together through the back loop*2"},
	{"and so on", "Knit one, purl one, and so on to the last two: three times in all. Knit two.", needle{all: 8, ahead: 8}, "knit, purl, knit, purl, knit, purl, knit*2"},
	{"group", "Two times: knit one, purl two. That is the group.", needle{all: 6, ahead: 6}, "knit, purl*2, knit, purl*2"},
	{"groups", "Two times, to the end: knit one. Three times: purl one. Knit one. That is the inner group. That is the group.", needle{all: 14, ahead: 14},
		"knit, purl, knit, purl, knit, purl, knit*2, purl, knit, purl, knit, purl, knit"},
	{"into", "Two times: into the next stitch: knit one; yarn over; knit one. That is the group. You should now have six stitches.", needle{all: 2, ahead: 2},
		"into one stitch, knit, yarn over, knit, that stitch is done, into one stitch, knit, yarn over, knit, that stitch is done"},
	{"into each", "Into each of the next two stitches, to the end: knit one; purl one. You should now have four stitches.", needle{all: 2, ahead: 2},
		"into one stitch, knit, purl, that stitch is done, into one stitch, knit, purl, that stitch is done"},
	{"into the same", "Into the next stitch: knit one; yarn over. Into the same stitch: knit one. You should now have three stitches.", needle{all: 1, ahead: 1},
		"into one stitch, knit, yarn over, knit, that stitch is done"},
	{"into in a cross", "Cross: slip one to the cable needle; knit one; knit one, yarn over, knit one, all into the next stitch from the cable needle. You should now have four stitches.", needle{all: 2, ahead: 2},
		"slip 1 to the cable needle, hold it anywhere, knit, into one stitch from the cable needle, knit, yarn over, knit, that stitch is done"},
	{"long cross", "Cross: slip two to the cable needle; knit one. Still in the cross: slip, slip, knit from the cable needle. You should now have two stitches.", needle{all: 3, ahead: 3},
		"slip 2 to the cable needle, hold it anywhere, knit, slip slip knit from the cable needle"},
	{"cross", "Two over one right purl cross: slip one to the cable needle and hold it behind; knit two; purl one from the cable needle. Two over one right purl cross, knit one.",
		needle{all: 7, ahead: 7}, "slip 1 to the cable needle, hold it behind, knit*2, purl from the cable needle, slip 1 to the cable needle, hold it behind, knit*2, purl from the cable needle, knit"},
	{"cross by its name", "Two over one left purl cross twice.", needle{all: 6, ahead: 6},
		"slip 2 to the cable needle, hold it in front, purl, knit from the cable needle*2, slip 2 to the cable needle, hold it in front, purl, knit from the cable needle*2"},
	{"three strands", "One over two over three right cross.", needle{all: 6, ahead: 6},
		"slip 3 to the cable needle, hold it behind, slip 2 to the second cable needle, hold it behind, knit, knit from the second cable needle*2, knit from the cable needle*3"},
	{"longhand cross", "Cross: slip three to the cable needle; knit one; put one from the cable needle back on the left needle; purl one; knit two together from the cable needle. You should now have three stitches.",
		needle{all: 4, ahead: 4}, "slip 3 to the cable needle, hold it anywhere, knit, put back 1, purl, knit 2 together from the cable needle"},
	{"panels", "Knit one. Panel Seed edge: knit one, purl two, to the end of the panel. After the panel: knit one.", needle{all: 5, ahead: 5}, "knit*2, purl*2, knit"},
	{"between panels", "Panel Seed: knit one. Between the panels: purl one. Panel Rope: knit one.", needle{all: 3, ahead: 3}, "knit, purl, knit"},
	{"between groups of panels", "Two times: panel Seed: knit one. Between the panels: purl one. That is the group. Panel Rope: knit one.",
		needle{all: 5, ahead: 5}, "knit, purl, knit, purl, knit"},
	{"panels in a group", "Two times: panel Seed: knit one. After the panel: purl one. That is the group. Knit one, to the end.",
		needle{all: 5, ahead: 5}, "knit, purl, knit, purl, knit"},
	{"group of panels after a panel", "Panel Rope: knit one. Two times, to the end: panel Seed: knit one, to the end of the panel. That is the group.",
		needle{all: 3, ahead: 3}, "knit*3"},
	{"as it looks", "Work each stitch as it looks: purl one, knit one. Work each stitch against its look. Knit one, purl one, and so on to the end: two times in all.", needle{all: 6, ahead: 6},
		"purl, knit*2, purl, knit, purl"},
	{"bind off", "Bind off two stitches. The stitch left on the right needle counts as the first of what follows. Knit one. You should now have one stitch.", needle{all: 3, ahead: 3}, "bind off*2, knit"},
	{"one left unworked", "Knit one, turn. Leave the other stitch unworked.", needle{all: 2, ahead: 2}, "knit, turn"},
	{"phrase and so on", "Knit one. Slip, slip, knit, and so on to the end: two times in all. You should now have three stitches.", needle{all: 5, ahead: 5}, "knit, slip slip knit*2"},
	{"none left", "Bind off one stitch. You should now have no stitches left.", needle{all: 1, ahead: 1}, "bind off"},
	{"turn", "Knit one, wrap the next stitch and turn. Leave the other two stitches unworked.", needle{all: 3, ahead: 3}, "knit, wrap and turn"},
	{"yarns", "Take the main color, knit one, take contrast color two, knit one, take Old blue, knit one.", needle{all: 3, ahead: 3},
		"yarn: the main color, knit, yarn: contrast color two, knit, yarn: old blue, knit"},
	{"hold", "Put two stitches on hold, return three held stitches to the left needle, knit three. You should now have three stitches.", needle{all: 2, ahead: 2}, "hold 2, return, knit*3"},
}

func TestListenerHears(t *testing.T) {
	for _, c := range spoken {
		t.Run(c.name, func(t *testing.T) {
			var l listener
			acts, err := l.hear(c.said, c.at)
			if err != nil {
				t.Fatalf("%s\n%v", c.said, err)
			}
			if diff := cmp.Diff(c.want, brief(names(acts))); diff != "" {
				t.Errorf("%s\n%s", c.said, diff)
			}
		})
	}
}

// brief writes acts in one line, what recurs at once with its number.
func brief(acts []string) string {
	var parts []string
	for i := 0; i < len(acts); {
		j := i
		for j < len(acts) && acts[j] == acts[i] {
			j++
		}
		part := acts[i]
		if j-i > 1 {
			part += "*" + itoa(j-i)
		}
		parts, i = append(parts, part), j
	}
	return strings.Join(parts, ", ")
}

// What is no spoken row, and what of it the listener says.
var unspoken = []struct {
	name string
	said string
	at   needle
	err  string
}{
	{"digit", "Knit 4.", needle{all: 4, ahead: 4}, "can't be said"},
	{"sign", "Knit four & purl.", needle{all: 4, ahead: 4}, "can't be said"},
	{"two spaces", "Knit  four.", needle{all: 4, ahead: 4}, "one word was expected"},
	{"no capital", "knit four.", needle{all: 4, ahead: 4}, "without a capital"},
	{"no end", "Knit four", needle{all: 4, ahead: 4}, "was expected"},
	{"unknown word", "Knit four, wiggle.", needle{all: 4, ahead: 4}, "nothing that she knows"},
	{"no number", "Knit.", needle{all: 4, ahead: 4}, "a number was expected"},
	{"wrong plural", "Bind off one stitches.", needle{all: 4, ahead: 4}, "was expected"},
	{"group unclosed", "Two times: knit one.", needle{all: 2, ahead: 2}, "never closed"},
	{"group closed twice", "Knit one. That is the group.", needle{all: 1, ahead: 1}, "closes"},
	{"inner group closed as the outer", "Two times: two times: knit one. That is the group. That is the group.", needle{all: 4, ahead: 4}, "closes"},
	{"wrong count", "Yarn over. You should now have three stitches.", needle{all: 1, ahead: 1}, "there are 2"},
	{"count not told", "Yarn over.", needle{all: 1, ahead: 1}, "nothing is said"},
	{"count told for nothing", "Knit one. You should now have one stitch.", needle{all: 1, ahead: 1}, "as many before"},
	{"wrong all", "Knit all four stitches.", needle{all: 5, ahead: 5}, "to be all of them"},
	{"wrong end", "Knit four, to the end.", needle{all: 5, ahead: 5}, "where the reach ends"},
	{"wrong marker", "Knit one, to the marker, knit one.", needle{all: 2, ahead: 2, markers: []int{0}}, "no marker is there"},
	{"wrong end of a panel", "Panel Seed: knit one, to the end of the panel, purl one. After the panel: knit one.", needle{all: 3, ahead: 3}, "of the panel"},
	{"between panels, and no other comes", "Panel Seed: knit one. Between the panels: knit one.", needle{all: 2, ahead: 2}, "between panels, and 0 after"},
	{"between panels, and none came", "Between the panels: knit one. Panel Seed: knit one.", needle{all: 2, ahead: 2}, "0 panels come before"},
	{"between panels, but not the last time", "Two times: panel Seed: knit one. Between the panels: purl one. That is the group.", needle{all: 4, ahead: 4}, "between panels, and 0 after"},
	{"after a panel, and none came", "After the panel: knit one. Panel Seed: knit one.", needle{all: 2, ahead: 2}, "no panel comes before"},
	{"after a panel, and another comes", "Panel Seed: knit one. After the panel: knit one. Panel Rope: knit one.", needle{all: 3, ahead: 3}, "a panel follows every time"},
	{"which end", "Panel Seed: knit one, to the end.", needle{all: 3, ahead: 3}, "of the row, or of the panel"},
	{"no panel", "Knit one, to the end of the panel.", needle{all: 1, ahead: 1}, "no panel"},
	{"stitches left on the cable needle", "Cross: slip two to the cable needle; knit one; knit one from the cable needle.", needle{all: 3, ahead: 3}, "stay on"},
	{"too many from the cable needle", "Cross: slip one to the cable needle; knit one; knit two from the cable needle.", needle{all: 3, ahead: 3}, "not on the"},
	{"a cross that belies its name", "One over one right cross: slip one to the cable needle and hold it in front; knit one; knit one from the cable needle.", needle{all: 2, ahead: 2}, "not what its name says"},
	{"the same stitch after several", "Into each of the next two stitches: knit one; purl one. Into the same stitch: knit one. You should now have six stitches.", needle{all: 2, ahead: 2}, "after several"},
	{"which of them so many times", "Knit one, slip one knitwise, knit one, pass the slipped stitch over, two times in all. You should now have three stitches.", needle{all: 5, ahead: 5}, "or all of them"},
	{"commas in a list", "Knit one, slip, slip, knit. You should now have two stitches.", needle{all: 3, ahead: 3}, "begin and end"},
	{"commas, and a list goes on", "Slip, slip, knit, knit one. You should now have two stitches.", needle{all: 3, ahead: 3}, "begin and end"},
	{"with a yarn", "Knit one, with the main color, knit one.", needle{all: 2, ahead: 2}, "nothing that she knows"},
	{"rest not told", "Knit one, turn.", needle{all: 3, ahead: 3}, "stay unworked"},
	{"bind-off not told", "Bind off one stitch, knit one. You should now have one stitch.", needle{all: 2, ahead: 2}, "nothing is said of the stitch"},
	{"too few stitches", "Knit four.", needle{all: 3, ahead: 3}, "no stitch is left"},
	{"wrong rest", "Knit one, turn. Leave the other three stitches unworked.", needle{all: 3, ahead: 3}, "stay unworked"},
	{"and so on in the middle", "Knit one, and so on to the end: two times in all, knit one.", needle{all: 3, ahead: 3}, "how many times"},
}

func TestListenerRefuses(t *testing.T) {
	for _, c := range unspoken {
		t.Run(c.name, func(t *testing.T) {
			var l listener
			acts, err := l.hear(c.said, c.at)
			if err == nil {
				t.Fatalf("%s\nwas heard as %s; an error with %q was expected", c.said, brief(names(acts)), c.err)
			}
			if !strings.Contains(err.Error(), c.err) {
				t.Errorf("%s\nthe error says %q; %q was expected in it", c.said, err, c.err)
			}
		})
	}
}

func TestListenerCountsOff(t *testing.T) {
	for said, want := range map[string]int{
		"one": 1, "twelve": 12, "twenty": 20, "twenty-four": 24, "ninety-nine": 99, "one hundred": 100, "one hundred and four": 104,
		"three hundred and forty-two": 342, "one thousand": 1000, "one thousand and one": 1001, "one thousand two hundred and five": 1205,
		"nine thousand nine hundred and ninety-nine": 9999,
		"twenty-ten": 0, "hundred": 0, "knit": 0,
	} {
		words, err := split(said)
		if err != nil {
			t.Fatal(err)
		}
		n, took := countOff(words)
		if n != want || want > 0 && took != len(words) {
			t.Errorf("%q counts as %d, by %d of its words; %d was expected", said, n, took, want)
		}
	}
}

func itoa(n int) string { return strconv.Itoa(n) }

// TestListenerKnowsNoCode holds the listener apart from the program: none of
// its files imports anything of it.
func TestListenerKnowsNoCode(t *testing.T) {
	for _, file := range []string{"hearing_act_test.go", "hearing_words_test.go", "hearing_listener_test.go", "hearing_items_test.go", "hearing_crosses_test.go"} {
		parsed, err := parser.ParseFile(gotoken.NewFileSet(), file, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range parsed.Imports {
			if strings.HasPrefix(i.Path.Value, `"clew/`) {
				t.Errorf("%s imports %s; the listener was to know nothing of the program", file, i.Path.Value)
			}
		}
	}
}
