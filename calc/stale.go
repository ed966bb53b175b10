package calc

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"

	"linetender/calc/job"
)

//go:embed stale.csv
var staleTable []byte

// A Cause is something after which answers are asked again.
type Cause string

// The causes.
const (
	Rain      Cause = "rain"
	PullSlip  Cause = "slip"    // the puller slipped or the load stuck
	Rerig     Cause = "rerig"   // the rope was laid out anew
	Person    Cause = "person"  // somebody came, went or changed places
	Hour      Cause = "hour"    // so many minutes went by; see [linetender/calc/handbook.StaleAfter]
	Stopped   Cause = "stop"    // whatever for: people move at a stop
	Unclear   Cause = "unclear" // a stop for something that no cause here is for
	Creep     Cause = "creep"   // the line moved on its anchor
	AnchorOut Cause = "anchor"  // an anchor moved

	Sound      Cause = "sound"  // a crack, a bang, a creak, the rope singing, smoke
	SignalLost Cause = "signal" // driver and signaller lost each other, by eye, ear or radio
	Unsure     Cause = "unsure" // somebody did not like it, whatever it was
	Inside     Cause = "inside" // a person or an animal came in
	Ran        Cause = "ran"    // the load moved by itself
	Lifted     Cause = "lifted" // the puller's front came up
	Tipped     Cause = "tipped" // the load turned, leaned or dug in
	Jerked     Cause = "jerk"   // the line took a shock: all that is loaded with it did
)

// Causes are all of them.
var Causes = []Cause{Rain, PullSlip, Rerig, Person, Hour, Stopped, Unclear, Creep, AnchorOut,
	Sound, SignalLost, Unsure, Inside, Ran, Lifted, Tipped, Jerked}

// Reopened is one answer that a cause could have changed.
type Reopened struct {
	Field string // of the sheet; anchors[*] is each anchor, gear[*] each piece
	Check string // the check it answers, "" when it goes into the sums
	Why   string
}

var reopened = func() map[Cause][]Reopened {
	out := map[Cause][]Reopened{}
	for _, r := range table("stale.csv", staleTable) {
		out[Cause(r[0])] = append(out[Cause(r[0])], Reopened{Field: r[1], Check: r[2], Why: r[3]})
	}
	return out
}()

// Stale returns the answers that a cause could have changed and that are to be
// asked again, and only those. Who looks is whose part it is. A cause that
// is none of Causes reopens nothing.
//
// Source: common practice.
func Stale(cause Cause) []Reopened { return slices.Clone(reopened[cause]) }

// In returns the fields of sheet s that r stands for and that somebody has
// answered: each anchor's and piece's, and each puller's where there are several.
func (r Reopened) In(s job.Sheet) []string {
	fields := []string{r.Field}
	switch {
	case strings.HasPrefix(r.Field, "anchors[*]"):
		fields = nil
		for i := range s.Anchors {
			fields = append(fields, strings.Replace(r.Field, "[*]", fmt.Sprintf("[%d]", i), 1))
		}
	case strings.HasPrefix(r.Field, "gear[*]"):
		fields = nil
		for i := range s.Gear {
			fields = append(fields, strings.Replace(r.Field, "[*]", fmt.Sprintf("[%d]", i), 1))
		}
	case strings.HasPrefix(r.Field, "puller.") && len(s.Pullers) > 0:
		fields = nil
		for i := range s.Pullers {
			fields = append(fields, strings.Replace(r.Field, "puller.", fmt.Sprintf("pullers[%d].", i), 1))
		}
	}
	return slices.DeleteFunc(fields, func(f string) bool { _, said := s.Get(f); return !said })
}

// Outlived returns the places in the sheet's seen list of what a cause has
// made untrue: after rain, a move or a reading no longer says that the load
// needs so little. A slip and a stuck load stay, because nothing of these
// makes a pull easier; the person who knows what was put right takes them out.
func Outlived(cause Cause, s job.Sheet) []int {
	var out []int
	for i, w := range s.Seen {
		if cause == Rain && (w.What == "move" || w.What == "reading") {
			out = append(out, i)
		}
	}
	return out
}
