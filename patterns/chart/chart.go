package chart

// drawChart draws rows as symbols.
func drawChart(v View) (*Picture, error) {
	return nil, ErrNoRows
}
