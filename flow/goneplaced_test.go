package flow_test

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"linetender/flow"
)

// TestWhoHasGoneGetsNoPost: whoever was told to have gone and has no phone is given no post
// before it is told that one more is there.
func TestWhoHasGoneGetsNoPost(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	p := readyToPull(t, "Bo", "Cy", "Eve")
	p.to(flow.Held)
	p.say("Ada", "Di is gone")
	if got := said(p.say("Ada", "Di is holder")["test/Ada"]); !strings.Contains(got, "seat.has_gone") {
		t.Errorf("who has gone is placed: %s", got)
	}
	for _, s := range p.job().Seats {
		if s.Name == "Di" {
			t.Errorf("who has gone has a part: %+v", s)
		}
	}
	p.say("Ada", "change people 4")
	p.say("Ada", "Di is holder")
	found := false
	for _, s := range p.job().Seats {
		found = found || s.Name == "Di" && s.Post.Does == "holder"
	}
	if !found {
		t.Errorf("who is back gets no part: %+v", p.job().Seats)
	}
}

// TestTheSameWordsTwiceConfirmOnce: on one phone a confirmation that comes twice is not the
// next person's as well.
func TestTheSameWordsTwiceConfirmOnce(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	p := readyToPull(t)
	p.to(flow.Held)
	words := "so it is " + strconv.Itoa(p.job().Hold)
	p.say("Ada", words)
	n := len(lastHold(p.job()).Sure)
	p.at = p.at.Add(-18 * time.Second) // two seconds later
	if p.say("Ada", words); len(lastHold(p.job()).Sure) != n || n == 0 {
		t.Errorf("%q twice confirms %+v", words, lastHold(p.job()).Sure)
	}
	if p.say("Ada", words); len(lastHold(p.job()).Sure) <= n {
		t.Errorf("%q once somebody was asked does not count", words)
	}
}
