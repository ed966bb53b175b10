package anchor_test

import (
	"fmt"

	"linetender/calc/anchor"
	"linetender/calc/unit"
)

func check(err error) {
	if err != nil {
		panic(err)
	}
}

func ExamplePicket() {
	f, err := anchor.Picket(unit.PoundsForce(1800), 0.5, 2)
	check(err)
	fmt.Printf("1-1-1 in wet ground: %.0f lb may be used\n", f.PoundsForce())
	// Output: 1-1-1 in wet ground: 450 lb may be used
}

// timber lies 7 ft deep in loam, the pull leaves at 1 in 3.
var timber = anchor.Log{
	Face: unit.Inches(18), Length: unit.Feet(9), Trench: unit.Feet(2),
	Pressure: unit.PoundsPerSquareFoot(8000), Soil: 1,
}

func ExampleDeadman() {
	f, err := anchor.Deadman(timber, 2)
	check(err)
	fmt.Printf("%.0f lb may be used\n", f.PoundsForce())
	// Output: 42000 lb may be used
}

func ExampleDeadmanLength() {
	l, err := anchor.DeadmanLength(timber, unit.PoundsForce(83600))
	check(err)
	fmt.Printf("%.1f ft\n", l.Feet())
	// Output: 9.0 ft
}

func ExampleVehicle() {
	level, err := anchor.Vehicle(unit.Tonnes(4), 0, 0.3, 0.5)
	check(err)
	sloping, err := anchor.Vehicle(unit.Tonnes(4), unit.Degrees(10), 0.3, 0.5)
	check(err)
	fmt.Printf("a braked 4 t machine on grass: %.1f kN; pulled down 10 deg: %.1f kN\n", level.Kilonewtons(), sloping.Kilonewtons())
	// Output: a braked 4 t machine on grass: 5.9 kN; pulled down 10 deg: 2.4 kN
}

func ExampleShared() {
	stumps := []unit.Force{unit.Kilonewtons(9), unit.Kilonewtons(10), unit.Kilonewtons(12)}
	one, err := anchor.Shared(stumps, false)
	check(err)
	two, err := anchor.Shared(stumps, true)
	check(err)
	fmt.Printf("%.0f kN; with the line running free between them %.0f kN\n", one.Kilonewtons(), two.Kilonewtons())
	// Output: 9 kN; with the line running free between them 18 kN
}
