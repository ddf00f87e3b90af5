package bot

import (
	_ "embed"
	"strings"
	"sync"
	"time"
	_ "time/tzdata" // zones are known wherever Clew runs

	"clew/patterns/problem"
)

// zonesText has the names of time zones, a line each, in the order of the alphabet:
// those of places, and UTC. They are the names of the IANA Time Zone Database, which
// is in the public domain, as release 2025c of it comes with Go.
//
//go:generate go run zones_generate.go
//go:embed zones.txt
var zonesText string

// Zones gives the names of time zones, of places and UTC, in the order of the
// alphabet. The list is not to be changed.
var Zones = sync.OnceValue(func() []string { return strings.Fields(zonesText) })

// zoneNamed finds a time zone by its name, whatever its case; a place alone is
// enough where there is one of that name. Where there is none it gives the nearest
// name, or "".
func zoneNamed(name string) (zone *time.Location, nearest string) {
	asked := foldZone(name)
	if asked == "" {
		return nil, ""
	}
	var places, known []string
	for _, own := range Zones() {
		folded := foldZone(own)
		place := folded[strings.LastIndexByte(folded, '/')+1:]
		if folded == asked {
			places = []string{own}
			break
		}
		if place == asked {
			places = append(places, own)
		}
		known = append(known, folded, place)
	}
	if len(places) == 1 {
		zone, err := time.LoadLocation(places[0])
		if err != nil { // none of the list fails: a test loads them all
			return nil, ""
		}
		return zone, ""
	}
	near := problem.Nearest(asked, known)
	for _, own := range Zones() {
		folded := foldZone(own)
		if near != "" && (folded == near || strings.HasSuffix(folded, "/"+near)) {
			return nil, own
		}
	}
	return nil, ""
}

// foldZone gives a name as people may type it: in small letters, with spaces.
func foldZone(name string) string {
	return strings.ToLower(strings.Join(strings.Fields(strings.ReplaceAll(name, "_", " ")), " "))
}

// zoneOf gives the time zone of a name that is kept; universal time for none, and
// for one that is not known any more.
func zoneOf(name string) *time.Location {
	if zone, err := time.LoadLocation(name); err == nil && name != "Local" {
		return zone
	}
	return time.UTC
}
