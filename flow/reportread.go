package flow

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"linetender/calc"
	"linetender/calc/bound"
	"linetender/calc/job"
	"linetender/calc/unit"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// learn puts what was seen on the sheet and says what it did to the figures.
func (t *turn) learn(p *calc.Plan, what string, more map[string]string) {
	if len(t.s.Sheet.Seen) >= mostSeen {
		return
	}
	w := job.SeenSheet{What: what, Parts: &p.Tackle.Parts, HaulFrom: p.Tackle.HaulFrom,
		TookIn: more["took_in"], Moved: more["moved"], Force: more["force"], At: more["at"]}
	if c := p.Tackle.Compound; c != nil {
		w.HauledBy = &c.Parts
	}
	w.Try = new(t.s.Pulls)
	t.nowSeen(&w, p)
	if len(t.s.Sheet.Pullers) > 1 && p.Puller != nil {
		w.Puller = &p.Puller.Place
	}
	trial, err := t.s.Sheet.Clone()
	if err != nil {
		t.err = err
		return
	}
	trial.Seen = append(trial.Seen, w)
	if err := trial.Check(); err != nil {
		t.say(wording.PullNotLearnt, nil)
		return
	}
	n := len(t.s.Sheet.Seen)
	t.addSeen(n, w)
	t.keepsLearnt(n)
	if now := t.plan(); now != nil && n < len(now.Seen) && now.Seen[n].Text != "" && (!t.oddCount || now.Seen[n].Misfit) {
		t.andWatch(func() { t.say(wording.PullLearnt, wording.Args{"Text": now.Seen[n].Text}) })
		t.askAlike(n)
	}
}

// mostSeen bounds what is learnt from in one pull.
const mostSeen = 40

// addSeen writes one thing seen on the sheet, field by field.
func (t *turn) addSeen(n int, w job.SeenSheet) {
	at := "seen[" + itoa(n) + "]."
	put := func(field, value string) {
		if value != "" {
			t.act(Act{Do: DoSet, Path: at + field, Value: value, How: Told})
		}
	}
	number := func(field string, v *int) {
		if v != nil {
			put(field, itoa(*v))
		}
	}
	put("what", w.What)
	number("parts", w.Parts)
	put("haul_from", w.HaulFrom)
	number("hauled_by", w.HauledBy)
	number("lead_blocks", w.Leads)
	number("puller", w.Puller)
	number("try", w.Try)
	put("force", w.Force)
	put("at", w.At)
	put("took_in", w.TookIn)
	put("moved", w.Moved)
	addThen(w, put)
}

var (
	lengthWords = `((?:about |ca |~)?\d+(?:[.,]\d+)?\s*(?:millimet\w+|centimet\w+|met\w+|mm|cm|m|feet|foot|ft|inches|inch|in|'|"|yards?|yd)?)`
	movedWords  = hear.Expression(`\b(?:moved|came|come|went|gained|advanced)\s+(?:up\s+|on\s+|by\s+)?` + lengthWords)
	tookWords   = hear.Expression(`\b(?:took|taken|hauled|pulled|came)\s+(?:in\s+)` + lengthWords)
	forceWords  = hear.Expression(`(\d[\d.,]*\s*(?:kn|n|dan|kgf|kg|t|tonnes?|lbf|lbs?|pounds?))\b`)
	cellWords   = hear.Expression(`\b(cell|load cell|reads?|reading|gauge|dynamometer|scale|haul line|at the load|at the haul|on the haul|at the puller)\b`)
)

// travelled finds how far the load moved and how much rope came in.
func travelled(low string) (moved, tookIn string) {
	took, went := tookWords.FindStringSubmatch(low), movedWords.FindStringSubmatch(tookWords.ReplaceAllString(low, ""))
	if took != nil {
		tookIn = readable(took[1])
	}
	if went != nil {
		moved = readable(went[1])
	}
	if moved == "" {
		moved = inUnitOf(tookIn, went)
	}
	if tookIn == "" {
		tookIn = inUnitOf(moved, took)
	}
	return moved, tookIn
}

// inUnitOf gives a figure without a unit that of the other half of the same count: "moved
// 29 cm took in 31".
func inUnitOf(other string, found []string) string {
	if unit := ofLength.FindString(other); found != nil && unit != "" {
		return readable(strings.TrimSpace(found[1]) + " " + unit)
	}
	return ""
}

// ofACount are the words of a count of what came in and how far the load went.
// With any other among them it may have been somebody else who moved.
var ofACount = regexp.MustCompile(`^(?:(?:ok|okay|yes|and|then|but|yet|only|hardly|barely|now|so|far|just|about|abt|ca|another|more|first|bite|half|done|all|fine|good|well|nicely|slowly|it|its|it's|she|the|load|truck|trailer|car|van|vehicle|wagon|has|we|rope|line|of|` +
	`took|taken|hauled|pulled|in|came|come|up|on|by|a|an|moved|gained|went|advanced|forward|held|holds?|stands?|standing|stopped|mm|cm|m|millimet\w+|centimet\w+|met\w+|ft|feet|foot|inch(?:es)?|yards?|yd)|[~\d][\w.'"]*)$`)

