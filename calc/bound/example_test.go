package bound_test

import (
	"fmt"
	"math"

	"linetender/calc/bound"
	"linetender/calc/unit"
)

func kilograms(m bound.Of[unit.Mass]) string {
	return fmt.Sprintf("%.0f, %.0f, %.0f kg", m.Low.Kilograms(), m.Best.Kilograms(), m.High.Kilograms())
}

func ExampleReadMass() {
	for _, text := range []string{"5,200 lb", "2.2 to 2.6 t", "2400 kg +/- 10%", "two and a half tonnes", "a ton", "heavy", "2,400 t"} {
		r, err := bound.ReadMass(text)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(text, "=", kilograms(r.Value))
	}
	// Output:
	// 5,200 lb = 2359, 2359, 2359 kg
	// 2.2 to 2.6 t = 2200, 2400, 2600 kg
	// 2400 kg +/- 10% = 2160, 2400, 2640 kg
	// two and a half tonnes = 2500, 2500, 2500 kg
	// a ton = 907, 962, 1016 kg
	// "heavy" is no weight; write a number and a unit, such as 2400 kg or 5200 lb
	// "2,400 t" may mean two things, a thousand times apart; write the one that is meant, such as 2400 t or 2.4 t
}

// A tag in tons, and what may be counted on.
func ExampleReadForce() {
	r, err := bound.ReadForce("3 tons")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f kN at its low end, vague: %v\n", r.Value.Low.Kilonewtons(), r.Vague)
	// Output: 26.7 kN at its low end, vague: true
}

func ExampleReadLength() {
	for _, text := range []string{`3'6"`, "1 1/2 in", "24mm", "three eighths of an inch"} {
		r, err := bound.ReadLength(text)
		fmt.Printf("%s = %.1f mm, in %s, %v\n", text, r.Value.Best.Millimetres(), r.Unit, err)
	}
	// Output:
	// 3'6" = 1066.8 mm, in ft, <nil>
	// 1 1/2 in = 38.1 mm, in in, <nil>
	// 24mm = 24.0 mm, in mm, <nil>
	// three eighths of an inch = 9.5 mm, in in, <nil>
}

// The same two figures are not the same slope.
func ExampleReadSlope() {
	for _, text := range []string{"level 10 ft, gap 3 ft", "board 10 ft, rise 3 ft", "3 in 10", "30 %", "30 deg"} {
		r, err := bound.ReadSlope(text)
		fmt.Printf("%s = %.1f°, measured: %v, %v\n", text, r.Value.Best.Degrees(), r.Measured, err)
	}
	// Output:
	// level 10 ft, gap 3 ft = 16.7°, measured: true, <nil>
	// board 10 ft, rise 3 ft = 17.5°, measured: true, <nil>
	// 3 in 10 = 16.7°, measured: false, <nil>
	// 30 % = 16.7°, measured: false, <nil>
	// 30 deg = 30.0°, measured: false, <nil>
}

func ExampleReadAngle() {
	r, err := bound.ReadAngle("45 ± 5 deg")
	fmt.Printf("%.0f° to %.0f°, %v\n", r.Value.Low.Degrees(), r.Value.High.Degrees(), err)
	// Output: 40° to 50°, <nil>
}

func ExampleReadRatio() {
	r, err := bound.ReadRatio("60 to 70 %")
	fmt.Printf("%.2f to %.2f, %v\n", r.Value.Low, r.Value.High, err)
	// Output: 0.60 to 0.70, <nil>
}

func ExampleReadCount() {
	fmt.Println(bound.ReadCount("four"))
	fmt.Println(bound.ReadCount("some"))
	// Output:
	// 4 <nil>
	// 0 "some" is no number; write a whole number, such as 4
}

// A guessed weight against a rating that may be low: the worst corner decides.
func ExampleOf() {
	need := bound.Spread(unit.Kilonewtons(10), 0.25)
	rating := bound.Between(unit.Kilonewtons(12), unit.Kilonewtons(14))
	fmt.Printf("best against best: %v\n", need.Best <= rating.Best)
	fmt.Printf("worst against worst: %v\n", need.High <= rating.Low)
	// Output:
	// best against best: true
	// worst against worst: false
}

func ExampleExactly() {
	fmt.Println(kilograms(bound.Exactly(unit.Tonnes(2.4))))
	// Output: 2400, 2400, 2400 kg
}

func ExampleBetween() {
	fmt.Println(kilograms(bound.Between(unit.Tonnes(2.2), unit.Tonnes(2.6))))
	// Output: 2200, 2400, 2600 kg
}

func ExampleSpread() {
	fmt.Println(kilograms(bound.Spread(unit.Kilograms(2400), 0.25)))
	// Output: 1800, 2400, 3000 kg
}

func ExamplePlus() {
	fmt.Println(kilograms(bound.Plus(unit.Kilograms(2400), unit.Kilograms(50))))
	// Output: 2350, 2400, 2450 kg
}

// The share of a weight that a slope of 10 to 14 degrees takes along the ground
// and through rolling, between its best and its worst corner.
func ExampleCorners() {
	slope := bound.Between(unit.Degrees(10), unit.Degrees(14))
	rolling := bound.Between(bound.Ratio(0.07), bound.Ratio(0.16))
	low, high := bound.Corners(func(x []float64) float64 {
		return math.Sin(x[0]) + x[1]*math.Cos(x[0])
	}, slope.Ends(), rolling.Ends())
	fmt.Printf("%.3f to %.3f\n", low, high)
	// Output: 0.243 to 0.397
}
