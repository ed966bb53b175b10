package flow

import (
	"slices"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// Who writes in passing that they go, or that another has their post now, has not left the
// job, and the post is not another's by that either: who stands there is for whoever leads
// to say and for that person to take on. So the post is open from these words on, by a
// tight line everything holds for it, and whoever wrote stays there until it is taken.
//
// Source: common practice.

// goesOff takes words of somebody with a post who goes from it or hands it on, and with
// them what else the message says. It reports whether they were that.
func (t *turn) goesOff(text string) bool {
	rest, is := t.quits(text)
	switch {
	case !is:
		return false
	case rest != "":
		t.inWords(rest, t.text)
	case t.s.tight(): // what comes next hangs on the post
		t.ask()
	default:
		t.goOn()
	}
	return true
}

// quits opens the posts of whoever writes that they go from them, or hand them on, and
// returns what the message says beside that. Whoever leads speaks of others when they say
// that one takes over.
func (t *turn) quits(text string) (rest string, is bool) {
	m := t.me()
	if m == nil || m.As != AsLead && m.As != AsCrew || t.s.alone() || t.in.Press != nil {
		return "", false
	}
	switch t.s.State {
	case Away, Closed, Debrief, Referred:
		return "", false
	}
	if t.s.Stage == PullOver || t.s.Stage == GearCheck || t.s.seatOf(m.ID) == nil {
		return "", false
	}
	o := hear.OffPost(text, t.crewNames())
	if o.Goes == "" && (t.isLead() || o.Hands == "" || !t.s.Stage.Lies()) {
		return "", false
	}
	t.act(Act{Do: DoReport, Path: "leaving", Value: wording.Plain(text)})
	var posts wording.Names
	for _, s := range slices.Clone(t.s.Seats) {
		if s.Member == m.ID {
			posts = append(posts, t.role(s))
			t.act(Act{Do: DoSeat, Topic: s.Post.Does, Path: s.Post.Role, Value: s.Name, Second: s.Member})
		}
	}
	if t.s.tight() { // what is said then is said with the post that is lost
		t.givenUp = true
		t.holdsOn()
		if t.stops() { // whose words everybody reads
			return o.Rest, true
		}
		t.toLead(func() { t.say(wording.JoinSays, wording.Args{"Name": m.Name, "Text": wording.Plain(text)}) })
	} else {
		say := func() { t.say(wording.SeatOff, wording.Args{"Name": m.Name, "Names": posts}) }
		say()
		t.toLead(say)
	}
	if t.isLead() && o.Hands != "" {
		return o.Hands + " " + o.Rest, true
	}
	return o.Rest, true
}

// toldToStay tells whoever gave their post up at a tight line, in their own chat, to stay
// at it, and how they keep it after all.
func (t *turn) toldToStay(posts []string) {
	t.urgent = true
	t.mail.dropHold()
	behind := t.mail.stopFirst()
	defer behind()
	k, args := wording.PullLostGiver, wording.Args{"Names": t.postNames(posts), "Name": t.s.Lead.Name}
	if t.isLead() {
		k = wording.PullLostGiverLead
	}
	t.mail.first(k, args)
	if t.moved0 {
		t.first(t.forPuller(wording.PullHoldNow), nil)
	}
}
