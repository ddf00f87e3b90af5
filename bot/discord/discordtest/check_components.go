package discordtest

import (
	"fmt"
	"strings"
)

// Documentation, "Component Reference": action row, button, string select, text input.
// From memory: those of links, options, hints and asks.
const (
	mostRows        = 5
	mostButtons     = 5
	longestCustomID = 100
	longestLabel    = 80
	longestLink     = 512
	mostOptions     = 25
	longestOption   = 100 // label, value and description
	longestHint     = 150 // a menu's placeholder
	mostInputs      = 5
	longestInput    = 4000
	longestAsk      = 45  // an input's label, and a form's title
	longestInHint   = 100 // an input's placeholder
	mostV2          = 40
	longestV2       = 4000 // the text of all components
)

// rowReader reads the components of one message.
type rowReader struct {
	*form
	ids map[string]bool
}

// readRows checks and reads the rows of a message without components V2.
func (f *form) readRows(o object) [][]Component {
	r := rowReader{f, map[string]bool{}}
	var rows [][]Component
	for i, one := range f.objects(o, "", "components", mostRows) {
		at := fmt.Sprintf("components.%d", i)
		if f.whole(one, at, "type", 1, 100, 0) != typeRow {
			f.add(join(at, "type"), "UNION_TYPE_CHOICES", "Value of field \"type\" must be one of (1,).")
			continue
		}
		rows = append(rows, r.row(one, at))
	}
	return rows
}

// row reads a row: up to five buttons, or one menu.
func (r rowReader) row(o object, at string) []Component {
	var row []Component
	list := r.objects(o, at, "components", mostButtons)
	at = join(at, "components")
	if len(list) == 0 {
		r.add(at, "BASE_TYPE_BAD_LENGTH", "Must be between 1 and 5 in length.")
	}
	for i, one := range list {
		here := fmt.Sprintf("%s.%d", at, i)
		c := Component{Type: int(r.whole(one, here, "type", 1, 100, 0)), Disabled: r.flag(one, here, "disabled")}
		switch c.Type {
		case typeButton:
			r.button(&c, one, here)
		case typeMenu, 5, 6, 7, 8:
			r.menu(&c, one, here)
			if len(list) > 1 {
				r.add(at, "COMPONENT_LAYOUT_WIDTH_EXCEEDED", "The components in this layout exceed the allowed width of 5")
			}
		default:
			r.add(join(here, "type"), "UNION_TYPE_CHOICES", "Value of field \"type\" must be one of (2, 3, 5, 6, 7, 8).")
		}
		row = append(row, c)
	}
	return row
}

func (r rowReader) button(c *Component, o object, at string) {
	c.Style = int(r.whole(o, at, "style", 1, 6, 0))
	c.Label, _ = r.text(o, at, "label", 0, longestLabel)
	c.URL, _ = r.text(o, at, "url", 0, longestLink)
	switch {
	case o["style"] == nil:
		r.required(join(at, "style"))
	case c.Style == 5: // a link
		if r.link(o, at, "url") == "" {
			r.required(join(at, "url"))
		}
		if o["custom_id"] != nil {
			r.add(join(at, "custom_id"), "BUTTON_COMPONENT_CUSTOM_ID_URL_MUTUALLY_EXCLUSIVE", "A custom id and url cannot both be specified")
		}
	case c.Style == 6: // something for sale
	default:
		c.CustomID = r.customID(o, at)
		if c.URL != "" {
			r.add(join(at, "url"), "BUTTON_COMPONENT_CUSTOM_ID_URL_MUTUALLY_EXCLUSIVE", "A custom id and url cannot both be specified")
		}
	}
	if c.Style != 6 && strings.TrimSpace(c.Label) == "" && o["emoji"] == nil {
		r.add(join(at, "label"), "BUTTON_COMPONENT_INVALID_LABEL", "A button needs a label or an emoji")
	}
}

// customID reads a custom id, which is unique in its message.
func (r rowReader) customID(o object, at string) string {
	id := r.must(o, at, "custom_id", 1, longestCustomID)
	if id != "" && r.ids[id] {
		r.add(join(at, "custom_id"), "COMPONENT_CUSTOM_ID_DUPLICATED", "Component custom id cannot be duplicated")
	}
	r.ids[id] = true
	return id
}

