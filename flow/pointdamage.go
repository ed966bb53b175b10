package flow

import (
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A tow eye, a hitch or a hook is often told of by what it looks like from where
// somebody stands: bent, cracked, coming out. What is told so is not good by the word
// of before, and not before somebody else has looked.

var (
	// aPoint are what a line is made fast to on a vehicle.
	aPoint = hear.Expression(`\b(?:eyes?|eyelet|tow(?:ing)?[- ]?(?:eye|hook|loop|bar|ball|point|pin)|hook|hitch|draw ?bar|d[- ]?ring|lug|recovery point|pulling point|made fast)\b`)

	// givesWay are words for what bends or comes out.
	givesWay = hear.Expression(`\b(?:bent|bends|bending|buckled|cracked|crack|cracking|twisted|twisting|opened|opening(?: up)?|deformed|stretched|torn|tearing|(?:pulled|pulling|coming|comes|came) (?:out|off|loose|away)|loose|broken|broke|damaged|rusted through|ripped|ripping|gave way|giving way)\b`)

	// onPuller are words that it is the puller's.
	onPuller = hear.Expression(`\b(?:pullers?|tractors?|winch(?:es)?|diggers?|excavators?|loaders?|(?:pulling|towing) (?:one|vehicle|machine|truck|car|lorry|van|jeep)|our (?:hitch|hook|eye))\b`)

	// ofVehicle are words that it is on a vehicle, and no piece of the gear.
	ofVehicle = hear.Expression(`\b(?:tow|towing|lorr(?:y|ies)|trucks?|cars?|vans?|trailers?|vehicles?|wagons?|jeep|load|bumper|chassis|frame|hitch|axle)\b`)
)

// tellsBent reports whether words tell of damage to what a line is made fast to.
func tellsBent(low string) bool {
	return aPoint.MatchString(low) && givesWay.MatchString(low) && !noMore.MatchString(low) && !denied.MatchString(low)
}

// pointFacts are those of words that tell of damage to the load's tow point, in words of
// their own; where it is the puller's what the line is made fast to there is asked again.
func (t *turn) pointFacts(text string) []hear.Fact {
	low := hear.Lowered(text)
	if !tellsBent(low) || onPuller.MatchString(low) || !ofVehicle.MatchString(low) {
		return nil
	}
	if _, told := t.s.Sheet.Get("load.tow_point.kind"); !told {
		return nil
	}
	return []hear.Fact{{Field: "load.tow_point.condition", Value: "damaged"}}
}

// hitchDoubted asks again what the line is made fast to on the puller, where words tell
// of damage to it.
func (t *turn) hitchDoubted(text string) {
	low := hear.Lowered(text)
	if !tellsBent(low) || !onPuller.MatchString(low) || isQuestion(low) {
		return
	}
	for _, field := range []string{"puller.hitch", "pullers[0].hitch"} {
		if _, told := t.s.Sheet.Get(field); told {
			if name := topicFilling(field); name != "" {
				t.act(Act{Do: DoAgain, Topic: name, Reason: t.sayingWith(wording.StaleHitch, wording.Args{"Name": t.whoName(), "Text": wording.Plain(text)})})
			}
		}
	}
}
