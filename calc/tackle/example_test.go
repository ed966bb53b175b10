package tackle_test

import (
	"fmt"

	"linetender/calc/bound"
	"linetender/calc/tackle"
	"linetender/calc/unit"
)

var plain = bound.Of[bound.Ratio]{Low: 0.85, Best: 0.9, High: 0.94}

func check(err error) {
	if err != nil {
		panic(err)
	}
}

func ExampleAdvantage() {
	a, err := tackle.Advantage(tackle.Reeving{Parts: 4, From: tackle.Standing}, plain)
	check(err)
	fmt.Printf("four parts gain %.2f, between %.2f and %.2f\n", a.Best, a.Low, a.High)
	// Output: four parts gain 3.10, between 2.71 and 3.43
}

func ExampleTensions() {
	parts, err := tackle.Tensions(tackle.Reeving{Parts: 3, From: tackle.Moving}, unit.Kilonewtons(10), 0.9)
	check(err)
	for i, t := range parts {
		fmt.Printf("part %d: %.2f kN\n", i+1, t.Kilonewtons())
	}
	// Output:
	// part 1: 3.69 kN
	// part 2: 3.32 kN
	// part 3: 2.99 kN
}

func ExampleHeldDeadEnd() {
	dead, err := tackle.HeldDeadEnd(tackle.Reeving{Parts: 3, From: tackle.Moving}, unit.Kilonewtons(10), 0.9)
	check(err)
	fmt.Printf("held, the dead end carries %.2f kN\n", dead.Kilonewtons())
	// Output: held, the dead end carries 3.69 kN
}

func ExampleAnchor() {
	f := bound.Exactly(unit.Kilonewtons(10))
	for _, from := range []tackle.Haul{tackle.Standing, tackle.Moving} {
		a, err := tackle.Anchor(tackle.Reeving{Parts: 2, From: from}, f, plain)
		check(err)
		fmt.Printf("hauled from the %v block: up to %.1f kN on the anchor\n", from, a.High.Kilonewtons())
	}
	// Output:
	// hauled from the standing block: up to 16.4 kN on the anchor
	// hauled from the moving block: up to 5.4 kN on the anchor
}

func ExampleCeiling() {
	most, err := tackle.Ceiling(tackle.Standing, 0.85)
	check(err)
	fmt.Printf("poor sheaves never gain more than %.1f\n", most)
	// Output: poor sheaves never gain more than 5.7
}

func ExampleReeving_Sheaves() {
	r := tackle.Reeving{Parts: 4, From: tackle.Standing}
	fmt.Println(r.Sheaves(), "sheaves")
	// Output: 4 sheaves
}

func ExampleReeving_MovingSheaves() {
	fmt.Println(tackle.Reeving{Parts: 3, From: tackle.Moving}.MovingSheaves())
	// Output: 1
}

func ExampleReeving_StandingSheaves() {
	fmt.Println(tackle.Reeving{Parts: 3, From: tackle.Standing}.StandingSheaves())
	// Output: 2
}

func ExampleReeving_DeadEndStands() {
	fmt.Println(tackle.Reeving{Parts: 2}.DeadEndStands(), tackle.Reeving{Parts: 3}.DeadEndStands())
	// Output: true false
}

func ExampleReeving_Straight() {
	fmt.Println(tackle.Reeving{Parts: 1, From: tackle.Moving}.Straight(), tackle.Reeving{Parts: 1, From: tackle.Standing}.Straight())
	// Output: true false
}

func ExampleHaul_String() {
	fmt.Println(tackle.Moving)
	// Output: moving
}

func ExampleLead() {
	t, err := tackle.Lead(bound.Exactly(unit.Kilonewtons(3)), 1, plain)
	check(err)
	fmt.Printf("one lead block: %.2f to %.2f kN at the puller\n", t.Low.Kilonewtons(), t.High.Kilonewtons())
	// Output: one lead block: 3.19 to 3.53 kN at the puller
}

func ExampleBlockLoad() {
	f, err := tackle.BlockLoad(unit.Kilonewtons(10), unit.Degrees(90))
	check(err)
	fmt.Printf("%.1f kN on the strop\n", f.Kilonewtons())
	// Output: 14.1 kN on the strop
}

func ExampleSidePull() {
	t, err := tackle.SidePull(unit.Newtons(838), unit.Degrees(7))
	check(err)
	fmt.Printf("%.0f N in each half\n", t.Newtons())
	// Output: 3438 N in each half
}

func ExampleManual() {
	haul, friction, err := tackle.Manual(unit.PoundsForce(1000), 4, 4, 0.1)
	check(err)
	fmt.Printf("friction %.0f lb, pull %.0f lb\n", friction.PoundsForce(), haul.PoundsForce())
	// Output: friction 400 lb, pull 350 lb
}

func ExampleLimit() {
	load, err := tackle.Limit(unit.Kilonewtons(5), 4, 4, 0.1)
	check(err)
	fmt.Printf("%.1f kN\n", load.Kilonewtons())
	// Output: 14.3 kN
}

func ExamplePost() {
	holds, ratio, err := tackle.Post(1, 0.3, unit.Newtons(200))
	check(err)
	fmt.Printf("200 N in the hand holds %.0f N, %.1f to 1\n", holds.Newtons(), ratio)
	// Output: 200 N in the hand holds 1317 N, 6.6 to 1
}