// counted reports whether words are a count and nothing else.
func counted(low string) bool {
	for _, w := range strings.FieldsFunc(low, func(r rune) bool { return strings.ContainsRune(" ,;:!+&\n\t", r) }) {
		if w = strings.TrimRight(w, "."); w != "" && !ofACount.MatchString(w) {
			return false
		}
	}
	return true
}

// cameToStand are words with a count that the puller stands after it.
var cameToStand = regexp.MustCompile(`\b(held|stands|standing|stopped)\b`)

// readable returns a length as it can be read again; empty where it can't.
func readable(text string) string {
	text = strings.TrimSpace(text)
	if _, ok := readLength(text); !ok {
		return ""
	}
	return text
}

// metres writes a length so that it can be read again.
func metres(l unit.Length) string { return unit.Short(fixed(l.Metres())) + " m" }

var firstTravelText = metres(firstTravel)

var wheelWords = regexp.MustCompile(`(?:\bwheel\b.*\b(?:radius|middle|centre|center|hub|axle)|\b(?:radius|middle|centre|center) of (?:the |its |a )?wheels?\b)\D{0,20}` + lengthWords)

// wheelRadius takes how high the middle of the load's wheels is: without it
// nobody can say how far a chock follows.
func (t *turn) wheelRadius(low string) bool {
	m := wheelWords.FindStringSubmatch(low)
	if m == nil {
		return false
	}
	radius := readable(m[1])
	trial := t.s.Sheet
	err := trial.Set("load.wheel_radius", radius)
	if err == nil {
		err = trial.Check()
	}
	if radius == "" || err != nil {
		t.remark(wording.PullWheelUnread, nil)
		return true
	}
	t.act(Act{Do: DoSet, Path: "load.wheel_radius", Value: radius, How: Told})
	t.say(wording.PullWheel, wording.Args{"Text": radius})
	if rest := besideWheel(t.in.Text); rest != "" {
		t.inWords(rest, t.text) // what was told with it is told as if by itself
		return true
	}
	t.ask()
	return true
}

// besideWheel is what of a text says anything beside the wheel's radius.
func besideWheel(text string) string {
	var rest []string
	for _, part := range partsOfText.Split(text, -1) {
		if part = strings.TrimSpace(part); part != "" && !wheelWords.MatchString(strings.ToLower(part)) {
			rest = append(rest, part)
		}
	}
	return strings.Join(rest, ". ")
}

// partsOfText is what ends one part of a text: no point in a figure.
var partsOfText = regexp.MustCompile(`[.;!]+(?:\s|$)|\n|,\s+`)

// readCell returns what a load cell showed, by somebody's words, as it was written and
// where it hangs.
func readCell(low string) (r bound.Reading[unit.Force], force, at string, ok bool) {
	m := forceWords.FindStringSubmatch(low)
	if m == nil || !cellWords.MatchString(low) {
		return r, "", "", false
	}
	force = strings.TrimRight(m[1], ",.")
	r, err := bound.ReadForce(force)
	if err != nil {
		return r, "", "", false
	}
	at = calc.AtHaul
	if strings.Contains(low, "at the load") || strings.Contains(low, "at load") {
		at = calc.AtLoad
	}
	return r, force, at, true
}

// lightAt is what the light tension was to be at a load cell, where that is on or coming.
func (t *turn) lightAt(p *calc.Plan, at string) (light calc.Force, is bool) {
	l, ok := calc.LightLoad(*p)
	if !ok || t.s.Stage != LightTension && t.s.Stage != Tightening {
		return light, false
	}
	if at != calc.AtLoad {
		return l.Haul, true
	}
	n := float64(p.Force.Best) / float64(p.Tackle.Haul.Best)
	return calc.Force{Low: l.Haul.Low.Scale(n), Best: l.Haul.Best.Scale(n), High: l.Haul.High.Scale(n)}, true
}

// tooTight tells all that a load cell shows more than the light tension was to be, and
// has everybody hold; it reports whether it did.
func (t *turn) tooTight(p *calc.Plan, at, text string, reading calc.Force) bool {
	light, is := t.lightAt(p, at)
	if !is || reading.Best <= light.High {
		return false
	}
	t.holdAnew()
	args := wording.Args{"Name": t.whoName(), "Text": wording.Plain(text), "Need": reading, "Haul": light, "Number": t.s.Hold}
	say := func() { t.say(wording.ReadingTooTight, args) }
	t.tellAllAndHere(true, say)
	return true
}

