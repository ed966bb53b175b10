package flow

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"linetender/calc/bound"
	"linetender/calc/job"
	"linetender/calc/unit"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

func itoa(n int) string { return strconv.Itoa(n) }

// special does the buttons that say more than one value of the sheet. It
// reports whether it did.
func (t *turn) special(tp topic, choice string) bool {
	switch {
	case tp.name == "slope" && (choice == "level" || choice == "board"):
		t.measureSlope(choice)
	case tp.name == "ton":
		t.whichTon(map[string]string{"t": "t", "short_ton": "short ton", "long_ton": "long ton"}[choice])
	case choice == "nothing", choice == "done":
		t.nothing(tp)
	case tp.name == "gear_sound":
		t.sound(choice == "yes")
	case tp.name == "kit_check":
		t.kitLooked(choice == "yes")
	case t.s.State == Signing:
		t.sign("", choice == "no")
	case t.s.State == Verdict:
		t.verdictChoice(choice)
	case strings.HasPrefix(tp.name, "site."):
		t.checked(tp, choice)
	default:
		return false
	}
	return true
}

// heardSpecial does the same for what was written.
func (t *turn) heardSpecial(tp topic, h hear.Heard) bool {
	switch {
	case tp.name == "people":
		return t.heardPeople(h)
	case tp.name == "puller":
		t.heardLevel(h)
	case tp.name == "slope":
		low := strings.ToLower(strings.Trim(t.in.Text, " .!/"))
		if low == "level" || low == "board" {
			t.measureSlope(low)
			return true
		}
	case strings.HasPrefix(tp.name, "level_") || strings.HasPrefix(tp.name, "board_"):
		return t.heardLengths(tp, h)
	case tp.name == "ton":
		if h.Act == hear.Unit {
			t.whichTon(h.Object)
			return true
		}
	case tp.name == "gear_sound" && len(h.Facts) == 0 && (h.Act == hear.Yes || h.Act == hear.No):
		t.sound(h.Act == hear.Yes)
		return true
	case tp.name == "kit_check":
		if h.Act == hear.Yes || h.Act == hear.No {
			t.kitLooked(h.Act == hear.Yes)
			return true
		}
	case strings.HasPrefix(tp.name, "site."):
		return t.heardCheck(tp, h)
	case tp.name == "holding":
		return t.heardHolding(h)
	case h.Act == hear.No && len(h.Facts) == 0 && t.takesNothing(tp):
		t.nothing(tp)
		return true
	case yesOrNo(tp) && len(tp.fills) > 0 && yesOrNoSaid(h, t.in.Text, tp.fills[0]) != "":
		choice := yesOrNoSaid(h, t.in.Text, tp.fills[0])
		for _, o := range tp.offers {
			if o.choice == choice {
				t.choose(o)
				return true
			}
		}
	}
	return t.heardPlain(tp, h)
}

func yesOrNo(tp topic) bool {
	return slices.ContainsFunc(tp.offers, func(o offer) bool { return o.choice == "yes" })
}

// yesOrNoSaid returns the yes or no that a message is or begins with, unless
// what it says beside it answers the field already.
func yesOrNoSaid(h hear.Heard, text, field string) string {
	if slices.ContainsFunc(h.Facts, func(f hear.Fact) bool { return f.Field == field }) {
		return ""
	}
	first, _, _ := strings.Cut(strings.ToLower(strings.TrimSpace(text)), " ")
	first = strings.Trim(first, ",.;:!")
	switch {
	case first == "yes" || first == "no":
		return first
	case h.Act == hear.Yes && len(h.Facts) == 0:
		return "yes"
	case h.Act == hear.No && len(h.Facts) == 0:
		return "no"
	}
	return ""
}

// takesNothing reports whether none is an answer to tp.
func (t *turn) takesNothing(tp topic) bool {
	return slices.ContainsFunc(tp.offers, func(o offer) bool { return o.choice == "nothing" || o.choice == "done" })
}

// nothing settles a topic with there being none of it.
func (t *turn) nothing(tp topic) {
	if tp.name == "" {
		t.miss("")
		return
	}
	if tp.name == "gear" {
		for _, name := range []string{"rope", "block", "shackle", "sling"} {
			if t.s.Settled[name] == "" && len(t.s.Sheet.Gear) == 0 {
				t.settle(name, Told)
			}
		}
	}
	t.say(wording.ReadWord, wording.Args{"What": t.name(tp.name), "Text": t.saying(wording.ListNone)})
	t.settle(tp.name, Told)
	t.next()
}

