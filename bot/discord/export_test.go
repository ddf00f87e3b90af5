package discord

// ReadMarkdown reads a message as the platform does: its text, and what the
// platform made of the rest.
func ReadMarkdown(message string) (text string, markup []string) {
	s := readMarkdown(message)
	return s.text, s.markup
}
