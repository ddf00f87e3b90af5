package listen_test

import (
	"fmt"

	"clew/reader/listen"
)

func ExampleListener_Hear() {
	l := listen.New([]listen.Term{
		{Abbr: "k2tog", Spoken: []string{"knit two together"}},
		{Abbr: "2/1 RPC", Spoken: []string{"two over one right purl cross"}},
	}, "Lanterns")
	for _, words := range []string{
		"okay, necks roe please",
		"put me at row twenty for of the lanterns",
		"how do I nit too together?",
		"the next row was hard",
		"go back two rows",
	} {
		h := l.Hear(words)
		fmt.Printf("%s: %s", words, h.Intent)
		if h.HasNumber {
			fmt.Printf(" %d", h.Number)
		}
		if h.Section != "" {
			fmt.Printf(" of %s", h.Section)
		}
		if h.Stitch != "" {
			fmt.Printf(" %s", h.Stitch)
		}
		if !h.Sure {
			fmt.Printf(" %v: %s", h.Alternatives, h.Ask)
		}
		fmt.Println()
	}
	// Output:
	// okay, necks roe please: next
	// put me at row twenty for of the lanterns: at 24 of lanterns
	// how do I nit too together?: explain k2tog
	// the next row was hard: none
	// go back two rows: unsure 2 [back at]: Do you want to go back one row, or to a row by its number?
}
