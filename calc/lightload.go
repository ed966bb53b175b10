package calc

import (
	"linetender/calc/handbook"
	"linetender/calc/unit"
)

// Light is the load that a rig is first tried with.
type Light struct {
	Haul Force         // at the puller
	Held unit.Duration // how long it is held while the rig is looked over from outside
}

// LightLoad returns the pull at the puller with which plan p's rig is first
// tried and then held: a tenth to a fifth of the need's best figure. It is
// false where nothing is to be hauled (the load runs by itself) and where the
// plan is for a professional.
//
// Source: common practice.
func LightLoad(p Plan) (Light, bool) {
	if p.Decision == Refer || p.Tackle == nil || p.Tackle.Haul.Best <= 0 {
		return Light{}, false
	}
	share, _ := handbook.LightLoad()
	held, _ := handbook.LightLoadHeld()
	haul := p.Tackle.Haul.Best
	return Light{
		Haul: Force{Low: haul.Scale(float64(share.Low)), Best: haul.Scale(float64(share.Best)), High: haul.Scale(float64(share.High))},
		Held: held,
	}, true
}
