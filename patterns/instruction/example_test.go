package instruction_test

import (
	"fmt"

	"clew/patterns/instruction"
	"clew/patterns/problem"
)

func ExampleParse() {
	row := "*K2, P2; rep from * to last 2 sts, k2. (98 sts)"
	in, problems := instruction.Parse(row, problem.Span{End: len(row)}, instruction.Options{})
	fmt.Println(instruction.Print(in.Body, instruction.AllSizes))
	fmt.Println(in.Stated.At(0), "stitches,", len(problems), "problems")
	// Output:
	// [k2, p2] to last 2 sts, k2
	// 98 stitches, 0 problems
}

func ExampleParse_problems() {
	row := "k2, C3B, [p2, k2"
	_, problems := instruction.Parse(row, problem.Span{End: len(row)}, instruction.Options{})
	for _, p := range problems {
		fmt.Println(problem.Caret("scarf.clew", []byte(row), p))
	}
	// Output:
	// scarf.clew:1:5: error: "C3B" has two meanings in print: two over one (2/1 RC), or one over two (1/2 RC)
	//     k2, C3B, [p2, k2
	//         ^^^
	//     write 2/1 RC or 1/2 RC, or say once which it is: Abbreviation: C3B = 2/1 RC
	// scarf.clew:1:10: error: "[" is opened here and never closed
	//     k2, C3B, [p2, k2
	//              ^
	//     close it with ] where the group ends
}

func ExamplePrint() {
	row := "k4 (6, 8), p0 (1, 1)"
	in, _ := instruction.Parse(row, problem.Span{End: len(row)}, instruction.Options{Sizes: 3})
	fmt.Println(instruction.Print(in.Body, instruction.AllSizes))
	fmt.Println(instruction.Print(in.Body, 0))
	fmt.Println(instruction.Print(in.Body, 2))
	// Output:
	// k4 (6, 8), p0 (1, 1)
	// k4
	// k8, p1
}

func ExampleParseHead() {
	text := "Rounds 5-8 (optional in twos)"
	h, _ := instruction.ParseHead(text, problem.Span{End: len(text)}, 1)
	fmt.Println(h.Round, h.Ranges[0].From.At(0), h.Ranges[0].To.At(0), h.Optional.At(0))
	// Output: true 5 8 2
}

func ExampleParseAcross() {
	line := "[Seed edge, k1, Lantern, k1] 8 times"
	nodes, _ := instruction.ParseAcross(line, problem.Span{End: len(line)}, instruction.Options{Panels: []string{"Seed edge", "Lantern"}})
	fmt.Println(len(nodes), instruction.Print(nodes, instruction.AllSizes))
	// Output: 1 [Seed edge, k1, Lantern, k1] 8 times
}
