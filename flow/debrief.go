package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/calc"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// The debrief, before anybody leaves: what was meant and what happened, what
// nearly went wrong in people's own words, which gear is not used again, and
// one line for the next crew.

// Nearly is a near miss in somebody's words.
type Nearly struct {
	By   Person
	Text string
	At   string
}

// A Row holds one thing that was planned against what happened.
type Row struct{ What, Planned, Happened string }

// debriefParts are what the lead is asked, in order: first how the load was
// left, without which no job is closed (left.go). Each takes any words.
var debriefParts = []string{"end", "rests", "warned", "went", "surprise", "near", "shock", "gear", "keep", "change", "lesson"}

// debrief keeps the answer to one part.
func (s *Session) debrief(a Act, e Entry) {
	switch {
	case a.Path == "row":
		s.Rows = append(s.Rows, Row{What: a.Topic, Planned: a.Was, Happened: a.Value})
	case a.Path == "near":
		if a.Value != "" {
			s.Near = append(s.Near, Nearly{By: e.Who, Text: a.Value, At: e.At})
		}
		s.Past["near:"+e.Who.ID] = "said"
	default:
		value := a.Value
		if value == "" {
			value = "-"
		}
		s.Past[a.Path] = value
		if a.Path == "shock" && value == noShock && s.askShock() { // nothing else shook the line
			s.Worn = slices.DeleteFunc(slices.Clone(s.Worn), func(w Worn) bool { return w.Told == "" })
		}
	}
}

// toDebrief ends the pull: the gear is off and looked over.
func (t *turn) toDebrief() {
	t.fire(Debriefs)
	t.act(Act{Do: DoAsk})
	for _, r := range t.rows() {
		t.act(Act{Do: DoDebrief, Path: "row", Topic: r.What, Was: r.Planned, Value: r.Happened})
	}
	say := func() {
		t.say(wording.DebriefHead, nil)
		for _, r := range t.s.Rows {
			t.say(wording.DebriefRow, wording.Args{"What": r.What, "Text": r.Planned, "Result": r.Happened})
		}
	}
	t.tellAllAndHere(false, say)
	t.ask()
}

// rows hold what was planned against what happened.
func (t *turn) rows() []Row {
	row := func(k wording.Key, planned, happened string) Row { return Row{t.saying(k), planned, happened} }
	var out []Row
	none := t.saying(wording.RowNotTold)
	p := t.pulledPlan(false)
	parts := none
	if p != nil && p.Tackle != nil {
		parts = itoa(p.Tackle.Parts)
	}
	out = append(out, row(wording.RowParts, parts, t.sayingWith(wording.RowRerigs, wording.Args{"Number": t.s.Rerigs})))
	bites := none
	if p != nil && p.Travel != nil && p.Travel.Bites != nil {
		bites = itoa(*p.Travel.Bites)
	}
	out = append(out, row(wording.RowBites, bites, itoa(t.s.bitten())))
	way, _ := t.s.Sheet.Get("distance")
	if way == "" {
		way = none
	}
	out = append(out, row(wording.RowWay, way, t.sayingWith(wording.RowWayGone, wording.Args{"Length": t.s.gone()})))
	haul := none
	if p != nil && p.Tackle != nil {
		haul = t.sayingWith(wording.RowHaul, wording.Args{"Haul": p.Tackle.Haul})
	}
	read := t.saying(wording.RowNotRead)
	for _, r := range t.s.Reports {
		if r.Kind == "reading" {
			read = r.Words
		}
	}
	out = append(out, row(wording.RowForce, haul, read))
	stops, slips := 0, t.s.timesSeen("slips")+t.s.timesSeen("stuck")
	for _, s := range t.s.Stops {
		if !s.Drill {
			stops++
		}
	}
	return append(out, row(wording.RowStops, "0", itoa(stops)), row(wording.RowSlips, "0", itoa(slips)))
}

// timesSeen is how often a thing was seen in the pull: as it was told, and as the
// reason for a stop with which it was not told as well.
func (s *Session) timesSeen(kind string) int {
	n := 0
	for _, r := range s.Reports {
		if r.Kind == kind {
			n++
		}
	}
	for _, stop := range s.Stops {
		if stop.Drill || stop.Stage == NotBegun || !slices.Contains(stop.causes(), kind) {
			continue
		}
		with := func(r Report) bool {
			return r.Kind == kind && r.At >= stop.At && (stop.Over == "" || r.At <= stop.Over)
		}
		if !slices.ContainsFunc(s.Reports, with) {
			n++
		}
	}
	return n
}

