package flow_test

import (
	"slices"
	"strings"

	"pgregory.net/rapid"

	"linetender/flow"
)

// manned holds a turn to this: with a tight line every post that was held is
// still held by somebody who is there, or everything holds and everybody was told
// in this turn which it is.
func (p *puller) manned(r *rapid.T, in flow.Input, what string, before, s *flow.Session, first map[string]flow.Message) {
	if !slices.Contains(tightStages, s.Stage) || !slices.Contains(tightStages, before.Stage) || s.State == flow.Closed {
		return
	}
	lost := ""
	for _, was := range before.Seats {
		if was.Name == "" || !was.Taken || absent(before, was) || was.Post.Does == "lookout" || was.Post.Does == "recorder" {
			continue
		}
		i := slices.IndexFunc(s.Seats, func(x flow.Seat) bool { return x.Post.Does == was.Post.Does })
		if i < 0 || s.Seats[i].Name == "" || !s.Seats[i].Taken || absent(s, s.Seats[i]) {
			lost = was.Name + " " + was.Post.Does
		}
	}
	if lost == "" {
		return
	}
	if s.Stage.Moves() {
		r.Fatalf("after %q of %s at %s, %s nobody is %s, and it is at %s", what, in.Chat, before.State, before.Stage, lost, s.Stage)
	}
	for _, m := range s.Party {
		if got, told := first[m.Chat]; !m.Gone && (!told || !got.Urgent || !slices.ContainsFunc(got.Parts, func(x flow.Said) bool {
			return x.Key == "pull.lost" || x.Key == "pull.lost_relief" || strings.HasPrefix(x.Key, "pull.lost_giver") || x.Key == "pull.passed" || strings.HasPrefix(x.Key, "pull.hold_now") || x.Key == "seat.hurt_who"
		})) {
			r.Fatalf("after %q of %s at %s, %s nobody is %s, and %s is told first %q, urgent %v", what, in.Chat, before.State, before.Stage, lost, m.Name, got.Text(), got.Urgent)
		}
	}
}

// absent reports whether who has a seat has gone, or their window closed.
func absent(s *flow.Session, seat flow.Seat) bool {
	i := slices.IndexFunc(s.Party, func(m flow.Member) bool { return m.ID == seat.Member })
	return seat.Member != "" && i >= 0 && (s.Party[i].Gone || s.Party[i].Away)
}

// reaches holds a stop to this: from any chat that ever belonged to the job it
// reaches all who are in it, or who called it reads plainly whom it did not.
func (p *puller) reaches(r *rapid.T, in flow.Input, what string, before, s *flow.Session, answer []flow.Message, first map[string]flow.Message) {
	if in.Text != "stop" && what != "[stop]" || before.State == flow.Closed || !slices.ContainsFunc(before.Party, func(m flow.Member) bool { return m.Chat == in.Chat }) {
		return
	}
	missed := ""
	for _, m := range before.Party {
		if got, told := first[m.Chat]; !m.Gone && m.Chat != in.Chat && (!told || got.Parts[0].Key != "stop.called") {
			missed = m.Name
		}
	}
	if missed == "" && s.State == flow.Halted {
		return
	}
	said := ""
	for _, m := range answer {
		said += m.Text()
	}
	if !strings.Contains(said, "NOBODY") || !strings.Contains(said, s.Code) {
		r.Fatalf("a stop of %s at %s, %s misses %q, leaves the job at %s and says only %q", in.Chat, before.State, before.Stage, missed, s.State, said)
	}
}
