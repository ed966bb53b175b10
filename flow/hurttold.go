package flow

import (
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// Who tells, in a stop for somebody hurt, how it went with them and who has them now,
// explains that stop and calls no other. Whoever else is hurt is another thing.

var (
	// caredFor are words that somebody hurt is looked after.
	caredFor = hear.Expression(`(\b(and|but|now) )?(\b(he|she|they|it)( is| are|'s|'re| was| has| have)?|\b(is|are|was|been|being))?( now| already| just| been| being)*( |\b)(in|with|at|to|by|inside) (the |an? |our |his |her )?(ambulance|paramedics?|medics?|doctors?|nurse|hospital|clinic|a ?& ?e|first ?aiders?)\b` +
		`|(\b(he|she|they)( is| are|'s|'re| was| has| have)?( now| been| being)* )?\b(looked after|cared for|bandaged( up)?|patched up|treated|sitting (down|up|aside|in the (car|van|cab))|driven to hospital)\b`)

	// oneMoreHurt are words that it is another one who is hurt, or is hurt again.
	oneMoreHurt = hear.Expression(`\b(too|also|as well|another|other|second|again|both|now also|and now)\b`)
)

// hurtStop is the stop that is on where somebody hurt is among what it is for; nil for none.
func (s *Session) hurtStop() *Stop {
	if stop := s.stop(); stop != nil && slices.Contains(stop.causes(), "hurt") {
		return stop
	}
	return nil
}

// explainsHurt reports whether words tell of nobody hurt but those for whom the stop is on,
// and that they are looked after.
func (t *turn) explainsHurt(text string) bool {
	stop := t.s.hurtStop()
	if t.s.State != Halted || stop == nil {
		return false
	}
	low := hear.Lowered(strings.Trim(wording.Plain(text), " .!"))
	rest := caredFor.ReplaceAllString(low, " ")
	if rest == low || oneMoreHurt.MatchString(low) || isQuestion(low) || now.MatchString(rest) {
		return false
	}
	told := hear.Dangers(rest, t.crewNames())
	for _, d := range told {
		if d.Kind != hear.Hurt && d.Stands == hear.Now && !slices.ContainsFunc(told, func(h hear.Danger) bool { return h.Kind == hear.Hurt && strings.Contains(d.Said, h.Said) }) {
			return false // and something else than an arm that broke
		}
	}
	names, nobody := t.namedHurt(rest)
	known, unknown := t.hurtCrew(*stop)
	return !nobody && (unknown || !slices.ContainsFunc(names, func(n string) bool { return !slices.Contains(known, n) }))
}

// anotherHurt reports whether words tell of somebody hurt beside those for whom the stop
// is on.
func (t *turn) anotherHurt(text string) bool {
	stop := t.s.hurtStop()
	if stop == nil {
		return false
	}
	known, _ := t.hurtCrew(*stop)
	names, _ := t.namedHurt(text)
	return len(known) > 0 && slices.ContainsFunc(names, func(n string) bool { return !slices.Contains(known, n) })
}

// namedHurt returns who of the crew is named as hurt in words, and whether somebody is
// told of who may be none of them.
func (t *turn) namedHurt(text string) (names []string, other bool) {
	for _, d := range hear.Dangers(text, t.crewNames()) {
		if d.Kind != hear.Hurt {
			continue
		}
		n := len(names)
		for _, s := range t.s.Seats {
			if s.Name != "" && saidHurt(d, s.Name) {
				names = append(names, s.Name)
			}
		}
		other = other || n == len(names) && !vague.MatchString(strings.ToLower(d.What))
	}
	return names, other
}

// hurtLater reports whether whoever leads tells of somebody hurt while the job is handed
// over and its line still lies: that is a stop, and no answer to what stands.
func (t *turn) hurtLater(text string) bool {
	s, ok := t.sight(text)
	return ok && s.kind == "hurt" && t.s.State == Referred && t.s.Stage.Lies()
}

// hurtHere reports whether who speaks is hurt, told in the stop that is on or before.
func (t *turn) hurtHere() bool {
	if t.wasHurt(t.whoName()) {
		return true
	}
	if stop := t.s.stop(); stop != nil {
		names, _ := t.hurtCrew(*stop)
		return slices.ContainsFunc(names, func(n string) bool { return sameName(n, t.whoName()) })
	}
	return false
}

// hurtChats are the chats of those who are hurt, once the stop for it has its reason.
func (t *turn) hurtChats(reason string) []string {
	stop := t.s.hurtStop()
	if stop == nil {
		return nil
	}
	told := *stop
	told.Reason = reason
	names, _ := t.hurtCrew(told)
	var out []string
	for _, s := range t.s.Seats {
		if m := t.s.phone(s); m != nil && m.Chat != t.s.leadChat() && slices.Contains(names, s.Name) {
			out = append(out, m.Chat)
		}
	}
	return out
}
