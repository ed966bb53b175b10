package flow

import (
	"cmp"
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// Two phones may tell two things of one answer. Neither wins by being told
// later, and nothing that is told from another phone lightens what was told
// where the questions are asked: both stand side by side, the job goes by the
// worse, and nothing pulls until the lead, who is on the spot, has said which
// it is.
//
// Source: common practice.

// A Differ is an answer that two phones tell differently, until it is settled.
type Differ struct {
	Number        int
	Path          string // of the sheet
	Was, WasFrom  string // as it stood, and how it was found
	Said, SaidHow string // what the other phone says, and how they know
	By            Person
}

// applyDiffer does one act of the answers that differ.
func (s *Session) applyDiffer(a Act, e Entry) {
	at := slices.IndexFunc(s.Differs, func(d Differ) bool { return d.Path == a.Path })
	switch {
	case a.Do == DoAgree && at >= 0:
		s.whole(a.Path, a.Value)
		s.Differs = slices.Delete(s.Differs, at, at+1)
	case a.Do == DoDiffer:
		s.Differed++
		s.spoilt(a.Path, a.Value)
		d := Differ{Number: s.Differed, Path: a.Path, Was: a.Was, WasFrom: a.Second, Said: a.Value, SaidHow: a.Reason, By: e.Who}
		if at < 0 {
			s.Differs = append(s.Differs, d)
			return
		}
		d.Was, d.WasFrom = s.Differs[at].Was, s.Differs[at].WasFrom // a third value: the lead's own still stands against it
		s.Differs[at] = d
	}
}

// differable reports whether two phones can differ in a field in this way.
// Parts of the list on the spot have rules of their own.
func differable(path string) bool {
	last := path[strings.LastIndexByte(path, '.')+1:]
	return path != "signed" && last != "name" && !strings.HasPrefix(path, "site.") && !strings.HasSuffix(path, "_from")
}

// differs takes what a phone that is not asked the questions of the job tells
// otherwise than they were answered, and reports whether there was any of it.
func (t *turn) differs(text string, h hear.Heard) bool {
	switch t.s.State {
	case Away, Closed, Debrief:
		return false
	}
	facts := t.inPassing(h.Facts)
	if len(facts) == 0 && len(h.Facts) > 0 {
		return false // a machine that is named in passing
	}
	if len(facts) == 0 && h.Act != hear.Change {
		facts = t.contrary(text)
	}
	if m := slopeOnly.FindStringSubmatch(text); m != nil && t.s.State != Pulling && len(facts) == 0 {
		facts = []hear.Fact{{Field: "load.slope", Value: m[1]}}
	} else if h.Act == hear.Change {
		names := t.changeable(h.Object)
		if len(names) != 1 || h.Value == "" {
			return false
		}
		tp, ok := topicByName(names[0])
		if !ok {
			return false
		}
		facts = t.whoIsWho().Listen(h.Value, tp.heard()).Facts
	} else if bareFigure(text) && !t.main() {
		return false // of what it is nobody can tell
	}
	from := map[string]string{}
	for _, f := range facts {
		if of, ok := strings.CutSuffix(f.Field, "_from"); ok {
			from[of] = f.Value
		}
	}
	owner := t.ownerIn(text)
	if owner == "" && h.Act != hear.Change { // a change has said whose answer it is by its name
		owner = t.ownerNamed(text)
	}
	var news []Differ
	for _, f := range t.worstPieces(facts) {
		if t.s.State == Pulling && strings.HasSuffix(f.Field, "slope") && !ofASlope.MatchString(text) {
			continue // a share that is read off or read back
		}
		of, _, _ := strings.Cut(f.Field, ".")
		if (owner == "load" && of == "puller") || (owner == "puller" && of == "load") {
			twin, ok := topicByName(twinOf(topicFilling(f.Field)))
			if !ok {
				continue // it was read of the wrong vehicle
			}
			from[twin.fills0()] = from[f.Field]
			f.Field = twin.fills0()
		}
		was, told := t.s.Sheet.Get(f.Field)
		if f.Field == "hazards" {
			f.Value = allOf(was, f.Value)
		}
		if f.Field == "crew" && !(told && countsAll(text)) {
			continue // so many at one place, or of whom nobody has told yet
		}
		if !differable(f.Field) || told && sameText(was, f.Value) || !told && !t.badNews(f) {
			continue
		}
		d := Differ{Path: f.Field, Said: f.Value, SaidHow: from[f.Field]}
		if d.SaidHow == "" && f.Guess && (f.Field == "load.mass" || f.Field == "load.slope") {
			d.SaidHow = "guess"
		}
		d.Was = was
		d.WasFrom, _ = t.s.Sheet.Get(f.Field + "_from")
		news = append(news, d)
	}
	if len(news) == 0 {
		return false
	}
	t.differ(news)
	return true
}

func sameText(a, b string) bool {
	even := func(s string) string { return strings.ToLower(strings.ReplaceAll(s, " ", "")) }
	return even(a) == even(b)
}

// differ puts what differs beside what stood, has the job go by the worse, and
// tells both sides.
func (t *turn) differ(news []Differ) {
	t.holdNow() // whoever is right: nothing pulls meanwhile
	var worse []change
	for _, d := range news {
		if known := t.s.differing(d.Path); known != nil && (sameText(d.Said, known.Was) || sameText(d.Said, known.Said)) {
			continue // it is one of the two that the lead is asked about
		}
		heavier := d.Path != "crew" && t.worse(d.Path, d.Said) // of people nobody loses a post by another's count
		if t.s.differing(d.Path) != nil && !heavier {
			continue // no better than what is gone by, and not that of the lead
		}
		t.act(Act{Do: DoDiffer, Path: d.Path, Value: d.Said, Was: d.Was, Second: d.WasFrom, Reason: d.SaidHow})
		if heavier {
			worse = append(worse, d.sets(d.Said, d.SaidHow)...)
		}
	}
	k := wording.JoinSays
	if m := t.me(); m.As == AsCoordinator {
		k = wording.JoinAmended
	}
	t.inChat(t.s.leadChat(), func() {
		t.say(k, wording.Args{"Name": t.whoName(), "Text": wording.Plain(t.in.Text)})
		t.goBy(worse)
	})
	t.note(t.in.Text)
	for _, d := range news {
		if d := t.s.differing(d.Path); d != nil {
			k, args := wording.DifferTold, t.sides(*d)
			if !t.goesByWorse(*d) {
				k = wording.DifferToldOpen
				delete(args, "Result")
			}
			t.say(k, args)
		}
	}
	t.ask()
}

// goBy has the job go by other values from here, wherever it stands.
func (t *turn) goBy(changes []change) {
	switch t.s.State {
	case Halted: // the stop comes first; what follows from it comes after
		t.put(changes)
		return
	case Verdict, Referred, Pulling:
		if len(changes) == 0 {
			return
		}
		t.fire(Reopens)
		t.act(Act{Do: DoAsk})
		t.put(changes)
		t.next()
	case Checks, Signing:
		if len(changes) > 0 {
			t.put(changes)
			t.next()
		}
	default:
		t.put(changes)
		if !t.refers("") {
			t.turned()
		}
	}
}

// sets are the changes that make the answer one of the two.
func (d Differ) sets(value, from string) []change {
	out := []change{{set: set{d.Path, value}, how: Told}}
	if from != "" {
		out = append(out, change{set: set{d.Path + "_from", from}, how: Told})
	}
	return out
}

func (s *Session) differing(path string) *Differ {
	for i := range s.Differs {
		if s.Differs[i].Path == path {
			return &s.Differs[i]
		}
	}
	return nil
}

// goesByWorse reports whether the job goes by the worse of two answers, as far as
// they can be told apart: it is worse than either other.
func (t *turn) goesByWorse(d Differ) bool {
	now, _ := t.s.Sheet.Get(d.Path)
	return slices.ContainsFunc([]string{d.Said, d.Was}, func(v string) bool { return t.heldAgainst(d.Path, now, v) > 0 }) &&
		!slices.ContainsFunc([]string{d.Said, d.Was}, func(v string) bool { return !sameText(now, v) && t.heldAgainst(d.Path, now, v) <= 0 })
}

// wantDiffer asks the lead which of two answers it is.
func (t *turn) wantDiffer(chat string) want {
	if len(t.s.Differs) == 0 || chat != t.s.leadChat() && !t.onSpot(chat) {
		return want{}
	}
	switch t.s.State {
	case Halted, Away, Closed, Debrief:
		return want{}
	}
	if chat != t.s.leadChat() {
		return t.wantLook(chat)
	}
	d := t.s.Differs[0]
	if t.looksWait(d) {
		return want{id: "differs-" + itoa(d.Number) + "-tight", say: func() {
			t.say(wording.DifferAskTight, wording.Args{"What": t.whatOf(d.Path), "Name": d.By.Name, "Text": t.side(d.Path, d.Said, d.SaidHow)})
			t.offerSides(d)
		}}
	}
	return want{id: "differs-" + itoa(d.Number), say: func() {
		if t.ofHurt(d) || t.lookBy(d) != nil {
			t.say(wording.DifferHurtWaits, wording.Args{"Text": t.side(d.Path, d.Said, "")})
			t.offerSides(d)
			return
		}
		k, args := wording.DifferAsk, t.sides(d)
		if !t.goesByWorse(d) {
			k = wording.DifferAskOpen
			delete(args, "Result")
		}
		t.say(k, args)
		t.offerSides(d)
	}}
}

// offerSides offers which of the two it is, and the stop where a line lies.
func (t *turn) offerSides(d Differ) {
	n := itoa(d.Number)
	t.offers = []offer{{choice: "differ." + n + ".said", label: t.side(d.Path, d.Said, "")}}
	if !t.looksWait(d) {
		t.offers = append(t.offers, offer{choice: "differ." + n + ".was", label: t.side(d.Path, d.Was, "")})
	}
	if t.s.Stage.Lies() {
		t.offers = append(t.offers, offer{choice: choiceStop})
	}
}

// differPress takes which of the two it is. A press for one that is settled, or
// was told anew, does nothing.
func (t *turn) differPress(choice string) bool {
	rest, ok := strings.CutPrefix(choice, "differ.")
	if !ok {
		return false
	}
	n, side, _ := strings.Cut(rest, ".")
	for _, d := range t.s.Differs {
		if itoa(d.Number) != n {
			continue
		}
		if !t.isLead() && !(t.waved(d) && t.looksToo(d)) {
			t.aside1(wording.SeatNotYours, wording.Args{"Name": t.s.Lead.Name})
			return true
		}
		if side == "said" {
			t.said = t.side(d.Path, d.Said, "")
			t.agree(d, d.Said, d.SaidHow)
		} else {
			t.said = t.side(d.Path, d.Was, "")
			t.agreeWas(d)
		}
		return true
	}
	t.notice = true
	t.say(wording.RefuseStaleShort, nil)
	return true
}

// differWords takes it in words: one of the two, a third value measured since,
// or that nobody knows, with which the worse stands.
func (t *turn) differWords(text string) bool {
	if !t.isLead() || t.in.Chat != t.s.leadChat() || t.want(t.in.Chat).id != t.wantDiffer(t.in.Chat).id || len(t.s.Differs) == 0 {
		return false
	}
	d := t.s.Differs[0]
	plain := strings.Trim(text, " .![]")
	switch {
	case sameText(plain, d.Said), sameText(plain, t.side(d.Path, d.Said, "")):
		t.agree(d, d.Said, d.SaidHow)
		return true
	case plain != "" && sameText(plain, d.Was), sameText(plain, t.side(d.Path, d.Was, "")), t.owesEyes(d) && (wavedOff.MatchString(strings.ToLower(plain)) || t.saysLooked(text)):
		t.agreeWas(d)
		return true
	}
	switch t.sideNamed(d, plain) {
	case sideSaid:
		t.agree(d, d.Said, d.SaidHow)
		return true
	case sideWas:
		t.agreeWas(d)
		return true
	}
	tp, _ := topicByName(topicFilling(d.Path))
	h := t.whoIsWho().Listen(text, tp.heard())
	from := ""
	facts := t.worstPieces(h.Facts)
	for _, f := range facts {
		if f.Field == d.Path+"_from" {
			from = f.Value
		}
	}
	for _, f := range facts {
		if f.Field != d.Path {
			continue
		}
		switch {
		case sameText(f.Value, d.Said):
			from = cmp.Or(from, d.SaidHow)
		case sameText(f.Value, d.Was):
			from = cmp.Or(from, d.WasFrom)
		}
		if t.owesEyes(d) && (sameText(f.Value, d.Was) || !d.against() && t.heldAgainst(d.Path, f.Value, d.Said) < 0) {
			t.agreeWas(d)
			return true
		}
		t.agree(d, f.Value, from)
		return true
	}
	switch h.Act {
	case hear.Skip:
		if !t.goesByWorse(d) {
			t.remark(wording.DifferLookOpen, nil)
			return true
		}
		now, _ := t.s.Sheet.Get(d.Path)
		from, _ := t.s.Sheet.Get(d.Path + "_from")
		t.agree(d, now, from)
	case hear.Help:
		if !t.goesByWorse(d) {
			t.remark(wording.DifferLookOpen, nil)
			return true
		}
		t.remark(wording.DifferLook, nil)
	case hear.Why:
		t.remark(wording.DifferWhy, nil)
	default:
		return false
	}
	return true
}

// agree settles it: the lead, or of damage another who has looked, has said which
// it is.
func (t *turn) agree(d Differ, value, from string) {
	if t.owesHow(d, value, from) {
		return
	}
	t.act(Act{Do: DoAgree, Path: d.Path, Value: value})
	told := func() {
		t.say(wording.DifferSettled, wording.Args{"What": t.whatOf(d.Path), "Name": t.whoName(), "Text": t.side(d.Path, value, "")})
	}
	for _, m := range t.s.present() {
		if m.Chat != t.in.Chat && (m.As == AsCoordinator || m.ID == d.By.ID || m.ID == t.s.Lead.ID) {
			t.inChat(m.Chat, told)
		}
	}
	told()
	now, _ := t.s.Sheet.Get(d.Path)
	if nowFrom, _ := t.s.Sheet.Get(d.Path + "_from"); !sameText(now, value) || nowFrom != from {
		t.inChat(t.s.leadChat(), func() { t.goBy(d.sets(value, from)) })
	} else {
		t.onward()
	}
	t.ask()
}

// settledBy notes that the lead has told anew what two phones differed in.
func (t *turn) settledBy(path string) {
	if d := t.s.differing(path); d != nil && t.isLead() && !t.owesEyes(*d) {
		t.act(Act{Do: DoAgree, Path: path})
	}
}