// wantDebrief asks the lead part by part, and everybody else what nearly went
// wrong.
func (t *turn) wantDebrief(chat string) want {
	if t.s.State != Debrief {
		return want{}
	}
	if chat != t.s.leadChat() {
		if t.s.Past["near:"+t.memberIn(chat)] != "" {
			return want{id: "debrief-done", say: func() { t.say(wording.DebriefThanks, wording.Args{"Name": t.s.Lead.Name}) }}
		}
		return want{id: "debrief-near", say: func() {
			t.say(wording.DebriefNear, nil)
			t.offers = []offer{t.debriefButton("near")}
		}}
	}
	part := t.debriefPart()
	return want{id: "debrief-" + part, say: func() {
		if part == "end" {
			t.sayWay()
		}
		t.say(wording.Key("debrief."+part), nil)
		t.offers = nil
		switch part {
		case "end":
			t.offers = t.endOffers()
			return
		case "shock":
			t.offers = t.shockOffers()
			return
		case "rests", "warned":
			return
		}
		if part != "close" {
			t.offers = append(t.offers, t.debriefButton(part))
		} else {
			t.offers = append(t.offers, offer{choice: "debrief.close", label: t.saying(wording.ChoiceDebriefClose)})
		}
	}}
}

func (t *turn) debriefButton(part string) offer {
	k := wording.ChoiceDebriefNone
	if part == "went" {
		k = wording.ChoiceDebriefPlanned
	}
	return offer{choice: "debrief." + part, label: t.saying(k)}
}

// debriefPart is what the lead is asked next.
func (t *turn) debriefPart() string {
	for _, part := range debriefParts {
		at := part
		if part == "near" {
			at = "near:" + t.s.Lead.ID
		}
		if part == "warned" && t.s.Past["undone"] == "" || part == "shock" && !t.s.askShock() {
			continue
		}
		if t.s.Past[at] == "" {
			return part
		}
	}
	return "close"
}

// memberIn is the one whose own chat it is; empty where several share it.
func (t *turn) memberIn(chat string) string {
	for _, m := range t.s.present() {
		if m.Chat == chat {
			return m.ID
		}
	}
	return ""
}

// debriefPress takes that there is nothing to a part, or the end.
func (t *turn) debriefPress(part string) {
	if t.s.State != Debrief {
		t.notice = true
		t.say(wording.RefuseStaleShort, nil)
		return
	}
	switch {
	case part == "near":
		t.said = t.saying(wording.ChoiceDebriefNone)
		t.debriefed("near", "")
	case !t.leads():
	case part == "close" && t.debriefPart() == "close":
		t.said = t.saying(wording.ChoiceDebriefClose)
		t.endJob()
	case part == "there" && t.debriefPart() == "end", part == "short" && t.debriefPart() == "end":
		t.ended(part == "there")
	case slices.Contains([]string{"calm", "snapped", "unsure"}, part) && t.debriefPart() == "shock":
		t.said = t.saying(wording.Key("choice.debrief_" + part))
		value := t.said
		if part == "calm" {
			value = noShock
		}
		t.debriefed("shock", value)
	case part != t.debriefPart() || mustSay(part):
		t.notice = true
		t.say(wording.RefuseStaleShort, nil)
	default:
		text := ""
		if part == "went" {
			text = t.saying(wording.ChoiceDebriefPlanned)
		}
		t.said = t.debriefButton(part).label
		t.debriefed(part, text)
	}
}

// debriefWords takes words as the answer to what is asked in the chat.
func (t *turn) debriefWords(text, low string) bool {
	if t.s.State != Debrief || t.me() == nil {
		return false
	}
	switch low {
	case "so far", "leave", "words", "plan", "how", "why", "new":
		return false
	case "close", "done", "finish", "finished":
		if t.main() && t.isLead() {
			t.endJob()
			return true
		}
	}
	if strings.HasPrefix(low, "note ") {
		return false
	}
	part := "near"
	if t.main() && t.isLead() {
		if part = t.debriefPart(); part == "close" {
			return false
		}
	}
	if mustSay(part) {
		t.tellsEnd(part, wording.Plain(text), low)
		return true
	}
	if part == "shock" {
		t.tellsShock(wording.Plain(text), low)
		return true
	}
	if low == "no" || low == "none" || low == "nothing" {
		text = ""
	}
	t.debriefed(part, wording.Plain(text))
	return true
}

