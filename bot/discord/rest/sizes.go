package rest

// Characters is how long the platform may take s to be. Its documentation
// ("Message contents (up to 2000 characters)", Create Message, as noted in
// shared/DISCORD.md) does not say what a character is; UTF-16 units are the
// most that it could mean, so what fits by them fits by runes or letters too.
func Characters(s string) int {
	n := 0
	for _, r := range s {
		if r > 0xFFFF {
			n++
		}
		n++
	}
	return n
}

