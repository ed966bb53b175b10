package flow

import (
	"slices"

	"linetender/calc"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// Somebody at the rope is what the whole list is there to prevent, and it is told
// at any moment, whatever is asked then: in a hold, in a question that is asked
// again, in the middle of a yes. So these words are read before any question is
// answered. Once something is rigged they are a stop. Before that they are a no to
// the item of the list that they are about, and so is that somebody is not fit to
// take part; that it rains opens what rain could have changed. A stop too many
// costs a minute.

// aSide and below tell which item of the list it is about.
var (
	aSide = hear.Expression(`\bbetween\b`)
	below = hear.Expression(`\b(?:under|underneath|behind|in front of|front of|downhill|below)\b`)
)

// someoneNear returns which item of the list somebody who is told to be near
// the rig is a no to; empty for nobody. One of the crew by the line counts while
// nobody has hands on the gear, and somebody named and no more once it lies.
func (t *turn) someoneNear(text string) string {
	for _, d := range t.told(text) {
		switch {
		case !d.Is(hear.Near),
			d.Crew && (t.s.Stage.Hands() || t.s.Stage == GearCheck),
			d.Bare && !t.s.Stage.Rigged():
		case aSide.MatchString(d.Said):
			return "between"
		case below.MatchString(d.Said):
			return "under"
		default:
			return "clear"
		}
	}
	return ""
}

// nearEarly takes that somebody is by it where nothing is asked that this could be
// an answer to: at the first question, in a job for others and in one that was
// left. What is hurt, trapped or inside is an answer to the first.
func (t *turn) nearEarly(text string) bool {
	hazard := slices.ContainsFunc(t.whoIsWho().Listen(text, hear.TopicPeople).Facts, func(f hear.Fact) bool { return f.Field == "hazards" })
	if t.someoneNear(text) == "" || hazard {
		return false
	}
	if t.s.Stage.Rigged() && t.s.State != Referred {
		t.haltSeen("inside", text)
		return true
	}
	t.note(text)
	k := wording.StopNear
	if t.s.State == Referred {
		k = wording.StopNearReferred
	}
	t.remark(k, nil)
	return true
}

// bareNamed reports whether a message is somebody named and no more.
func (t *turn) bareNamed(text string) bool {
	d, ok := t.tellsOf(text, hear.Near)
	return ok && d.Bare
}

// crewNames are all names by which people of the crew go.
func (t *turn) crewNames() []string {
	out := slices.Clone(t.s.Crew)
	for _, s := range t.s.Seats {
		out = append(out, s.Name)
	}
	for _, m := range t.s.present(AsLead, AsCrew) {
		out = append(out, m.Name)
	}
	return slices.DeleteFunc(out, func(n string) bool { return n == "" })
}

// dangers takes what must be heard whatever is asked, from anybody of the job
// who sees it, and reports whether there was any of it.
func (t *turn) dangers(text string) bool {
	m := t.me()
	switch t.s.State {
	case Halted, Closed, Debrief:
		return false
	case Away, Referred, People:
		return m != nil && t.nearEarly(text)
	}
	if m == nil {
		return false
	}
	near, rain := t.someoneNear(text), t.rainsNow(text)
	if near == "" && (t.unfitTold(text) || t.kidTold(text) || t.stormTold(text)) {
		return true
	}
	lies := t.s.Stage.Rigged()
	switch {
	case near != "" && lies:
		if rain {
			t.reopenFor(calc.Rain)
		}
		t.haltSeen("inside", text)
	case near != "" && t.listBegun():
		if rain {
			t.reopenFor(calc.Rain)
		}
		t.failsNow(near, text)
	case rain:
		if t.main() && !lies && t.tells(text) { // what is told with it counts, and is asked again as well
			t.hearFacts(t.whoIsWho().Listen(text, hear.TopicNone), false)
		}
		t.rains()
	case near != "" && !t.tells(text):
		t.note(text)
		t.remark(wording.StopNear, nil)
	case t.smoker(text):
		t.note(text)
		t.remark(wording.StopSmoker, nil)
	case t.bareNamed(text) && !t.tells(text):
		t.note(text)
		t.remark(wording.StopHint, nil)
	default:
		return false
	}
	return true
}

// smokes are words that somebody does, and machine what does it and is nobody.
var (
	smokes   = hear.Expression(`^(?:the |a |an |some )?(\pL+)\b.*\b(?:smoking|smokes|vaping|vapes|cigarettes?|ciggies|ciggy|fags?|roll-?up)\b`)
	machine1 = hear.Expression(`^(?:it|its|engine|engines|battery|batteries|tractor|truck|lorry|van|car|digger|winch|motor|machine|brakes?|clutch|exhaust|wheels?|tyres?|tires?|rope|line|block|bonnet|hood|wiring|wires?|load|something|theres|there|no|nobody|not|puller|bearing|hub|axle|belt|is|are)$`)
)

// smoker reports whether words tell of somebody who smokes, and of no machine that does.
func (t *turn) smoker(text string) bool {
	low := hear.Lowered(text)
	m := smokes.FindStringSubmatch(low)
	return m != nil && !machine1.MatchString(m[1]) && !isQuestion(low)
}

// tells reports whether words answer what is asked, or tell something else of
// the job.
func (t *turn) tells(text string) bool {
	topic := hear.TopicNone
	if tp, ok := topicByName(t.s.Topic); ok && t.main() {
		topic = tp.heard()
	}
	return len(t.whoIsWho().Listen(text, topic).Facts) > 0
}

// listBegun reports whether anything of the list on the spot has been answered,
// or is asked now.
func (t *turn) listBegun() bool {
	if t.checking() && t.s.State == Checks {
		return true
	}
	return slices.ContainsFunc(siteChecks, func(c siteCheck) bool {
		return t.s.Settled[c.path()] != "" || t.s.Marks[c.path()].Value != ""
	})
}
