package bot_test

import "strings"

// heldPattern is a pattern whose first rows are open and whose others are held back
// (invented). What stands in the second part has one of two forms, of as many rows and
// stitches, which share no name, abbreviation, stitch or cross with each other or with
// the first part.
const heldPattern = `// Invented for testing.
Pattern: Ferry Cowl
Worked: in rounds
Sizes: small (large)
Cast on: 24 (36)
Gauge: 20 sts and 28 rounds = 10 cm
Yarn: MC, wool of worsted weight, 60 (80) g
Note: Join without a twist.
Note: NOTE
Abbreviation: zw = yo, k2tog
Abbreviation: OWN = OWNDEF
Panel: Ripple, 6 sts
Round 1: p1, 2/2 RC, p1.
Round 2: p1, k4, p1.
Round 3: p1, k4, p1.
Round 4: p1, k4, p1.
Round 5: ROW5.
Tip: TIP5
Round 6: p1, k4, p1.
Panel: PANEL, 6 sts
Round 1: OTHER1.
Round 2: k6.

Section: Quay
Round 1: *k1, p1; rep from * around.
Tip: The brim lies flat.
Round 2: *zw, p1; rep from * around.
Rounds 3-8 (optional in twos): *k1, p1; rep from * around.
Section: Shoals
Across: [Ripple] 4 (6) times.
Rounds 1-4: work the panels.
Rounds 5-8SHOAL: work the panels.
Section: LATER
Across: [PANEL] 4 (6) times.
Rounds 1-4: work the panels.
Section: LAST
Round 1: *FINAL, k4; rep from * around.
Round 2: knit.
Rounds 3-6OPT: knit.
Round 7: purl.
`

var heldForms = [2]*strings.Replacer{
	strings.NewReplacer("NOTE", "Work the Gloaming with patience.", "OWNDEF", "sl 2 to cn, hold in front, p1, k2 from cn", "OWN", "tipsy",
		"ROW5", "p1, k1, m1l, k1, k2tog, p1", "TIP5", "Mind the marsh light.", "PANEL", "Kelp", "OTHER1", "tipsy, k3",
		"LATER", "Gloaming", "LAST", "Nightfall", "FINAL", "ssk, m1r", "6OPT", "6 (optional in fours)", "8SHOAL", "8 (optional in fours)"),
	strings.NewReplacer("NOTE", "The Dawning wants a dry day.", "OWNDEF", "sl 1 to cn, hold in back, k2, k1 from cn", "OWN", "lurch",
		"ROW5", "p1, k1, m1p, k1, skp, p1", "TIP5", "Bring a lamp.", "PANEL", "Wrack", "OTHER1", "k3, lurch",
		"LATER", "Dawning", "LAST", "Sunup", "FINAL", "p2tog, m1p", "6OPT", "6", "8SHOAL", "8"),
}

// heldNames is how many of heldWords are names; the others may be told of in general.
const heldNames = 12

// heldWords are names and words of the second part, in both forms.
var heldWords = []string{"gloaming", "tipsy", "marsh light", "kelp", "nightfall", "patience", "dawning", "lurch", "lamp", "wrack", "sunup", "dry day",
	"make one", "slip, slip", "purl two together", "slip one knitwise", "two over one", "one over two", "1/2", "2/1"}