func (r rowReader) menu(c *Component, o object, at string) {
	c.CustomID = r.customID(o, at)
	c.Placeholder, _ = r.text(o, at, "placeholder", 0, longestHint)
	c.Min = int(r.whole(o, at, "min_values", 0, mostOptions, 1))
	c.Max = int(r.whole(o, at, "max_values", 1, mostOptions, 1))
	if c.Min > c.Max {
		r.add(join(at, "min_values"), "NUMBER_TYPE_MAX", "min_values can't be greater than max_values")
	}
	if c.Type != typeMenu {
		return
	}
	list := r.objects(o, at, "options", mostOptions)
	at = join(at, "options")
	if len(list) == 0 {
		r.add(at, "BASE_TYPE_BAD_LENGTH", "Must be between 1 and 25 in length.")
	}
	if o["max_values"] != nil && c.Max > len(list) {
		r.add(at, "SELECT_COMPONENT_MAX_VALUES", "max_values is %d, of %d options", c.Max, len(list))
	}
	values := map[string]bool{}
	chosen := 0
	for i, one := range list {
		here := fmt.Sprintf("%s.%d", at, i)
		v := r.must(one, here, "value", 1, longestOption)
		if values[v] {
			r.add(join(here, "value"), "SELECT_COMPONENT_OPTION_VALUE_DUPLICATED", "The specified option value is already used")
		}
		values[v] = true
		about, _ := r.text(one, here, "description", 0, longestOption)
		c.Options = append(c.Options, Choice{Label: r.must(one, here, "label", 1, longestOption), Description: about, Value: v})
		if r.flag(one, here, "default") {
			chosen++
		}
	}
	if chosen > c.Max {
		r.add(at, "SELECT_COMPONENT_MAX_VALUES", "%d options are chosen by default, of at most %d", chosen, c.Max)
	}
}

// readForm checks and reads the form that opens in answer: documentation, "Receiving
// and Responding", modal.
func (f *form) readForm(o object) *Form {
	r := rowReader{f, map[string]bool{}}
	m := &Form{CustomID: f.must(o, "data", "custom_id", 1, longestCustomID), Title: f.must(o, "data", "title", 1, longestAsk)}
	rows := f.objects(o, "data", "components", mostInputs)
	if len(rows) == 0 {
		f.add("data.components", "BASE_TYPE_BAD_LENGTH", "Must be between 1 and 5 in length.")
	}
	for i, row := range rows {
		at := fmt.Sprintf("data.components.%d.components", i)
		list := f.objects(row, fmt.Sprintf("data.components.%d", i), "components", 1)
		if f.whole(row, at, "type", 1, 100, 0) != typeRow || len(list) != 1 {
			f.add(at, "BASE_TYPE_BAD_LENGTH", "A row of a form holds one text input.")
			continue
		}
		m.Inputs = append(m.Inputs, r.input(list[0], at+".0"))
	}
	return m
}

func (r rowReader) input(o object, at string) Component {
	c := Component{Type: int(r.whole(o, at, "type", 1, 100, 0)), Style: int(r.whole(o, at, "style", 1, 2, 0))}
	if c.Type != typeInput {
		r.add(join(at, "type"), "UNION_TYPE_CHOICES", "Value of field \"type\" must be one of (4,).")
	}
	if o["style"] == nil {
		r.required(join(at, "style"))
	}
	c.CustomID = r.customID(o, at)
	c.Label = r.must(o, at, "label", 1, longestAsk)
	c.Placeholder, _ = r.text(o, at, "placeholder", 0, longestInHint)
	c.Min = int(r.whole(o, at, "min_length", 0, longestInput, 0))
	c.Max = int(r.whole(o, at, "max_length", 1, longestInput, longestInput))
	if c.Min > c.Max {
		r.add(join(at, "min_length"), "NUMBER_TYPE_MAX", "min_length can't be greater than max_length")
	}
	r.text(o, at, "value", 0, longestInput)
	return c
}
