package flow

import (
	"regexp"
	"slices"
	"strings"
	"time"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// People talk to each other through the job: the lead to who watches from afar,
// who watches to somebody at the tree. What is said to a person by name, and a
// question, goes to that person and is no answer of the job; a question waits for
// its answer, which goes back to who asked. Both are kept.
//
// Whatever names a danger is no talk, and while the puller moves nobody is asked
// anything on a phone.

// A Query is what one of the job asks another, until it is answered.
type Query struct {
	Number int
	By     Person
	To     string // the member who answers
	Name   string // who is asked, where that is somebody without a phone
	Text   string
	At     string
	Over   string // when it was answered
	Stage  Stage  // where the pull stood when it was asked
	Hold   int    // and which hold that was
}

// applyTalk does one act of what people ask each other.
func (s *Session) applyTalk(a Act, e Entry) {
	switch a.Do {
	case DoQuery:
		s.Queries = append(s.Queries, Query{Number: len(s.Queries) + 1, By: e.Who, To: a.Path, Name: a.Second, Text: a.Value, At: e.At, Stage: s.Stage, Hold: s.Hold})
	case DoReply:
		for i := range s.Queries {
			if itoa(s.Queries[i].Number) == a.Path {
				s.Queries[i].Over = e.At
			}
		}
	}
}

var (
	// callsTo is a name at the head of a message, and what is said to them.
	callsTo = regexp.MustCompile(`^(?i:(?:hey|hi|ok|okay|so|and|well|@)[ ,]*)*@?(\pL[\pL'’-]*(?: \pL[\pL'’-]*)?)\s*([,:;?]|\s[-–]|\s)\s*(.+)$`)

	// asking1 are words that begin a question.
	asking1 = regexp.MustCompile(`^(?i)(?:(?:so|and|but|ok|okay|hey|well|please|pls|sorry)[ ,]+)*(?:is|are|was|were|isn't|aren't|do|does|did|don't|can|could|will|would|should|shall|has|have|had|what|what's|whats|which|who|who's|whose|where|where's|when|how|how's|why|any|anybody|anyone)\b`)

	// wants1 are words by which somebody without a comma is asked to do something.
	wants1 = regexp.MustCompile(`^(?i)(?:can|could|would|please|pls|you|do you|did you|are you|have you|what|which|where|when|how|why)\b`)
)

// queryOpen is how long a question waits to be answered by a word that could be
// meant for another.
const queryOpen = 10 * time.Minute

// talkable reports whether people may talk to each other through the job now: not
// where any words are the answer, nor while the puller moves.
func (t *turn) talkable() bool {
	m := t.me()
	if m == nil || m.As == AsObserver || t.s.alone() || t.closing() || slices.Contains([]string{"names", "second_look", "kit_name"}, t.s.Topic) && t.main() {
		return false
	}
	switch t.s.State {
	case Away, Closed, Debrief:
		return false
	case Signing:
		return !t.main()
	case Pulling:
		return !t.s.Stage.Moves()
	}
	return true
}

// calledOn returns who a message calls by name at its head, and what it says to
// them.
func (t *turn) calledOn(text string) (name string, to *Member, rest string) {
	m := callsTo.FindStringSubmatch(strings.TrimSpace(text))
	if m == nil {
		return "", nil, ""
	}
	mark, rest := strings.TrimSpace(m[2]), m[3]
	tries := []string{m[1]}
	if first, second, two := strings.Cut(m[1], " "); two {
		tries = append(tries, first)
		if mark == "" {
			rest = second + " " + rest
		} else {
			rest = second + m[2] + " " + rest
		}
	}
	for i, try := range tries {
		said, by := rest, mark
		if i == 0 && len(tries) > 1 {
			said = m[3]
		} else if len(tries) > 1 {
			by = ""
		}
		if by == "" && !wants1.MatchString(said) && !(asking1.MatchString(said) && strings.HasSuffix(said, "?")) {
			continue
		}
		whole := i == 0 && len(tries) > 1 // two words are a name only where they are all of it
		if who := t.s.called(try); who != nil && (!whole || strings.EqualFold(who.Name, try)) {
			return who.Name, who, said
		}
		if s := t.seatNamed(try); s != nil && (!whole || strings.EqualFold(s.Name, try)) {
			return s.Name, t.s.phone(*s), said
		}
	}
	return "", nil, ""
}

// talk takes what is said to somebody, or asked of the others, and reports whether
// it was any of that.
func (t *turn) talk(text string) bool {
	if !t.talkable() || isQuick(text) {
		return false
	}
	name, to, said := t.calledOn(text)
	ask := isAsked(said)
	if name == "" {
		if t.s.State == Halted || !isAsked(text) || !strings.HasSuffix(strings.TrimSpace(text), "?") || len(strings.Fields(text)) < 3 {
			return false
		}
		if to = t.askedOfAll(); to == nil {
			return false
		}
		name, said, ask = to.Name, text, true
	}
	if to != nil && to.ID == t.in.Person.ID || t.s.State == Halted && !ask {
		return false
	}
	if !ask && (len(hazardsOf(t.factsIn(text))) > 0 || t.s.Stage.Lies() && sightTold(said)) {
		return false // a danger is for everybody
	}
	if to != nil && to.Chat == t.in.Chat {
		t.silent = t.in.Group && !t.in.Direct // they read it there
		if !t.silent {
			t.ask()
		}
		return true
	}
	if q := t.openQuery(); q != nil && to != nil && q.By.ID == to.ID && !ask {
		t.reply(*q, said)
		t.factsOf(said)
		return true
	}
	if ask {
		t.query(name, to, said)
		return true
	}
	t.note(text)
	if to == nil {
		t.say(wording.TalkNoPhone, wording.Args{"Name": name})
	} else {
		t.inChat(to.Chat, func() { t.say(wording.TalkTells, wording.Args{"Name": t.whoName(), "Text": wording.Plain(said)}) })
		t.say(wording.TalkTold, wording.Args{"Name": name})
	}
	t.factsOf(said)
	return true
}

// isQuick reports whether words are one of the short ones by which help is asked
// for and looked around.
func isQuick(text string) bool {
	h := hear.Listen(text, hear.TopicText)
	switch h.Act {
	case hear.Help, hear.Why:
		return len(strings.Fields(text)) < 5
	case hear.None, hear.Yes, hear.No:
		return false
	}
	return true
}

func isAsked(said string) bool {
	said = strings.TrimSpace(hear.Straight(said))
	return said != "" && (strings.HasSuffix(said, "?") || asking1.MatchString(said))
}

func sightTold(said string) bool {
	_, ok := sightIn(strings.ToLower(said))
	return ok
}

// askedOfAll is who is asked a question that calls nobody: of those who are not
// asked the questions of the job the lead, and of the lead who watches from afar.
func (t *turn) askedOfAll() *Member {
	if !t.main() {
		return t.s.member(t.s.Lead.ID)
	}
	afar := t.s.present(AsCoordinator)
	if !t.isLead() || len(afar) == 0 {
		return nil
	}
	return t.s.member(afar[0].ID)
}

// query passes a question on and waits for its answer.
func (t *turn) query(name string, to *Member, said string) {
	words := wording.Plain(said)
	args := wording.Args{"Name": t.whoName(), "Second": name, "Text": words}
	through := ""
	if to == nil {
		if through = name; t.isLead() {
			t.note(t.in.Text)
			t.remark(wording.TalkNoPhone, wording.Args{"Name": name})
			return
		}
		to = t.s.member(t.s.Lead.ID)
	}
	t.act(Act{Do: DoQuery, Path: to.ID, Second: through, Value: words})
	k := wording.TalkAsks
	switch {
	case through != "":
		k = wording.TalkThrough
	case t.shared(to.Chat):
		k = wording.TalkAsksNamed
	}
	t.inChat(to.Chat, func() { t.say(k, args) })
	t.copied(to.Chat, wording.TalkAsksNamed, args)
	t.remark(wording.TalkAsked, wording.Args{"Name": to.Name})
}

// copied lets the lead, who is on the spot, read what others ask and answer.
func (t *turn) copied(already string, k wording.Key, args wording.Args) {
	if lead := t.s.leadChat(); lead != t.in.Chat && lead != already {
		t.inChat(lead, func() { t.say(k, args) })
	}
}

// openQuery is the last question to who speaks that has no answer; nil for none.
// Once the pull is elsewhere nothing said is taken for its answer: it is about what
// is so now.
func (t *turn) openQuery() *Query {
	for i := range slices.Backward(t.s.Queries) {
		q := &t.s.Queries[i]
		if q.To == t.in.Person.ID && q.Over == "" && t.since(q.At) < queryOpen && q.Stage == t.s.Stage && q.Hold == t.s.Hold {
			return q
		}
	}
	return nil
}

// askedLast reports whether a question came to who speaks after all else that
// stands to be answered in their chat.
func (t *turn) askedLast(q *Query) bool {
	return t.s.Wants[t.in.Chat] == t.want(t.in.Chat).id && t.s.Since[t.in.Chat].At <= q.At
}

// answersQuery takes words as the answer to what somebody has asked who speaks.
// Where it came last a bare yes is one; later, only words that answer nothing else.
func (t *turn) answersQuery(text string, late bool) bool {
	if !t.talkable() || t.in.Press != nil {
		return false
	}
	q := t.openQuery()
	if q == nil || !late && !t.askedLast(q) || isQuick(text) {
		return false
	}
	h := t.whoIsWho().Listen(text, hear.TopicNone)
	if len(hazardsOf(h.Facts)) > 0 {
		return false
	}
	if t.isLead() && len(h.Facts) > 0 {
		t.reply(*q, text)
		t.worseOf(h.Facts)
		return true
	}
	t.reply(*q, text)
	if !t.isLead() && len(h.Facts) > 0 && t.differs(text, h) {
		return true
	}
	t.ask()
	return true
}

// repliesLast takes words that answer nothing that stands as the answer to what
// somebody has asked who speaks: they were told that it goes back.
func (t *turn) repliesLast() bool {
	q := t.openQuery()
	if q == nil || t.in.Press != nil || t.in.Text == "" || t.s.alone() || t.s.Stage.Moves() || isQuick(t.in.Text) {
		return false
	}
	switch t.s.State {
	case Away, Closed, Halted:
		return false
	}
	t.reply(*q, t.in.Text)
	t.ask()
	return true
}

// worseOf takes of the facts in an answer to somebody only what makes the job
// worse off: who answers a question tells the plan nothing by the way.
func (t *turn) worseOf(facts []hear.Fact) {
	var worse []change
	for _, f := range t.worstPieces(facts) {
		if !strings.Contains(f.Field, "[+") && t.worse(f.Field, f.Value) {
			worse = append(worse, change{set: set{f.Field, f.Value}, how: Told})
		}
	}
	if len(worse) < len(facts) {
		t.say(wording.TalkFacts, nil)
	}
	t.goBy(worse)
	t.ask()
}

// toldWorse takes of what whoever leads tells in a pull, in passing, what makes the job
// worse off: it holds, and the plan is another. What would make it better is a remark, and
// that a load which stays where it is stands braked is asked for.
func (t *turn) toldWorse(facts []hear.Fact) bool {
	if !t.isLead() || isQuestion(hear.Lowered(t.in.Text)) || t.s.Stage.Moves() {
		return false
	}
	var worse []change
	for _, f := range t.worstPieces(facts) {
		if strings.Contains(f.Field, "[+") || !differable(f.Field) || f.Field == "crew" || f.Field == "load.locked" && !t.s.Stage.needsPlan() || strings.HasSuffix(f.Field, "slope") && !ofASlope.MatchString(t.in.Text) {
			continue
		}
		if was, told := t.s.Sheet.Get(f.Field); told && !sameText(was, f.Value) && t.worse(f.Field, f.Value) {
			worse = append(worse, change{set: set{f.Field, f.Value}, how: Told})
		}
	}
	if len(worse) == 0 {
		return false
	}
	t.note(t.in.Text)
	t.holdNow()
	t.goBy(worse)
	return true
}

// shortAnswer takes a yes or a no as the answer to a question that came last in a
// chat, though a button that stands there from before says the same word. In a
// pull a no holds.
func (t *turn) shortAnswer(text string) bool {
	low := hear.Lowered(strings.Trim(text, " .!"))
	short := slices.Contains(bareWords, low) || t.s.State != Pulling && slices.Contains([]string{"no", "nope", "nah", "not yet", "n"}, low)
	return short && t.answersQuery(text, false)
}

// reply passes an answer back.
func (t *turn) reply(q Query, said string) {
	t.replied(q, said)
	t.say(wording.TalkAnswered, wording.Args{"Name": t.s.nameOf(q.By)})
}

func (t *turn) replied(q Query, said string) {
	words := wording.Plain(said)
	t.act(Act{Do: DoReply, Path: itoa(q.Number), Value: words})
	name := t.whoName()
	if q.Name != "" {
		name = t.sayingWith(wording.TalkFor, wording.Args{"Name": q.Name, "Second": name})
	}
	args := wording.Args{"Name": name, "Second": t.s.nameOf(q.By), "Text": words, "Was": q.Text}
	chat := t.in.Chat
	if m := t.s.member(q.By.ID); m != nil && !m.Gone {
		chat = m.Chat
		t.inChat(chat, func() { t.say(wording.TalkAnswer, args) })
	}
	t.copied(chat, wording.TalkAnswerNamed, args)
}

// factsOf looks for what words to somebody tell of the job. From anybody but the
// lead it stands beside what was told; the lead is asked to write it by itself.
func (t *turn) factsOf(said string) {
	h := t.whoIsWho().Listen(said, hear.TopicNone)
	if len(h.Facts) > 0 && !t.isLead() && t.differs(said, h) {
		return
	}
	if len(h.Facts) > 0 {
		t.say(wording.TalkFacts, nil)
	}
	t.ask()
}
