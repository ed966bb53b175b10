package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// Nobody can list the words that people find for what is wrong. So what somebody
// writes where something is to be confirmed, and what could not be read there or was
// only passed on, stays open: the next good answer of theirs at that place, and at a
// hold the lead's release, is put back to them once, with the words, before it counts.

// An Unread is what somebody wrote where something is to be confirmed and nobody
// could read.
type Unread struct {
	Number int
	By     Person
	Place  string // placePull, placeList, or the question
	Text   string
	To     string // the member to whom it is put, with the answer that waits; empty before
	Answer string // which that is: a choice, or words
	Words  bool   // it is words
}

// The places beside the questions: a hold point of the pull, and the list on the spot.
const (
	placePull = "pull"
	placeList = "list"
)

// soundTopics are the questions of which a good answer lets something count as sound,
// clear or none, by the last part of their names.
var soundTopics = []string{"people", "gear_sound", "kit_check", "condition", "alive", "lean", "knots", "improvised", "chocked", "braked", "in_line", "tied_back", "strap_held", "rollover_frame", "belly"}

// unreadKeys are the answers that take words for nothing, or only pass them on.
var unreadKeys = []wording.Key{wording.RefuseMiss, wording.RefuseMisses, wording.RefusePart, wording.JoinPassed, wording.PullNoChange, wording.StopNear, wording.StopHint, wording.StopSmoker}

var (
	// noWords are words of which nothing is left open: a figure, and sounds.
	noWords = regexp.MustCompile(`(?i)^(?:[\d\W_]|\d*(?:mm|cm|m|km|kg|t|kn|lbs?|ft|in|deg|metres?|meters?|tonnes?|tons?|to|or|about|abt|by)\b|\b(?:h+m+|u+h+m*|u+m+|e+r+m*|eh|ah+|oh+|huh|what)\b)*$`)

	// mayGoOn are questions whether or when it goes on, and what is to be done or waited for:
	// they tell of nothing that could be wrong.
	mayGoOn = regexp.MustCompile(`^(?:(?:so|ok|okay|well|and|right|hey|now|then|gerd|what about it|hello)[ ,]+)*(?:` +
		`(?:can|may|shall|should|do|could|will|are) (?:we|i|you|they|it|he|she)(?: all| both)?(?: now)?(?: go(?: on| now| ahead)?| start| begin| pull| carry on| continue| proceed| move| release| ready| done| good| there| good to go| ready to go)(?: now| yet| then| again| already| on)*|` +
		`(?:is it|are we) (?:my turn|our turn|time|ok to go|okay to go|a go|go|ready|done)(?: now| yet| then)*|(?:ready|go|now|all done|what now|what next|what do (?:i|we) do(?: now| next)?|what(?:'s|s| is) next|whats? (?:missing|left|open|next)|who(?:'s|s| is) (?:next|missing|open|left)|` +
		`how long(?: (?:more|still|yet|now|to go|does it take|will it take|is it still))*|how (?:many|much) (?:more|left|still)|when (?:do|can|does|may) (?:we|i|it) (?:go|start|begin|pull|go on)|what (?:are|do) (?:you|we) wait(?:ing)?(?: for)?|are you (?:there|still there)|anyone there|is anyone there))\s*\?*$`)

	// deniesPart are words that one more hazard is not there.
	deniesPart = regexp.MustCompile(`(?i)^\W*(?:no|nobody|none|without)\b`)
)

// soundTopic reports whether a topic is one of them.
func soundTopic(name string) bool {
	return slices.Contains(soundTopics, name[strings.LastIndexByte(name, '.')+1:])
}

// goodValue reports whether a value of a sheet's path is the good answer.
func goodValue(path, value string) bool {
	switch field := path[strings.LastIndexByte(path, '.')+1:]; field {
	case "hazards":
		return value == "none"
	case "strap_held":
		return value == "true"
	case "improvised":
		return value == "false"
	default:
		return hear.Hopeful(field, value)
	}
}

// unreadPlace is the place for which words of who speaks are now; empty for none.
func (t *turn) unreadPlace() string {
	m := t.me()
	switch {
	case m == nil, m.As == AsObserver:
		return ""
	case t.s.State == Pulling && t.s.Stage != StopDrill && t.s.Stage != PullOver:
		return placePull
	case t.itemsOn():
		if a, ok := t.askedHere(); ok && t.speaksFor(a.seat) {
			return placeList
		}
		return ""
	case t.main() && t.isLead() && t.s.State == Checks && strings.HasPrefix(t.s.Topic, "site."):
		return placeList
	case t.main() && t.isLead() && !t.hub() && soundTopic(t.s.Topic):
		return t.s.Topic
	}
	return ""
}

