package bot

import (
	"strings"
	"testing"
)

func TestKeptName(t *testing.T) {
	for nick, want := range map[string]string{
		"": "", "Wren": "Wren", "  Ana \t\r\n Pell\x00 ": "Ana Pell", "Odo\u2028Marsh": "Odo Marsh", "*Tamsin* @here": "*Tamsin* @here",
		"\xffWren\xc3": "Wren", "רננה": "רננה", "Wren 🧶": "Wren 🧶", "\n": "",
		strings.Repeat("ü", 64):       strings.Repeat("ü", 64),
		strings.Repeat("ü", 65):       strings.Repeat("ü", 64),
		"a" + strings.Repeat("ü", 64): "a" + strings.Repeat("ü", 63),
		strings.Repeat("🧶", 40):       strings.Repeat("🧶", 32),
		strings.Repeat("ab ", 60):     strings.TrimRight(strings.Repeat("ab ", 43)[:128], " "),
	} {
		if found := keptName(nick); found != want {
			t.Errorf("%q: found %q, expected %q", nick, found, want)
		}
	}
}
