package local_test

import (
	"context"
	"fmt"
	"log"
	"os"

	"clew/session/local"
)

func ExampleOpen() {
	dir, err := os.MkdirTemp("", "clew")
	if err != nil {
		log.Fatal(err)
	}
	defer os.RemoveAll(dir)
	for range 2 { // the second time it is all there
		store, err := local.Open(dir)
		if err != nil {
			log.Fatal(err)
		}
		seen, err := store.Client().HIncrBy(context.Background(), "visits", "wren", 1).Result()
		if err != nil {
			log.Fatal(err)
		}
		fmt.Printf("visit %d, notice: %q\n", seen, store.Notice())
		if err := store.Close(); err != nil {
			log.Fatal(err)
		}
	}
	// Output:
	// visit 1, notice: ""
	// visit 2, notice: ""
}
