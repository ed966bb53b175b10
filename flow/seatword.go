package flow

import (
	"regexp"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// Nobody says "I take it" of their own accord. What people say who take a part on,
// or don't, is read where that part is what was asked last; a word that could be
// about anything, such as all good, is neither.

var (
	takesOn = regexp.MustCompile(`^(?:(?:yes|y|yep|yeah|yup|yea|aye|ok|okay|k|sure|right|fine|roger|copy|alright|all right|no problem|no worries|of course|cool|great|good|thanks|then|well|so)[ ,;:.!-]*)*` +
		`(?:yes|y|yep|yeah|yup|yea|aye|ok|okay|k|sure|of course|roger|copy|yes i do|i do|i am|mine|it'?s mine|that'?s mine|that'?s me|me|on it|on that|count me in|i'?m in|` +
		`(?:i'?m|i am|im|i'?ll be) (?:on|doing|taking|it|on it|doing it|happy to|good with (?:it|that)|up for (?:it|that)|the \w+(?: \w+)?)(?: it| that| this)?|` +
		`(?:i |i'?ll |i will |i can |i'?ve |i have |have )?(?:take|takes|took|do|got|have|accept|handle)(?: (?:it|that|this|it on|that on|this on|on|that part|this part|the part|the job|that one|this one))|` +
		`taking it|taken|accepted|accept|agreed|will do|can do|happy to|my (?:job|part|turn)|leave it (?:to|with) me)(?:[ ,]+(?:on|then|now|thanks|cheers|mate|boss|pal|sure|no problem|ok))*$`)

	leavesIt = regexp.MustCompile(`^(?:(?:sorry|no|nah|nope|er|um|oh|hm+|well|but|please)[ ,;:.!-]*)*` +
		`(?:no|nah|nope|not me|not mine|no thanks|not that(?: one)?|negative|someone else|somebody else|pass|rather not|i'?d rather not|i (?:can'?t|cannot|can not|don'?t|do not|won'?t|will not)(?: (?:do|take|want|drive|manage|have|hold|like))?(?: (?:it|that|this|to|one|part))*|can'?t(?: do (?:it|that))?|cannot|won'?t)\b(?:.{0,40})$`)
)

// tookPart takes whether somebody takes on the part that they are asked about.
func (t *turn) tookPart(low string) bool {
	if !t.seatAsked() {
		return false
	}
	s := t.offered1()
	if s == nil {
		return false
	}
	plain := low
	through := t.s.phone(*s) == nil && s.Member == "" // the lead answers for somebody: he has, she does
	if through {
		plain = throughLead.ReplaceAllString(t.saysOf(s.Name, plain), "i ")
	}
	if t.saysPartBack() {
		plain = takesAtEnd.FindString(plain)
	}
	switch {
	case strings.HasSuffix(strings.TrimSpace(t.in.Text), "?"):
		return false
	case plain == "": // said back, and no more
		t.remark(wording.SeatSure, wording.Args{"Role": t.role(*s)})
	case takesOn.MatchString(plain):
		t.takes(*s)
	case leavesIt.MatchString(plain):
		t.declines(*s)
	case hear.Listen(low, hear.TopicCheck).Act == hear.Yes, plainWords.MatchString(low), backNow.MatchString(plain):
		t.remark(wording.SeatSure, wording.Args{"Role": t.role(*s)})
	default:
		return false
	}
	return true
}

// saysPartBack reports whether words that have the letters of a stop in them are those with
// which somebody says their part back, as they were asked to: I let go to stop. That is so
// only while no line lies; where one does, the word halts.
func (t *turn) saysPartBack() bool {
	if t.in.Press != nil || t.s == nil || t.me() == nil || t.s.Stage.Lies() || t.s.State == Halted || t.s.alone() || !t.seatAsked() || t.offered1() == nil {
		return false
	}
	low := hear.Lowered(strings.TrimSpace(t.in.Text))
	if strings.ContainsAny(low, "!?") || !hear.Stops(low) {
		return false
	}
	if _, seen := t.sight(low); seen {
		return false
	}
	rest := partStop.ReplaceAllString(low, " ")
	return !hear.Stops(rest) && !calledOut.MatchString(rest)
}

var (
	// partStop is a stop as the duties have it: what somebody does at one, or when they call it.
	partStop = regexp.MustCompile(`\b(?:let go|lets go|obey|stand still|hold|brake)(?: (?:it|still|at once|and (?:brake|hold|stand|let go)))*(?: (?:to|at|on|for|by|every|any|each|a|the))+ stops?\b|\bobey (?:any |every |each |all )?stops?\b` +
		`|\b(?:i|will|and) (?:call|shout|say) stop (?:at any|at every|if|when|whenever|as soon as|once)\b|\b(?:the )?(?:stop )?word is (?:the word )?stop\b`)

	// takesAtEnd is that somebody takes their part on, behind what they say back.
	takesAtEnd = regexp.MustCompile(`\b(?:i'?m taking it|taking it|(?:i |i'?ll |i will )?take it(?: on)?|i do|i accept|accepted)$`)
)

// saysOf are words of the lead for somebody without a phone, without whose they are: "ben
// says yes" is his yes.
func (t *turn) saysOf(name, low string) string {
	m := voiced.FindStringSubmatch(low)
	if m == nil || !sameName(m[1], name) && m[1] != "he" && m[1] != "she" && m[1] != "they" {
		return low
	}
	return m[2]
}

// voiced are words of somebody, told by another.
var voiced = regexp.MustCompile(`^(?:(?:ok|okay|yes|and|so)[ ,]+)*(\pL+) (?:says?|said|shouts?|shouted|calls?|called|answers?|answered|confirms?|confirmed|nods?|tells me|told me)(?: back| out| over)?(?:[ ,:]+that)?[ ,:]+["'“]?(.+?)["'”]?$`)

// throughLead is how the lead speaks of somebody without a phone.
var throughLead = regexp.MustCompile(`\b(?:he|she|they)(?:'s|'ll|'ve)? (?:has |have |will |does )?|\b(?:he|she|they)'?s `)

// declines keeps a part open that somebody does not take on, and tells the lead,
// who alone places people.
func (t *turn) declines(s Seat) {
	args := wording.Args{"Name": s.Name, "Role": t.role(s)}
	t.note(t.in.Text)
	if t.main() {
		t.remark(wording.SeatDeclinedLead, args)
		return
	}
	t.toLead(func() { t.say(wording.SeatDeclinedLead, args) })
	t.say(wording.SeatDeclined, wording.Args{"Name": t.s.Lead.Name})
	t.ask()
}
