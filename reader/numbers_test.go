package reader_test

import (
	"math"
	"testing"

	"clew/reader"
)

func TestNumber(t *testing.T) {
	for n, want := range map[int]string{
		0: "zero", 7: "seven", 13: "thirteen", 20: "twenty", 24: "twenty-four", 99: "ninety-nine", 100: "one hundred",
		104: "one hundred and four", 840: "eight hundred and forty", 999: "nine hundred and ninety-nine", 1000: "one thousand",
		1001: "one thousand and one", 1100: "one thousand one hundred", 1205: "one thousand two hundred and five",
		9999: "nine thousand nine hundred and ninety-nine", 10_000: "ten thousand", 99_999: "ninety-nine thousand nine hundred and ninety-nine",
		100_000: "one hundred thousand", 101_000: "one hundred and one thousand", 1_000_000: "one million", 1_000_021: "one million and twenty-one",
		-2: "minus two",
	} {
		if got := reader.Number(n); got != want {
			t.Errorf("Number(%d) = %q, want %q", n, got, want)
		}
	}
	if got := reader.Number(math.MinInt); got[:19] != "minus nine quintill" {
		t.Errorf("Number(least) = %q", got)
	}
}

func TestOrdinal(t *testing.T) {
	for n, want := range map[int]string{
		1: "first", 2: "second", 3: "third", 4: "fourth", 5: "fifth", 8: "eighth", 9: "ninth", 12: "twelfth", 13: "thirteenth",
		20: "twentieth", 21: "twenty-first", 40: "fortieth", 100: "one hundredth", 112: "one hundred and twelfth", 1000: "one thousandth",
	} {
		if got := reader.Ordinal(n); got != want {
			t.Errorf("Ordinal(%d) = %q, want %q", n, got, want)
		}
	}
}

func TestTimes(t *testing.T) {
	for n, want := range map[int]string{0: "zero times", 1: "once", 2: "twice", 3: "three times", 21: "twenty-one times"} {
		if got := reader.Times(n); got != want {
			t.Errorf("Times(%d) = %q, want %q", n, got, want)
		}
	}
}