// noneOfThem is a plain no to all that is left.
var noneOfThem = regexp.MustCompile(`(?i)^\W*(?:none|no|nope|nothing|neither|not any)\b(?:\W+(?:of|the|them|those|that|others?|rest|either|else))*\W*$`)

// heardPeople takes the hazards. A denial of some of them is no denial of all.
func (t *turn) heardPeople(h hear.Heard) bool {
	if t.s.Held["cleared"] != "" && len(h.Facts) == 0 && len(h.Cleared) == 0 && noneOfThem.MatchString(t.in.Text) {
		t.answer(firstTopics[0], []change{{set: set{"hazards", "none"}, how: Told}})
		return true
	}
	if len(h.Cleared) == 0 || slices.ContainsFunc(h.Facts, func(f hear.Fact) bool { return f.Field == "hazards" }) {
		return false
	}
	clear := strings.FieldsFunc(t.s.Held["cleared"], func(r rune) bool { return r == ',' })
	for _, c := range h.Cleared {
		if !slices.Contains(clear, c) {
			clear = append(clear, c)
		}
	}
	t.hearFacts(h, false)
	var names wording.Names
	for _, c := range clear {
		names = append(names, t.word("hazards", c))
	}
	t.say(wording.ReadCleared, wording.Args{"Names": names})
	t.act(Act{Do: DoHold, Path: "cleared", Value: strings.Join(clear, ",")})
	if len(clear) == len(job.HazardKinds) {
		t.answer(firstTopics[0], []change{{set: set{"hazards", "none"}, how: Told}})
		return true
	}
	t.ask()
	return true
}

// onLevel is how people say that a machine stands level; a level that is
// followed by a length is the tool.
var onLevel = regexp.MustCompile(`(?i)\b(?:level|flat)\b(?:\s*[^\d\s]|\s*$)`)

// heardLevel takes a puller that stands on level ground, which is said with
// its ground and not as a slope.
func (t *turn) heardLevel(h hear.Heard) {
	said := slices.ContainsFunc(h.Facts, func(f hear.Fact) bool { return f.Field == "puller.slope" || f.Field == "puller.pull" })
	if said || !onLevel.MatchString(t.in.Text) || !slices.ContainsFunc(h.Facts, func(f hear.Fact) bool { return f.Field == "puller.ground" }) {
		return
	}
	t.put([]change{{set: set{"puller.slope", "0 to 2 deg"}, how: Told, quiet: true}, {set: set{"puller.pull", "level"}, how: Told, quiet: true}})
}

// measureSlope walks a person with a level or a board through it.
func (t *turn) measureSlope(tool string) {
	if t.s.State == Slope {
		t.act(Act{Do: DoAsk, Topic: tool + "_length"})
		t.ask()
		return
	}
	t.act(Act{Do: DoAsk, Topic: tool + "_length"})
	t.ask()
}

// heardLengths takes the two lengths of a slope, one by one or both at once.
func (t *turn) heardLengths(tp topic, h hear.Heard) bool {
	if slices.ContainsFunc(h.Facts, func(f hear.Fact) bool { return f.Field == "load.slope" }) {
		done := t.hearFacts(h, false)
		if slices.Contains(done, "load.slope") {
			t.settleSlope()
		} else {
			t.ask()
		}
		return true
	}
	read, err := bound.ReadLength(t.in.Text)
	if err != nil || !(read.Value.Low > 0) {
		t.miss("")
		return true
	}
	tool, part, _ := strings.Cut(tp.name, "_")
	if part == "length" {
		t.act(Act{Do: DoHold, Path: "slope." + tool, Value: t.in.Text})
		next := tool + "_gap"
		if tool == "board" {
			next = "board_rise"
		}
		t.act(Act{Do: DoAsk, Topic: next})
		t.say(wording.ReadWord, wording.Args{"What": t.name(tp.name), "Text": t.in.Text})
		t.ask()
		return true
	}
	slope := tool + " " + t.s.Held["slope."+tool] + ", " + part + " " + t.in.Text
	if done := t.put([]change{{set: set{"load.slope", slope}, how: Told}}); len(done) == 0 {
		t.ask()
		return true
	}
	t.settleSlope()
	return true
}

// settleSlope ends a walk through level or board.
func (t *turn) settleSlope() {
	t.act(Act{Do: DoSet, Path: "load.slope_from", Value: "level", How: Told})
	if t.s.Settled["slope"] != "" {
		t.act(Act{Do: DoReopen, Topic: "slope"})
	}
	t.settle("slope", Told)
	t.next()
}

