package bot_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/rs/zerolog"

	"clew/bot"
	"clew/patterns"
)

// conversed says some lines to a bot, each of which is answered as it begins.
func conversed(t *testing.T, h *house, id string, lines [][2]string) {
	t.Helper()
	for _, line := range lines {
		r := h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: line[0]})
		checkSaid(t, line[0], r)
		checkChoices(t, line[0], r)
		if r.Failed != nil || !strings.HasPrefix(r.Said, line[1]) {
			t.Errorf("%q is answered %q, expected %q\n%s", line[0], r.Said, line[1], h.log)
		}
	}
}

// A number that is left is of the yarn that she told of, where it can be; and what
// she had of one yarn is not taken for what she had of another. The cowl's rounds
// are all of 132 stitches.
func TestYarnTold(t *testing.T) {
	h := newHouse(t)
	conversed(t, h, h.knit(t, wren, pattern(t, "float-hat")), [][2]string{
		{"put me at round ten of the floats", ""},
		{"38 left", "There should be one hundred and eight stitches"},
		{"I had 4 ounces", "I shall remember that you had four ounces. When you have weighed it, say what is left, such as one ounce left."},
		{"one left", "You have too little yarn: it runs out"},
		{"I had 100 grams", "I shall remember that you had one hundred grams. When you have weighed it, say what is left, such as thirty-eight grams left."},
		{"38 left", "You have too little yarn: it runs out at about round one of Slack water. The rest needs about eighty-two grams, and you have thirty-eight grams."},
		{"38 are left", "You have too little yarn: it runs out at about round one of Slack water."},
		{"only two and a half left", "You have too little yarn: it runs out at about round ten of Floats."},
		{"108 left", "One hundred and eight is right"},
		{"38 stitches left", "There should be one hundred and eight stitches"},
		{"two rows left", "I did not understand that"},
		{"how many rows are left", "You are at round ten"},
	})
	conversed(t, h, h.knit(t, wren, pattern(t, "cobble-cowl")), [][2]string{
		{"put me at round 20 of the cobbles", ""},
		{"I had 45 grams of the stones, 30 are left", "You have enough main color."},
		{"25 left", "It will be close. Your main color may run out"},
		{"20 grams of the mortar left", "How much did you have when you began?"},
		{"20 grams of MC left", "You have too little main color"},
		{"30 grams of main colour left", "You have enough main color."},
		{"I had 30 grams of contrasting color, 20 are left", "You have enough contrasting color."},
		{"15 left", "You have too little contrasting color"},
		{"20 grams of contrast color left", "You have enough contrasting color."},
		{"I had 30 grams of the wool, 20 are left", "The pattern is worked in several yarns: say which one"},
		{"I had 30 grams of the sand, 20 are left", "No yarn of the pattern is called sand"},
	})
}

// What is asked of one section is answered of that, or says that it is not. At 28
// rounds to 10 cm, the leg's 16 are 5.7 cm, and its eight that may go 2.9 cm.
func TestLengthOfSection(t *testing.T) {
	h := newHouse(t)
	conversed(t, h, h.knit(t, wren, pattern(t, "boathouse-socks")), [][2]string{
		{"make the leg 2 cm shorter", "Of rounds nine to sixteen of Leg you may leave out four or eight: eight would make it three centimetres shorter."},
		{"the leg should be 4 cm long", "Leg: five and a half centimetres long, and twenty centimetres around. Of rounds nine to sixteen of Leg"},
		{"the leg should be 5.5 cm long", "Leg: five and a half centimetres long, and twenty centimetres around. That is what you want."},
		{"I want the foot an inch longer", "After round twenty-four of Foot, work that round again, seven times."},
		{"I want the toe an inch longer", "More rounds are reckoned for the whole piece, and not for that alone. After round twenty-four of Foot"},
		{"make the heel 1 cm shorter", "No rounds of heel may be left out."},
		{"make the sleeve an inch longer", "There is no section called sleeve"},
		{"put me at round one of the foot", ""},
		{"which rounds of the leg can I leave out", "No more rounds of Leg may be left out from here on."},
		{"put me at round one of the cuff", ""},
		{"fit", "You knit size small. To change it, say size and one of these: small, medium or large. Foot: eight and a half centimetres long"},
	})
	conversed(t, h, h.knit(t, wren, pattern(t, "cobble-cowl")), [][2]string{
		{"I want it 70 cm around", "Size short comes nearest. It is sixty centimetres around, ten centimetres less than you want."},
	})
}

