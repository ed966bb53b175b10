package flow

import (
	"regexp"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A lead who is hurt, or whose phone is about to die, has to be able to hand the lead
// over in the words that come, and whoever is asked to lead is asked in a stop and while
// the job is referred too: till then nobody can end it.

// takesLeadWords are words by which somebody takes the lead.
var takesLeadWords = regexp.MustCompile(`^(?:(?:ok(?:ay)?|so|now|right|then)[ ,]+)*i(?:'m|'ll| am| will)? (?:(?:now )?(?:take|taking) (?:over )?(?:the )?lead|(?:now )?lead|take over|taking over|(?:now )?leading|(?:the )?(?:new )?lead(?:er)?)(?: it)?(?: now| here| from now(?: on)?| from here)?$`)

// handsOver are words by which whoever leads gives the lead to somebody, with the name.
var handsOver = regexp.MustCompile(`(?:^|[,;.!] ?|\b(?:and|so|i|i'll|i will|please|must|have to|need to) )(?:i )?(?:hand(?:ing)? (?:it |the lead |the job |this )?over to|giv(?:e|ing) (?:it |the lead |the job )?(?:over )?to|(?:the )?lead (?:goes|passes) (?:over )?to|pass(?:ing)? (?:it |the lead )?(?:on |over )?to) @?(\pL[\pL'-]*)(?: now| please| from now(?: on)?)?\W*$`)

// ownPhone are words of the phone of who hands over, and of nothing in the pull.
var ownPhone = regexp.MustCompile(`\b(?:phone|battery|charge|signal bars?|reception)\b`)

// leadWords take both, and report whether they were any.
func (t *turn) leadWords(text string) bool {
	low := strings.Trim(hear.Lowered(text), " .!")
	me := t.me()
	if me == nil || t.s.alone() || strings.HasSuffix(low, "?") {
		return false
	}
	if takesLeadWords.MatchString(low) {
		if t.isLead() {
			return false
		}
		t.takeLead()
		return true
	}
	m := handsOver.FindStringSubmatch(low)
	if m == nil || !t.isLead() || t.s.called(m[1]) == nil {
		return false
	}
	if rest := strings.TrimSuffix(low, m[0]); rest != "" && !ownPhone.MatchString(rest) && !plainHanding.MatchString(rest) {
		return false // what else is said comes first
	}
	t.handOver(m[1])
	return true
}

// plainHanding is nothing but words around a handing over.
var plainHanding = regexp.MustCompile(`^(?:(?:ok(?:ay)?|so|now|i|must|have|need|to|go|will|i'll|i'm|am|off|home|and|please|sorry|tired|ill|sick)[ ,.]*)*$`)

// leadHurt reports whether whoever leads was told to be hurt.
func (t *turn) leadHurt() bool {
	if t.wasHurt(t.s.Lead.Name) {
		return true
	}
	stop := t.s.stop()
	if t.s.State != Halted || stop == nil {
		return false
	}
	names, _ := t.hurtCrew(*stop)
	for _, n := range names {
		if sameName(n, t.s.Lead.Name) {
			return true
		}
	}
	return false
}

// wantLead asks whoever was named to lead whether they take it on, where nothing else
// is asked of parts: in a stop once they stand, and while the job is referred.
func (t *turn) wantLead(chat string) want {
	if t.s.State != Halted && t.s.State != Referred || t.s.State == Halted && t.movingIn(chat) || len(t.s.Seats) == 0 {
		return want{}
	}
	s := t.s.doer("leader")
	if s == nil || s.Post.Does != "leader" || s.Name == "" || s.Taken || s.Member == t.s.Lead.ID || t.s.phone(*s) == nil || t.seatChat(*s) != chat {
		return want{}
	}
	seat := *s
	return want{id: "seat-" + itoa(seat.Number), say: func() { t.offerSeat(seat) }, again: func() { t.askSeat(seat) }}
}

// wheelLeads reports whether somebody would lead from the wheel at a tight line, and
// says so.
func (t *turn) wheelLeads(m Member) bool {
	drives := t.s.doer("driver")
	if !t.s.tight() || drives == nil || drives.Member != m.ID {
		return false
	}
	t.holdNow()
	t.remark(wording.SeatWheel, wording.Args{"Name": m.Name})
	return true
}
