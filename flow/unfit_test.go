package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

func seated(s *flow.Session, name string) bool {
	for _, seat := range s.Seats {
		if strings.EqualFold(seat.Name, name) {
			return true
		}
	}
	return false
}

// TestUnderAge: who is told to be under age has no part, counts for nobody's
// eyes and signs nothing.
func TestUnderAge(t *testing.T) {
	for _, names := range []string{"Ada, Bo, Cy and Di whos 15", "Ada, Bo, Cy, Di is only a kid", "im Ada, Bo, Cy and my lad", "Ada, Bo, Cy, Di (15)", "Ada, Bo, Cy, Di shes 15 so not her"} {
		p := planned(t)
		out := p.say("Ada", names)
		s := p.job()
		if seated(s, "Di") || seated(s, "my lad") || *s.Sheet.Crew != 3 || !strings.Contains(said(out["test/Ada"]), "seat.young") {
			t.Errorf("%q: %d people, %+v: %s", names, *s.Sheet.Crew, s.Seats, said(out["test/Ada"]))
		}
	}
	p := planned(t)
	p.say("Ada", "Ada, Bo, Cy, Di 47")
	if !seated(p.job(), "Di") && !seated(p.job(), "Di 47") && *p.job().Sheet.Crew != 4 {
		t.Errorf("who is 47 has no part: %+v", p.job().Seats)
	}
	for _, words := range []string{"Dis 15 hes only a kid, he's not doin that", "Di is 15", "Di is too young", "Di's a kid"} {
		for _, pulls := range []bool{false, true} {
			p := readyToPull(t)
			if pulls {
				p.to(flow.AllPlaced)
			}
			p.say("Ada", words)
			s := p.job()
			if s.State == flow.Pulling || s.Settled["site.sober"] != "" && !sober(s) == false || !pulls && seated(s, "Di") {
				t.Errorf("%q leaves the job at %s, %+v", words, s.State, s.Seats)
			}
			if p.say("Ada", "begin the pull"); p.job().State == flow.Pulling {
				t.Errorf("after %q the pull goes on", words)
			}
		}
	}
}

// sober reports whether all are told to be fit.
func sober(s *flow.Session) bool {
	v, _ := s.Sheet.Get("site.sober")
	return v == "true"
}

// TestUnfitStaysUnfit: while one who has been drinking has a post the yes to it
// is a no, and they are nobody's witness; the lead may say that it was wrong.
func TestUnfitStaysUnfit(t *testing.T) {
	p := readyToPull(t)
	p.say("Ada", "Di had a couple of beers")
	if sober(p.job()) {
		t.Fatal("Di had beers and all are sober")
	}
	p.say("Ada", "checks")
	for range 40 {
		if p.job().Topic == "site.sober" {
			break
		}
		p.say("Ada", "yes")
	}
	if out := p.say("Ada", "yes"); sober(p.job()) || !strings.Contains(said(out["test/Ada"]), "seat.unfit_sits") {
		t.Errorf("the yes counts: %s", said(out["test/Ada"]))
	}
	if p.say("Ada", "Di is sober"); p.job().Held["unfit"] != "" {
		t.Errorf("what was wrong stays: %q", p.job().Held["unfit"])
	}
}

// TestCountWithoutTheYoung: who is under age is not counted.
func TestCountWithoutTheYoung(t *testing.T) {
	c := standing1(t, "crew")
	for _, row := range []struct{ words, want string }{{"4, me dave gary and my lad whos 15", "3"}} {
		var got string
		for _, m := range c.say(row.words) {
			got += said([]flow.Message{m}) + " " + m.Text()
		}
		if !strings.Contains(got, "seat.young") || !strings.Contains(got, "people "+row.want) {
			t.Errorf("%q: %s", row.words, got)
		}
	}
}

