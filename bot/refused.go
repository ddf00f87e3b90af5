package bot

// Refused gives the sentence in which a member hears an error of package fit, as
// Reply.Said has them, and that nothing has moved: for adapters that read what
// she typed into a field. It is "" for any other error.
func Refused(err error) string {
	said, err := refusal(err)
	if err != nil {
		return ""
	}
	return said
}
