package flow_test

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"linetender/flow"
	"linetender/flow/script"
)

// TestHoldingPointOfItsOwn: both lines told to be on one point is settled by naming the
// holding line's, with the word change or without; where that may be the same thing it is
// said which words tell that it is another, and those words do.
func TestHoldingPointOfItsOwn(t *testing.T) {
	flow.Lone(t)
	shared := append(append([]string{}, basics...), "4x4 tractor 3.1 t on gravel, rope to the drawbar", "change tow point the frame, stamped 5 t working",
		"oak 50 cm, alive and sound, stands straight", "rope 60 m 24 mm polyester WLL 2.2 t, block 3 t WLL, two shackles 3.25 t WLL", "change holding point same as the haul line")
	for _, tc := range []struct {
		say  string
		own  bool
		read string // in the answer
	}{
		{"change holding point the frame", false, "holding point another point of the frame, stamped 5 t working"},
		{"holding point the frame", false, "holding point another point of the frame, stamped 5 t working"},
		{"holding point another point of the frame, stamped 5 t working", true, "holding point the frame"},
		{"change holding point another point of the frame, stamped 5 t working", true, "holding point the frame"},
		{"the holding line's point is a second towing eye, stamped 5 t working", true, "holding point towing eye"},
		{"change holding point towing eye 5 t working", true, "holding point towing eye"},
		{"is the holding point the frame?", false, ""},
	} {
		c := after(t, shared...)
		if h := c.session().Sheet.Load.HoldingPoint; h == nil || h.Shared == nil || !*h.Shared {
			t.Fatal("both lines were told to be on one point, and that was not taken")
		}
		got := textOf(c.say(tc.say))
		h := c.session().Sheet.Load.HoldingPoint
		if own := h.Shared == nil || !*h.Shared; own != tc.own || own && h.Kind == "" || !strings.Contains(got, tc.read) {
			t.Errorf("%q leaves %+v, and says\n%s", tc.say, *h, got)
		}
	}
}

// talkUntil is a job as it stands in one of the golden conversations before a message.
func talkUntil(t *testing.T, name, until string) *chair {
	t.Helper()
	scripts, err := script.Folder(talkDir)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range scripts {
		if filepath.Base(s.Name) != name {
			continue
		}
		if at := slices.IndexFunc(s.Steps, func(st script.Step) bool { return st.Input == until }); at >= 0 {
			s.Steps = s.Steps[:at]
			_, c := play(t, s)
			return c
		}
	}
	t.Fatalf("%s has no message %q", name, until)
	return nil
}

// TestSharedPointIsOfferedAWayOut: who is asked for a name to the point that both lines
// share reads how a point of its own is told, and those words end the asking.
func TestSharedPointIsOfferedAWayOut(t *testing.T) {
	flow.Lone(t)
	c := talkUntil(t, "s21-go-fewer-parts", "Cy Holm, coordinator")
	for _, l := range []string{"change tow point rating 12 t working", "change holding point rating 12 t working", "change holding point same as the haul line"} {
		c.say(l)
	}
	words, seen := "holding point another point of the frame, stamped 5 t working", ""
	for range 40 {
		s := c.session()
		switch {
		case s.State == flow.Signing && s.Held["sign"] == "T4" && s.Topic == "sign_name":
		case s.State == flow.Verdict:
			seen = textOf(c.say("checks"))
			continue
		case s.Topic == "second_look":
			seen = textOf(c.say("Bo"))
			continue
		case s.Topic == "sign_name":
			c.say("Cy Holm, coordinator")
			continue
		case s.Topic == "sign_second":
			c.say("Di")
			continue
		case s.Topic == "sign_reason":
			seen = textOf(c.say("throttle stays at idle, marked on the pedal"))
			continue
		default:
			c.say("yes")
			continue
		}
		break
	}
	if !strings.Contains(seen, words) {
		t.Fatalf("asked for a name to one point for both lines, without the way out:\n%s", seen)
	}
	c.say(words)
	if s := c.session(); s.State == flow.Signing && s.Held["sign"] == "T4" || s.Sheet.Load.HoldingPoint.Shared != nil && *s.Sheet.Load.HoldingPoint.Shared {
		t.Errorf("told another point a name is still asked for, with %+v", *s.Sheet.Load.HoldingPoint)
	}
}
