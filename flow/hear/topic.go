package hear

import (
	"regexp"
	"strings"
)

// Topic is what the last question asked about: one of the constants, or the
// path of a field of a piece that is on the sheet already, such as
// "gear[2].rating" or "anchors[0].diameter". With a path, what a message says
// without naming another piece belongs to that piece.
type Topic string

// The topics. Each comment names what a short answer to it fills.
const (
	TopicNone         Topic = ""                         // nothing was asked: the first message, or a remark
	TopicPeople       Topic = "people"                   // hazards: anyone hurt, inside or under; wires, traffic, water, fuel, edge
	TopicMass         Topic = "mass"                     // load.mass, load.mass_from
	TopicMassFrom     Topic = "mass_from"                // load.mass_from
	TopicTon          Topic = "ton"                      // which ton or hundredweight was meant: the act Unit
	TopicSlope        Topic = "slope"                    // load.slope, load.slope_from
	TopicSlopeFrom    Topic = "slope_from"               // load.slope_from
	TopicLevel        Topic = "level"                    // load.slope from two lengths: a level held horizontal, and the gap
	TopicBoard        Topic = "board"                    // load.slope from two lengths: a board on the ground, and the rise
	TopicGround       Topic = "ground"                   // load.ground, load.sunk, load.locked
	TopicSunk         Topic = "sunk"                     // load.sunk
	TopicWheels       Topic = "wheels"                   // load.locked
	TopicBelly        Topic = "belly"                    // load.belly
	TopicLip          Topic = "lip"                      // load.lip
	TopicWheelRadius  Topic = "wheel_radius"             // load.lip.wheel_radius
	TopicPull         Topic = "pull"                     // load.pull
	TopicOffLine      Topic = "off_line"                 // load.off_line
	TopicSideSlope    Topic = "side_slope"               // load.side_slope
	TopicTowPoint     Topic = "tow_point"                // load.tow_point
	TopicTowRating    Topic = "tow_point.rating"         // load.tow_point.rating, .rating_kind
	TopicTowKind      Topic = "tow_point.rating_kind"    // load.tow_point.rating_kind
	TopicTowCondition Topic = "tow_point.condition"      // load.tow_point.condition
	TopicPuller       Topic = "puller"                   // puller: what it is, weighs, stands on; both ends of the line
	TopicPullerKind   Topic = "puller.kind"              // puller.kind
	TopicPullerMass   Topic = "puller.mass"              // puller.mass
	TopicPullerDriven Topic = "puller.driven"            // puller.driven
	TopicPullerRating Topic = "puller.rating"            // puller.rating of a winch
	TopicPullerPeople Topic = "puller.people"            // puller.people
	TopicCapstan      Topic = "puller.capstan"           // puller.capstan
	TopicWinchLayer   Topic = "puller.winch_layer"       // puller.winch_layer
	TopicDrum         Topic = "puller.drum"              // puller.drum
	TopicPullerGround Topic = "puller.ground"            // puller.ground
	TopicPullerSlope  Topic = "puller.slope"             // puller.slope
	TopicPullerPull   Topic = "puller.pull"              // puller.pull
	TopicRun          Topic = "puller.run"               // puller.run
	TopicHitch        Topic = "puller.hitch"             // puller.hitch
	TopicHitchRating  Topic = "puller.hitch_rating"      // puller.hitch_rating, .hitch_rating_kind
	TopicHitchStamp   Topic = "puller.hitch_rating_kind" // puller.hitch_rating_kind
	TopicHitchHeight  Topic = "puller.hitch_height"      // puller.hitch_height
	TopicRollover     Topic = "puller.rollover_frame"    // puller.rollover_frame
	TopicAnchor       Topic = "anchor"                   // anchors: new pieces
	TopicAxleHeight   Topic = "puller.axle_height"       // puller.axle_height
	TopicWheelbase    Topic = "puller.wheelbase"         // puller.wheelbase
	TopicCGHeight     Topic = "puller.cg_height"         // puller.cg_height
	TopicFrontShare   Topic = "puller.front_share"       // puller.front_share
	TopicPullerSide   Topic = "puller.side_slope"        // puller.side_slope
	TopicPullerStamp  Topic = "puller.rating_kind"       // puller.rating_kind
	TopicDistance     Topic = "distance"                 // distance
	TopicReach        Topic = "reach"                    // reach
	TopicLead         Topic = "lead"                     // lead
	TopicHoldReach    Topic = "holding_reach"            // holding_reach
	TopicParts        Topic = "parts"                    // tackle.parts
	TopicGear         Topic = "gear"                     // gear of any kind: new pieces
	TopicRope         Topic = "rope"                     // gear: a rope
	TopicBlock        Topic = "block"                    // gear: blocks
	TopicShackle      Topic = "shackle"                  // gear: shackles
	TopicSling        Topic = "sling"                    // gear: slings and strops
	TopicKit          Topic = "kit"                      // gear: what the crew keeps
	TopicCrew         Topic = "crew"                     // crew
	TopicYesNo        Topic = "yesno"                    // a question that yes or no answers
	TopicCheck        Topic = "check"                    // likewise: a go or no-go check
	TopicResume       Topic = "resume"                   // whether to go on with what was left
	TopicText         Topic = "text"                     // a name or a reason: only acts are read
)

// TonOf is the topic of the question which ton, or hundredweight, the weight
// or rating at path was told in. The answer is the act Unit, or a new figure
// for path.
func TonOf(path string) Topic { return TopicTon + ":" + Topic(path) }

func (t Topic) ton() bool {
	return t == TopicTon || strings.HasPrefix(string(t), string(TopicTon)+":")
}

// countable reports whether "none" is an answer to t and not merely a no.
func (t Topic) countable() bool {
	return t == TopicSunk || t == TopicLip || strings.HasSuffix(string(t), ".knots")
}

// towPoint reports whether t asks about where the line is made fast on the load.
func (t Topic) towPoint() bool {
	return t == TopicTowPoint || strings.HasPrefix(string(t), string(TopicTowPoint)+".")
}

// field returns the last part of t's name: "condition" of "gear[1].condition".
func (t Topic) field() string { return string(t)[strings.LastIndex(string(t), ".")+1:] }

// spans reports whether t asks for one of the lengths of the job.
func (t Topic) spans() bool {
	return t == TopicDistance || t == TopicReach || t == TopicLead || t == TopicHoldReach || t == TopicRun
}

// things reports whether t asks about gear or anchors, so that a sentence which
// names nothing goes on about the piece before.
func (t Topic) things() bool {
	switch t {
	case TopicAnchor, TopicGear, TopicRope, TopicBlock, TopicShackle, TopicSling, TopicKit:
		return true
	}
	return false
}

func (t Topic) tonPath() (string, bool) {
	return strings.CutPrefix(string(t), string(TopicTon)+":")
}

var ofPiece = regexp.MustCompile(`^((?:gear|anchors)\[\d{1,3}\])\.([a-z_]+)$`)

// piece returns the list item that t is about, "gear[2]", and the field of it.
func (t Topic) piece() (item, field string, ok bool) {
	m := ofPiece.FindStringSubmatch(string(t))
	if m == nil {
		return "", "", false
	}
	return m[1], m[2], true
}