// farReading takes a reading from somebody who is not on the spot, where it is too much:
// it teaches nothing, and everybody holds.
func (t *turn) farReading(text, low string) bool {
	r, _, at, ok := readCell(low)
	p := t.plan()
	if m := t.me(); !ok || m.As != AsCoordinator || p == nil || p.Tackle == nil || p.Force == nil || !t.tooTight(p, at, text, job.CellShows(r)) {
		return false
	}
	t.note(text)
	t.ask()
	return true
}

// readingWords takes what a load cell showed, holds it against the plan and
// learns from it where the load was moving.
func (t *turn) readingWords(text, low string) bool {
	r, force, at, ok := readCell(low)
	if !ok {
		return false
	}
	stage, p := t.s.Stage, t.plan()
	t.act(Act{Do: DoReport, Path: "reading", Value: wording.Plain(text), Reason: force, Topic: at})
	if p == nil || p.Tackle == nil {
		t.remark(wording.ReadNoted, nil)
		return true
	}
	reading := job.CellShows(r)
	c := calc.Compare(*p, at, reading)
	args := wording.Args{"Need": reading, "Haul": c.Predicted}
	switch {
	case stage == LightTension || stage == Tightening:
		if light, is := t.lightAt(p, at); is && !t.tooTight(p, at, text, reading) {
			t.say(wording.ReadingLight, wording.Args{"Need": reading, "Haul": light})
		}
	case c.Verdict == calc.ReadBelow:
		t.say(wording.ReadingBelow, args)
	case c.Verdict == calc.ReadAbove:
		t.holdNow()
		by := wording.Args{"Name": t.whoName(), "Need": reading, "Haul": c.Predicted}
		t.tellAll(true, func() { t.say(wording.ReadingAboveBy, by) })
		t.say(wording.ReadingAbove, args)
	case c.Verdict == calc.ReadWithin:
		t.say(wording.ReadingWithin, args)
	}
	if len(c.Over) > 0 {
		over := c.Over[0]
		t.holdAnew()
		say := func() {
			t.say(wording.ReadingOver, wording.Args{"What": t.pieceName(over.Kind, over.Name, over.Use), "Force": wording.Load{Force: over.Force}})
		}
		t.tellAllAndHere(true, say)
	}
	if tight(stage, t.s) {
		moved, tookIn := travelled(low) // without, it counts as that of a load that stood
		t.learn(p, "reading", map[string]string{"force": force, "at": at, "moved": moved, "took_in": tookIn})
		if _, open := t.readAlone(); open {
			t.say(wording.PullReadMoved, nil)
		}
	}
	t.judged()
	return true
}

// readAlone returns the last thing seen where that is a reading, the last thing
// told too, with which nobody said how far the load moved.
func (t *turn) readAlone() (n int, open bool) {
	n = len(t.s.Sheet.Seen) - 1
	last := len(t.s.Reports) - 1
	return n, n >= 0 && last >= 0 && t.s.Reports[last].Kind == "reading" && t.s.Sheet.Seen[n].What == "reading" && t.s.Sheet.Seen[n].Moved == ""
}

// movedAt takes how far the load moved while a cell showed what was read.
func (t *turn) movedAt(n int, moved, tookIn string) {
	at := "seen[" + itoa(n) + "]."
	t.act(Act{Do: DoSet, Path: at + "moved", Value: moved, How: Told})
	if tookIn != "" {
		t.act(Act{Do: DoSet, Path: at + "took_in", Value: tookIn, How: Told})
	}
	if p := t.plan(); p != nil && n < len(p.Seen) && p.Seen[n].Text != "" && (!t.oddCount || p.Seen[n].Misfit) {
		t.say(wording.PullLearnt, wording.Args{"Text": p.Seen[n].Text})
		t.askAlike(n)
	}
}

// judged has what was seen judged: at once while it moves, else with the plan.
func (t *turn) judged() {
	if !t.s.Stage.Moves() {
		t.replan()
		return
	}
	t.learnt()
	t.ask()
}

// pieceName is what a piece is called: its own name, else its kind and use.
func (t *turn) pieceName(kind, name, use string) string {
	if name != "" {
		return name
	}
	k := kind
	if key := wording.Key("name." + word(kind)); t.e.Words.Has(key) {
		k = t.saying(key)
	}
	if key := wording.Key("use." + word(use)); t.e.Words.Has(key) && use != "" && t.saying(key) != k { // a hitch is no hitch hitch
		if of := t.saying(key); strings.HasPrefix(of, k+" ") {
			return of // nor a block at the load a block block
		}
		return k + " " + t.saying(key)
	}
	return k
}

// fixed writes a figure to the centimetre, rounded down: it is a most.
func fixed(x float64) string { return strconv.FormatFloat(math.Floor(x*100+1e-9)/100, 'f', 2, 64) }
