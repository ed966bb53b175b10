package hear

// lower are the ways of saying that a load is let down a slope on a line.
var lower = loadForms("lower")

// Lowers reports whether a message says that the load is to be let down on a line, by
// whoever stands above and holds it. That is no haul, whichever way it goes.
func Lowers(text string) bool {
	low := Lowered(text)
	return lower.in("lowers", low) && !lower.in("notlowered", low)
}
