package local

import (
	"bufio"
	"bytes"
	"runtime"
	"testing"
)

// FuzzJournal reads any bytes as a journal. What is kept must be whole groups:
// spelled out again they are the bytes that were read, up to the damage; and
// reading only those finds no damage. Groups are seen behind damage only where
// there are any, and are seen in every whole journal. Memory is taken as bytes come, whatever
// lengths they promise.
func FuzzJournal(f *testing.F) {
	one := appendCommand(nil, "HSET", "a", "b", "1")
	group := encodeGroup([][]string{{"HSET", "a", "b", "2\r\n"}, {"LPUSH", "l", ""}, {"ZADD", "z", "96", "m"}})
	for _, seed := range [][]byte{
		nil, one, group, append(bytes.Clone(one), group...), group[:len(group)-1], one[:7], group[:15],
		append(bytes.Clone(one), "garbage"...), append([]byte("garbage"), group...), append([]byte("*1\r\n$4\r\nEXEB\r\n"), one...),
		[]byte("*1\r\n$4\r\nEXEC\r\n"), []byte("*1\r\n$5\r\nMULTI\r\n*1\r\n$4\r\nEXEC\r\n"),
		[]byte("*99999999999999999999\r\n"), []byte("*2147483647\r\n$3\r\nDEL\r\n"), []byte("*1\r\n$2147483647\r\nx"),
		[]byte("*1\r\n$16777216\r\nx"), []byte("*1\r\n$-1\r\n"), []byte("*+1\r\n$+3\r\nDEL\r\n"), []byte("*01\r\n$3\r\nDEL\r\n"),
		[]byte("\r\n"), []byte("*\r\n"), []byte("*1\n$3\nDEL\n"), []byte("SET a b\r\n"),
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, journal []byte) {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		var commands [][]string
		keep := func(args []string) error {
			commands = append(commands, args)
			return nil
		}
		found := replay(bytes.NewReader(journal), keep)
		runtime.ReadMemStats(&after)
		if used, limit := after.TotalAlloc-before.TotalAlloc, uint64(1<<20+200*len(journal)); used > limit {
			t.Errorf("%d bytes took %d bytes of memory, expected at most %d", len(journal), used, limit)
		}

		kept := journal
		if found != nil {
			if found.at < 0 || found.at > int64(len(journal)) || found.cause == nil {
				t.Fatalf("damage at %d of %d bytes, cause %v", found.at, len(journal), found.cause)
			}
			kept = journal[:found.at]
			if found.fault < found.at || found.fault > int64(len(journal)) {
				t.Fatalf("damage at %d of %d bytes, its fault at %d", found.at, len(journal), found.fault)
			}
			if tail := journal[found.fault:]; holdsGroups(tail) && !groupSomewhere(tail) {
				t.Errorf("a whole group was seen behind the damage at %d of %q", found.at, journal)
			}
		} else if len(journal) > 0 && !holdsGroups(journal) {
			t.Errorf("no whole group was seen in %q", journal)
		}
		count := len(commands)
		commands = nil
		if found := replay(bytes.NewReader(kept), keep); found != nil {
			t.Fatalf("the %d bytes kept have damage at %d: %v", len(kept), found.at, found.cause)
		}
		if len(commands) != count {
			t.Errorf("the bytes kept hold %d commands, %d were read", len(commands), count)
		}
		var spelled []byte
		for r := bufio.NewReader(bytes.NewReader(kept)); ; {
			args, _, err := readCommand(r)
			if err != nil {
				break
			}
			spelled = appendCommand(spelled, args...)
		}
		if !bytes.Equal(spelled, kept) {
			t.Errorf("kept %q, which spelled out again is %q", kept, spelled)
		}
	})
}

// groupSomewhere tries every byte for the beginning of a whole group.
func groupSomewhere(tail []byte) bool {
	for at := range tail {
		if _, _, err := readGroup(bufio.NewReader(bytes.NewReader(tail[at:]))); err == nil {
			return true
		}
	}
	return false
}