// whichTon writes the ton that was meant into the weights that said ton.
func (t *turn) whichTon(which string) {
	if which == "" {
		t.miss("")
		return
	}
	var changes []change
	for _, path := range []string{"load.mass", "puller.mass"} {
		said := t.s.Held[heldTon+path]
		if said == "" {
			continue
		}
		if meant := withTon(said, which); meant != "" {
			changes = append(changes, change{set: set{path, meant}, how: Told})
		}
	}
	if s, ok := systemOf(which); ok {
		t.act(Act{Do: DoUnits, Value: s.String()})
	} else {
		t.act(Act{Do: DoUnits, Value: unit.Customary.String()})
	}
	t.put(changes)
	for _, path := range []string{"load.mass", "puller.mass"} {
		if t.s.Held[heldTon+path] != "" {
			t.act(Act{Do: DoHold, Path: heldTon + path})
		}
	}
	t.settle("ton", Told)
	t.next()
}

// withTon puts a ton that is defined in the place of one that is not.
func withTon(said, which string) string {
	fields := strings.Fields(said)
	for i, f := range fields {
		low := strings.ToLower(f)
		for _, end := range []string{"tons", "ton", "hundredweights", "hundredweight", "cwt"} {
			if figure, ok := strings.CutSuffix(low, end); ok {
				fields[i] = strings.TrimSpace(figure + " " + which)
				meant := strings.Join(fields, " ")
				if _, err := bound.ReadMass(meant); err == nil {
					return meant
				}
			}
		}
	}
	return ""
}

// sound takes whether all the gear is made for it, whole and free of knots.
func (t *turn) sound(yes bool) {
	if !yes {
		// Which piece it is comes out by asking for each.
		t.settle("gear_sound", Told)
		t.next()
		return
	}
	var changes []change
	for i, g := range t.s.Sheet.Gear {
		at := "gear[" + itoa(i) + "]"
		if g.Condition == "" {
			changes = append(changes, change{set: set{at + ".condition", "good"}, how: Told, quiet: true})
		}
		if g.Improvised == nil {
			changes = append(changes, change{set: set{at + ".improvised", "false"}, how: Told, quiet: true})
		}
		if g.Kind == "rope" && g.Knots == nil {
			changes = append(changes, change{set: set{at + ".knots", "none"}, how: Told, quiet: true})
		}
	}
	t.put(changes)
	t.settle("gear_sound", Told)
	t.next()
}

// heardHolding takes the rope that will hold the load, and its anchor.
func (t *turn) heardHolding(h hear.Heard) bool {
	if h.Act == hear.No && len(h.Facts) == 0 {
		t.nothing(topic{name: "holding", state: AtGear})
		return true
	}
	anchors, gear := len(t.s.Sheet.Anchors), len(t.s.Sheet.Gear)
	done := t.hearFacts(h, false)
	if len(done) == 0 {
		return false
	}
	var pins []change
	for i := gear; i < len(t.s.Sheet.Gear); i++ {
		if g := t.s.Sheet.Gear[i]; g.Kind == "rope" && g.Use == "" {
			pins = append(pins, change{set: set{"gear[" + itoa(i) + "].use", "holding"}, how: Told, quiet: true})
		}
	}
	for i := anchors; i < len(t.s.Sheet.Anchors); i++ {
		if t.s.Sheet.Anchors[i].Use == "" {
			pins = append(pins, change{set: set{"anchors[" + itoa(i) + "].use", "holding"}, how: Told, quiet: true})
		}
	}
	t.put(pins)
	t.settle("holding", Told)
	t.next()
	return true
}