// TestSigners: who signs is one of the crew or says what they are, whoever has the
// ending of a verb is the same, and a word is no reason.
func TestSigners(t *testing.T) {
	p := signing(t)
	if out := p.say("Ada", "Zed"); p.job().Topic != "sign_name" || !strings.Contains(said(out["test/Ada"]), "signer.who") {
		t.Errorf("a stranger signs: %s", said(out["test/Ada"]))
	}
	p.say("Ada", "Bo")
	for _, second := range []string{"Bos", "Bo's"} {
		if p.say("Ada", second); p.job().Topic != "sign_second" {
			t.Errorf("%s is another than Bo", second)
		}
	}
	p.say("Ada", "Cy")
	for _, reason := range []string{"cos", "itll be fine", "because", "it will be ok", "we need to get it out", "trust me"} {
		if out := p.say("Ada", reason); p.job().Topic != "sign_reason" || !strings.Contains(said(out["test/Ada"]), "signer.reason") {
			t.Errorf("%q is a reason: %s", reason, said(out["test/Ada"]))
		}
	}
	if p.say("Ada", "low throttle only, everyone 60 m off"); p.job().Topic == "sign_reason" {
		t.Error("a reason is none")
	}
}

// signing is a job that stands where a name is asked for.
func signing(t *testing.T) *puller {
	p := &puller{phonesAt: planned(t), crew: []string{"Ada"}}
	p.say("Ada", "Ada, Bo, Cy, Di")
	for range 60 {
		if p.job().Topic == "sign_name" {
			return p
		}
		switch topic := p.job().Topic; {
		case topic == "second_look":
			p.say("Ada", "Bo")
		case strings.HasPrefix(topic, "site."):
			p.say("Ada", "yes")
		default:
			for _, words := range []string{"good", "yes", "flat"} {
				if p.job().Topic == topic {
					p.say("Ada", words)
				}
			}
		}
	}
	t.Fatalf("nothing is to be signed: %s at %s", p.job().State, p.job().Topic)
	return nil
}

// TestTriesThatAreKnown: what slipped in the job was tried and failed.
func TestTriesThatAreKnown(t *testing.T) {
	p := readyToPull(t)
	p.to(flow.AllPlaced)
	p.say("Ada", "it is stuck")
	p.say("Ada", "change weight 2.1 t, weighed")
	s := p.job()
	for range 60 {
		if s = p.job(); s.Topic == "site.tries" {
			break
		}
		switch {
		case s.State == flow.Verdict:
			p.say("Ada", "checks")
		case strings.HasPrefix(s.Topic, "site."):
			p.say("Ada", "yes")
		default:
			p.say("Ada", "as before")
		}
	}
	if s.Topic != "site.tries" {
		t.Fatalf("it is not asked again: %s %s: %s", s.State, s.Topic, p.last["test/Ada"].Text())
	}
	out := p.say("Ada", "yes")
	if v, _ := p.job().Sheet.Get("site.tries"); v == "0" || !strings.Contains(said(out["test/Ada"]), "checks.tries_known") {
		t.Errorf("nobody has tried and failed, it says: %q", v)
	}
}

// TestDrinkersAndYoungByName: who is told by name to have been drinking, or to be young,
// in a list of names has no part, and goes by that name.
func TestDrinkersAndYoungByName(t *testing.T) {
	for names, unfit := range map[string]string{
		"me, joe, fred (had few pints), pete, tommy he's 15": "tommy,fred",
		"Ada, joe, pete and lass sal, sals 17":               "sal",
		"Ada, joe, pete, sal is only 17":                     "sal",
	} {
		p := planned(t)
		p.say("Ada", names)
		s := p.job()
		if s.Held["unfit"] != unfit || strings.Join(s.Crew, ",") != "Ada,joe,pete" || *s.Sheet.Crew != 3 {
			t.Errorf("%q: %d people, %q, and %q have no part", names, *s.Sheet.Crew, s.Crew, s.Held["unfit"])
		}
		for name := range strings.SplitSeq(unfit, ",") {
			if seated(s, name) {
				t.Errorf("%q: %s has a part", names, name)
			}
		}
	}
}
