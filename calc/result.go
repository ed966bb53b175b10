package calc

import (
	"encoding/json"

	"linetender/calc/bound"
	"linetender/calc/unit"
)

// Decision is what a plan says. They are ordered: a worse one wins.
type Decision string

// The decisions, worst first.
const (
	Refer Decision = "refer" // for a licensed recovery or rigging professional; no force is given
	NoGo  Decision = "no-go" // something fails that nobody can wave through
	Open  Decision = "open"  // nothing fails, but not enough is known
	Go    Decision = "go"    // every check that can be decided here passes
)

// Ranges of what a plan puts out.
type (
	Force  = bound.Of[unit.Force]
	Length = bound.Of[unit.Length]
	Energy = bound.Of[unit.Energy]
	Ratio  = bound.Of[bound.Ratio]
)

// A Plan is the answer to one case. Its JSON is SI; equal cases give equal
// bytes. With Refer only Decision, Why, Checks, Assumed, Cautions and
// Handover are there.
type Plan struct {
	Decision    Decision    `json:"decision"`
	Conditional bool        `json:"conditional"` // a go that still needs a signature
	Why         []string    `json:"why"`         // one to three, most decisive first
	Resistance  *Resistance `json:"resistance,omitempty"`
	Force       *Force      `json:"force_n,omitempty"`     // along the line
	SideLoad    *Force      `json:"side_load_n,omitempty"` // across the way the load will move
	RunsAlone   bool        `json:"runs_by_itself,omitempty"`
	Tackle      *Rove       `json:"tackle,omitempty"`
	SignOffs    []string    `json:"sign_offs"`
	Puller      *Pull       `json:"puller,omitempty"`
	Travel      *Travel     `json:"travel,omitempty"`
	Holding     *Holding    `json:"holding,omitempty"`
	Gear        []Member    `json:"gear,omitzero"`    // weakest first
	Anchors     []Held      `json:"anchors,omitzero"` // weakest first
	Checks      []Check     `json:"checks"`
	Options     []Option    `json:"options,omitzero"`
	Changes     []Change    `json:"changes,omitzero"`
	Measure     []Measure   `json:"measure,omitzero"`
	Ends        []End       `json:"ends,omitzero"` // of the lines, and what joins each must bear
	Energy      *Stored     `json:"energy,omitempty"`
	Assumed     []Assumed   `json:"assumed"`
	Notes       []string    `json:"notes,omitzero"` // answers to the sums that crews get wrong by head
	Seen        []Saw       `json:"seen,omitzero"`  // what each thing the crew saw did to the ranges
	Cautions    []string    `json:"cautions"`
	Handover    []string    `json:"handover,omitempty"` // the card for the professional
	Working     []Step      `json:"working,omitzero"`
}

// MarshalJSON leaves out of a plan for a professional what is of a go alone.
func (p Plan) MarshalJSON() ([]byte, error) {
	type whole Plan
	if p.Decision != Refer {
		return json.Marshal(whole(p))
	}
	return json.Marshal(struct {
		whole
		Conditional *bool     `json:"conditional,omitempty"`
		SignOffs    *[]string `json:"sign_offs,omitempty"`
	}{whole: whole(p)})
}

// Resistance is what the load opposes to being moved, by cause, along the
// way it will move. Grade is negative when it helps.
type Resistance struct {
	Grade   Force `json:"grade_n"`
	Rolling Force `json:"rolling_n"`
	Drag    Force `json:"drag_n"`
	Mire    Force `json:"mire_n"`
	Lip     Force `json:"lip_n"`
	Total   Force `json:"total_n"`
}

// Rove is the tackle as the plan has it.
type Rove struct {
	Parts          int          `json:"parts"`
	HaulFrom       string       `json:"haul_from"`
	Sheaves        int          `json:"sheaves"`
	LeadBlocks     int          `json:"lead_blocks"`
	Efficiency     Ratio        `json:"sheave_efficiency"`
	Advantage      Ratio        `json:"advantage"`
	Tensions       []unit.Force `json:"tensions_n"` // haul line first, then on to the dead end
	Haul           Force        `json:"haul_n"`     // at the puller
	StandingAnchor Force        `json:"standing_anchor_n"`
	LeadAnchor     Force        `json:"lead_anchor_n"`
	HandbookHaul   unit.Force   `json:"handbook_haul_n"`
	Compound       *Compound    `json:"compound,omitempty"`
}

// Compound is a second tackle that hauls the first one's haul line.
type Compound struct {
	Parts     int   `json:"parts"`
	Advantage Ratio `json:"advantage"` // of both together
	Haul      Force `json:"haul_n"`
}

// Pull is what the puller can give where it stands.
type Pull struct {
	Name      string      `json:"name,omitempty"`
	Place     int         `json:"place,omitempty"`       // among several pullers, from 0
	Available *Force      `json:"available_n,omitempty"` // nil: not enough is known
	Most      *unit.Force `json:"most_n,omitempty"`      // what nothing but its own limits stops
	Limit     string      `json:"limit,omitempty"`
}

