package discord

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"clew/bot/discord/rest"
)

func namesOf(suggested []rest.Suggestion) []string {
	var names []string
	for _, s := range suggested {
		names = append(names, s.Name)
	}
	return names
}

// TestZonesAreKnown says that each can be used, and is within the platform's size.
// The names looked for are in zone1970.tab of the IANA Time Zone Database.
func TestZonesAreKnown(t *testing.T) {
	var all []string
	for _, z := range zones() {
		if _, err := time.LoadLocation(z.name); err != nil {
			t.Error(err)
		}
		if len(z.name) > rest.MaxOption {
			t.Errorf("%s is too long", z.name)
		}
		all = append(all, z.name)
	}
	if !slices.IsSorted(all) || len(slices.Compact(slices.Clone(all))) != len(all) {
		t.Error("they are in no order")
	}
	for _, name := range []string{
		"UTC", "Europe/Amsterdam", "Europe/London", "America/New_York", "America/Argentina/Buenos_Aires", "America/Indiana/Knox", "Asia/Kolkata",
		"Asia/Kathmandu", "Australia/Lord_Howe", "Pacific/Chatham", "Pacific/Kiritimati", "Africa/Nairobi", "Atlantic/Azores", "Antarctica/Troll", "Indian/Maldives",
	} {
		if !slices.Contains(all, name) {
			t.Errorf("%s is not among them", name)
		}
	}
}

func TestZonesLike(t *testing.T) {
	for _, c := range []struct {
		typed string
		want  []string
	}{
		{"amst", []string{"Europe/Amsterdam"}},
		{"New York", []string{"America/New_York"}},
		{"new_york", []string{"America/New_York"}},
		{"europe/lo", []string{"Europe/London"}},
		{"ho ch", []string{"Asia/Ho_Chi_Minh"}},
		{"utc", []string{"UTC"}},
		{"tibberhythe", nil},
		{"*", nil},
	} {
		if found := namesOf(zonesLike(c.typed)); !slices.Equal(found, c.want) {
			t.Errorf("%q: found %q, expected %q", c.typed, found, c.want)
		}
	}
	// Those whose place begins with it go before those that have it in them.
	if found := namesOf(zonesLike("lon")); !slices.Equal(found, []string{"Arctic/Longyearbyen", "Europe/London", "America/Blanc-Sablon", "America/Miquelon"}) {
		t.Errorf("%q", found)
	}
	if found := namesOf(zonesLike("america/indiana")); len(found) != 9 || found[0] != "America/Indiana/Indianapolis" || found[8] != "America/Indianapolis" {
		t.Errorf("%q", found)
	}
	if n := len(zonesLike("")); n != 25 {
		t.Errorf("%d are suggested where nothing has been typed", n)
	}
}

// TestZonesLikeAnything holds whatever is typed.
func TestZonesLikeAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		typed := rapid.String().Draw(t, "typed")
		found := zonesLike(typed)
		if len(found) > 25 {
			t.Fatalf("%d suggestions", len(found))
		}
		for _, s := range found {
			if s.Name == "" || s.Value != s.Name {
				t.Fatalf("%+v", s)
			}
		}
	})
}