// unreadAfter is called before words are taken; what it returns keeps those of them
// that were not.
func (t *turn) unreadAfter() func() {
	place := t.unreadPlace()
	return func() { t.leavesUnread(place) }
}

// leavesUnread keeps what was written at a place and not read there.
func (t *turn) leavesUnread(place string) {
	text := wording.Plain(t.in.Text)
	if place == "" || t.err != nil || t.s == nil || t.in.Press != nil || t.in.Tick != "" || t.in.Other != "" || noWords.MatchString(text) || t.tellsNothing(text) {
		return
	}
	if place != placePull && place != placeList && t.s.Topic != place || place == placePull && t.s.State != Pulling {
		return // it was read as more than that
	}
	at := slices.IndexFunc(t.mails[0].replies, func(r reply) bool { return slices.Contains(unreadKeys, r.key) })
	switch {
	case t.echoed:
	case at < 0:
		return
	case t.mails[0].replies[at].key == wording.RefusePart: // the rest was read
		text, _ = t.mails[0].replies[at].args["Text"].(string)
		if place == firstTopics[0].name && deniesPart.MatchString(text) {
			return
		}
	}
	t.act(Act{Do: DoUnread, Topic: place, Value: text})
	if t.putIn(t.in.Chat) != nil { // it was put to them already: with all that they wrote
		t.mail = t.mails[0]
		t.replies = slices.DeleteFunc(t.replies, func(r reply) bool { return r.key == wording.UnreadYou || r.key == wording.UnreadName })
		t.ask()
	}
}

// tellsNothing reports whether words are of a kind of which nothing is left open: those that
// ask for help or look around, those that know nothing, and those of all being well.
func (t *turn) tellsNothing(text string) bool {
	low := hear.Lowered(strings.Trim(text, " .!"))
	return nothingWrong.MatchString(low) || mayGoOn.MatchString(low) || isQuick(text) || talkOnly.MatchString(text) || allWell.MatchString(low) || isBare(low) || hear.Listen(text, hear.TopicText).Act == hear.Skip
}

// applyUnread does an act of what was not read, or clears of it what an act answers.
func (s *Session) applyUnread(a Act, e Entry) {
	drop := func(is func(Unread) bool) { s.Unread = slices.DeleteFunc(s.Unread, is) }
	switch a.Do {
	case DoUnread:
		i := slices.IndexFunc(s.Unread, func(u Unread) bool { return u.Place == a.Topic && u.By.ID == e.Who.ID })
		switch {
		case i < 0:
			s.Unreads++
			s.Unread = append(s.Unread, Unread{Number: s.Unreads, By: e.Who, Place: a.Topic, Text: a.Value})
		case !strings.Contains(strings.ToLower(s.Unread[i].Text), strings.ToLower(a.Value)):
			s.Unread[i].Text = a.Value + " / " + s.Unread[i].Text // the last first: a long one is clipped
		}
	case DoQuote:
		for i := range s.Unread {
			if u := &s.Unread[i]; itoa(u.Number) == a.Path {
				u.To, u.Answer, u.Words = e.Who.ID, a.Value, a.How == Told
			}
		}
	case DoUnquote:
		if a.Value != "" { // it stays open at its question
			for i := range s.Unread {
				if u := &s.Unread[i]; itoa(u.Number) == a.Path {
					u.To, u.Answer = "", ""
				}
			}
			return
		}
		drop(func(u Unread) bool { return itoa(u.Number) == a.Path })
	case DoSet: // an answer to the list that waits was given for what was told before; the words stay open
		for i := range s.Unread {
			if u := &s.Unread[i]; u.Place == placeList && u.Answer != whichWrong && !strings.HasPrefix(a.Path, "site.") {
				u.To, u.Answer = "", ""
			}
		}
	case DoSettle:
		drop(func(u Unread) bool { return u.Place == a.Topic })
	case DoCheck, DoSecond, DoPart:
		drop(func(u Unread) bool { return u.Place == placeList && u.By.ID == e.Who.ID && u.Answer != whichWrong })
	case DoDoubt, DoWithhold:
		drop(func(u Unread) bool { return u.Place == placePull && u.By.ID == e.Who.ID })
	case DoRelease:
		drop(func(u Unread) bool { return u.Place == placePull })
	case DoStop:
		drop(func(u Unread) bool { return u.Place == placePull || u.Place == placeList && u.Answer != whichWrong })
	case DoGone:
		s.wrongStays(a.Value)
		drop(func(u Unread) bool { return u.By.ID == a.Value && u.Place != placePull })
	}
}
