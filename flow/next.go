package flow

import (
	"slices"
	"strings"

	"linetender/calc"
	"linetender/calc/job"
	"linetender/flow/wording"
)

// needs is the event that a place's questions are asked after.
var needs = map[State]Event{
	People: NeedPeople, Weight: NeedWeight, Slope: NeedSlope, Ground: NeedGround, Way: NeedWay, Puller: NeedPuller, Anchor: NeedAnchor,
	AtLoad: NeedLoad, AtAnchor: NeedHold, AtPuller: NeedDrive, AtGear: NeedGear, Crew: NeedCrew,
	Checks: NeedCheck, Signing: NeedSign,
}

// next goes on from wherever the job stands to what is to be found out next,
// and asks it. It says what there is to say on the way: that the job is one
// for others, the first figure, the plan.
func (t *turn) next() {
	if t.err != nil {
		return
	}
	if t.refers("") || t.pulled() || t.easeFirst() || t.askAgain() || t.askDoubt(true) {
		return
	}
	for _, tp := range firstTopics {
		if t.s.Settled[tp.name] == "" && !t.s.waitsForSlack(tp.name) {
			if tp.name != "people" && tp.name != "mass" && t.tonFirst() {
				t.to("ton", Weight)
				return
			}
			t.to(tp.name, tp.state)
			return
		}
	}
	p := t.plan()
	if p == nil {
		// Every first topic is settled, so only one that was skipped without
		// a value of ours can be missing: none may be.
		t.err = errNoPlan
		return
	}
	t.turned()
	t.fitPosts()
	name, at, more := t.later(t.onceRight())
	if t.tonOpen() {
		name, at, more = "ton", AtLoad, true
	}
	if !t.s.Figured {
		if more { // otherwise the plan itself comes at once
			t.figure(p)
		}
		t.act(Act{Do: DoFigure})
		t.recall()
	}
	if more {
		t.to(name, at)
		return
	}
	if t.checking() {
		t.walk()
		return
	}
	t.conclude(p)
}

// pulled goes on with the end of a pull where it stands at one, and reports whether it
// does: to secure the load and take the gear off needs no plan, and what is to be found
// out for one is about a line that nothing is pulled with any more.
func (t *turn) pulled() bool {
	if !t.s.Stage.Lies() || t.s.Stage.needsPlan() || t.s.stop() != nil {
		return false
	}
	if t.s.State != Pulling {
		if t.s.State != Verdict && t.s.State != Checks {
			t.fire(Reopens)
		}
		t.backToPull()
	}
	t.ask()
	return true
}

// to asks a topic at its place. In a hub the job first leaves it.
func (t *turn) to(name string, at State) {
	if e, ok := needs[at]; ok {
		t.fire(e)
	}
	t.act(Act{Do: DoAsk, Topic: name})
	t.ask()
}

// refers hands the job over if what is known says so, and reports whether it did. Of the
// message unread are the words that were not read.
func (t *turn) refers(unread string) bool {
	p := t.onceRight()
	told := hazards(t.s.Sheet)
	if p == nil && len(told) == 0 && t.s.Settled["people"] != "" {
		p = t.beyond()
	}
	if len(told) == 0 && (p == nil || p.Decision != calc.Refer) {
		return false
	}
	t.fire(Refers)
	t.act(Act{Do: DoAsk})
	// What else was understood stands on the card, this comes first, and what was not read
	// is said behind it: nobody is to think that it was kept. So is what was taken because
	// nobody knew: it may be what hands the job over.
	missed := t.missed()
	assumed := slices.DeleteFunc(slices.Clone(t.replies), func(r reply) bool { return r.key != wording.ReadSkipped })
	t.onlyHold()
	if lead := t.s.leadChat(); !t.s.alone() && t.mail.chat != lead && lead != "" {
		// Whoever's words led to it reads that it is so; the reasons and the card to hand over
		// are the lead's.
		t.sayApart(wording.PlanRefer, nil)
		t.inChat(lead, func() { t.refer(p, told) })
	} else {
		t.refer(p, told)
	}
	t.mail.replies = append(t.mail.replies, slices.Concat(assumed, missed)...)
	if unread != "" && !talkOnly.MatchString(unread) {
		t.say(wording.RefusePart, wording.Args{"Text": unread})
	}
	for _, chat := range t.s.chats() {
		if chat != t.mail.chat && chat != t.s.leadChat() && !t.s.alone() {
			t.inChat(chat, func() { t.say(wording.PlanRefer, nil) })
		}
	}
	t.ask()
	return true
}

// missed are the paragraphs that say what of a message could not be read.
func (m *mail) missed() (out []reply) {
	for _, r := range m.replies {
		if r.key == wording.RefusePart {
			out = append(out, r)
		}
	}
	return out
}

