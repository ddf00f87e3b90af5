package bot_test

import (
	"context"
	"fmt"
	"os"
	"time"

	"github.com/rs/zerolog"

	"clew/bot"
	"clew/patterns"
	"clew/session"
	"clew/session/local"
)

// A knitter asks for her next row, and where she is. The pattern is invented.
func ExampleBot_Answer() {
	const text = `Pattern: Pier Cap
Worked: in rounds
Cast on: 24
Section: Ropes
Round 1: *k4, p2; rep from * around.
Round 2: *2/2 RC, p2; rep from * around.
`
	dir, err := os.MkdirTemp("", "clew")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	store, err := local.Open(dir)
	if err != nil {
		fmt.Println(err)
		return
	}
	defer store.Close()

	ctx := context.Background()
	pattern, _ := patterns.Read([]byte(text))
	b := bot.New(session.Open(store.Client()), time.Now, func() string { return "failure" }, zerolog.Nop())
	id, err := b.Solo(ctx, "terminal:wren", pattern, text)
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, words := range []string{"next row", "done, next", "how do I work that cross?", "next row for lunch"} {
		reply := b.Answer(ctx, bot.Ask{Member: "terminal:wren", Knitalong: id, Words: words, Event: fmt.Sprint("line", i)})
		fmt.Println(reply.Said)
	}
	// Output:
	// Cast on twenty-four stitches, and join to work in the round. Ropes, two rounds. Round one, Ropes. Knit four, purl two, and so on to the end: four times in all.
	// Round two, Ropes. Four times, to the end: two over two right cross: slip two to the cable needle and hold it behind; knit two; knit two from the cable needle. Purl two. That is the group.
	// Two over two right cross. Slip two to the cable needle and hold it behind; knit two; knit two from the cable needle. The two stitches from the left needle pass in front, to the right; the two stitches from the cable needle pass behind, to the left. It takes four stitches and leaves four, in the order you work them: four knit.
	// I did not understand that, and nothing has moved. Say next row, again, back, or where am I; say help to hear more.
}
