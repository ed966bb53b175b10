package unit_test

import (
	"errors"
	"fmt"

	"linetender/calc/unit"
)

// A tag in kilonewtons, for a crew that thinks in pounds or in tonnes.
func ExampleForce() {
	f := unit.Kilonewtons(12.5)
	fmt.Printf("%.0f N, %.0f lb, %.0f kg, %.2f t\n", f.Newtons(), f.PoundsForce(), f.KilogramsForce(), f.TonnesForce())
	fmt.Printf("twice that: %.0f kN\n", f.Scale(2).Kilonewtons())
	// Output:
	// 12500 N, 2810 lb, 1275 kg, 1.27 t
	// twice that: 25 kN
}

// The three tons.
func ExampleMass() {
	for _, m := range []unit.Mass{unit.ShortTons(1), unit.Tonnes(1), unit.LongTons(1)} {
		fmt.Printf("%.0f kg, %.0f lb\n", m.Kilograms(), m.PoundsMass())
	}
	// Output:
	// 907 kg, 2000 lb
	// 1000 kg, 2205 lb
	// 1016 kg, 2240 lb
}

// An inch of rope, and the room a tractor has.
func ExampleLength() {
	fmt.Printf("%.1f mm\n", unit.Inches(1).Millimetres())
	fmt.Printf("%.0f ft\n", unit.Metres(40).Feet())
	// Output:
	// 25.4 mm
	// 131 ft
}

// Thirty per cent is not thirty degrees.
func ExamplePercent() {
	fmt.Printf("%.1f°, %.1f°\n", unit.Percent(30).Degrees(), unit.Degrees(30).Degrees())
	fmt.Printf("%.1f %%\n", unit.Degrees(30).Percent())
	// Output:
	// 16.7°, 30.0°
	// 57.7 %
}

// A 48 inch level held level, 9 inches over the ground at its low end.
func ExampleRise() {
	fmt.Printf("%.2f°\n", unit.Rise(unit.Inches(9), unit.Inches(48)).Degrees())
	// Output: 10.62°
}

// A 48 inch board lying on the ground, one end 9 inches above the other.
func ExampleIncline() {
	a, err := unit.Incline(unit.Inches(9), unit.Inches(48))
	fmt.Printf("%.2f°, %v\n", a.Degrees(), err)

	_, err = unit.Incline(unit.Inches(48), unit.Inches(9))
	var out *unit.RangeError
	fmt.Println(errors.As(err, &out), out.Name)
	// Output:
	// 10.81°, <nil>
	// true rise
}

// What hangs on the hook when a load hangs free.
func ExampleWeight() {
	fmt.Printf("%.1f kN\n", unit.Weight(unit.Kilograms(2400)).Kilonewtons())
	// Output: 23.5 kN
}

// Soil that bears 1750 lb to the square foot, in front of a buried log.
func ExamplePressure() {
	fmt.Printf("%.1f kPa\n", unit.PoundsPerSquareFoot(1750).Pascals()/1000)
	// Output: 83.8 kPa
}

// What a stretched rope gives back.
func ExampleEnergy() {
	fmt.Printf("%.0f J\n", unit.Kilojoules(28).Joules())
	// Output: 28000 J
}