// heardPlain takes a bare quantity or count where the topic has one field
// that takes one and the message says nothing else.
func (t *turn) heardPlain(tp topic, h hear.Heard) bool {
	if h.Act != hear.None || len(tp.fills) == 0 {
		return false
	}
	text := strings.TrimSpace(t.in.Text)
	path := tp.fills[0]
	if slices.ContainsFunc(h.Facts, func(f hear.Fact) bool { return slices.Contains(tp.fills, f.Field) }) {
		return false
	}
	switch {
	case tp.name == "puller.hitch_height":
		return t.heardTwo(tp, text, path, "puller.axle_height", "hitch", "axle")
	case tp.name == "lip":
		return t.heardTwo(tp, text, "load.lip.height", "load.lip.wheel_radius", "step", "wheel")
	case strings.HasPrefix(path, "anchors[") && strings.HasSuffix(path, ".length"):
		return t.heardTwo(tp, text, path, strings.TrimSuffix(path, "length")+"depth", "long", "deep")
	case strings.HasSuffix(path, ".rating") && unstamped.MatchString(text):
		t.answer(tp, []change{{set: set{path + "_kind", "unmarked"}, how: Told}})
		return true
	}
	field := path[strings.LastIndexByte(path, '.')+1:]
	ok := false
	switch field {
	case "distance", "reach", "lead", "run", "length", "depth", "diameter", "hitch_height", "axle_height", "wheelbase", "cg_height", "wheel_radius":
		_, err := bound.ReadLength(text)
		ok = err == nil
	case "rating", "hitch_rating":
		_, err := bound.ReadForce(text)
		ok = err == nil
	case "mass":
		_, err := bound.ReadMass(text)
		ok = err == nil
	case "front_share", "driven":
		share, good := percentage(text)
		text, ok = share, good
	case "crew", "people", "winch_layer":
		n, err := strconv.Atoi(strings.TrimSuffix(text, " people"))
		text, ok = itoa(n), err == nil && n > 0
	case "sling_angle", "off_line":
		_, err := bound.ReadAngle(text)
		ok = err == nil
	case "side_slope", "slope":
		_, err := bound.ReadSlope(text)
		ok = err == nil
	}
	if !ok {
		return false
	}
	t.answer(tp, []change{{set: set{path, text}, how: Told}})
	return true
}

// unstamped is how people say that a piece bears no figure.
var unstamped = regexp.MustCompile(`(?i)^\W*(?:nothing|none|no (?:stamp|mark|tag|rating|figure)|not (?:stamped|marked|rated)|un(?:marked|rated|readable)|illegible|can'?t read)\b`)

// lengthInText is one length with its unit in a sentence.
var lengthInText = regexp.MustCompile(`(?i)\d[\d.,/ ]*\s*(?:millimet\w+|centimet\w+|met\w+|inch\w*|feet|foot|mm|cm|m|in|ft|"|')(?:\s+\d+\s*(?:in|"))?`)

// heardTwo takes one or two lengths: first and then second, unless the words
// name them the other way round.
func (t *turn) heardTwo(tp topic, text, first, second, firstWord, secondWord string) bool {
	found := lengthInText.FindAllString(text, -1)
	if len(found) == 0 || len(found) > 2 {
		return false
	}
	for _, f := range found {
		if _, err := bound.ReadLength(f); err != nil {
			return false
		}
	}
	if len(found) == 2 {
		low := strings.ToLower(text)
		one, two := strings.Index(low, firstWord), strings.Index(low, secondWord)
		if two >= 0 && one > two {
			found[0], found[1] = found[1], found[0]
		}
	}
	changes := []change{{set: set{first, found[0]}, how: Told}}
	if len(found) == 2 {
		changes = append(changes, change{set: set{second, found[1]}, how: Told})
	}
	t.answer(tp, changes)
	return true
}

// percentage reads a share of a whole.
func percentage(text string) (string, bool) {
	n, ok := strings.CutSuffix(strings.TrimSpace(text), "%")
	if !ok {
		return "", false
	}
	v, err := strconv.ParseFloat(strings.TrimSpace(n), 64)
	if err != nil || !(0 <= v && v <= 100) {
		return "", false
	}
	return strconv.FormatFloat(v/100, 'f', -1, 64), true
}

// skipSpecial does the skips that are more than a value.
func (t *turn) skipSpecial(tp topic) bool {
	switch {
	case tp.name == "ton":
		// The whole span of tons stays: its high end is what counts.
		for _, path := range []string{"load.mass", "puller.mass"} {
			if t.s.Held[heldTon+path] != "" {
				t.act(Act{Do: DoHold, Path: heldTon + path})
			}
		}
	case strings.HasPrefix(tp.name, "level_") || strings.HasPrefix(tp.name, "board_"):
		t.act(Act{Do: DoAsk, Topic: "slope"})
		t.ask()
		return true
	case tp.name == "lip" || tp.name == "holding" || tp.name == "gear_sound" || tp.name == "names" || tp.name == "kit_name" || tp.name == "kit_check":
	default:
		return false
	}
	t.say(wording.ReadUnasked, wording.Args{"What": t.name(tp.name)})
	t.settle(tp.name, Skipped)
	t.next()
	return true
}