func hazards(s job.Sheet) []string {
	if s.Hazards == nil {
		return nil
	}
	return *s.Hazards
}

// tonOpen reports whether a weight's ton is still to be asked about.
func (t *turn) tonOpen() bool {
	return t.s.Settled["ton"] == "" && (t.s.Held[heldTon+"load.mass"] != "" || t.s.Held[heldTon+"puller.mass"] != "")
}

// tonFirst reports whether the ton can be asked about before the first figure
// without making it later than the seventh answer.
func (t *turn) tonFirst() bool {
	if !t.tonOpen() {
		return false
	}
	left := 0
	for _, tp := range firstTopics {
		if t.s.Settled[tp.name] == "" {
			left++
		}
	}
	return t.s.Asked+1+left <= len(firstTopics)
}

// later returns the question whose answer can change the decision most, and
// where it is asked. While people are at a place, what else is to be found
// out there comes first: every walk across a slope costs time and risk. But how deep
// the load sits may be as much again as all that was reckoned.
func (t *turn) later(p *calc.Plan) (string, State, bool) {
	fields := t.wanted(p)
	if tp, ok := t.topicFor(sunk); ok && slices.Contains(fields, sunk) {
		return tp.name, tp.state, true
	}
	var best topic
	found := false
	for _, f := range fields {
		tp, ok := t.topicFor(f)
		if !ok {
			continue
		}
		if !found {
			best, found = tp, true
		}
		if tp.state == t.place() {
			return tp.name, tp.state, true
		}
	}
	return best.name, best.state, found
}

// sunk is how deep the wheels of the load sit.
const sunk = "load.sunk"

// place is where the people are now.
func (t *turn) place() State {
	if slices.Contains(hubs, t.s.State) {
		return t.s.From.State
	}
	return t.s.State
}

// wanted lists the fields of the sheet that could still change the decision,
// the one that changes it most first.
func (t *turn) wanted(p *calc.Plan) []string {
	if p.Decision == calc.NoGo {
		return t.spans()
	}
	out := flips(p)
	if t.s.Held["load.lip.height"] != "" { // a step counts only with its wheel
		out = append(out, "load.lip")
	}
	for _, severity := range []calc.Severity{calc.Block, calc.SignOff} {
		for _, c := range p.Checks {
			switch {
			case c.Result != calc.Unknown || c.OnSite || c.Severity != severity || c.ID == atPeak:
			case c.ID == loadPath:
				out = append(out, lacking(c)...)
			default:
				out = append(out, c.Fields...)
			}
		}
	}
	// What only people on the spot see and what has a question of its own is no
	// item of the list, and is known before a plan may be a go. It is asked once
	// the figures stand.
	out = slices.DeleteFunc(out, looked)
	for _, c := range p.Checks {
		for _, f := range c.Fields {
			if c.Result == calc.Unknown && c.ID != atPeak && (c.OnSite && !ofList(f) || looked(f)) {
				out = append(out, f)
			}
		}
	}
	out = append(out, t.tiesOpen()...)
	// What would be reckoned with as a span is asked before a plan may be a
	// go, because the span is only what is likely.
	for _, f := range spanned {
		if _, said := t.s.Sheet.Get(f.path); !said && !(strings.HasPrefix(f.path, "puller.") && t.s.Sheet.Puller == nil) {
			out = append(out, f.path)
		}
	}
	// The other lengths are told from the anchor of the pull: "from there to the
	// puller" must not come to be from this one.
	if slices.Contains(out, holdReach) {
		out = append(slices.DeleteFunc(out, func(f string) bool { return f == holdReach }), holdReach)
	}
	return out
}

// looked reports whether a field is answered by a look at the place.
func looked(field string) bool {
	if strings.HasSuffix(field, ".side_angle") || strings.HasSuffix(field, ".tied_back") || strings.HasSuffix(field, ".strap_held") {
		return true
	}
	return slices.Contains([]string{"load.off_line", "load.tow_point.condition", "load.holding_point.condition", "puller.side_slope", "puller.rollover_frame"}, strings.Replace(field, "pullers[0]", "puller", 1))
}

// ofList reports whether a field is answered by the list on the spot.
func ofList(field string) bool { return strings.HasPrefix(field, "site.") }

// spanned are the fields that are reckoned with over their whole span while
// nobody has said, and the value that is best for the plan.
var spanned = []set{{"load.locked", "0"}, {"load.off_line", "0 deg"}, {"puller.slope", "0 deg"}}

// worst are the fields that count at their worst while nobody has said, and the
// value that is best. A go needs none of them.
var worst = []set{{"puller.capstan", "true"}, {"puller.winch_layer", "1"}}

