package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/calc/job"
	"linetender/flow/hear"
)

// What is said of all the gear in one go is said of each piece of it.

var (
	ofAllGear  = regexp.MustCompile(`(?i)\b(?:all (?:of (?:it|them|these|those)|the (?:gear|pieces|others)|(?:the |our )?gear|(?:purpose )?made)|they(?: are|['’]?re)? all|every ?(?:one|thing|piece)|each (?:one|piece|of them)|both)\b`)
	bothOfThem = regexp.MustCompile(`(?i)\bboth\b`)
	allIsWell  = regexp.MustCompile(`(?i)^\W*(?:(?:yes|yep|yeah|aye|ok|okay)\W+)*(?:(?:they(?: are|['’]?re)?|it(?:['’]?s| is)|every ?(?:thing|one|piece)(?:['’]?s| is)?)\W+)?(?:all\W+)(?:of (?:it|them)\W+)?(?:(?:are|is|looks?|looking|checked and)\W+)?` +
		`(?:good|fine|ok|okay|sound|well|undamaged|whole|yes)(?:[\W_]*(?:and|no|with(?:out)?|made for (?:it|pulling|this|the job)|undamaged|good|sound|fine|whole|knots|damage|knotted))*\W*$`)
)

// allWell takes that every piece is well, where that is asked, and reports whether it was said.
func (t *turn) allWell(tp topic, h hear.Heard) bool {
	if tp.name != "gear_sound" || len(h.Facts) > 0 || !allIsWell.MatchString(t.in.Text) {
		return false
	}
	t.sound(true)
	return true
}

// allGear takes what was said of all the gear where it was asked of one piece: of
// each of which it was not told yet.
func (t *turn) allGear(tp topic, h hear.Heard) bool {
	list, n, ok := tp.piece()
	field := tp.name[strings.LastIndexByte(tp.name, '.')+1:]
	if !ok || list != "gear" || !slices.Contains([]string{"improvised", "condition", "knots"}, field) || h.Rest != "" || !ofAllGear.MatchString(t.in.Text) {
		return false
	}
	good := map[string]string{"improvised": "false", "condition": "good", "knots": "none"}[field]
	own := slices.ContainsFunc(h.Facts, func(f hear.Fact) bool { return f.Field == tp.name && f.Value == good })
	if !own || len(h.Facts) != 1 || bothOfThem.MatchString(t.in.Text) && len(t.s.Sheet.Gear) != 2 {
		return false
	}
	changes := []change{{set: set{tp.name, good}, how: Told}}
	for i, g := range t.s.Sheet.Gear {
		at := "gear[" + itoa(i) + "]." + field
		if _, told := t.s.Sheet.Get(at); i == n || told || field == "knots" && g.Kind != "rope" && !job.Slung(g.Kind) {
			continue
		}
		changes = append(changes, change{set: set{at, good}, how: Told})
	}
	t.answer(tp, changes)
	return true
}