// A panel that rows may be left out of is named as a section is. What the answer
// says to say is then done.
func TestLeavingOutOfPanel(t *testing.T) {
	h := newHouse(t)
	conversed(t, h, h.knit(t, wren, pattern(t, "float-hat")), [][2]string{
		{"can I leave out two rounds of the float", "You may leave out rounds nine and ten of Float"},
		{"leave out two rounds of Float", "From now on you leave out rounds fifteen and sixteen of Float."},
		{"leave out two rounds of the slack water", "From now on you leave out rounds fifteen and sixteen of Float and rounds five and six of Slack water."},
		{"put me at round 3 of the floats", "You have moved."},
	})
}

// A size that has no such row says so, and where she is now; undo leads back. The
// shawl's gulls have 24 rows, and the kerchief's 16.
func TestSizeWithoutHerRow(t *testing.T) {
	h := newHouse(t)
	id := h.knit(t, wren, pattern(t, "gull-kerchief"))
	conversed(t, h, id, [][2]string{
		{"size shawl", "You now knit size shawl."},
		{"put me at row 12 of the gulls", ""},
		{"size kerchief", "You now knit size kerchief. Row twelve, wrong side."},
		{"size shawl", "You now knit size shawl. Row twelve, wrong side."},
		{"put me at row 24 of the gulls", ""},
		{"size kerchief", "You now knit size kerchief. It has no row twenty-four of Gulls, so you are at the nearest before it. Row sixteen, wrong side."},
		{"undo", "Your last move is taken back. You knit size shawl again. Row twenty-four, wrong side."},
	})
}

// Settings may be of an older Clew, or made up: they break nothing.
func TestForgedSettings(t *testing.T) {
	h := newHouse(t)
	id := h.knit(t, wren, pattern(t, "float-hat"))
	for _, s := range []map[string]string{
		{"gauge": "0 0"}, {"gauge": "NaN NaN"}, {"gauge": "Inf 3"}, {"gauge": "-22 -30"}, {"gauge": "1e300 1e300"}, {"gauge": "22"}, {"gauge": "22 30 40"}, {"gauge": "x"},
		{"yarn": "g"}, {"yarn": "NaN g"}, {"yarn": "Inf g"}, {"yarn": "-3 g"}, {"yarn": "0 g"}, {"yarn": "1e300 g"}, {"yarn": "100 stones"}, {"yarn": "100 g " + strings.Repeat("z9;", 60)}, {"yarn": "100"},
		{"units": "furlongs"},
		{"yarn": "100 g", "weighed": "x"}, {"yarn": "100 g", "weighed": "NaN 4 Crown"}, {"yarn": "100 g", "weighed": "-3 4 Crown"}, {"yarn": "100 g", "weighed": "300 4 Crown"}, {"yarn": "100 g", "weighed": "38 99 Crown"}, {"yarn": "100 g", "weighed": "38 4 Sleeve"},
	} {
		if _, err := h.store.Set(t.Context(), id, wren, s, ""); err != nil {
			t.Fatal(err)
		}
		conversed(t, h, id, [][2]string{
			{"put me at round ten of the floats", ""},
			{"fit", "You knit size small."},
			{"measurements", "This is size small. It is forty-five centimetres around. Brim: four and a half centimetres long."},
			{"two centimetres shorter", "You can leave out rounds one to six of Slack water. That makes it two centimetres shorter"},
			{"my gauge", "I reckon with the pattern's gauge, twenty-four stitches"},
			{"is my yarn enough", "The pattern asks for"},
			{"how many stitches for 50 cm", "Cast on"},
			{"settings", "You hear whole rounds"},
			{"38 left", ""},
			{"38 grams left", ""},
			{"I had 100 grams, 38 are left", "You have too little yarn"},
		})
		cleared := map[string]string{"yarn": "", "weighed": ""}
		for name := range s {
			cleared[name] = ""
		}
		for name := range cleared {
			if _, err := h.store.Set(t.Context(), id, wren, map[string]string{name: ""}, ""); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// Of many groups of rows the first that are ahead are told.
func TestManyGroups(t *testing.T) {
	var text strings.Builder
	text.WriteString("Pattern: Net\nWorked: in rounds\nCast on: 10\nSection: Net\nRounds 1-2: knit.\n")
	for i := range 6 {
		fmt.Fprintf(&text, "Rounds %d-%d (optional in twos): knit.\nRounds %d-%d: knit.\n", 3+4*i, 4+4*i, 5+4*i, 6+4*i)
	}
	h := newHouse(t)
	id := h.knit(t, wren, text.String())
	for _, c := range []struct {
		at         int
		says, ends string
	}{
		{1, "rounds fifteen and sixteen of Net", " There are two more such groups; ask again further on. To do so, say for example leave out two rounds of Net."},
		{5, "rounds nineteen and twenty of Net", " There is one more such group; ask again further on. To do so, say for example leave out two rounds of Net."},
		{9, "rounds twenty-three and twenty-four of Net", "To do so, say for example leave out two rounds of Net."},
		{26, "No more rounds may be left out from here on.", "No more rounds may be left out from here on."},
	} {
		h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: fmt.Sprint("put me at round ", c.at)})
		r := h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: "what can I leave out"})
		checkSaid(t, "what can I leave out", r)
		if !strings.Contains(r.Said, c.says) || !strings.HasSuffix(r.Said, c.ends) || strings.Contains(r.Said, "more such") != strings.Contains(c.ends, "more such") {
			t.Errorf("at round %d she hears %q, expected %q and at its end %q", c.at, r.Said, c.says, c.ends)
		}
	}
}

