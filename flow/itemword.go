package flow

import (
	"regexp"
	"slices"
	"strings"
	"time"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// What people answer to an item of the list, in whatever words. A yes is one to
// what was asked in that chat and to nothing else. Half a yes is none: the item
// stays open, the words are kept and told, and it is asked again after the rest.
// So is a yes that comes sooner than anybody can look: that is asked back about
// once.

var (
	// idleNo are noes that deny nothing.
	idleNo = regexp.MustCompile(`\bno (?:problem|problems|prob|probs|worries|issue|issues|bother|doubt|one|body|question)\b`)

	// noButFine is a no in front of words that all is well: it answers another question than
	// the one that was asked, and is neither.
	noButFine = regexp.MustCompile(`^\W*(?:no|nope|nah)\b[ ,.;:-]+(?:but |and |so )?(?:it'?s|its|that'?s|thats|all(?:'s)?|everything(?:'s| is)?|it is|it all is|we'?re|i'?m) ?(?:all |quite |perfectly )?(?:is )?(?:fine|good|ok|okay|well|clear|alright|all right|in order|safe)\b`)

	// shares are so many of so many.
	shares = regexp.MustCompile(`\b(one|two|three|1|2|3) ?(?:out of|of|/) ?(?:the |them )?(two|three|four|both|2|3|4)\b`)

	// agreesFirst is a yes at the head of more words.
	agreesFirst = regexp.MustCompile(`(?i)^\W*(?:y|ye|yes|yep|yeah|aye|ok|okay)\b`)

	// partial are words that something is so in part, soon, or not yet.
	partial = regexp.MustCompile(`\b(?:not (?:quite|all|both|completely|fully|properly|really|entirely|there|done|ready|finished|(?:just )?yet)|nearly|almost|partly|mostly|half|halfway|soon|yet|` +
		`in (?:a|one|two|five|\d+) (?:secs?|seconds?|mins?|minutes?|moment|bit|tick)|(?:one|two|five|a|\d+) (?:secs?|seconds?|mins?|minutes?|moment)|still (?:to|doing|working|at|on|missing|needs?|putting|waiting|looking|busy|one|the)|` +
		`(?:am |i'?m |just )?(?:doing|fixing|sorting|placing|putting|moving) (?:it|that|them|one|the)|working on (?:it|that)|getting there|on my way|going (?:to|now|over)|will (?:do|look|check)|i'?ll (?:do|look|check|go|see)|let me (?:look|check|see|go)|` +
		`(?:only|just|got) (?:got |have |the )?(?:one|1|half|some|left|right|front|back|rear|upper|lower)|one (?:more|to go|left|missing|side|wheel)|missing)\b`)

	// though are words behind a yes that take some of it back.
	though = regexp.MustCompile(`\b(?:but|except|apart|bar|only|not|isn'?t|aren'?t|can'?t|cannot|don'?t|doesn'?t|didn'?t|won'?t|no|nearly|almost|yet|until|till|unless|if|when|soon|will|half|partly|mostly|should|without|missing|though|however)\b|\?`)

	counts = map[string]int{"one": 1, "1": 1, "two": 2, "both": 2, "2": 2, "three": 3, "3": 3, "four": 4, "4": 4}
)

// inPart reports whether words say that something is so in part or not yet, or,
// where they agree, take some of it back.
func inPart(text string, agrees bool) bool {
	low := idleNo.ReplaceAllString(hear.Lowered(text), " ")
	if m := shares.FindStringSubmatch(low); m != nil {
		return counts[m[1]] < counts[m[2]]
	}
	return partial.MatchString(low) || agrees && though.MatchString(low)
}

// itemAnswered is what words say of an item.
type itemAnswered struct {
	value  string // the answer, where there is one
	part   bool   // it is so in part, or not yet
	unseen bool   // it was said without having been looked at
}

// readItem reads words as an answer to an item.
func readItem(c siteCheck, text string, h hear.Heard) itemAnswered {
	choice, unseen := itemSaid(c.field, text)
	for _, f := range h.Facts {
		if f.Field == c.path() && failing(c, f.Value) && !inPart(text, false) {
			return itemAnswered{value: f.Value}
		}
	}
	if !agreesFirst.MatchString(text) && hear.ItemWrong(c.field, text, true) {
		return itemAnswered{value: c.bad}
	}
	yes := choice == "yes" || choice == "" && agreesFirst.MatchString(text) || choice == "" && h.Act == hear.Yes
	switch {
	case choice != "once" && choice != "no" && inPart(text, yes), h.Act == hear.Skip:
		return itemAnswered{part: true}
	case unseen && h.Act != hear.No:
		return itemAnswered{unseen: true}
	}
	for _, f := range h.Facts {
		if f.Field == c.path() {
			return itemAnswered{value: f.Value}
		}
	}
	if choice == "" {
		choice = map[hear.Act]string{hear.Yes: "yes", hear.No: "no"}[h.Act]
	}
	for _, o := range c.topic().offers {
		if o.choice == choice {
			return itemAnswered{value: o.sets[0].value}
		}
	}
	return itemAnswered{}
}

// itemWords takes an answer in words from whoever is asked for an item, and turns
// down those who are not.
func (t *turn) itemWords(text string) bool {
	if t.lateNo(text) {
		return true
	}
	if !t.itemsOn() || t.main() && t.s.State != Checks {
		return false
	}
	h := hear.Listen(text, hear.TopicCheck)
	asked, ok := t.askedHere()
	ok = ok && strings.HasPrefix(t.want(t.in.Chat).id, "item-") // a part, or two answers, may be asked about first
	m := t.me()
	if ok && t.isLead() && asked.seat.Name != "" && t.s.phone(asked.seat) == nil && !t.s.alone() {
		if said := t.saysOf(asked.seat.Name, hear.Lowered(strings.Trim(text, " .!"))); agreesFirst.MatchString(said) && said != hear.Lowered(strings.Trim(text, " .!")) { // it is what was to be asked
			text, h = said, hear.Listen(said, hear.TopicCheck)
		}
	}
	answers := len(h.Facts) == 0 && (h.Act == hear.Yes || h.Act == hear.No)
	if m != nil && m.afar() {
		if h.Act == hear.Yes || h.Act == hear.No {
			t.remark(wording.ItemAfar, nil)
			return true
		}
		return false
	}
	if yours := ok && t.speaksFor(asked.seat); !yours && t.in.Group && !t.in.Direct {
		t.silent = true // people talk to each other
		return true
	}
	if ok && hear.ItemWrong(asked.check.field, text, true) {
		h.Facts = addsNothing(h.Facts)
	}
	tells := slices.ContainsFunc(h.Facts, func(f hear.Fact) bool { return !strings.HasPrefix(f.Field, "site.") })
	if m != nil && tells && !t.isLead() && t.differs(text, h) {
		return true // what it says of a piece comes first; the item is asked again
	}
	if t.amissElsewhere(text, asked, ok) {
		return true
	}
	if group := t.groupIn(t.in.Chat, t.openItems()); ok && len(group) > 0 {
		switch {
		case !tells && t.groupWords(group, text, h), t.otherPart(text, asked, false):
		case answers && h.Act == hear.No:
			t.whichNot(group)
		case answers:
			t.remark(wording.ItemWhichNot, nil)
		default:
			return false
		}
		return true
	}
	if t.otherPart(text, asked, ok) {
		return true
	}
	if !ok {
		if choice, _ := itemSaid("", text); answers || choice != "" {
			t.aside1(t.noneAsked(), nil)
			return true
		}
		return false
	}
	if noButFine.MatchString(hear.Lowered(text)) && t.speaksFor(asked.seat) {
		t.remark(wording.ItemNoOrFine, nil)
		return true
	}
	switch said := readItem(asked.check, text, h); {
	case said.part:
		t.partOf(asked.check, asked.seat, text)
	case said.unseen && !tells:
		t.remark(wording.ChecksUnseen, nil)
	case said.value != "" && !failing(asked.check, said.value) && t.tellsBeside(h, asked.check):
		return false // that comes first; the item is asked again
	case said.value != "" && t.tellsElsewhere(asked, text, said.value):
	case said.value != "" && len(h.Facts) == 0 && t.turnedItem(asked, text):
	case said.value != "":
		if a, other := t.noToNamed(asked, text, t.openItems()); other && failing(asked.check, said.value) {
			t.answerItem(a, a.check.bad)
			return true
		}
		if !failing(asked.check, said.value) {
			t.keepBeside(text, asked.check)
		}
		t.answerItem(asked, said.value)
	case h.Act == hear.Help, h.Act == hear.None && len(h.Facts) == 0 && beginsHow.MatchString(text):
		t.aboutItem(asked.check, true)
	case h.Act == hear.Why:
		t.aboutItem(asked.check, false)
	default:
		return false
	}
	return true
}

// partOf keeps that an item is not so yet: a no for now, with the words for it.
func (t *turn) partOf(c siteCheck, whose Seat, text string) {
	if m := t.me(); m == nil || !t.s.alone() && !t.speaksFor(whose) {
		t.notYours(whose)
		return
	}
	t.keepPart(c, whose.Name, text)
	t.say(wording.ItemWaits, wording.Args{"Criterion": t.fits(c.claim())})
	if t.s.alone() {
		t.next()
		return
	}
	t.onward2()
}

func (t *turn) keepPart(c siteCheck, name, text string) {
	words := wording.Plain(text)
	t.act(Act{Do: DoPart, Topic: c.path(), Value: words, Names: []string{name}})
	t.toLead(func() {
		t.say(wording.ItemPart, wording.Args{"Name": t.whoName(), "Criterion": t.fits(c.claim()), "Text": words})
	})
}

// otherPart takes that another item than the one that is asked is not so yet,
// from anybody on the spot: one that was answered is asked anew.
func (t *turn) otherPart(text string, asked asking, ok bool) bool {
	if !inPart(text, false) || ok && t.alludes(asked.check, text) {
		return false
	}
	for _, c := range t.listed() {
		if !t.alludes(c, text) {
			continue
		}
		t.partElsewhere(c, text)
		return true
	}
	return false
}

// alludes reports whether a message has a telling word of an item's claim, or one
// that begins like it.
func (t *turn) alludes(c siteCheck, text string) bool {
	claim := byWords.FindAllString(strings.ToLower(t.fits(c.claim())), -1)
	for _, w := range byWords.FindAllString(strings.ToLower(text), -1) {
		for _, of := range claim {
			if n := min(len(w), len(of)); !slices.Contains(dullWords, of) && !slices.Contains(dullWords, w) && n >= 5 && w[:5] == of[:5] {
				return true
			}
		}
	}
	return false
}

// quickest is how soon after it was asked an item can have been read and looked
// at, by somebody who stands where it can be seen.
//
// Source: from memory; too short rather than too long, because asking back of
// somebody who did look teaches people to press faster.
const quickest = 5 * time.Second

func (t *turn) itemID(a asking) string {
	return "item-" + a.check.field + "-" + t.number2(a.check) + "-" + a.seat.Name
}

// tooQuick asks back once about a yes to what blocks that came sooner than anybody
// can look. Whoever does it again and again is somebody to go and see.
func (t *turn) tooQuick(a asking) bool {
	chat, path := t.seatChat(a.seat), a.check.path()
	since, err := time.Parse(time.RFC3339, t.s.Since[chat].At)
	switch {
	case !a.check.two, err != nil, t.s.Wants[chat] != t.itemID(a):
		return false
	}
	return t.hasty(path, since)
}

// tooQuickAlone is tooQuick where one phone walks the list: there an item is asked
// in answer to what its holder said last.
func (t *turn) tooQuickAlone(c siteCheck, value string) bool {
	m := t.me()
	if m == nil || !t.s.alone() || !c.two || failing(c, value) || t.s.Settled[c.path()] != "" {
		return false
	}
	since, err := time.Parse(time.RFC3339, m.Heard)
	return err == nil && t.hasty(c.path(), since)
}

// hasty asks back about an answer to what was asked since, where it came too soon
// and was not yet asked back about. Of what comes out of a pipe no time is known.
func (t *turn) hasty(path string, since time.Time) bool { return t.hastyBy(path, since, quickest) }

// hastyBy is hasty where looking takes longer, because there is more to look at.
func (t *turn) hastyBy(path string, since time.Time, least time.Duration) bool {
	if t.in.Piped || t.s.Quick[path] == t.in.Person.ID || t.in.At.Sub(since) >= least {
		return false
	}
	t.act(Act{Do: DoQuick, Topic: path})
	n := 0
	for _, id := range t.s.Quick {
		if id == t.in.Person.ID {
			n++
		}
	}
	if n == 2 {
		told, k := []As{AsLead, AsCoordinator}, wording.ItemHasty
		if t.s.tight() {
			k = wording.ItemHastyTight
		}
		for _, chat := range t.s.chats(told...) {
			if chat != t.in.Chat {
				t.inChat(chat, func() { t.say(k, wording.Args{"Name": t.whoName()}) })
			}
		}
	}
	t.askBack()
	t.ask()
	return true
}

// heldHasty is kept once it was said that the list was answered quicker than anybody looks.
const heldHasty = "list_hasty"

// wasLookedAt says, once a list, that most of it was answered quicker than anybody can look,
// where one phone walked it: each by itself would teach people to press faster.
func (t *turn) wasLookedAt() {
	if t.in.Piped || t.s.Held[heldHasty] != "" {
		return
	}
	var at []time.Time
	for _, c := range t.listed() {
		if m, ok := t.s.Marks[c.path()]; ok && m.By.ID == t.in.Person.ID {
			if when, err := time.Parse(time.RFC3339, m.At); err == nil {
				at = append(at, when)
			}
		}
	}
	slices.SortFunc(at, time.Time.Compare)
	quick := 0
	for i := 1; i < len(at); i++ {
		if at[i].Sub(at[i-1]) < quickest {
			quick++
		}
	}
	if 2*quick < len(at) || quick == 0 {
		return
	}
	t.act(Act{Do: DoHold, Path: heldHasty, Value: "yes"})
	t.say(wording.ItemListQuick, nil)
}

// unlooked takes, where the list is walked and it is asked who went round as well, that an
// item of it is not so after all: by its name and a no, or in the words of what is wrong.
func (t *turn) unlooked(text string) bool {
	low := hear.Lowered(strings.Trim(text, " .!"))
	for _, c := range t.listed() {
		name := hear.Lowered(t.saying(wording.Key("itemname." + c.field)))
		if low == name+" no" || low == name+": no" || low == "no "+name || hear.ItemWrong(c.field, text, false) {
			t.failsNow(c.field, text)
			return true
		}
	}
	return false
}

// noneAsked is what a yes or a no is answered with that no item asks for: that nothing is
// asked, or, where another question follows, that it is no answer to that.
func (t *turn) noneAsked() wording.Key {
	if id := t.want(t.in.Chat).id; id == "" || strings.HasPrefix(id, "wait") {
		return wording.ItemNone
	}
	return wording.ItemNotThat
}

// askBack says that an answer came too soon, and sends nobody up to a tight line.
func (t *turn) askBack() {
	if t.s.tight() {
		t.say(wording.ItemQuickTight, nil)
		return
	}
	t.say(wording.ItemQuick, nil)
}
