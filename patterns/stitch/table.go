package stitch

// Sources of the definitions. The Council's list is given from memory: its
// page could not be fetched when this table was written.
const (
	councilList = "Craft Yarn Council, Standards: knitting abbreviations master list (from memory)"
	common      = "common practice, no source"
)

var (
	knits1 = []Face{Knit}
	purls1 = []Face{Purl}
)

// table holds every stitch but the crosses and the decreases of any width
// (k4tog, p5tog), which are generated from their numbers.
var table = []*Stitch{
	{Abbr: "k", Spellings: []string{"knit"}, Uses: 1, Makes: knits1, Counted: true, Words: "knit", Symbol: " ", Source: councilList,
		HowTo: "Put the right needle into the front of the next stitch from left to right, wrap the yarn, draw the loop through, and let the old stitch go."},
	{Abbr: "p", Spellings: []string{"purl"}, Uses: 1, Makes: purls1, Counted: true, Words: "purl", Symbol: "–", Source: councilList,
		HowTo: "With the yarn in front, put the right needle into the front of the next stitch from right to left, wrap the yarn, draw the loop back through, and let the old stitch go."},
	{Abbr: "sl", Spellings: []string{"slip", "sl st", "slip st"}, Kind: Slip, Uses: 1, Counted: true, Words: "slip", Symbol: "V", Source: councilList,
		HowTo: "Move the next stitch to the right needle without working it. Purlwise unless the pattern says knitwise."},

	{Abbr: "yo", Spellings: []string{"yarn over", "yon", "yrn", "yfrn", "yfwd", "yfon", "won", "wrn", "yarn forward", "yarn over needle", "yarn round needle", "wool over needle", "wool round needle", "yarn forward and round needle"},
		Makes: knits1, Words: "yarn over", Symbol: "O", Source: councilList,
		HowTo: "Bring the yarn to the front between the needles and lay it over the right needle, so that it makes a new loop and a hole below it."},
	{Abbr: "byo", Spellings: []string{"backward yo", "backward yarn over"}, Makes: knits1, Words: "backward yarn over", Symbol: "Q", Source: councilList,
		HowTo: "Bring the yarn over the right needle from back to front, and to the back below it: a yarn over that lies the other way round."},
	{Abbr: "m1", Spellings: []string{"make 1", "make one", "m1k"}, Makes: knits1, Twisted: true, Words: "make one", Symbol: "M", Source: councilList,
		HowTo: "Lift the strand between the two needles onto the left needle and knit it through the back loop."},
	{Abbr: "m1l", Spellings: []string{"make 1 left", "make one left", "m1 left"}, Makes: knits1, Twisted: true, Words: "make one left", Symbol: "ML", Source: councilList,
		HowTo: "With the left needle lift the strand between the needles from front to back, and knit it through the back loop."},
	{Abbr: "m1r", Spellings: []string{"make 1 right", "make one right", "m1 right"}, Makes: knits1, Twisted: true, Words: "make one right", Symbol: "MR", Source: councilList,
		HowTo: "With the left needle lift the strand between the needles from back to front, and knit it through the front loop."},
	{Abbr: "m1p", Spellings: []string{"make 1 purl", "make 1 purlwise", "make one purlwise", "m1 p-st", "m1 purlwise"}, Makes: purls1, Twisted: true, Words: "make one purlwise", Symbol: "MP", Source: councilList,
		HowTo: "Lift the strand between the two needles onto the left needle and purl it through the back loop."},
	{Abbr: "m1lp", Spellings: []string{"m1pl", "make 1 left purl", "make 1 left purlwise", "make 1 purl left"}, Makes: purls1, Twisted: true, Words: "make one left purlwise", Symbol: "MLP", Source: councilList,
		HowTo: "With the left needle lift the strand between the needles from front to back, and purl it through the back loop."},
	{Abbr: "m1rp", Spellings: []string{"m1pr", "make 1 right purl", "make 1 right purlwise", "make 1 purl right"}, Makes: purls1, Twisted: true, Words: "make one right purlwise", Symbol: "MRP", Source: councilList,
		HowTo: "With the left needle lift the strand between the needles from back to front, and purl it through the front loop."},
	{Abbr: "kll", Spellings: []string{"lli", "knit left loop"}, Makes: knits1, Words: "left lifted increase", Symbol: "KL", Source: councilList,
		HowTo: "With the left needle pick up the stitch two rows below the last stitch on the right needle, and knit it."},
	{Abbr: "krl", Spellings: []string{"rli", "knit right loop"}, Makes: knits1, Words: "right lifted increase", Symbol: "KR", Source: councilList,
		HowTo: "With the right needle pick up the stitch just below the next stitch, put it on the left needle, and knit it."},
	{Abbr: "kfb", Spellings: []string{"k1f&b", "kf&b", "k1fb", "knit front and back"}, Uses: 1, Makes: []Face{Knit, Purl}, Words: "knit into the front and back of the next stitch", Symbol: "KB", Source: councilList,
		HowTo: "Knit the next stitch but leave it on the left needle; knit it again through its back loop; then let it go. One stitch has become two."},
	{Abbr: "pfb", Spellings: []string{"p1f&b", "pf&b", "p1fb"}, Uses: 1, Makes: []Face{Purl, Purl}, Words: "purl into the front and back of the next stitch", Symbol: "PB", Source: councilList,
		HowTo: "Purl the next stitch but leave it on the left needle; purl it again through its back loop; then let it go. One stitch has become two."},
	{Abbr: "kfbf", Spellings: []string{"k1fbf"}, Uses: 1, Makes: []Face{Knit, Purl, Knit}, Words: "knit into the front, the back and the front again of the next stitch", Symbol: "K3", Source: common,
		HowTo: "Knit the next stitch but leave it on the left needle; knit it through its back loop; knit it through its front once more; then let it go. One stitch has become three."},
	{Abbr: "k1b", Spellings: []string{"k1 below", "kb"}, Uses: 1, Makes: knits1, Words: "knit one below", Symbol: "B", Source: common,
		HowTo: "Put the right needle into the stitch below the next one, knit it, and let both drop off the left needle together."},

	{Abbr: "ssk", Spellings: []string{"slip slip knit"}, Uses: 2, Makes: knits1, Words: "slip, slip, knit", Symbol: `\`, Source: councilList,
		HowTo: "Slip two stitches knitwise, one after the other; put the left needle into the fronts of both; knit them together. It leans to the left."},
	{Abbr: "ssp", Spellings: []string{"slip slip purl"}, Uses: 2, Makes: purls1, Words: "slip, slip, purl", Symbol: `\–`, Source: councilList,
		HowTo: "Slip two stitches knitwise, one after the other; put both back on the left needle; purl them together through the back loops."},
	{Abbr: "sssk", Spellings: []string{"slip slip slip knit"}, Uses: 3, Makes: knits1, Words: "slip, slip, slip, knit", Symbol: `\\`, Source: councilList,
		HowTo: "Slip three stitches knitwise, one after the other; put the left needle into the fronts of all three; knit them together. It leans to the left."},
	{Abbr: "sssp", Spellings: []string{"slip slip slip purl"}, Uses: 3, Makes: purls1, Words: "slip, slip, slip, purl", Symbol: `\\–`, Source: councilList,
		HowTo: "Slip three stitches knitwise, one after the other; put them back on the left needle; purl all three together through the back loops."},
	{Abbr: "skp", Spellings: []string{"skpo", "sl1 k1 psso", "s1 k1 psso"}, Uses: 2, Makes: knits1, Words: "slip one knitwise, knit one, pass the slipped stitch over", Symbol: `\.`, Source: councilList,
		HowTo: "Slip one stitch knitwise; knit one; with the left needle lift the slipped stitch over the knitted one and off. It leans to the left."},
	{Abbr: "sk2p", Spellings: []string{"sk2po", "sl1 k2tog psso"}, Uses: 3, Makes: knits1, Words: "slip one knitwise, knit two together, pass the slipped stitch over", Symbol: `\3`, Source: councilList,
		HowTo: "Slip one stitch knitwise; knit two together; lift the slipped stitch over and off. Three stitches have become one."},
	{Abbr: "s2kp", Spellings: []string{"s2kp2", "cdd", "cddk", "centered double decrease", "sl2 k1 p2sso", "sl2-k1-p2sso"}, Uses: 3, Makes: knits1, Words: "slip two together knitwise, knit one, pass the two slipped stitches over", Symbol: "A", Source: councilList,
		HowTo: "Slip two stitches together knitwise; knit one; lift both slipped stitches over it and off. The middle stitch stands in front."},
	{Abbr: "ksp", Uses: 2, Makes: knits1, Words: "knit one, put it back, pass the next stitch over it", Symbol: "/.", Source: councilList,
		HowTo: "Knit one; put it back on the left needle; lift the second stitch on the left needle over it and off; return it to the right needle."},
	{Abbr: "pnso", Spellings: []string{"pass next st over", "pass next stitch over"}, Uses: 1, Words: "pass the next stitch over", Symbol: "N", Source: councilList,
		HowTo: "Lift the next stitch on the left needle over the last stitch on the right needle and let it go."},
	{Abbr: "psso", Spellings: []string{"pass slipped st over", "pass sl st over", "pass slipped stitch over", "pass the slipped stitch over", "pass the slipped st over", "pass sl st over both"},
		Kind: PassOver, Passes: 1, Words: "pass the slipped stitch over", Symbol: "<", Source: councilList,
		HowTo: "With the left needle lift the slipped stitch over what was worked after it, and off."},
	{Abbr: "p2sso", Spellings: []string{"pass 2 slipped sts over", "pass 2 sl sts over", "pass 2 slipped stitches over", "pass the 2 slipped stitches over"},
		Kind: PassOver, Passes: 2, Words: "pass the two slipped stitches over", Symbol: "<<", Source: councilList,
		HowTo: "With the left needle lift the two slipped stitches over what was worked after them, and off."},
	{Abbr: "pass previous st over", Spellings: []string{"pass the previous st over", "pass previous stitch over", "pass the previous stitch over", "pass the previous st over it", "pass the previous stitch over it"},
		Kind: PassOver, Passes: 1, Unslipped: true, Words: "pass the stitch before the last one over it", Symbol: "<.", Source: common,
		HowTo: "With the left needle lift the second stitch on the right needle over the first, and off."},

	{Abbr: "mb", Spellings: []string{"make bobble"}, Uses: 1, Makes: knits1, Words: "make a bobble", Symbol: "●", Source: councilList,
		HowTo: "A bobble grows out of one stitch and goes back into one. The pattern says how many stitches and rows it has."},
	{Abbr: "pop", Spellings: []string{"popcorn"}, Uses: 1, Makes: knits1, Words: "make a popcorn", Symbol: "◎", Source: councilList,
		HowTo: "A popcorn grows out of one stitch and is drawn together into one. The pattern says how many stitches it has."},

	{Abbr: "BO", Spellings: []string{"bind off", "cast off"}, Kind: BindOff, Uses: 1, Counted: true, Words: "bind off", Noun: "stitch", Symbol: "⌒", Source: councilList,
		HowTo: "Work two stitches and lift the first over the second and off; work one more and lift again. The stitch that is left on the right needle at the end counts as the first of what follows."},
	{Abbr: "CO", Spellings: []string{"cast on"}, Kind: CastOn, Makes: knits1, Counted: true, Words: "cast on", Noun: "stitch", Symbol: "+", Source: councilList,
		HowTo: "Make new loops at the tip of the needle, by the cast-on you like."},
	{Abbr: "pu", Spellings: []string{"pick up and knit", "pick up & knit", "pick up and k", "pick up", "puk", "pu&k"}, Kind: CastOn, Makes: knits1, Counted: true, Words: "pick up and knit", Noun: "stitch", Symbol: "∪", Source: common,
		HowTo: "Put the needle through the edge of the fabric, wrap the yarn, and draw a loop through."},
	{Abbr: "pup", Spellings: []string{"pick up and purl", "pick up & purl", "pick up and p"}, Kind: CastOn, Makes: purls1, Counted: true, Words: "pick up and purl", Noun: "stitch", Symbol: "∪–", Source: common,
		HowTo: "With the yarn in front, put the needle through the edge from the back, wrap the yarn, and draw a loop through."},
}
