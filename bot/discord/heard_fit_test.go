package discord

import (
	"fmt"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"clew/bot"
	"clew/patterns/fit"
	"clew/reader/listen"
)

func fits(w listen.FitWish) bot.Ask { return asked(listen.Heard{Intent: listen.Fit, Fit: &w}) }

func yarns(w listen.YarnWish) bot.Ask { return asked(listen.Heard{Intent: listen.Yarn, Yarn: &w}) }

func sees(number int, section, look string) bot.Ask {
	return asked(listen.Heard{Intent: listen.Picture, Number: number, HasNumber: number > 0, Section: section, Look: look})
}

// text and whole write an option in JSON.
func text(name, value string) string {
	return fmt.Sprintf(`{"name": %q, "type": 3, "value": %q}`, name, value)
}

func whole(name string, value int) string {
	return fmt.Sprintf(`{"name": %q, "type": 4, "value": %d}`, name, value)
}

func TestHeardOfFit(t *testing.T) {
	const cm, in = listen.Centimetres, listen.Inches
	for _, c := range []struct {
		what, data string
		want       bot.Ask
	}{
		{"fit", with("fit"), asked(listen.Heard{Intent: listen.Fit})},
		{"a size", with("fit", text("size", "Medium")), named(listen.Fit, "Medium")},
		{"a size that is another request", with("fit", text("size", "leave out all")), named(listen.Fit, "leave out all")},
		{"a head", with("fit", text("around", "57 cm")), fits(listen.FitWish{Kind: listen.Sizes, Number: 57, Unit: cm, HasNumber: true})},
		{"a head in inches", with("fit", text("around", "22 1/2 in")), fits(listen.FitWish{Kind: listen.Sizes, Number: 22.5, Unit: in, HasNumber: true})},
		{"a foot", with("fit", text("around", "23cm"), text("body", "foot")), fits(listen.FitWish{Kind: listen.Sizes, Body: "foot", Number: 23, Unit: cm, HasNumber: true})},
		{"a body alone", with("fit", text("body", "hand")), fits(listen.FitWish{Kind: listen.Sizes, Body: "hand"})},
		{"somebody", with("fit", text("around", "Toddler")), fits(listen.FitWish{Kind: listen.Sizes, Person: "toddler"})},
		{"somebody with a number", with("fit", text("around", "a 2-year-old")), fits(listen.FitWish{Kind: listen.Sizes, Person: "a 2-year-old"})},
		{"somebody's hand", with("fit", text("around", "woman"), text("body", "hand")), fits(listen.FitWish{Kind: listen.Sizes, Body: "hand", Person: "woman"})},
		{"somebody nobody knows", with("fit", text("around", "next row")), fits(listen.FitWish{Kind: listen.Sizes, Person: "next row"})},
		{"a width", with("fit", text("width", "50,5 centimetres")), fits(listen.FitWish{Kind: listen.CastOn, Number: 50.5, Unit: cm, HasNumber: true})},
		{"a length", with("fit", text("length", `8"`)), fits(listen.FitWish{Kind: listen.ToLength, Number: 8, Unit: in, HasNumber: true})},
		{"a gauge", with("fit", text("gauge", "22x30")), fits(listen.FitWish{Kind: listen.Gauge, Stitches: 22, Rows: 30, Over: 10, OverUnit: cm, HasNumber: true})},
		{"a gauge over a hand's width", with("fit", text("gauge", "11 to 5 cm")), fits(listen.FitWish{Kind: listen.Gauge, Stitches: 22, Over: 10, OverUnit: cm, HasNumber: true})},
		{"a gauge to the inch", with("fit", text("gauge", "5.5 to the inch")), fits(listen.FitWish{Kind: listen.Gauge, Stitches: 5.5, Over: 1, OverUnit: in, HasNumber: true})},
		{"a gauge over four inches", with("fit", text("gauge", "21 sts and 29 rows = 4 in")), fits(listen.FitWish{Kind: listen.Gauge, Stitches: 5.25, Rows: 7.25, Over: 1, OverUnit: in, HasNumber: true})},
		{"rows", with("fit", whole("leave", 2)), fits(listen.FitWish{Kind: listen.LeaveOut, Leave: 2})},
		{"rows of a section", with("fit", text("section", "Slack  Water"), whole("leave", 5000)), fits(listen.FitWish{Kind: listen.LeaveOut, Leave: 5000, Section: "slack water"})},
		{"no rows", with("fit", whole("leave", 0)), fits(listen.FitWish{Kind: listen.WorkAll})},
		{"a section alone", with("fit", text("section", "Brim")), fits(listen.FitWish{Kind: listen.Offers, Section: "brim"})},
		{"yarn", with("yarn"), asked(listen.Heard{Intent: listen.Yarn})},
		{"both", with("yarn", text("had", "100 g"), text("left", "38 grams")), yarns(listen.YarnWish{Had: 100, Left: 38, HasHad: true, HasLeft: true, Unit: "g"})},
		{"what is left", with("yarn", text("left", "1.5 oz")), yarns(listen.YarnWish{Left: 1.5, HasLeft: true, Unit: "oz"})},
		{"what is left, as it was told before", with("yarn", text("left", "38")), yarns(listen.YarnWish{Left: 38, HasLeft: true})},
		{"nothing left", with("yarn", text("left", "0 m")), yarns(listen.YarnWish{HasLeft: true, Unit: "m"})},
		{"what there was", with("yarn", text("had", "200 yd")), yarns(listen.YarnWish{Had: 200, HasHad: true, Unit: "yd"})},
		{"one unit for both", with("yarn", text("had", "100 g"), text("left", "38")), yarns(listen.YarnWish{Had: 100, Left: 38, HasHad: true, HasLeft: true, Unit: "g"})},
		{"two units", with("yarn", text("had", "100 g"), text("left", "38 m")), yarns(listen.YarnWish{Had: 100, Left: 38, HasHad: true, HasLeft: true, Unit: "m", Mixed: true})},
		{"a yarn by its name", with("yarn", text("left", "38 g"), text("yarn", "Gray")), yarns(listen.YarnWish{Left: 38, HasLeft: true, Unit: "g", Yarn: "gray"})},
		{"a picture", with("picture"), asked(listen.Heard{Intent: listen.Picture})},
		{"a picture of a row", with("picture", whole("number", 7)), sees(7, "", "")},
		{"the fabric", with("picture", text("look", "fabric")), sees(0, "", listen.LookFabric)},
		{"the chart of a section", with("picture", text("look", "chart"), text("section", "Crown")), sees(0, "crown", listen.LookChart)},
		{"all of it", with("picture", text("look", "chart"), text("section", "Crown"), whole("number", 5000)), sees(5000, "crown", listen.LookChart)},
	} {
		t.Run(c.what, func(t *testing.T) {
			found, err := heard(used(t, c.data))
			if err != nil || !reflect.DeepEqual(found, c.want) {
				t.Errorf("found %+v (%+v), %v", found, found.Heard, err)
			}
		})
	}
}

