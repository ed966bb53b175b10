package flow

import "linetender/flow/wording"

// Of two figures the lighter load or the gentler slope makes the puller do with less. That
// somebody is right, or a button, is no figure of who says so, nor how it was found: to take
// the less from another phone, whoever leads writes it with how it is known, unless who told
// it has said so. One that is less by a good part is asked back once all the same: a figure
// of something else, or a slip of the thumb, looks like that.
//
// Source: common practice.

// heldLess keeps, of two answers, which figure was asked back as less by a good part.
const heldLess = "less-of-"

// owesHow asks for what is missing of the less of two figures, and reports whether it did:
// until it is told, the two stay open and the job goes by the worse.
func (t *turn) owesHow(d Differ, value, from string) bool {
	if d.Path != "load.mass" && d.Path != "load.slope" || !worseEnd(d.Path, d.Was, value) {
		return false
	}
	args := wording.Args{"What": t.whatOf(d.Path), "Text": t.spoken(d.Path, value), "Was": t.spoken(d.Path, d.Was)}
	how := map[string]string{"load.mass": "weighed", "load.slope": "measured"}[d.Path]
	held := heldLess + itoa(d.Number)
	switch {
	case from == "" || from == "guess":
		args["Result"] = value + " " + how
		t.remark(wording.DifferHowKnown, args)
	case byAGoodPart(d.Path, value, d.Was) && t.s.Held[held] != value:
		t.act(Act{Do: DoHold, Path: held, Value: value})
		t.remark(wording.DifferSlip, args)
	default:
		return false
	}
	return true
}

// goodPart is the part of a figure below which another in its place is asked back about.
//
// Source: from memory; weights told of one vehicle by people who know it lie closer.
const goodPart = 2.0 / 3

// byAGoodPart reports whether a figure is so much less than another that it may be one of
// something else.
func byAGoodPart(path, value, was string) bool {
	less, ok := figureOf(path, value, 1)
	before, told := figureOf(path, was, 1)
	return ok && told && less < before*goodPart
}
