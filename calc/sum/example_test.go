package sum_test

import (
	"encoding/json"
	"fmt"
	"strings"

	"linetender/calc/sum"
)

func ExampleRun() {
	r, err := sum.Run("side-pull", map[string]string{"force": "838 N", "angle": "7 deg"})
	if err != nil {
		panic(err)
	}
	text, err := json.Marshal(r.Figures)
	if err != nil {
		panic(err)
	}
	fmt.Println(string(text))
	for _, s := range r.Working {
		fmt.Printf("%s: %s\n", s.Step, s.Value)
	}
	// Output:
	// {"tension_n":3438.10829116}
	// tension = side force ÷ (2 × sin(angle)): 838 ÷ (2 × sin 7°) = 3438.1 N
	// Mind: it is one tension, the same in both halves: 3438.1 N in each half and at each end; their sum, 6876.2 N, is nowhere
}

func ExampleRun_range() {
	r, err := sum.Run("winch", map[string]string{"rating": "20,000 lb", "layer": "3"})
	if err != nil {
		panic(err)
	}
	text, err := json.Marshal(r.Figures)
	if err != nil {
		panic(err)
	}
	fmt.Println(string(text))
	// Output: {"pull_n":74120.7167751,"pull_range_n":{"low":59309.6511916,"best":74120.7167751,"high":74137.0862306}}
}

func ExampleRun_refused() {
	_, err := sum.Run("slope", map[string]string{"of": "14"})
	fmt.Println(err)
	// Output: of: "14" has no unit; write degrees, per cent, a rise in a level run, or what a level or a board shows, such as 14 deg, 25 %, 1 in 4, or level 48 in, gap 9 in
}

func ExampleRead() {
	name, args, err := sum.Read("sum sling leg 5 t, 2 legs, 3.5 m long, 2 m high")
	if err != nil {
		panic(err)
	}
	fmt.Println(name, args)
	// Output: sling-leg map[height:2 m legs:2 length:3.5 m mass:5 t]
}

func ExampleNames() {
	fmt.Println(strings.Join(sum.Names()[:4], ", "))
	// Output: slope, grade, side-pull, block-load
}

func ExampleUsage() {
	fmt.Println(sum.Usage("winch"))
	// Output:
	// sum winch rating=Q layer=N
	// what a winch pulls on a layer of its drum
	// such as sum winch rating=20000lb layer=2
}

func ExampleFigures_Get() {
	r, err := sum.Run("slope", map[string]string{"of": "1 in 4"})
	if err != nil {
		panic(err)
	}
	f, ok := r.Figures.Get("angle_deg")
	a, is := f.Angle()
	fmt.Printf("%.1f %s, %v, %v\n", a.Best.Degrees(), f.Unit, ok, is)
	// Output: 14.0 deg, true, true
}

func ExamplePlan() {
	r, err := sum.Run("grade", map[string]string{"mass": "2.2 to 2.6 t", "of": "14 deg"})
	if err != nil {
		panic(err)
	}
	f, _ := r.Figures.Get("along_n")
	along, _ := f.Force()
	fmt.Printf("ranged %v, plan with %.0f N\n", f.Ranged(), sum.Plan(along, f.By).Newtons())
	// Output: ranged true, plan with 6168 N
}

func ExampleFigure_Ranged() {
	r, err := sum.Run("block-load", map[string]string{"tension": "10 kN", "angle": "90 deg"})
	if err != nil {
		panic(err)
	}
	f, _ := r.Figures.Get("load_n")
	fmt.Println(f.Ranged())
	// Output: false
}

func ExampleFigures_MarshalJSON() {
	r, err := sum.Run("recovery", map[string]string{"mass": "100,000 lb", "factor": "2", "puller": "90,000 lb"})
	if err != nil {
		panic(err)
	}
	text, err := json.Marshal(r.Figures)
	if err != nil {
		panic(err)
	}
	fmt.Println(string(text))
	// Output: {"parts":3,"sheaves":2,"total_n":1067573.18766,"fall_line_n":355857.729221}
}
