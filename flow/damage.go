package flow

import (
	"regexp"
	"slices"
	"strings"
	"time"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// Damage that somebody told of takes the piece out at once, whoever told it and
// however unsure. Who waves it away is not enough to bring it back: somebody else
// on the spot has to have looked at it too.
//
// Source: common practice.

// wavedOff are words by which damage is waved away.
var wavedOff = regexp.MustCompile(`^(?:(?:no|nah|nope|oh|that'?s|thats|it'?s|its|it is|this is|just|only|looks?|is)\b[ ,]*)*(?:just |only )?(?:paint|dirt|mud|rust|a mark|a scratch|scratch\w*|cosmetic|surface|old|nothing|fine|ok|okay|good|sound|all right|alright|no damage|not damaged|undamaged)$`)

// whole are words that something is not damaged.
var whole = regexp.MustCompile(`(?i)\b(?:good|fine|sound|ok|okay|whole|alive)\b`)

// askew are words that a piece is not loaded in its own line, or works loose.
var askew = hear.Expression(`\b(?:(?:cross|side|point|tip|gate|edge)[- ]?load(?:ed|ing|s)?|loaded (?:sideways|side ?on|across|off ?cent(?:re|er)|on (?:its|the) (?:side|tip|pin))|(?:sits?|sitting|is|are|gone|turned|went|pulled|pulling|lies|hangs|hanging) (?:\w+ )?(?:sideways|skew|askew|crooked|cocked|cock-eyed|twisted round|side ?on)` +
	`|pins? (?:is |has |are )?(?:turning|turned|backing out|backed out|coming out|working (?:out|loose)|walking out|unscrewing|unscrewed|undoing))\b`)

var nonWord = regexp.MustCompile(`[^\pL\d]+`)

// askewFacts are that of the pieces which a message names: what they can bear so is not
// known before somebody has looked at them.
func (t *turn) askewFacts(text string) []hear.Fact {
	low := hear.Lowered(text)
	if !askew.MatchString(low) || noMore.MatchString(low) {
		return nil
	}
	words := " " + strings.Join(nonWord.Split(low, -1), " ") + " "
	named := func(word string) bool {
		return word != "" && (strings.Contains(words, " "+strings.ToLower(word)+" ") || strings.Contains(words, " "+strings.ToLower(word)+"s "))
	}
	var out []hear.Fact
	for i, g := range t.s.Sheet.Gear {
		if named(g.Name) || named(g.Kind) || g.Kind == "shackle" && (named("pin") || named("bow")) {
			out = append(out, hear.Fact{Field: "gear[" + itoa(i) + "].condition", Value: "unknown"})
		}
	}
	return out
}

// saysLooked reports whether a message names somebody else who has looked, and
// says that it is whole.
func (t *turn) saysLooked(text string) bool {
	_, looked := t.whoLooked()
	return looked && whole.MatchString(text) && !noMore.MatchString(text) && len(t.damageFacts(text)) == 0
}

// damaged reports whether two phones differ in whether something is whole.
func damaged(d Differ) bool {
	return strings.HasSuffix(d.Path, ".condition") && d.Was == "good" || strings.HasSuffix(d.Path, ".alive") && d.Was == "true"
}

// against reports whether one of the two says that something is damaged, or that a
// danger is there: the word of whoever leads alone does not lift that.
func (d Differ) against() bool { return damaged(d) || d.Path == "hazards" && adds(d.Was, d.Said) }

// damageFacts are those of a message that tell of damage to what is there.
func (t *turn) damageFacts(text string) []hear.Fact {
	if low := strings.ToLower(text); isQuestion(low) || hear.HeardOnly(low) {
		return nil
	}
	facts := t.worstPieces(t.whoIsWho().Listen(calledOff.ReplaceAllString(text, ""), hear.TopicNone).Facts)
	for _, f := range t.badAnchors(text) {
		if !slices.ContainsFunc(facts, func(o hear.Fact) bool { return o.Field == f.Field }) {
			facts = append(facts, f)
		}
	}
	for _, f := range t.askewFacts(text) {
		if !slices.ContainsFunc(facts, func(o hear.Fact) bool { return o.Field == f.Field }) {
			facts = append(facts, f)
		}
	}
	if len(facts) == 0 {
		facts = t.pointFacts(text)
	}
	return slices.DeleteFunc(facts, func(f hear.Fact) bool {
		return strings.Contains(f.Field, "[+") || !(strings.HasSuffix(f.Field, ".condition") && f.Value != "good" || strings.HasSuffix(f.Field, ".alive") && f.Value == "false")
	})
}

// newDamage is what of that the sheet does not say yet.
func (t *turn) newDamage(text string) []change {
	var out []change
	for _, f := range t.damageFacts(text) {
		if was, _ := t.s.Sheet.Get(f.Field); !sameText(was, f.Value) {
			out = append(out, change{set: set{f.Field, f.Value}, how: Told})
		}
	}
	return append(out, t.tiesGone(text)...)
}

// damageNow takes out what somebody tells damage of while all stand still.
func (t *turn) damageNow(text string) {
	if t.s.Stage.GearOff() {
		if len(hear.Marks(text)) > 0 {
			t.act(Act{Do: DoReport, Path: tallied, Value: wording.Plain(text)})
		}
		return
	}
	t.hitchDoubted(text)
	var news []Differ
	var worse []change
	for _, c := range t.newDamage(text) {
		was, _ := t.s.Sheet.Get(c.path)
		if d := (Differ{Path: c.path, Said: c.value, Was: was}); damaged(d) && !t.s.alone() {
			news = append(news, d)
			continue
		}
		worse = append(worse, c)
	}
	if len(news) > 0 {
		t.differ(news)
	}
	if len(worse) > 0 {
		t.goBy(worse)
	}
}

// tellsDamage takes out what the lead tells damage of in a pull, and reports whether that
// was told: "the sling got a cut, rest fine".
func (t *turn) tellsDamage() bool {
	worse := t.newDamage(t.in.Text)
	if len(worse) == 0 {
		return false
	}
	t.note(t.in.Text)
	t.goBy(worse)
	return true
}

// waved reports whether the lead has waved damage away that nobody else has
// looked at yet.
func (t *turn) waved(d Differ) bool { return t.s.Held["waved:"+itoa(d.Number)] != "" }

// looksToo reports whether who speaks can be the second who looks: neither the lead, nor
// who told of it where anybody else has a phone here.
func (t *turn) looksToo(d Differ) bool {
	m := t.me()
	return m != nil && t.mayLook(*m, d)
}

func (t *turn) mayLook(m Member, d Differ) bool {
	if m.As != AsCrew || m.ID == t.s.Lead.ID {
		return false
	}
	if by := t.lookBy(d); by != nil && by.ID != m.ID {
		return false
	}
	other := func(o Member) bool { return o.ID != t.s.Lead.ID && o.ID != d.By.ID }
	return m.ID != d.By.ID || !damaged(d) || !slices.ContainsFunc(t.s.present(AsCrew), other)
}

// looksWait reports whether nobody can have looked at what was told to be damaged:
// that takes hands on the gear or eyes close to it, and the line carries something.
func (t *turn) looksWait(d Differ) bool { return damaged(d) && t.s.loaded() }

// loaded reports whether the line from puller to load carries something where the pull
// stands, so that nobody goes to it.
func (s *Session) loaded() bool {
	switch s.Stage {
	case AllPlaced, LineSlack:
		return s.taut()
	case Rerig, SlackIsOff, Unrig, UnrigHeld, GearCheck:
		return false
	}
	return s.Stage.Lies()
}

// agreeWas takes that it is as it stood before. Of damage or a danger that needs
// somebody beside the lead, where there is anybody with a phone.
func (t *turn) agreeWas(d Differ) {
	if t.looksWait(d) {
		t.remark(wording.DifferTight, wording.Args{"What": t.whatOf(d.Path)})
		return
	}
	if chat := t.in.Chat; t.owesEyes(d) && !t.isLead() && !t.in.Piped {
		since, err := time.Parse(time.RFC3339, t.s.Since[chat].At)
		if err == nil && t.s.Wants[chat] == t.wantLook(chat).id && t.hasty("differ:"+itoa(d.Number), since) {
			return
		}
	}
	if t.owesEyes(d) && t.looksToo(d) {
		t.looker = t.whoName()
	}
	others := slices.ContainsFunc(t.s.present(AsCrew), func(m Member) bool { return m.ID != t.s.Lead.ID })
	if _, looked := t.whoLooked(); t.owesEyes(d) && !others && !looked {
		t.remark(wording.RefuseUnsound, wording.Args{"What": t.whatOf(d.Path), "Was": t.side(d.Path, d.Said, ""), "Text": t.side(d.Path, d.Was, "")})
		return
	}
	if !t.owesEyes(d) || !t.isLead() || !others {
		if t.waved(d) {
			t.act(Act{Do: DoHold, Path: "waved:" + itoa(d.Number)})
		}
		t.agree(d, d.Was, d.WasFrom)
		return
	}
	t.act(Act{Do: DoHold, Path: "waved:" + itoa(d.Number), Value: "yes"})
	t.note(t.in.Text)
	if m := t.lookBy(d); m != nil {
		t.remark(wording.DifferHurtAsked, wording.Args{"Names": wording.Names{m.Name}})
		return
	}
	switch {
	case d.Path == "hazards":
		t.remark(wording.DifferHazardWaved, t.sides(d))
		return
	case d.ofRig():
		t.remark(wording.DifferRigWaved, t.sides(d))
		return
	}
	t.remark(wording.DifferWaved, wording.Args{"What": t.whatOf(d.Path)})
}

// asksLook reports whether somebody of a chat may be the second who looks.
func (t *turn) asksLook(chat string, d Differ) bool {
	return slices.ContainsFunc(t.s.present(AsCrew), func(m Member) bool { return m.Chat == chat && t.mayLook(m, d) })
}

// wantLook asks the others on the spot to look at what the lead waved away.
func (t *turn) wantLook(chat string) want {
	for _, d := range t.s.Differs {
		if !t.waved(d) || t.looksWait(d) || !t.asksLook(chat, d) {
			continue
		}
		return want{id: "differs-" + itoa(d.Number) + "-look", say: func() {
			if t.ofHurt(d) {
				t.say(wording.DifferHurtLook, wording.Args{"Name": d.By.Name, "Text": t.side(d.Path, d.Said, ""), "Was": t.side(d.Path, d.Was, "")})
			} else if d.Path == "hazards" {
				t.say(wording.DifferHazardSecond, t.sides(d))
			} else if d.ofRig() {
				t.say(wording.DifferRigSecond, t.sides(d))
			} else if t.lookBy(d) != nil {
				t.say(wording.DifferNamedLook, wording.Args{"What": t.whatOf(d.Path), "Text": t.side(d.Path, d.Said, ""), "Was": t.side(d.Path, d.Was, "")})
			} else {
				t.say(wording.DifferSecond, wording.Args{"What": t.whatOf(d.Path), "Name": t.s.Lead.Name, "Second": d.By.Name})
			}
			t.offerSides(d)
		}}
	}
	return want{}
}
