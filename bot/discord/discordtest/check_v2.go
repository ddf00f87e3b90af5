package discordtest

import (
	"fmt"
	"unicode/utf8"
)

// Components V2 (documentation, "Component Reference"): kinds by number.
const (
	typeSection   = 9
	typeText      = 10
	typePicture   = 11
	typeGallery   = 12
	typeFile      = 13
	typeSeparator = 14
	typeContainer = 17
)

// checkV2: such a message has no content and no embeds.
func (d *draft) checkV2(f *form) {
	if d.flags&flagV2 == 0 {
		return
	}
	if d.content != nil && *d.content != "" {
		f.add("content", "MESSAGE_CANNOT_USE_LEGACY_FIELDS_WITH_COMPONENTS_V2", "The 'content' field cannot be used when using MessageFlags.IS_COMPONENTS_V2")
	}
	if len(d.embeds) > 0 {
		f.add("embeds", "MESSAGE_CANNOT_USE_LEGACY_FIELDS_WITH_COMPONENTS_V2", "The 'embeds' field cannot be used when using MessageFlags.IS_COMPONENTS_V2")
	}
}

// v2Reader counts what the components of one message come to.
type v2Reader struct {
	rowReader
	count, letters int
	rows           [][]Component
}

// readV2 checks the components of a V2 message, and reads its rows of buttons and menus.
func (f *form) readV2(o object) [][]Component {
	r := &v2Reader{rowReader: rowReader{f, map[string]bool{}}}
	for i, one := range f.objects(o, "", "components", mostV2) {
		r.read(one, fmt.Sprintf("components.%d", i), true)
	}
	if r.count > mostV2 {
		f.add("components", "BASE_TYPE_MAX_LENGTH", "Must be %d or fewer in all. (%d)", mostV2, r.count)
	}
	if r.letters > longestV2 {
		f.add("components", "COMPONENT_DISPLAYABLE_TEXT_SIZE_EXCEEDED", "Displayable text exceeds %d characters (%d)", longestV2, r.letters)
	}
	return r.rows
}

func (r *v2Reader) read(o object, at string, top bool) {
	r.count++
	switch kind := int(r.whole(o, at, "type", 1, 100, 0)); {
	case kind == typeRow:
		row := r.row(o, at)
		r.count += len(row)
		r.rows = append(r.rows, row)
	case kind == typeText:
		r.texts(o, at)
	case kind == typeSection:
		r.section(o, at)
	case kind == typeGallery:
		for i, item := range r.objects(o, at, "items", 10) {
			r.media(item, fmt.Sprintf("%s.items.%d", at, i), "media")
		}
	case kind == typeFile:
		r.media(o, at, "file")
	case kind == typeSeparator:
	case kind == typeContainer && top:
		for i, one := range r.objects(o, at, "components", mostV2) {
			r.read(one, fmt.Sprintf("%s.components.%d", at, i), false)
		}
	default:
		r.add(join(at, "type"), "UNION_TYPE_CHOICES", "Value of field \"type\" must be one of (1, 9, 10, 12, 13, 14, 17).")
	}
}

func (r *v2Reader) texts(o object, at string) {
	r.letters += utf8.RuneCountInString(r.must(o, at, "content", 1, longestV2))
}

// section reads one to three texts with a button or a picture beside them.
func (r *v2Reader) section(o object, at string) {
	list := r.objects(o, at, "components", 3)
	if len(list) == 0 {
		r.add(join(at, "components"), "BASE_TYPE_BAD_LENGTH", "Must be between 1 and 3 in length.")
	}
	for i, one := range list {
		r.count++
		r.texts(one, fmt.Sprintf("%s.components.%d", at, i))
	}
	beside := r.inner(o, at, "accessory")
	at = join(at, "accessory")
	r.count++
	switch r.whole(beside, at, "type", 1, 100, 0) {
	case typeButton:
		c := Component{Type: typeButton, Disabled: r.flag(beside, at, "disabled")}
		r.button(&c, beside, at)
		r.rows = append(r.rows, []Component{c})
	case typePicture:
		r.media(beside, at, "media")
	default:
		r.required(at)
	}
}

func (r *v2Reader) media(o object, at, key string) {
	m := r.inner(o, at, key)
	if r.link(m, join(at, key), "url") == "" {
		r.required(join(at, key) + ".url")
	}
	_, _ = r.text(o, at, "description", 0, longestAlt)
}
