//go:build ignore

// Writes zones.txt: the names of the time zones that the embedded data of
// time/tzdata has, out of the archive that this is made from.
package main

import (
	"archive/zip"
	"log"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
)

// areas are those by which the time zone database names places (IANA, Theory and
// pragmatics of the tz code and data, "Timezone identifiers"). Its other names are
// kept for the sake of old programs.
var areas = []string{"Africa", "America", "Antarctica", "Arctic", "Asia", "Atlantic", "Australia", "Europe", "Indian", "Pacific"}

func main() {
	archive, err := zip.OpenReader(filepath.Join(runtime.GOROOT(), "lib", "time", "zoneinfo.zip"))
	if err != nil {
		log.Fatal(err)
	}
	defer archive.Close()
	names := []string{"UTC"}
	for _, f := range archive.File {
		area, _, _ := strings.Cut(f.Name, "/")
		if slices.Contains(areas, area) && !strings.HasSuffix(f.Name, "/") {
			names = append(names, f.Name)
		}
	}
	slices.Sort(names)
	if err := os.WriteFile("zones.txt", []byte(strings.Join(names, "\n")+"\n"), 0o644); err != nil {
		log.Fatal(err)
	}
}