// Travel is the way the haul line goes.
type Travel struct {
	Haul  *Length      `json:"haul_m,omitempty"`
	Bites *int         `json:"bites,omitempty"`
	bite  *unit.Length // the longest, which Bites goes by
	Rope  *Length      `json:"rope_m,omitempty"`
}

// Holding is what the line that keeps the load carries.
type Holding struct {
	Static Force    `json:"static_n"`
	Needed bool     `json:"needed"`
	Main   bool     `json:"main_line"` // the load runs by itself: this line is the main one
	Arrest []Arrest `json:"arrest,omitempty"`
}

// Arrest is the peak when the load has run up some slack.
type Arrest struct {
	Slack unit.Length `json:"slack_m"`
	Force Force       `json:"arrest_n"`
}

// Member is one piece of the load path.
type Member struct {
	Kind    string      `json:"kind"`
	Name    string      `json:"name,omitempty"`
	Use     string      `json:"use"`
	Tension unit.Force  `json:"tension_n"`
	Working *unit.Force `json:"working_n"` // nil: not known
	Ratio   *float64    `json:"use_ratio"` // tension over working limit; nil: not known or nothing it may carry
	Peak    *unit.Force `json:"peak_n"`    // at the puller's most
	Passes  bool        `json:"passes"`
	Asked   bool        `json:"asked,omitempty"`  // it does not fail, and passes only once what is asked is told
	Choked  bool        `json:"choked,omitempty"` // it counts as put round and through its own eye
}

// Held is one anchor and what it holds.
type Held struct {
	Kind     string      `json:"kind"`
	Name     string      `json:"name,omitempty"`
	Use      string      `json:"use"`
	Force    unit.Force  `json:"force_n"`
	Peak     *unit.Force `json:"peak_n"`
	Capacity *unit.Force `json:"capacity_n"` // what may be used
	Ratio    *float64    `json:"use_ratio"`
	Passes   bool        `json:"passes"`
	Asked    bool        `json:"asked,omitempty"` // as a piece's
}

// Severity says what a failing check does.
type Severity string

// The severities.
const (
	Block   Severity = "block"
	SignOff Severity = "sign-off"
	Advice  Severity = "advice"
)

// Result is how a check came out.
type Result string

// The results.
const (
	Pass    Result = "pass"
	Fail    Result = "fail"
	Unknown Result = "unknown"
)

// A Check is one line of the go/no-go list.
type Check struct {
	ID       string   `json:"id"`
	Severity Severity `json:"severity"`
	Result   Result   `json:"result"`
	OnSite   bool     `json:"on_site,omitempty"` // only people on the spot can answer; unknown leaves the decision alone
	Text     string   `json:"text"`
	Source   string   `json:"source"`
	Fields   []string `json:"fields,omitempty"` // what to find out when unknown
	Pieces   []string `json:"pieces,omitempty"` // each piece that a signature for it is given for, with its figures: the signature names just these
}

// Option is one number of parts that was weighed.
type Option struct {
	Parts    int      `json:"parts"`
	HaulFrom string   `json:"haul_from"`
	Decision Decision `json:"decision"`
	Why      string   `json:"why"`
	Taken    bool     `json:"taken,omitempty"`
}

// Change is something that would turn a no-go round, tried by planning again.
type Change struct {
	Do       string   `json:"do"`
	Then     Decision `json:"then"`
	SignOffs []string `json:"sign_offs,omitempty"` // checks that must be signed for then, as the plan's own
}

// Measure is an answer worth finding out.
type Measure struct {
	Field     string `json:"field"`
	Narrows   string `json:"narrows"`
	CouldFlip bool   `json:"could_flip"`
	Swing     *Swing `json:"-"` // nil for what nobody has said
}

// Swing is how far the most strained thing is used, haul at the puller among
// them, over what it may carry: with all unknowns at their best figure, and
// with the measured one at its low and high end. One is the limit. It is for
// drawing, so the JSON leaves it out.
type Swing struct {
	Best, Low, High float64
	AtLow, AtHigh   Decision
}

// Stored is the energy in the tight line.
type Stored struct {
	Stored *Energy     `json:"stored_j,omitempty"`
	Clear  unit.Length `json:"clear_m"`
	Least  bool        `json:"clear_least,omitempty"` // no more than the least that it can be: nobody said how long the line is
	Beside string      `json:"beside,omitempty"`      // something familiar of the same energy
	tight  tight       // how Stored comes about
	far    string      // the sum for Clear
}

// Assumed is a value that nobody gave.
type Assumed struct {
	Field string `json:"field"`
	Value string `json:"value"`
	Why   string `json:"why"`
}

// Step is one line of the working: a formula in words, the numbers that went
// in, the number that came out and where the rule is from.
type Step struct {
	Topic   string `json:"topic"`
	Formula string `json:"formula"`
	In      string `json:"in"`
	Out     string `json:"out"`
	Source  string `json:"source"`
}
