package stitch

// terms are the abbreviations of the Council's list that are not stitches.
var terms = []Term{
	term("alt", "alternate", "alternately"),
	term("approx", "approximately"),
	term("beg", "beginning", "begin", "begins"),
	term("bet", "between"),
	term("BP", "back post"),
	term("CC", "contrasting color", "contrast color").instead("the yarn before what is worked with it: with CC, k4"),
	term("ch", "chain, made with a crochet hook"),
	term("cm", "centimetres", "centimetre", "centimeter"),
	term("cn", "cable needle"),
	term("cont", "continue", "continues"),
	term("dec", "decrease", "decreases", "decreasing").instead("the decrease by its name, such as k2tog or ssk"),
	term("DK", "double knitting, a weight of yarn"),
	term("dpn", "double-pointed needle", "dp", "dpns"),
	term("EON", "end of needle"),
	term("EOR", "end of row"),
	term("FC", "front cross"),
	term("BC", "back cross"),
	term("fl", "front loop"),
	term("foll", "following", "follow", "follows", "fol"),
	term("FP", "front post"),
	term("g", "grams", "gr", "gram"),
	term("inc", "increase", "increases", "increasing").instead("the increase by its name, such as m1l or kfb"),
	term("in", "inches", "ins", "inch"),
	term("kwise", "knitwise: put the right needle in from left to right, as if to knit", "k-wise").instead("it behind the slip, such as: sl 1 kwise"),
	term("LC", "left cross"),
	term("LH", "left hand"),
	term("lp", "loop", "lps", "loops"),
	term("m", "marker, or metres"),
	term("MC", "main color").instead("the yarn before what is worked with it: with MC, k4"),
	term("mm", "millimetres", "millimetre", "millimeter"),
	term("oz", "ounces", "ounce"),
	term("pat", "pattern", "patt", "pats", "patts"),
	term("pm", "place a marker"),
	term("prev", "previous"),
	term("pwise", "purlwise: put the right needle in from right to left, as if to purl", "p-wise").instead("it behind the slip, such as: sl 1 pwise"),
	term("RC", "right cross"),
	term("rem", "remaining", "remain", "remains"),
	term("rep", "repeat", "repeats", "reps"),
	term("rev St st", "reverse stockinette stitch"),
	term("RH", "right hand"),
	term("rm", "remove the marker"),
	term("rnd", "round", "rnds", "rounds"),
	term("RS", "right side"),
	term("sk", "skip"),
	term("sl st", "slip stitch"),
	term("sm", "slip the marker", "sl m"),
	term("st", "stitch", "stitches"),
	term("sts", "stitches"),
	term("St st", "stockinette stitch: knit on the right side, purl on the wrong side"),
	term("g st", "garter stitch: knit every row", "garter st"),
	term("tbl", "through the back loop: put the needle into the half of the stitch that lies behind the left needle, which twists it").instead("it behind its stitch, such as: k1 tbl"),
	term("tfl", "through the front loop, the usual way").instead("it behind its stitch, such as: k1 tfl"),
	term("tog", "together"),
	term("turn", "turn the work, so that the other side faces you, and leave the rest of the row unworked"),
	term("w&t", "wrap the next stitch and turn: slip it, bring the yarn to the other side, slip it back, and turn the work", "wrap and turn"),
	term("WS", "wrong side"),
	term("wyib", "with the yarn in back: the yarn lies behind the stitch, away from you").instead("it behind the slip, such as: sl 1 wyib"),
	term("wyif", "with the yarn in front: the yarn lies before the stitch, towards you").instead("it behind the slip, such as: sl 1 wyif"),
	term("yb", "yarn to the back", "ytb", "ybk").instead("where the yarn is held at the slip, such as: sl 1 wyib"),
	term("yft", "yarn to the front", "ytf").instead("where the yarn is held at the slip, such as: sl 1 wyif"),
	term("yd", "yards", "yds", "yard"),
}

// instead says what to write where the term stands in place of a stitch.
func (t Term) instead(text string) Term {
	t.Instead = text
	return t
}

func term(abbr, meaning string, spellings ...string) Term {
	return Term{Abbr: abbr, Spellings: spellings, Meaning: meaning, Source: councilList}
}
