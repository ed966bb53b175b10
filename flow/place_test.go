package flow_test

import (
	"testing"

	"linetender/flow"
)

// TestPlaceIsInTheHead: where a job is, in words and by a phone, is what a
// list of jobs can be asked for.
func TestPlaceIsInTheHead(t *testing.T) {
	c := newChair(t)
	c.say("/start")
	place := func() string {
		t.Helper()
		for stream, body := range c.log.heads {
			if h, err := flow.DecodeHead(body); err == nil && stream == flow.JobStream(h.Code) {
				return h.Place
			}
		}
		t.Fatal("there is no job")
		return ""
	}
	c.say("place is Miller's ford, north bank")
	if got, want := place(), "Miller's ford, north bank"; got != want {
		t.Errorf("the place is %q, want %q", got, want)
	}
	in := c.input()
	in.Other, in.Place = flow.OtherLocation, &flow.Place{Lat: 47.1, Lon: 8.25}
	c.run(in)
	if got, want := place(), "Miller's ford, north bank (47.10000, 8.25000)"; got != want {
		t.Errorf("the place is %q, want %q", got, want)
	}
}
