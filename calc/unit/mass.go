package unit

// Mass is an amount of matter in kilograms: what a weighbridge prints, whatever
// unit and word it prints it in.
type Mass float64

// Kilograms returns the mass of that many kilograms.
func Kilograms(kg float64) Mass { return Mass(kg) }

// Tonnes returns the mass of that many metric tons of 1000 kg.
func Tonnes(t float64) Mass { return Mass(t * kilogramsPerTonne) }

// PoundsMass returns the mass of that many avoirdupois pounds.
func PoundsMass(lb float64) Mass { return Mass(lb * kilogramsPerPound) }

// ShortTons returns the mass of that many tons of 2000 lb, the ton of the United States.
func ShortTons(t float64) Mass { return Mass(t * (poundsPerShortTon * kilogramsPerPound)) }

// LongTons returns the mass of that many tons of 2240 lb, the imperial ton.
func LongTons(t float64) Mass { return Mass(t * (poundsPerLongTon * kilogramsPerPound)) }

// ShortHundredweights returns the mass of that many hundredweights of 100 lb.
func ShortHundredweights(cwt float64) Mass {
	return Mass(cwt * (poundsPerShortHundredweight * kilogramsPerPound))
}

// LongHundredweights returns the mass of that many hundredweights of 112 lb.
func LongHundredweights(cwt float64) Mass {
	return Mass(cwt * (poundsPerLongHundredweight * kilogramsPerPound))
}

// Stones returns the mass of that many stones of 14 lb.
func Stones(st float64) Mass { return Mass(st * (poundsPerStone * kilogramsPerPound)) }

// Kilograms returns m in kilograms.
func (m Mass) Kilograms() float64 { return float64(m) }

// Tonnes returns m in metric tons of 1000 kg.
func (m Mass) Tonnes() float64 { return float64(m) / kilogramsPerTonne }

// PoundsMass returns m in avoirdupois pounds.
func (m Mass) PoundsMass() float64 { return float64(m) / kilogramsPerPound }

// ShortTons returns m in tons of 2000 lb.
func (m Mass) ShortTons() float64 { return float64(m) / (poundsPerShortTon * kilogramsPerPound) }

// LongTons returns m in tons of 2240 lb.
func (m Mass) LongTons() float64 { return float64(m) / (poundsPerLongTon * kilogramsPerPound) }

// ShortHundredweights returns m in hundredweights of 100 lb.
func (m Mass) ShortHundredweights() float64 {
	return float64(m) / (poundsPerShortHundredweight * kilogramsPerPound)
}

// LongHundredweights returns m in hundredweights of 112 lb.
func (m Mass) LongHundredweights() float64 {
	return float64(m) / (poundsPerLongHundredweight * kilogramsPerPound)
}

// Stones returns m in stones of 14 lb.
func (m Mass) Stones() float64 { return float64(m) / (poundsPerStone * kilogramsPerPound) }

// Scale returns m multiplied by the pure number k.
func (m Mass) Scale(k float64) Mass { return Mass(float64(m) * k) }
