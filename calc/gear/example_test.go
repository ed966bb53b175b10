package gear_test

import (
	"fmt"

	"linetender/calc/gear"
	"linetender/calc/unit"
)

// strap breaks at 80 kN and has a bowline in it.
var strap = gear.Stamp{Force: unit.Kilonewtons(80), Breaking: true, Factor: 5, Kept: 0.6, Legs: 1}

func ExampleWorking() {
	f, err := gear.Working(strap, unit.Degrees(60))
	if err != nil {
		panic(err)
	}
	fmt.Printf("it may carry %.1f kN\n", f.Kilonewtons())
	// Output: it may carry 9.6 kN
}

func ExampleBreaks() {
	f, err := gear.Breaks(strap, 2, unit.Degrees(60))
	if err != nil {
		panic(err)
	}
	fmt.Printf("expect it to break at %.0f kN\n", f.Kilonewtons())
	// Output: expect it to break at 48 kN
}

func ExampleSlingLeg() {
	f, err := gear.SlingLeg(unit.Weight(unit.Tonnes(5)), 2, unit.Metres(3.5), unit.Metres(2))
	if err != nil {
		panic(err)
	}
	fmt.Printf("%.0f kg in each leg\n", f.KilogramsForce())
	// Output: 4375 kg in each leg
}
