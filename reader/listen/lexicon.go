package listen

import "strings"

// soundAlikes gives, for a word as dictation or haste wrote it, the words that it may stand for. Which one is meant is the grammar's to say:
// "road 12" is a row, "the road to town" nothing.
var soundAlikes = invert(`
	next: necks nest nex nxt nexts neckst
	row: roe road rowe rho roh ro raw rode rw round rowned rnd around rd
	rows: roes roads rose rounds rowse rnds rouws rouw rowes
	gauge: gage guage gouge gauche gaug
	wider: whiter
	knit: nit net knitt
	purl: pearl perl purrl
	again: agen agian agin
	back: bak bac
	undo: undue undu
	read: red reed reads
	where: wear ware were
	which: witch
	what: wot wat
	whole: hole hol
	by: buy bye
	one: won
	two: to too
	to: two too
	for: four fore
	four: for fore
	yarn: yawn yearn wool
	right: write rite wright
	left: lift
	cross: crossed kross
	through: threw thru
	together: tog togther
	stitch: st stich
	stitches: sts stiches stitchs stiche stitiches
	picture: pic pitcher pictures
	settings: setings
	continue: contine contniue
	previous: prevous previus
	finished: finnished
	catchup: ketchup
	please: pls plz pleas peas
	thanks: thx ty cheers
	okay: ok okey kay
	clew: clue clu
	you: u ya
	are: r
	session: sesion
	count: cownt
	explain: explane
	repeat: repete
	done: dun
	piece: peace
	bit: bite
	size: sighs
	fit: feet
	miss: mist
	missed: mist
	new: gnu knew
	stuck: stuk stucked
	board: bored bord
	hide: hied hyde
	hidden: hiden
	until: untill til untl
	changed: chanced
	change: chang
	corrected: korrected
	host: hoast
	plan: plann
	reminders: remainders reminder
	rest: wrest
	everyone: everone everyones
	tomorrow: tommorow tommorrow tomorow tomorro
	monday: munday
	tuesday: teusday tuseday chewsday
	wednesday: wensday wedensday wedesday wednsday
	thursday: thirsday thersday thurday
	friday: fryday fridy
	saturday: saterday satday
	february: febuary febrary
	december: desember decembre
`)

func invert(table string) map[string][]string {
	m := map[string][]string{}
	for line := range strings.Lines(table) {
		meant, heard, _ := strings.Cut(strings.TrimSpace(line), ":")
		for _, h := range strings.Fields(heard) {
			m[h] = append(m[h], meant)
		}
	}
	return m
}

// figureWords are the figures that stand in phrases too: "go back 1 row".
var figureWords = map[string]string{"1": "one", "2": "two", "4": "four"}

// setApart are single words that dictation writes as two.
var setApart = map[[2]string]string{
	{"a", "gain"}: "again", {"un", "do"}: "undo", {"on", "do"}: "undo", {"to", "gather"}: "together", {"two", "gether"}: "together",
	{"hand", "free"}: "handsfree", {"hands", "free"}: "handsfree", {"hands", "three"}: "handsfree", {"hans", "free"}: "handsfree", {"catch", "up"}: "catchup",
	{"knit", "along"}: "knitalong", {"nit", "along"}: "knitalong", {"net", "along"}: "knitalong", {"knit", "alongs"}: "knitalong",
	{"for", "tea"}: "forty", {"any", "more"}: "anymore", {"un", "till"}: "until", {"un", "hide"}: "unhide", {"fry", "day"}: "friday", {"to", "morrow"}: "tomorrow",
	{"week", "end"}: "weekend", {"every", "one"}: "everyone", {"every", "body"}: "everybody",
}

// contractions are keyed without their apostrophe, since hasty hands leave it out. Words run together are written out here too.
var contractions = map[string]string{
	"lets": "let us", "wont": "will not", "cant": "can not", "shant": "shall not", "dont": "do not", "doesnt": "does not", "didnt": "did not", "isnt": "is not",
	"wasnt": "was not", "arent": "are not", "havent": "have not", "couldnt": "could not", "wouldnt": "would not", "shouldnt": "should not",
	"im": "i am", "ive": "i have", "id": "i would", "youre": "you are", "whats": "what is", "thats": "that is", "hows": "how is", "wheres": "where is", "whens": "when is",
	"gimme": "give me", "lemme": "let me", "wanna": "want to", "gonna": "going to", "gotta": "got to", "dunno": "do not know", "goto": "go to", "cannot": "can not",
}

// ownWord are contractions that, without an apostrophe, are words of their own.
var ownWord = map[string]bool{"wont": true}

// takesIs are the words after which 's is "is"; after others it is a plural or a mishearing ("neck's row").
var takesIs = wordSet("what where that it who how here there which when row round one this next he she")

func wordSet(words string) map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields(words) {
		m[w] = true
	}
	return m
}
