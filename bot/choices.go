package bot

import (
	"crypto/sha256"
	"encoding/hex"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"clew/patterns"
	"clew/reader/listen"
)

// MarkOf names a place for the buttons that stand under a reply: up to 24
// letters, digits and full stops.
func MarkOf(section string, row, step int) string {
	return keyOf(section) + "." + strconv.FormatInt(int64(row), 36) + "." + strconv.FormatInt(int64(step), 36)
}

// keyOf stands for a name where that would be too long, or have characters that
// a button can't carry.
func keyOf(name string) string {
	sum := sha256.Sum256([]byte(name))
	return hex.EncodeToString(sum[:4])
}

// Limits on choices.
const (
	labelMost   = 80
	choicesMost = 25
)

// label makes a button's label of a name that somebody else wrote; plain stands
// in where nothing of it can be seen.
func label(name, plain string) string {
	name = strings.Join(strings.FieldsFunc(strings.ToValidUTF8(name, ""), func(r rune) bool {
		return unicode.IsSpace(r) || !unicode.IsPrint(r)
	}), " ")
	if !strings.ContainsFunc(name, unicode.IsGraphic) {
		return plain
	}
	if utf8.RuneCountInString(name) > labelMost {
		name = strings.TrimSpace(string([]rune(name)[:labelMost-3])) + "..."
	}
	return name
}

// usual is what is likely asked next under a row.
func (t *talk) usual() []Choice {
	return []Choice{
		choiceFor(listen.Next), choiceFor(listen.Again), choiceFor(listen.Back), choiceFor(listen.Explain), t.otherWay(),
	}
}

// otherWay is the way of reading that the member has not.
func (t *talk) otherWay() Choice {
	if t.stepwise() {
		return choiceFor(listen.Rows)
	}
	return choiceFor(listen.Steps)
}

// choiceFor gives the choice that asks for an intent, and no more.
func choiceFor(intent listen.Intent) Choice {
	return Choice{Label: listen.RequestFor(intent).Label, Intent: intent}
}

// fitChoices gives a choice for each size that the member does not knit.
func (t *talk) fitChoices() []Choice {
	if len(t.plan.Pattern.Sizes) < 2 {
		return nil
	}
	return sizeChoices(t.plan.Pattern, listen.Fit, t.plan.Pattern.Sizes[t.plan.Size])
}

var joinAlone = []Choice{choiceFor(listen.Join)}

// sizeChoices gives one choice a size, but for one that is passed over.
func sizeChoices(p *patterns.Pattern, intent listen.Intent, but string) []Choice {
	var choices []Choice
	for _, size := range p.Sizes {
		if size != but {
			choices = append(choices, Choice{Label: label(size, keyOf(size)), Intent: intent, Value: keyOf(size)})
		}
	}
	return distinct(choices)
}

// distinct tells labels apart that are the same, as long names are once they
// are cut.
func distinct(choices []Choice) []Choice {
	seen := map[string]bool{}
	for i, c := range choices {
		for n := 2; seen[choices[i].Label]; n++ {
			end := " " + strconv.Itoa(n)
			name := []rune(c.Label)
			choices[i].Label = string(name[:min(len(name), labelMost-len(end))]) + end
		}
		seen[choices[i].Label] = true
	}
	return choices
}

// sizeOfKey gives the size that a choice stands for, or nothing.
func sizeOfKey(p *patterns.Pattern, key string) string {
	for _, size := range p.Sizes {
		if keyOf(size) == key {
			return size
		}
	}
	return ""
}

// near gives a choice for each of the meanings that are near, where a button
// can carry all that was said. The number that was heard, if any, follows a label
// with a space.
func (t *talk) near() []Choice {
	var choices []Choice
	for _, intent := range t.heard.Alternatives {
		c := choiceFor(intent)
		if c.Label == "" {
			continue
		}
		if strings.HasSuffix(c.Label, " ") {
			value, ok := t.numberValue()
			if !ok {
				continue
			}
			c.Label += strconv.Itoa(t.heard.Number)
			c.Value = value
		}
		choices = append(choices, c)
	}
	return choices
}

// numberValue puts the number that was heard into a choice's value, with the
// key of the section where one was named: "12", "12.0a1b2c3d". It is false
// where there is no number, or no one section of that name.
func (t *talk) numberValue() (string, bool) {
	if !t.heard.HasNumber || t.heard.Number < 1 {
		return "", false
	}
	value := strconv.Itoa(t.heard.Number)
	if t.heard.Section == "" {
		return value, true
	}
	like := t.plan.sectionsLike(t.heard.Section)
	if len(like) != 1 {
		return "", false
	}
	return value + "." + keyOf(like[0]), true
}

// pressed gives what a pressed choice asks for. A number or a section that no
// choice has counts as none named, so that it is asked for.
func (t *talk) pressed(c Choice) listen.Heard {
	h := listen.Heard{Intent: c.Intent, Sure: true}
	switch c.Intent {
	case listen.Picture:
		return t.pressedLook(c.Value)
	case listen.Fit:
		h.Fit = pressedFit(c.Value)
	case listen.Catchup:
		h.More, h.Part = c.Value != "", c.Value
	}
	if c.Intent != listen.At && c.Intent != listen.Row && c.Intent != listen.Count {
		return h
	}
	number, key, named := strings.Cut(c.Value, ".")
	n, err := strconv.Atoi(number)
	if err != nil || n < 0 || n > numberMost {
		return h
	}
	if named {
		if h.Section = t.plan.sectionOfKey(key); h.Section == "" {
			return h
		}
	}
	h.Number, h.HasNumber = n, true
	return h
}

func (p *plan) sectionOfKey(key string) string {
	for _, s := range p.Pattern.Sections {
		if keyOf(s.Name) == key {
			return s.Name
		}
	}
	return ""
}

// numberMost is the largest number that can be asked about, as it is for one
// that is heard.
const numberMost = 9999
