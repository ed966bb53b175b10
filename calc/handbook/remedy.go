package handbook

import (
	"linetender/calc/bound"
	"linetender/calc/unit"
)

const tableRemedy = "remedy"

// How far a job is changed before the change is another job, or none that a
// small crew can make.

// UnloadedMost returns the share of its mass that a load is unloaded by at most:
// the rest is the vehicle itself. Of a light one that is more than of a lorry.
func UnloadedMost(m unit.Mass) (bound.Ratio, Row) {
	if light, _ := exactMass(tableRemedy, "light vehicle up to"); m <= light {
		return exact(tableRemedy, "unloaded at most light")
	}
	return exact(tableRemedy, "unloaded at most heavy")
}

// RampedMost returns the share of its slope that a way is ramped by at most.
func RampedMost() (bound.Ratio, Row) { return exact(tableRemedy, "ramped at most") }

// RampedFrom returns the slope past which it is worth a spade, or moving the
// puller to level ground.
func RampedFrom() (unit.Angle, Row) { return exactAngle(tableRemedy, "slope worth ramping") }

// TurnedFrom returns the slope past which the way down is another way than up.
func TurnedFrom() (unit.Angle, Row) { return exactAngle(tableRemedy, "slope worth turning") }

// HeaviestPuller returns the mass past which no small crew brings a machine.
func HeaviestPuller() (unit.Mass, Row) { return exactMass(tableRemedy, "heaviest puller") }

// StrongestWinch returns the rating past which no small crew brings a winch, or
// one that is worked by hand.
func StrongestWinch(hand bool) (unit.Force, Row) {
	if hand {
		return exactForce(tableRemedy, "strongest hand winch")
	}
	return exactForce(tableRemedy, "strongest winch")
}

// StrongestGear returns the working limit past which no small crew brings a
// piece.
func StrongestGear() (unit.Force, Row) { return exactForce(tableRemedy, "strongest gear") }

// StrongestAnchor returns what no small crew's anchor is counted for more than.
func StrongestAnchor() (unit.Force, Row) { return exactForce(tableRemedy, "strongest anchor") }

// LongestRope returns the length past which no small crew brings a rope.
func LongestRope() (unit.Length, Row) { return exactLength(tableRemedy, "longest rope") }

// NearestPuller returns how near to its block a puller is set at the nearest.
func NearestPuller() (unit.Length, Row) { return exactLength(tableRemedy, "nearest puller") }

// HairOver returns what is to be brought over what was reckoned to need it.
func HairOver() (bound.Ratio, Row) { return exact(tableRemedy, "hair over") }
