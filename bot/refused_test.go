package bot_test

import (
	"errors"
	"testing"

	"clew/bot"
	"clew/patterns/fit"
)

func TestRefused(t *testing.T) {
	length := func(text string) error { _, _, err := fit.ParseLength(text); return err }
	gauge := func(text string) error { _, err := fit.ParseGauge(text); return err }
	for _, c := range []struct {
		err  error
		want string
	}{
		{length("57"), "Fifty-seven has no unit: say whether it is centimetres or inches, such as fifty-seven centimetres or twenty-two and a half inches. Nothing has moved."},
		{length(`400"`), "Four hundred inches is too long: lengths go from one to one thousand centimetres, or from zero point three nine four to three hundred and ninety-three point seven inches: check the number and its unit. Nothing has moved."},
		{length("-4 cm"), "Minus four centimetres is less than nothing: leave out the minus. Nothing has moved."},
		{gauge("-22x30"), "Minus twenty-two by thirty is less than nothing: leave out the minus. Nothing has moved."},
		{gauge("21"), "Twenty-one does not say over which length: give it like twenty-two stitches and thirty rows to ten centimetres, or five point five to the inch. Nothing has moved."},
		{length("see evil.example, 57. cm"), "See evil example fifty-seven centimetres can't be read as a length: give a number and its unit, such as fifty-seven centimetres or twenty-two and a half inches. Nothing has moved."},
		{length("???"), "That can't be read as a length: give a number and its unit, such as fifty-seven centimetres or twenty-two and a half inches. Nothing has moved."},
		{length("0.2 in"), "Zero point two inches is too short: lengths go from one to one thousand centimetres, or from zero point three nine four to three hundred and ninety-three point seven inches: check the number and its unit. Nothing has moved."},
		{errors.New("the disk is full"), ""},
	} {
		if said := bot.Refused(c.err); said != c.want {
			t.Errorf("%v is said as\n%q, expected\n%q", c.err, said, c.want)
		}
	}
}
