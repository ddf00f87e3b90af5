package local_test

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"clew/session/local"
)

// quietFolder names the folder in which a child process opens a store and goes on
// asking it after it has closed.
const quietFolder = "CLEW_TEST_FAILS_IN"

func failAloud(dir string) {
	l, err := local.Open(dir)
	if err != nil {
		fmt.Println(err)
		return
	}
	local.HangUp(l) // from now on no connection can be made
	fmt.Println(l.Client().HGetAll(context.Background(), "a").Err())
	if err := l.Close(); err != nil {
		fmt.Println(err)
	}
}

// Where connections fail, an error comes back, and nothing is on standard error.
func TestQuiet(t *testing.T) {
	ctx, cancel := context.WithTimeout(t.Context(), 30*time.Second)
	defer cancel()
	child := exec.CommandContext(ctx, os.Args[0])
	child.Env = append(os.Environ(), quietFolder+"="+t.TempDir())
	var said, screen strings.Builder
	child.Stdout, child.Stderr = &said, &screen
	must(t, child.Run())
	if !strings.Contains(said.String(), "dial") {
		t.Errorf("the call gave %q, expected an error of the connection", said.String())
	}
	if screen.Len() > 0 {
		t.Errorf("standard error has %q, expected nothing", screen.String())
	}
}
