package instruction

// Counted gives a worked tree in which the rows of panels count their stitches:
// "k4" where a panel says "k to end", since its end is not the row's. All else
// stays as it was written.
func Counted(nodes []Node) []Node {
	out := make([]Node, 0, len(nodes))
	for _, n := range nodes {
		switch n := n.(type) {
		case *Strip:
			strip := *n
			strip.Body = counted(n.Body)
			out = append(out, &strip)
		case *Repeat:
			group := *n
			group.Body = Counted(n.Body)
			out = append(out, &group)
		default:
			out = append(out, n)
		}
	}
	return out
}

// counted gives worked nodes with numbers for all that reaches to a place.
func counted(nodes []Node) []Node {
	out := make([]Node, 0, len(nodes))
	for _, n := range nodes {
		switch n := n.(type) {
		case *Work:
			work := *n
			if n.Extent.Reach != Times {
				work.Extent = Extent{Times, N(n.Count)}
			}
			out = append(out, &work)
		case *Repeat:
			group := *n
			if group.Body = counted(n.Body); n.Extent.Reach != Times {
				group.Extent = Extent{Times, N(n.Count)}
			}
			out = append(out, &group)
		case *AsLooks:
			if n.Opposite { // which has no form with a number
				out = append(out, n.Body...)
				continue
			}
			looks := *n
			looks.Extent = Extent{Times, N(worked(n.Body))}
			out = append(out, &looks)
		case *Macro:
			if reaches(n.Body) {
				out = append(out, counted(n.Body)...)
				continue
			}
			out = append(out, n)
		default:
			out = append(out, n)
		}
	}
	return out
}

// reaches says that nodes reach to a place, whatever number of stitches that is.
func reaches(nodes []Node) bool {
	for _, n := range nodes {
		var found bool
		switch n := n.(type) {
		case *Work:
			found = n.Extent.Reach != Times
		case *Repeat:
			found = n.Extent.Reach != Times || reaches(n.Body)
		case *AsLooks:
			found = n.Extent.Reach != Times
		case *Macro:
			found = reaches(n.Body)
		}
		if found {
			return true
		}
	}
	return false
}

// worked is how many stitches knits and purls in a worked tree come to.
func worked(nodes []Node) int {
	total := 0
	for _, n := range nodes {
		switch n := n.(type) {
		case *Work:
			total += n.Count
		case *Repeat:
			total += n.Count * worked(n.Body)
		}
	}
	return total
}