// spans lists what could still turn a no-go: what fails stays failed whatever
// else is found out, except by what is reckoned at its worst for want of an
// answer. It is tried: if the best answers to all of it leave a no-go, there
// is nothing more to ask.
func (t *turn) spans() []string {
	best := t.s.Sheet
	var out []string
	for _, f := range slices.Concat(spanned, worst) {
		if _, said := best.Get(f.path); said || strings.HasPrefix(f.path, "puller.") && best.Puller == nil {
			continue
		}
		if tp, ok := topicByName(f.path); ok && tp.apply != nil && !tp.apply(best) {
			continue
		}
		if err := best.Set(f.path, f.value); err != nil {
			t.err = err
			return nil
		}
		out = append(out, f.path)
	}
	if len(out) == 0 {
		return nil
	}
	c, err := best.Case()
	if err != nil || calc.Decide(c) == calc.NoGo {
		return nil
	}
	return out
}

// flips lists the fields that would turn the decision at one end of what is
// known of them. For a no-go what merely is not known yet is left out: it can
// only add to what fails.
func flips(p *calc.Plan) []string {
	unknown := map[string]bool{}
	if p.Decision == calc.NoGo {
		for _, c := range p.Checks {
			if c.Result == calc.Unknown {
				for _, f := range c.Fields {
					unknown[f] = true
				}
			}
		}
	}
	var out []string
	for _, m := range p.Measure {
		if m.CouldFlip && !unknown[m.Field] {
			out = append(out, m.Field)
		}
	}
	return out
}

// loadPath is the check that every piece of the load path is named. Its text
// lists what is not; the fields say only where such things stand.
const loadPath = "R1"

// atPeak is the check of every piece against the puller's most. What it waits
// for other checks ask for, in words of their own.
const atPeak = "R4"

func lacking(c calc.Check) []string {
	_, list, _ := strings.Cut(strings.TrimSuffix(c.Text, "."), ":")
	var out []string
	for _, what := range strings.Split(list, ";") {
		out = append(out, "gear ("+strings.TrimSpace(what)+")")
	}
	return out
}

// topicFor returns the question that fills a field, if it is still open.
func (t *turn) topicFor(field string) (topic, bool) {
	field = strings.Replace(field, "pullers[0]", "puller", 1)
	if strings.HasPrefix(field, "gear") && !t.gearRead() {
		return t.open1("gear")
	}
	switch {
	case strings.HasPrefix(field, "gear (") || strings.HasPrefix(field, "gear(") || field == "gear":
		return t.missingPiece(field)
	case strings.HasPrefix(field, "gear[") && t.soundField(field):
		return t.open1("gear_sound")
	case strings.HasPrefix(field, "load.lip"):
		if t.s.Held["load.lip.height"] != "" {
			return t.open1("wheel_radius")
		}
		return t.open1("lip")
	}
	for _, tp := range laterTopics {
		if slices.Contains(tp.fills, field) {
			if tp, ok := t.open1(tp.name); ok {
				return tp, true
			}
		}
	}
	return t.open1(field)
}

// open1 returns a topic that applies and has had no answer.
func (t *turn) open1(name string) (topic, bool) {
	tp, ok := topicByName(name)
	if !ok || t.s.Settled[name] != "" || t.s.waitsForSlack(name) || tp.apply != nil && !tp.apply(t.s.Sheet) && name != "wheel_radius" {
		return topic{}, false
	}
	return tp, true
}

// gearRead reports whether the gear was laid out and read once.
func (t *turn) gearRead() bool {
	return t.s.Settled["gear"] != "" || slices.ContainsFunc(t.s.Sheet.Gear, func(g job.GearSheet) bool {
		return g.Rating != "" || g.RatingKind != ""
	})
}

// soundField reports whether a field is one that looking over all the gear
// settles at once. A piece of which words were told that say nothing known is
// asked about by itself.
func (t *turn) soundField(field string) bool {
	at, _, _ := strings.Cut(field, "]")
	if cond, _ := t.s.Sheet.Get(at + "].condition"); t.s.Settled["gear_sound"] != "" || cond == "unknown" {
		return false
	}
	for _, end := range []string{".condition", ".improvised", ".knots"} {
		if strings.HasSuffix(field, end) {
			return true
		}
	}
	return false
}

// missingPiece asks for the kind of piece that the load path still lacks.
func (t *turn) missingPiece(what string) (topic, bool) {
	for _, k := range []struct{ says, topic string }{
		{"holding", "holding"}, {"haul", "rope"}, {"rope", "rope"}, {"block of", "block"}, {"-block", "block"},
		{"joins", "shackle"}, {"shackle", "shackle"}, {"sling", "sling"}, {"anchor", "anchor"},
	} {
		if !strings.Contains(what, k.says) {
			continue
		}
		if k.topic == "rope" && t.hasKind("rope") {
			// There is a rope; what is missing is the one that holds.
			return t.open1("holding")
		}
		return t.open1(k.topic)
	}
	return topic{}, false
}
