package local_test

import (
	"bufio"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"strconv"
	"testing"
	"time"

	"clew/session"
	"clew/session/local"
)

// childFolder names the folder in which a child process of the test moves wren
// until it is killed.
const childFolder = "CLEW_TEST_KILLED_IN"

// moveForever is the child: it moves on from where wren is and prints the row of
// every move after it was answered.
func moveForever(dir string) {
	if err := moveOn(dir); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func moveOn(dir string) error {
	l, err := local.Open(dir, local.CompactFrom(4096)) // so that kills hit compactions, too
	if err != nil {
		return err
	}
	store, ctx := session.Open(l.Client()), context.Background()
	state, err := store.State(ctx, group, wren)
	if err != nil {
		return err
	}
	for n := state.Row + 1; ; n++ {
		if err := step(ctx, store, n); err != nil {
			return err
		}
		if _, err := fmt.Println(n); err != nil {
			return err // nobody reads any more
		}
	}
}

// TestKilled kills a process in the middle of its moves, again and again: every
// move that was answered is there, and at most one more.
func TestKilled(t *testing.T) {
	dir := t.TempDir()
	l := open(t, dir)
	begin(t, l)
	must(t, l.Close())
	const kills, least = 10, 600
	answered, seed := 0, uint64(time.Now().UnixNano())
	random := rand.New(rand.NewPCG(seed, 0))
	t.Logf("seed %d", seed)
	for kill := range kills {
		answered = runAndKill(t, dir, answered, least/kills+random.IntN(150), time.Duration(random.IntN(3000))*time.Microsecond)
		l := open(t, dir)
		store := session.Open(l.Client())
		state, err := store.State(t.Context(), group, wren)
		must(t, err)
		if state.Row != answered && state.Row != answered+1 {
			t.Fatalf("kill %d: row %d was answered last, and the store is at row %d", kill, answered, state.Row)
		}
		if state.Done != int64(state.Row)*96 {
			t.Errorf("kill %d: %d stitches at row %d: half a move was kept", kill, state.Done, state.Row)
		}
		board, err := store.Board(t.Context(), group)
		must(t, err)
		log, err := store.Log(t.Context(), group, wren, 1)
		must(t, err)
		if board[0].Done != state.Done || log[0].To != state.Place {
			t.Errorf("kill %d: the board has %d and the log %v, where the place is %+v", kill, board[0].Done, log[0].To, state)
		}
		moved, err := store.Move(t.Context(), group, session.Move{Member: wren, Event: fmt.Sprintf("e%d", answered),
			From: row(0), To: row(1), How: "next", At: evening})
		must(t, err)
		if !moved.Repeated {
			t.Errorf("kill %d: the event of the last answered move is not known", kill)
		}
		answered = state.Row
		must(t, l.Close())
	}
	if answered < least {
		t.Errorf("only %d moves in all, expected at least %d", answered, least)
	}
}

// runAndKill lets a child make some moves, kills it a little later, and gives
// the row that it answered last.
func runAndKill(t *testing.T, dir string, answered, moves int, delay time.Duration) int {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 30*time.Second)
	defer cancel()
	child := exec.CommandContext(ctx, os.Args[0])
	child.Env = append(os.Environ(), childFolder+"="+dir)
	child.Stderr = os.Stderr
	out, err := child.StdoutPipe()
	must(t, err)
	must(t, child.Start())
	lines := bufio.NewScanner(out)
	for n := 0; lines.Scan(); n++ {
		answered, err = strconv.Atoi(lines.Text())
		must(t, err)
		if n == moves {
			time.AfterFunc(delay, func() { child.Process.Kill() })
		}
	}
	if err := child.Wait(); err == nil || ctx.Err() != nil {
		t.Fatalf("the child ended otherwise than by the kill: %v, %v", err, ctx.Err())
	}
	return answered
}
