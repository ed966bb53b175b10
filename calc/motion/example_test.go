package motion_test

import (
	"fmt"

	"linetender/calc/bound"
	"linetender/calc/motion"
	"linetender/calc/unit"
)

func check(err error) {
	if err != nil {
		panic(err)
	}
}

func ExampleTravel() {
	d, err := motion.Travel(bound.Exactly(unit.Metres(12)), 4)
	check(err)
	fmt.Println(d.Best.Metres(), "m of haul line")
	// Output: 48 m of haul line
}

func ExampleBites() {
	n, err := motion.Bites(unit.Metres(48), unit.Metres(20))
	check(err)
	fmt.Println(n, "goes")
	// Output: 3 goes
}

func ExampleRope() {
	l, err := motion.Rope(4, bound.Exactly(unit.Metres(15)), bound.Exactly(unit.Metres(20)), 1.1, unit.Metres(3))
	check(err)
	fmt.Printf("%.0f m of rope\n", l.Best.Metres())
	// Output: 91 m of rope
}

// nylon breaks at 100 kN when it is a quarter to a half longer.
var nylon = bound.Of[bound.Ratio]{Low: 0.25, Best: 0.28, High: 0.5}

func ExampleStiffness() {
	ea, err := motion.Stiffness(bound.Exactly(unit.Kilonewtons(100)), nylon)
	check(err)
	fmt.Printf("EA %.0f to %.0f kN\n", ea.Low.Kilonewtons(), ea.High.Kilonewtons())
	// Output: EA 200 to 400 kN
}

func line() motion.Line {
	ea, err := motion.Stiffness(bound.Exactly(unit.Kilonewtons(100)), nylon)
	check(err)
	return motion.Line{Stiffness: ea, Length: bound.Exactly(unit.Metres(30))}
}

func ExampleStored() {
	j, stretch, err := motion.Stored(bound.Exactly(unit.Kilonewtons(12)), line())
	check(err)
	fmt.Printf("up to %.1f kJ, stretched up to %.1f m\n", j.High.Kilojoules(), stretch.High.Metres())
	// Output: up to 10.8 kJ, stretched up to 1.8 m
}

func ExampleArrest() {
	for _, slack := range []float64{0, 0.25, 0.5} {
		f, err := motion.Arrest(bound.Exactly(unit.Kilonewtons(5.7)), unit.Metres(slack), line())
		check(err)
		fmt.Printf("%.2f m of slack: %.1f kN\n", slack, f.High.Kilonewtons())
	}
	// Output:
	// 0.00 m of slack: 11.4 kN
	// 0.25 m of slack: 14.1 kN
	// 0.50 m of slack: 16.1 kN
}

func ExampleClearDistance() {
	fmt.Println(motion.ClearDistance(unit.Metres(25), unit.Metres(60), 2, true, unit.Metres(10)).Metres(), "m")
	// Output: 60 m
}
