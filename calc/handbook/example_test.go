package handbook_test

import (
	"fmt"

	"linetender/calc/handbook"
	"linetender/calc/unit"
)

func ExampleRolling() {
	share, row, ok := handbook.Rolling(handbook.WetGrass)
	fmt.Println(share.Low, share.Best, share.High, ok)
	fmt.Println(row.Cite())
	_, _, ok = handbook.Rolling("lava")
	fmt.Println(ok)
	// Output:
	// 0.05 0.1 0.16 true
	// common practice, high above the recovery fraction of 1/7
	// false
}

func ExamplePicketHold() {
	hold, row, _ := handbook.PicketHold("1-1-1")
	fmt.Printf("%.2f kN, %s\n", hold.Kilonewtons(), row.Cite())
	// Output: 8.01 kN, NAVEDTRA 14251 Steelworker V2, fig. 6-46
}

func ExampleChainWorking() {
	for _, grade := range []int{70, 80} {
		working, row, _ := handbook.ChainWorking(unit.Inches(5.0/16), grade)
		fmt.Printf("grade %d: %.0f lb, %s\n", grade, working.PoundsForce(), row.Cite())
	}
	// Output:
	// grade 70: 4700 lb, 49 CFR 393.108, table
	// grade 80: 4500 lb, 49 CFR 393.108, table
}

func ExampleKnotEfficiency() {
	kept, _ := handbook.KnotEfficiency("bowline")
	may, _ := handbook.MayJoin("reef")
	fmt.Println(kept.Low, may)
	// Output: 0.6 false
}

func ExampleDrumLayer() {
	share, _, _ := handbook.DrumLayer(5)
	fmt.Printf("%.0f to %.0f lb of 20,000\n", 20000*float64(share.Low), 20000*float64(share.Best))
	// Output: 10000 to 14254 lb of 20,000
}
