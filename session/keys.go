package session

import "strings"

// The keys of one knit-along share the hash tag {id}, so that a script may use
// them together in a Redis Cluster. Ids and members hold no colon and no brace
// beyond the one between a member's platform and user, so no two spellings meet
// in one key.

func aboutKey(id string) string     { return "clew:{" + id + "}:about" }
func revisionsKey(id string) string { return "clew:{" + id + "}:revisions" }
func rosterKey(id string) string    { return "clew:{" + id + "}:roster" }
func boardKey(id string) string     { return "clew:{" + id + "}:board" }
func stumblesKey(id string) string  { return "clew:{" + id + "}:stumbles" }

func placeKey(id string, m Member) string { return "clew:{" + id + "}:place:" + string(m) }
func logKey(id string, m Member) string   { return "clew:{" + id + "}:log:" + string(m) }

// personKey is outside of every knit-along: a person may be in several.
func personKey(m Member) string { return "clew:person:" + string(m) }

// serverKey is outside of every knit-along: a server may hold several. A server
// of any spelling ends the key, so it cannot be taken for another kind's.
func serverKey(server string) string { return "clew:server:" + server }

// tendedKey is outside of every knit-along: it names those of a platform.
func tendedKey(platform string) string { return "clew:tended:" + platform }

// platform is where a member is.
func (m Member) platform() string {
	platform, _, _ := strings.Cut(string(m), ":")
	return platform
}
