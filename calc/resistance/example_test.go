package resistance_test

import (
	"fmt"

	"linetender/calc/bound"
	"linetender/calc/resistance"
	"linetender/calc/unit"
)

func ExampleOf() {
	s, err := resistance.Of(resistance.Load{
		Mass:    bound.Spread(unit.Kilograms(2400), 0.1),
		Way:     bound.Plus(unit.Degrees(14), unit.Degrees(1)),
		Rolling: bound.Of[bound.Ratio]{Low: 0.05, Best: 0.1, High: 0.16},
	})
	if err != nil {
		panic(err)
	}
	fmt.Printf("between %.1f and %.1f kN, likely %.1f kN\n", s.Total.Low.Kilonewtons(), s.Total.High.Kilonewtons(), s.Total.Best.Kilonewtons())
	// Output: between 5.8 and 10.7 kN, likely 8.0 kN
}

func ExampleLip() {
	f, err := resistance.Lip(unit.Weight(unit.Kilograms(1200)), unit.Centimetres(10), unit.Centimetres(38))
	if err != nil {
		panic(err)
	}
	fmt.Printf("1.2 t on the axle, 10 cm step, 38 cm wheel: %.1f kN\n", f.Kilonewtons())
	// Output: 1.2 t on the axle, 10 cm step, 38 cm wheel: 10.8 kN
}

func ExampleStep() {
	share, err := resistance.Step(resistance.Edge{
		Height: bound.Between(unit.Centimetres(8), unit.Centimetres(12)), Radius: bound.Exactly(unit.Centimetres(38)),
		Axle: bound.Exactly(bound.Ratio(0.5)),
	})
	if err != nil {
		panic(err)
	}
	fmt.Printf("%.2f to %.2f of the load's weight\n", share.Low, share.High)
	// Output: 0.39 to 0.53 of the load's weight
}

func ExampleLeans() {
	lean, err := resistance.Leans(unit.Centimetres(17), unit.Centimetres(35), 0.75)
	if err != nil {
		panic(err)
	}
	fmt.Printf("a locked wheel of 35 cm at a step of 17 cm on gravel bears at %.0f°, and jams\n", lean.Degrees())
	// Output: a locked wheel of 35 cm at a step of 17 cm on gravel bears at 96°, and jams
}

func ExampleSlid() {
	fmt.Printf("%.2f of what is on it, beside what it drags and levers\n", resistance.Slid(0.8, 0.75))
	// Output: 2.33 of what is on it, beside what it drags and levers
}

func ExampleAlongLine() {
	line, side, err := resistance.AlongLine(bound.Exactly(unit.Kilonewtons(8)), bound.Between(unit.Degrees(0), unit.Degrees(20)))
	if err != nil {
		panic(err)
	}
	fmt.Printf("at 20° off: %.2f kN in the line, %.2f kN sideways\n", line.High.Kilonewtons(), side.High.Kilonewtons())
	// Output: at 20° off: 8.51 kN in the line, 2.91 kN sideways
}
