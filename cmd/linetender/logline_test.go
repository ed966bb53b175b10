package main

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestLogShowIsALineAnEvent: a job is read a line an event, with the decision
// where it turns and the day where it changes, at the clock of the site.
func TestLogShowIsALineAnEvent(t *testing.T) {
	who := flow.Person{ID: "1", Name: "Ada"}
	said := func(texts ...string) (out []flow.Said) {
		for _, text := range texts {
			out = append(out, flow.Said{Text: text})
		}
		return out
	}
	no := &flow.Finding{Decision: "no-go", Why: []string{"the puller is too weak", "the eye is bent"}}
	events := []flow.Entry{
		{At: "2026-05-04T21:58:10Z", Offset: "+02:00", Who: who, Heard: flow.Heard{Text: "rear wheels\nonly"}, Said: said("Noted.", "What now?"), Decided: no},
		{At: "2026-05-04T22:03:00Z", Offset: "+02:00", Who: who, Heard: flow.Heard{Press: "sure.9.rigger"}, Said: said("Confirmed."), Decided: no},
		{At: "2026-05-04T22:04:00Z", Offset: "+02:00", Who: flow.Person{}, Sent: []flow.Sent{{Chat: "x/2", Said: said("Still open.")}}},
		{At: "2026-05-04T22:05:00Z", Offset: "+02:00", Who: who, Heard: flow.Heard{Text: strings.Repeat("word ", 40)}, Said: said(strings.Repeat("more ", 40)), Decided: &flow.Finding{Decision: "go"}},
		{At: "2026-05-04T22:06:00Z", Offset: "+02:00", Who: who, Heard: flow.Heard{Press: "release.10"}, Said: said("Released.")},
	}
	var o outline
	got := ""
	for i, e := range events {
		got += o.lines(uint64(i+1), e)
	}
	want := `2026-05-04 (at the site, +02:00)
    1  23:58  Ada: rear wheels only | Noted.
       NO-GO: the puller is too weak
2026-05-05 (at the site, +02:00)
    2  00:03  Ada: [so it is, 9, rigger] | Confirmed.
    3  00:04  time: - | told x/2: Still open.
    4  00:05  Ada: word word word word word word word word word word word word word word… | more more more more more more more more more more more mo…
       GO
    5  00:06  Ada: [release 10] | Released.
`
	if got != want {
		t.Errorf("printed\n%s\nwant\n%s", got, want)
	}
	if strings.Count(turnText(1, events[0]), "\n") < 6 {
		t.Errorf("the whole of an event is %q", turnText(1, events[0]))
	}
}