// TestForgedFit refuses what the platform would not have let through, and what
// can't be measured, in plain words; of those that package fit says, only the
// beginning is looked at here.
func TestForgedFit(t *testing.T) {
	const odd, end = ", and something else came.", " Nothing has moved."
	for _, c := range []struct{ what, data, begins string }{
		{"two wishes", with("fit", text("around", "57 cm"), text("length", "20 cm")), string(oneWish)},
		{"a size beside rows", with("fit", text("size", "large"), whole("leave", 2)), string(oneWish)},
		{"a section for a length", with("fit", text("length", "20 cm"), text("section", "Brim")), string(oneWish)},
		{"a body for rows", with("fit", text("body", "head"), whole("leave", 2)), string(oneWish)},
		{"a section and a body", with("fit", text("body", "head"), text("section", "Brim")), string(oneWish)},
		{"no rows of a section", with("fit", whole("leave", 0), text("section", "Brim")), string(allOfWhole)},
		{"fewer than no rows", with("fit", whole("leave", -1)), "Slash fit takes a number of rows to leave out, from zero to five thousand" + odd},
		{"too many rows", with("fit", whole("leave", 5001)), "Slash fit takes a number of rows to leave out, from zero to five thousand" + odd},
		{"rows in words", with("fit", text("leave", "2")), "Slash fit takes a number of rows to leave out, from zero to five thousand" + odd},
		{"a body that there is not", with("fit", text("body", "tail")), "Slash fit takes head, hand or foot" + odd},
		{"a head that is a number", with("fit", whole("around", 57)), "Slash fit takes a measure with its unit, or who it is for in at most one hundred characters" + odd},
		{"a head too long to read", with("fit", text("around", strings.Repeat("5", 101))), "Slash fit takes a measure with its unit, or who it is for in at most one hundred characters" + odd},
		{"a gauge of nothing", with("fit", text("gauge", " ")), "Slash fit takes a gauge in at most one hundred characters" + odd},
		{"a head without a unit", with("fit", text("around", "57")), "Fifty-seven has no unit"},
		{"a head of nothing", with("fit", text("around", "0 cm")), "Zero centimetres is no length"},
		{"a head below nothing", with("fit", text("around", "-57 cm")), "Minus fifty-seven centimetres is less than nothing"},
		{"a head in two units", with("fit", text("around", "57 cm 22 in")), "Fifty-seven centimetres twenty-two inches is in centimetres and in inches"},
		{"a head like a tower", with("fit", text("around", "1001 cm")), "One thousand and one centimetres is too long"},
		{"a head in metres", with("fit", text("around", "0.57 m")), "Zero point five seven"},
		{"a width in words", with("fit", text("width", "next row")), "Next row can't be read as a length"},
		{"a length of hundreds of digits", with("fit", text("length", strings.Repeat("9", 90)+" cm")), ""},
		{"a gauge of zero", with("fit", text("gauge", "0x30")), "A gauge of zero can't be knitted"},
		{"a gauge below zero", with("fit", text("gauge", "-22x30")), "Minus twenty-two by thirty is less than nothing"},
		{"a gauge that nobody knits", with("fit", text("gauge", "200 to the cm")), "Two hundred to the centimetre"},
		{"a gauge over nothing", with("fit", text("gauge", "22")), "Twenty-two does not say over which length"},
		{"a gauge in two units", with("fit", text("gauge", "22 to 4 in 10 cm")), "Twenty-two to four inches ten centimetres is in centimetres and in inches"},
		{"yarn in balls", with("yarn", text("had", "2 balls")), "Two balls is not in grams, ounces, metres or yards"},
		{"yarn below nothing", with("yarn", text("left", "-3 g")), "Minus three grams is less than nothing"},
		{"yarn for a sail", with("yarn", text("left", "99999 g")), "Ninety-nine thousand nine hundred and ninety-nine grams is more than a piece of knitting takes"},
		{"yarn in two units at once", with("yarn", text("left", "3 g 4 m")), "Three grams four metres has two units"},
		{"yarn that is a request", with("yarn", text("left", "undo")), "Undo can't be read as an amount of yarn"},
		{"yarn that is a number", with("yarn", whole("left", 38)), "Slash yarn takes an amount of yarn with its unit in at most one hundred characters" + odd},
		{"a look that there is not", with("picture", text("look", "photo")), "Slash picture takes chart or fabric" + odd},
		{"a picture of row zero", with("picture", whole("number", 0)), "Slash picture takes the number of a row, from one to five thousand" + odd},
		{"a picture of a row in words", with("picture", text("number", "7")), "Slash picture takes the number of a row, from one to five thousand" + odd},
		{"a picture of a size", with("picture", text("size", "large")), "Something came with slash picture that does not belong to it."},
	} {
		t.Run(c.what, func(t *testing.T) {
			found, err := heard(used(t, c.data))
			if err == nil || !strings.HasPrefix(err.Error(), c.begins) || !strings.Contains(err.Error(), end) || !reflect.DeepEqual(found, bot.Ask{}) {
				t.Fatalf("found %+v, %v", found, err)
			}
			checkRefused(t, err, err.Error())
		})
	}
}

