package unit

// Force is a push or a pull in newtons.
type Force float64

// Newtons returns the force of that many newtons.
func Newtons(n float64) Force { return Force(n) }

// Kilonewtons returns the force of that many kilonewtons.
func Kilonewtons(kn float64) Force { return Force(kn * 1000) }

// PoundsForce returns the weight of that many pounds under standard gravity.
func PoundsForce(lbf float64) Force { return Force(lbf * newtonsPerPound) }

// KilogramsForce returns the weight of that many kilograms under standard gravity.
func KilogramsForce(kgf float64) Force { return Force(kgf * StandardGravity) }

// TonnesForce returns the weight of that many tonnes of 1000 kg under standard gravity.
func TonnesForce(tf float64) Force { return Force(tf * (kilogramsPerTonne * StandardGravity)) }

// Weight returns the weight of m under standard gravity. It is the only door
// from a mass to a force.
func Weight(m Mass) Force { return Force(float64(m) * StandardGravity) }

// Newtons returns f in newtons.
func (f Force) Newtons() float64 { return float64(f) }

// Kilonewtons returns f in kilonewtons.
func (f Force) Kilonewtons() float64 { return float64(f) / 1000 }

// PoundsForce returns f in pounds of force.
func (f Force) PoundsForce() float64 { return float64(f) / newtonsPerPound }

// KilogramsForce returns f in kilograms of force, the "kilos of pull" of the trade.
func (f Force) KilogramsForce() float64 { return float64(f) / StandardGravity }

// TonnesForce returns f in tonnes of force, 1000 kilograms of force each.
func (f Force) TonnesForce() float64 { return float64(f) / (kilogramsPerTonne * StandardGravity) }

// ShortTonsForce returns f in short tons of force, 2000 pounds of force each.
func (f Force) ShortTonsForce() float64 {
	return float64(f) / (poundsPerShortTon * newtonsPerPound)
}

// Scale returns f multiplied by the pure number k.
func (f Force) Scale(k float64) Force { return Force(float64(f) * k) }
