package instruction

// Each visits every node of a tree but the parts of a cross, each before what is
// inside it.
func Each(nodes []Node, visit func(Node)) {
	for _, n := range nodes {
		visit(n)
		switch n := n.(type) {
		case *Repeat:
			Each(n.Body, visit)
		case *Macro:
			Each(n.Body, visit)
		case *Into:
			Each(n.Body, visit)
		case *Strip:
			Each(n.Body, visit)
		case *AsLooks:
			Each(n.Body, visit)
		}
	}
}