// TestMeasuresStayTheSame says that what somebody typed is what the bot reckons
// with: it reads the number and the unit of a wish once more.
func TestMeasuresStayTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		typed := fmt.Sprintf("%g %s", float64(rapid.IntRange(400, 390_000).Draw(t, "thousandths"))/1000, rapid.SampledFrom([]string{"cm", "in"}).Draw(t, "unit"))
		cm, unit, err := fit.ParseLength(typed)
		if err != nil {
			t.Skip(err) // shorter than any length
		}
		var w listen.FitWish
		if err := length(&w, typed); err != nil {
			t.Fatal(err)
		}
		again, unitAgain, err := fit.ParseLength(fmt.Sprintf("%g %s", w.Number, w.Unit))
		if err != nil || unit != unitAgain || again-cm > 1e-9 || cm-again > 1e-9 {
			t.Errorf("%s is %g cm, and comes as %g %s, %g cm: %v", typed, cm, w.Number, w.Unit, again, err)
		}
	})
}

// sayable is a refusal that holds what somebody typed, in whatever script.
var sayable = regexp.MustCompile(`^[\p{L}\p{M} ,.;:'?!-]+ Nothing has moved\.( Please give it once more\.)?$`)

// FuzzMeasure says that whatever is typed where a measure is asked for is read, or
// refused in plain words, and never heard as anything else.
func FuzzMeasure(f *testing.F) {
	for _, seed := range []string{"57 cm", `22½"`, "toddler", "22x30", "5.5 to the inch", "100 g", "0", "-1e9 in", "next row", "<@1> *x* \u202e", "«57» cm", `"`, `5"-3`, "\u0793 0"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, typed string) {
		typed = clean(typed)
		if typed == "" || len(typed) > 400 {
			return
		}
		for _, name := range []string{"around", "width", "length", "gauge", "had", "left"} {
			command, intent := "fit", listen.Fit
			if name == "had" || name == "left" {
				command, intent = "yarn", listen.Yarn
			}
			data := used(t, with(command, text(name, "x")))
			data.Options[0].Value = typed
			found, err := heard(data)
			switch {
			case err != nil && !sayable.MatchString(err.Error()):
				t.Errorf("%s %q is refused with %q", name, typed, err)
			case err != nil:
			case found.Words != "" || found.Heard.Intent != intent || found.Heard.Fit == nil && found.Heard.Yarn == nil:
				t.Errorf("%s %q asks %+v", name, typed, found)
			}
		}
	})
}
