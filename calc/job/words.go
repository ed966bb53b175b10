package job

import (
	"slices"
	"unicode/utf8"

	"linetender/calc/handbook"
)

// The words that each field takes, in the order in which a refusal lists them.
var (
	MassFroms    = []string{"weighed", "plate", "guess"}
	SlopeFroms   = []string{"level", "phone", "eye"}
	OffLineFroms = []string{"measured", "eye"}
	Pulls        = []string{"uphill", "downhill", "level"}
	Depths       = []string{"none", "hub", "fender", "cab"}
	TowPoints    = []string{"rated-eye", "frame", "hitch-ball", "bumper", "tie-down", "suspension", "other"}
	RatingKinds  = []string{"working", "breaking", "unmarked"}
	PullerKinds  = []string{"wheeled", "tracked", "winch", "hand-winch", "people"}
	Hitches      = []string{"drawbar", "rated-point", "top-link", "three-point", "axle", "ball", "bumper", "loader", "roll-bar", "frame", "other"}
	HaulFroms    = []string{"standing", "moving"}
	Sheaves      = []string{"plain", "roller"}
	AnchorKinds  = []string{"tree", "stump", "picket", "deadman", "vehicle", "rock", "rated", "person", "post"}
	AnchorUses   = []string{"standing", "lead", "holding", "puller"}
	Patterns     = []string{"1", "1-1-1", "3-2-1"}
	Soils        = []string{"loam", "clay-gravel", "river-sand", "rock", "wet"}
	GearKinds    = []string{"rope", "block", "shackle", "sling", "chain", "hook", "link", "strap"}
	GearUses     = []string{"haul", "holding", "moving-block", "standing-block", "lead-block", "anchor", "load", "tie-back", "spare"}
	Materials    = []string{"nylon", "polyester", "hmpe", "polypropylene", "manila", "wire"}
	SlingHitches = []string{"straight", "basket", "choked"}
	SlingKinds   = []string{"sling", "strap", "chain"} // that go round a thing
	Conditions   = []string{"good", "damaged", "unknown"}
	HazardKinds  = []string{"overhead-line", "traffic", "water", "fuel", "battery", "people-inside", "overturned", "hazmat", "edge", "surge", "hollow", "broken"}
	SeenWhats    = []string{"slip", "move", "stuck", "reading"}
	SeenAts      = []string{"haul", "load"}
	groundsByRow = handbook.Grounds()

	// CheckIDs are what may be signed for, as a plan names its checks.
	CheckIDs = []string{"A1", "A2", "A3", "A4", "A5", "A6", "C1", "C2", "C3", "E1", "E2", "H1", "H2", "H3", "H4", "H5", "H6", "H7", "L1", "L2", "L3", "L4", "L5",
		"L6", "L7", "L8", "L9", "L10", "L11", "P1", "P2", "P3", "P4", "P5", "P6", "R1", "R2", "R3", "R4", "R5", "R6", "R7", "R8", "R9", "R10", "R11",
		"R12", "R13", "R14", "R15", "T1", "T2", "T3", "T4", "T5", "U1", "U2", "U3", "U4", "U5", "U6", "U7", "U8", "U9", "V1", "X1", "X2", "X3", "X4",
		"X5"}
)

func grounds() []string {
	out := make([]string, len(groundsByRow))
	for i, g := range groundsByRow {
		out[i] = string(g)
	}
	return out
}

// Nearest returns the word of words that is spelled most like text, or ""
// when none is near: more than half of the letters would have to change.
func Nearest(text string, words []string) string {
	best, at := "", len(text)/2+2
	long := utf8.RuneCountInString(text)
	for _, w := range words {
		if long-utf8.RuneCountInString(w) >= at {
			continue // at least so many letters must go; a long text is told fast
		}
		if d := Edits(text, w); d < at {
			best, at = w, d
		}
	}
	return best
}

// Edits counts the letters to insert, drop, change or swap with a neighbour
// to turn a into b.
func Edits(a, b string) int {
	s, t := []rune(a), []rune(b)
	row := func(i int) []int { r := make([]int, len(t)+1); r[0] = i; return r }
	var before []int
	prev := make([]int, len(t)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := 1; i <= len(s); i++ {
		cur := row(i)
		for j := 1; j <= len(t); j++ {
			cost := 1
			if s[i-1] == t[j-1] {
				cost = 0
			}
			cur[j] = min(prev[j]+1, cur[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && s[i-1] == t[j-2] && s[i-2] == t[j-1] {
				cur[j] = min(cur[j], before[j-2]+1)
			}
		}
		before, prev = prev, cur
	}
	return prev[len(t)]
}

func sorted(words []string) []string {
	slices.Sort(words)
	return words
}

// Slung reports whether a kind of gear is one of [SlingKinds].
func Slung(kind string) bool { return slices.Contains(SlingKinds, kind) }