func (t *turn) debriefed(part, text string) {
	if part == "gear" && t.s.Held[heldMarked] == "" && len(hear.Marks(text)) > 0 && len(t.s.shown(text)) == 0 {
		t.act(Act{Do: DoHold, Path: heldMarked, Value: "yes"})
		t.note(text)
		t.remark(wording.DebriefWhichPiece, nil)
		return
	}
	if part == "gear" && text != "" && t.s.Held[heldMarked] == "" && len(hear.Marks(text)) == 0 && !saysUndamaged(text) {
		t.act(Act{Do: DoHold, Path: heldMarked, Value: "yes"})
		t.note(text)
		t.remark(wording.DebriefNoPiece, nil)
		return
	}
	t.act(Act{Do: DoDebrief, Path: part, Value: text})
	if part == "near" && text != "" {
		if chat := t.s.leadChat(); chat != t.in.Chat {
			t.inChat(chat, func() { t.say(wording.DebriefNearBy, wording.Args{"Name": t.whoName(), "Text": text}) })
		}
	}
	if part == "gear" || t.s.Past["gear"] != "" && len(t.s.shown(text)) > 0 {
		t.retired()
	}
	t.ask()
}

// saysUndamaged reports whether words say that no piece shows anything.
func saysUndamaged(text string) bool {
	low := hear.Lowered(strings.Trim(text, " .!"))
	return deniedGood.MatchString(low) || lookedAll.MatchString(low) || allWell.MatchString(low) || nothingWrong.MatchString(low) || deniesAny.MatchString(low)
}

// deniesAny begins what denies that there is anything to tell.
var deniesAny = regexp.MustCompile(`^(?:no|none|nope|nothing|not (?:a|one|any)|nah)\b`)

// heldMarked stands once it was asked which piece shows what was told.
const heldMarked = "which-piece"

// retired says which gear is not used again, or not before somebody competent
// has looked at it.
func (t *turn) retired() {
	list := t.retire()
	if names := t.missingNames(); len(names) > 0 {
		t.say(wording.RetireMissing, wording.Args{"Names": names})
	}
	if len(list) == 0 {
		t.say(wording.RetireNone, nil)
		return
	}
	t.say(wording.RetireHead, nil)
	var lines wording.Lines
	for _, r := range list {
		why := ""
		for i, reason := range r.Reasons {
			if i > 0 {
				why += " "
			}
			why += reason.Text
		}
		lines = append(lines, t.sayingWith(wording.Key("retire."+word(r.Do)), wording.Args{"What": t.pieceName(r.Kind, r.Name, r.Use), "Why": why}))
	}
	t.list(lines)
}

// retire lists the gear that the pull has made doubtful.
func (t *turn) retire() []calc.Retired {
	p := t.pulledPlan(t.s.timesSeen("stuck") > 0)
	if p == nil { // what was told is told without one as well
		p = &calc.Plan{}
	}
	list, err := calc.Retire(*p, t.s.Wear())
	if err != nil {
		t.err = err
		return nil
	}
	return list
}

// endJob closes the job: report and card are offered, and the line for the
// next crew is kept with the chat.
func (t *turn) endJob() {
	if t.s.State != Debrief {
		t.remark(wording.RefuseNotHere, nil)
		return
	}
	if mustSay(t.debriefPart()) {
		t.remark(wording.DebriefMust, nil)
		return
	}
	t.fire(Closes)
	t.act(Act{Do: DoAsk})
	t.keepLesson()
	say := func() {
		t.say(wording.DebriefOver, wording.Args{"Code": t.s.Code})
		t.sayLeft()
		t.show(ShowReport, wording.ShowReport)
		t.show(ShowCard, wording.ShowCard)
	}
	t.tellAllAndHere(false, say)
	t.ask()
}
