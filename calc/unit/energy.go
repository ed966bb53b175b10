package unit

// Energy is work, stored or done, in joules.
type Energy float64

// Joules returns the energy of that many joules.
func Joules(j float64) Energy { return Energy(j) }

// Kilojoules returns the energy of that many kilojoules.
func Kilojoules(kj float64) Energy { return Energy(kj * 1000) }

// Joules returns e in joules.
func (e Energy) Joules() float64 { return float64(e) }

// Kilojoules returns e in kilojoules.
func (e Energy) Kilojoules() float64 { return float64(e) / 1000 }

// Scale returns e multiplied by the pure number k.
func (e Energy) Scale(k float64) Energy { return Energy(float64(e) * k) }

// Pressure is force over area in pascals: here, what soil bears.
type Pressure float64

// Pascals returns the pressure of that many pascals.
func Pascals(pa float64) Pressure { return Pressure(pa) }

// PoundsPerSquareFoot returns the pressure of that many pounds of force on a square foot.
func PoundsPerSquareFoot(psf float64) Pressure { return Pressure(psf * pascalsPerPoundFt2) }

// Pascals returns p in pascals.
func (p Pressure) Pascals() float64 { return float64(p) }

// PoundsPerSquareFoot returns p in pounds of force on a square foot.
func (p Pressure) PoundsPerSquareFoot() float64 { return float64(p) / pascalsPerPoundFt2 }

// Scale returns p multiplied by the pure number k.
func (p Pressure) Scale(k float64) Pressure { return Pressure(float64(p) * k) }
