package puller_test

import (
	"fmt"

	"linetender/calc/bound"
	"linetender/calc/puller"
	"linetender/calc/unit"
)

func check(err error) {
	if err != nil {
		panic(err)
	}
}

// tractor stands on grass, heading down 4 to 6 degrees.
var tractor = puller.Stand{
	Mass: bound.Spread(unit.Kilograms(4000), 0.05), Way: bound.Between(unit.Degrees(-6), unit.Degrees(-4)),
	Driven:  bound.Exactly(bound.Ratio(1)),
	Grip:    bound.Of[bound.Ratio]{Low: 0.3, Best: 0.4, High: 0.65},
	Rolling: bound.Of[bound.Ratio]{Low: 0.03, Best: 0.08, High: 0.12},
}

func ExampleTraction() {
	f, err := puller.Traction(tractor)
	check(err)
	fmt.Printf("counted on for %.1f kN, likely %.1f kN\n", f.Low.Kilonewtons(), f.Best.Kilonewtons())
	// Output: counted on for 9.3 kN, likely 15.9 kN
}

func ExampleMost() {
	f, err := puller.Most(tractor)
	check(err)
	fmt.Printf("when the load snags, up to %.1f kN\n", f.Kilonewtons())
	// Output: when the load snags, up to 31.0 kN
}

func ExampleBraked() {
	f, err := puller.Braked(tractor)
	check(err)
	fmt.Printf("with all brakes on it holds %.1f kN\n", f.Low.Kilonewtons())
	// Output: with all brakes on it holds 13.8 kN
}

func ExampleTipping() {
	f, err := puller.Tipping(puller.Frame{
		Mass: bound.Exactly(unit.Kilograms(4000)), Way: bound.Between(unit.Degrees(0), unit.Degrees(10)),
		FrontShare: bound.Exactly(bound.Ratio(0.3)), Wheelbase: bound.Exactly(unit.Metres(2.4)),
		CGHeight: bound.Exactly(unit.Metres(0.9)), Hitch: bound.Exactly(unit.Metres(0.5)),
	})
	check(err)
	fmt.Printf("its front may lift from %.0f kN\n", f.Low.Kilonewtons())
	// Output: its front may lift from 43 kN
}

func ExampleWinch() {
	f, err := puller.Winch(bound.Exactly(unit.PoundsForce(20000)), bound.Of[bound.Ratio]{Low: 0.5, Best: 0.7127, High: 0.714286})
	check(err)
	fmt.Printf("fifth layer: %.0f lb printed, %.0f lb counted on\n", f.Best.PoundsForce(), f.Low.PoundsForce())
	// Output: fifth layer: 14254 lb printed, 10000 lb counted on
}

func ExamplePeople() {
	f, err := puller.People(6, bound.Of[unit.Force]{Low: 70, Best: 220, High: 267})
	check(err)
	fmt.Printf("six people: counted on for %.0f N\n", f.Low.Newtons())
	// Output: six people: counted on for 420 N
}
