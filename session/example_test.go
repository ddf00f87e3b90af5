package session_test

import (
	"context"
	"errors"
	"fmt"
	"log"
	"os"
	"time"

	"clew/session"
	"clew/session/local"
)

// A whole evening in small: a knit-along begins, a knitter joins, moves on, and
// takes it back. The names are invented.
func Example() {
	dir, err := os.MkdirTemp("", "clew")
	if err != nil {
		log.Fatal(err)
	}
	defer os.RemoveAll(dir)
	redis, err := local.Open(dir)
	if err != nil {
		log.Fatal(err)
	}
	defer redis.Close()

	ctx, now := context.Background(), time.Date(2031, 1, 9, 19, 0, 0, 0, time.UTC)
	store := session.Open(redis.Client())
	about := session.About{ID: "harbour-lamp", Title: "The Harbour Lamp hat", Host: "terminal:odo", Started: now}
	if err := store.Start(ctx, about, "Pattern: Harbour Lamp\n"); err != nil {
		log.Fatal(err)
	}
	brim := session.Place{Section: "Brim", Row: 1, Revision: 1}
	if _, err := store.Join(ctx, about.ID, session.Joining{Member: "terminal:wren", Place: brim, Event: "event 1", At: now}); err != nil {
		log.Fatal(err)
	}

	second := brim
	second.Row = 2
	move := session.Move{Member: "terminal:wren", Event: "event 2", From: brim, To: second, How: "next", Done: 96, Answer: "Round two.", At: now}
	for range 2 {
		moved, err := store.Move(ctx, about.ID, move)
		if err != nil {
			log.Fatal(err)
		}
		fmt.Printf("row %d, %d stitches done, repeated: %t, answer: %q\n", moved.Row, moved.Done, moved.Repeated, moved.Answer)
	}
	move.Event = "event 3"
	var stale *session.Stale
	if _, err := store.Move(ctx, about.ID, move); errors.As(err, &stale) {
		fmt.Println(stale)
	}
	back, err := store.Undoable(ctx, about.ID, "terminal:wren")
	if err != nil {
		log.Fatal(err)
	}
	undone, err := store.Undo(ctx, about.ID, session.Move{Member: "terminal:wren", Event: "event 4", From: second, To: back, How: "undo", At: now})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("row %d, %d stitches done\n", undone.Row, undone.Done)
	// Output:
	// row 2, 96 stitches done, repeated: false, answer: ""
	// row 2, 96 stitches done, repeated: true, answer: "Round two."
	// the place has changed meanwhile: it is now row 2 of Brim; nothing was moved
	// row 1, 0 stitches done
}

func ExampleConnect() {
	client, err := session.Connect("redis+sentinel://lamp-one,lamp-two:26380/harbour")
	if err != nil {
		log.Fatal(err)
	}
	defer client.Close()
	_, err = session.Connect("redis+sentinel://:a-secret@lamp-one")
	fmt.Println(err)
	// Output:
	// the Redis address cannot be used: expected the master's name after the Sentinels, redis+sentinel://host/master
}
