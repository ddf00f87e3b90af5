package chart

// drawFabric draws the fabric as it should look.
func drawFabric(v View) (*Picture, error) {
	return nil, ErrNoRows
}
