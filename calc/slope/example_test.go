package slope_test

import (
	"fmt"

	"linetender/calc/slope"
	"linetender/calc/unit"
)

func ExamplePull() {
	f, err := slope.Pull(unit.Kilograms(2400), unit.Percent(25))
	if err != nil {
		panic(err)
	}
	fmt.Printf("2.4 t on a grade of 25 %%: %.2f kN down the slope\n", f.Kilonewtons())
	// Output: 2.4 t on a grade of 25 %: 5.71 kN down the slope
}

func ExampleNormal() {
	f, err := slope.Normal(unit.Kilograms(2400), unit.Percent(25))
	if err != nil {
		panic(err)
	}
	fmt.Printf("2.4 t on a grade of 25 %%: %.2f kN on the ground\n", f.Kilonewtons())
	// Output: 2.4 t on a grade of 25 %: 22.83 kN on the ground
}

func ExampleSixtieth() {
	rule, err := slope.Sixtieth(unit.Tonnes(3), unit.Degrees(10))
	if err != nil {
		panic(err)
	}
	exact, err := slope.Pull(unit.Tonnes(3), unit.Degrees(10))
	if err != nil {
		panic(err)
	}
	fmt.Printf("3 t at 10°: %.0f kg by the rule, %.0f kg by statics\n", rule.KilogramsForce(), exact.KilogramsForce())
	// Output: 3 t at 10°: 500 kg by the rule, 521 kg by statics
}
