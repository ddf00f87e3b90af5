package reader_test

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"clew/reader"
)

// TestNumberOutside compares the number words with an outside reading of the
// same digits: espeak-ng (https://github.com/espeak-ng/espeak-ng), English
// voice, gives the same phonemes for "27" and for "twenty-seven".
func TestNumberOutside(t *testing.T) {
	if _, err := exec.LookPath("espeak-ng"); err != nil {
		if os.Getenv("CLEW_CHECK") == "1" {
			t.Fatal("espeak-ng is not installed, and CLEW_CHECK=1 asks for it")
		}
		t.Skip("espeak-ng is not installed, so nothing outside reads the numbers")
	}
	var numbers []int
	for n := range 2000 {
		numbers = append(numbers, n)
	}
	for n := 2000; n < 10_000; n += 37 {
		numbers = append(numbers, n)
	}
	for n := 10_000; n < 100_000; n += 997 {
		numbers = append(numbers, n)
	}
	numbers = append(numbers, 2000, 9000, 9999, 10_000, 10_001, 20_020, 99_999)
	for batch := range slicesOf(numbers, 1000) {
		var digits, words []string
		for _, n := range batch {
			digits = append(digits, grouped(n))
			words = append(words, reader.Number(n))
		}
		heard, want := phonemes(t, words), phonemes(t, digits)
		for i, n := range batch {
			if heard[i] != want[i] {
				t.Errorf("%d: %q sounds as %s, and the digits as %s", n, words[i], heard[i], want[i])
			}
		}
	}
}

func slicesOf(numbers []int, size int) func(yield func([]int) bool) {
	return func(yield func([]int) bool) {
		for len(numbers) > 0 {
			n := min(size, len(numbers))
			if !yield(numbers[:n]) {
				return
			}
			numbers = numbers[n:]
		}
	}
}

// grouped writes digits with a comma before the last three, since espeak-ng
// takes 1900 without one for a year.
func grouped(n int) string {
	if n < 1000 {
		return fmt.Sprint(n)
	}
	return fmt.Sprintf("%d,%03d", n/1000, n%1000)
}

// phonemes has espeak-ng read texts, each as a paragraph of its own.
//
// What tells how words were written and not which they are is evened out: the
// pauses that it makes before a written "and" and after a comma; the weak
// "and" inside digits; its two names for the vowel of "four" (O@ in "forty",
// o@ in "40") and for the first one of "eleven" (I2 in the word, I in digits),
// which its own IPA output writes alike; and the stress marks, since it
// weakens a written "one" behind another word ("twenty-one").
func phonemes(t *testing.T, texts []string) []string {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	cmd := exec.CommandContext(ctx, "espeak-ng", "-v", "en", "-s", "449", "-x", "-q", "--stdin")
	cmd.Stdin = strings.NewReader(strings.Join(texts, ".\n\n") + ".\n")
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("espeak-ng: %v", err)
	}
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	if len(lines) != len(texts) {
		t.Fatalf("espeak-ng read %d texts as %d", len(texts), len(lines))
	}
	even := strings.NewReplacer("_:", "", "_!", "", " and ", "@n", "O@", "o@", "I2", "I", "'", "", ",", "", " ", "")
	for i, line := range lines {
		lines[i] = even.Replace(line)
	}
	return lines
}
