package listen

// slot is where a phrase puts some of its words, so that a wish can be made of them.
type slot string

// The slots of the wishes.
const (
	slotBody     slot = "body"
	slotPerson   slot = "person"
	slotMeasure  slot = "measure"
	slotStitches slot = "stitches"
	slotRows     slot = "rows"
	slotOver     slot = "over"
	slotMost     slot = "most"
	slotHad      slot = "had"
	slotLeft     slot = "left"
	slotYarn     slot = "yarn"
	slotUsed     slot = "used"
	slotOwner    slot = "owner"    // whose, as "womans": a person
	slotUnit     slot = "unit"     // a unit alone
	slotRowsOver slot = "rowsover" // what the rows of a gauge are counted over, where that was said by itself
	slotFrom     slot = "from"     // a row by its number
	slotLast     slot = "last"     // the last of several rows: "five to eight"
	slotAlso     slot = "also"     // one more row: "five and six"
	slotMore     slot = "more"     // besides those that are left out
	slotPanel    slot = "panel"    // the name is a panel's

	slotNear    slot = "near" // a day that has a name of its own: "tomorrow"
	slotIn      slot = "in"   // so many days, weeks or months from now
	slotDays    slot = "days" // which of these
	slotWeekday slot = "weekday"
	slotWeek    slot = "week"  // a week after that
	slotDate    slot = "date"  // of the month
	slotMonth   slot = "month" // by its name
	slotYear    slot = "year"
)

var slots = []slot{slotBody, slotPerson, slotMeasure, slotStitches, slotRows, slotOver, slotMost, slotHad, slotLeft, slotYarn,
	slotUsed, slotOwner, slotUnit, slotRowsOver, slotFrom, slotLast, slotAlso, slotMore, slotPanel,
	slotNear, slotIn, slotDays, slotWeekday, slotWeek, slotDate, slotMonth, slotYear}

// pick is words that stand in a slot, and what was picked before.
type pick struct {
	before   int
	slot     slot
	from, to int
}

// pickAll walks over what goes into a slot. Fillers before it stay outside.
func (u *utterance) pickAll(n *node, from []state) (out []state) {
	for _, s := range from {
		for _, end := range u.walk(n.kids[0], []state{s}) {
			end.picked = u.pick(pick{end.picked, n.slot, u.pastFillers(s.at, end.at), end.at})
			out = addState(out, end)
		}
	}
	return out
}

// pastFillers gives the first place from at on, before end, that no filler stands at.
func (u *utterance) pastFillers(at, end int) int {
	for _, over := range u.skips[at] {
		if over.to > at && over.to < end {
			return u.pastFillers(over.to, end)
		}
	}
	return at
}

// pick gives the number of p. Equal picks have one number, so that states that picked the same are alike.
func (u *utterance) pick(p pick) int {
	if i, ok := u.pickNumbers[p]; ok {
		return i
	}
	if u.pickNumbers == nil {
		u.picks, u.pickNumbers = []pick{{}}, map[pick]int{}
	}
	u.picks = append(u.picks, p)
	u.pickNumbers[p] = len(u.picks) - 1
	return len(u.picks) - 1
}

// picked gives the words in the slots of a state.
func (u *utterance) picked(s state) map[slot][]word {
	all := map[slot][]word{}
	for i := s.picked; i > 0; i = u.picks[i].before {
		p := u.picks[i]
		all[p.slot] = u.words[p.from:p.to]
	}
	return all
}
