package picture

import (
	"slices"
	"strings"

	"linetender/calc/handbook"
)

// placed are the places above the zone as drawn, from the load to the anchor;
// the rest stand below it, by the puller.
var placed = []string{"chocks", "leader", "leader_signal", "leader_all", "holder", "rigger", "rigger_watch"}

// crew lists who is there besides the driver, as the conversation gives the
// parts out.
func (s *sketch) crew() []string {
	if s.c.Crew == nil {
		return nil
	}
	var out []string
	for _, p := range handbook.Posts(*s.c.Crew, s.p.Holding != nil && s.p.Holding.Needed) {
		if p.Does != "driver" {
			out = append(out, p.Role)
		}
	}
	return out
}

func (s *sketch) person(post string, x float64) {
	at := Point{x + 18, s.y - 12}
	s.shape("post", Ink, Ink, Point{at.X, at.Y - 18}, Point{at.X + 16, at.Y + 14}, Point{at.X - 16, at.Y + 14})
	s.text("post", Start, SmallText, false, Point{x + 44, s.y}, say("post_"+post))
}

func (s *sketch) postsAbove() {
	s.y += 10
	var told []string
	for _, p := range s.crew() {
		told = append(told, say("post_"+p))
	}
	if len(told) == 0 {
		key := "crew_untold"
		if s.c.Crew != nil {
			key = "alone"
		}
		s.para(true, say(key))
		s.say(say(key) + ".")
		return
	}
	s.say(say("alt_posts", strings.Join(told, ", ")))
	n := 0
	for _, p := range placed {
		if !slices.Contains(s.crew(), p) {
			continue
		}
		if n%3 == 0 {
			s.y += lineGap
		}
		s.person(p, margin+float64(n%3)*345)
		n++
	}
}

func (s *sketch) postsBelow() {
	x := margin
	for _, p := range s.crew() {
		if slices.Contains(placed, p) {
			continue
		}
		if x == margin {
			s.y += lineGap + 14
		}
		s.person(p, x)
		x += 345
	}
}