// An event that comes again to another process claims nothing that has been
// changed since.
func TestSettingsToldAgain(t *testing.T) {
	for _, c := range [][2]string{
		{"use inches", "use centimetres"},
		{"step by step", "whole rounds"},
		{"full crosses", "short crosses"},
		{"I had 100 grams", "I had 50 grams"},
		{"22 stitches and 30 rows to ten centimetres", "use the pattern's gauge"},
	} {
		h := newHouse(t)
		id := h.knit(t, wren, pattern(t, "float-hat"))
		h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: "next row"})
		first := h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: c[0], Event: "one"})
		h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: c[1], Event: "two"})
		before := h.dump(t)
		other := bot.New(h.store, func() time.Time { return h.clock }, h.newID, zerolog.Nop())
		r := other.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: c[0], Event: "one"})
		if diff := cmp.Diff(before, h.dump(t)); diff != "" || r.Said == first.Said || !strings.HasPrefix(r.Said, "You are at round one of Brim") {
			t.Errorf("%q again is answered %q, at first %q, and changed:\n%s", c[0], r.Said, first.Said, diff)
		}
	}
}

// Of several requests at once to leave out two more rows each is made, and each
// tells what it led to.
func TestLeavingOutAtOnce(t *testing.T) {
	h := newHouse(t)
	id := h.knit(t, wren, buoy)
	h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: "put me at round 2"})
	said := make(chan string)
	for _, event := range []string{"one", "two", "three"} {
		go func() {
			said <- h.Answer(t.Context(), bot.Ask{Member: wren, Knitalong: id, Words: "leave out two rounds of the foot", Event: event}).Said
		}()
	}
	all := map[string]bool{}
	for range 3 {
		all[<-said] = true
	}
	found := h.place(t, id, wren)
	leave, err := patterns.ParseLeftOut(found.LeftOut)
	rows := 0
	for _, l := range leave {
		rows += l.Rows
	}
	if err != nil || len(all) != 3 || found.Row != 2 || rows != 6 {
		t.Errorf("found %+v (%v) and the answers %v, expected three, and six rounds left out", found, err, all)
	}
}
