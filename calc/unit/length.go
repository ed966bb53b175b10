package unit

// Length is a distance in metres.
type Length float64

// Metres returns the length of that many metres.
func Metres(m float64) Length { return Length(m) }

// Centimetres returns the length of that many centimetres.
func Centimetres(cm float64) Length { return Length(cm / 100) }

// Millimetres returns the length of that many millimetres.
func Millimetres(mm float64) Length { return Length(mm / 1000) }

// Kilometres returns the length of that many kilometres.
func Kilometres(km float64) Length { return Length(km * 1000) }

// Yards returns the length of that many international yards.
func Yards(yd float64) Length { return Length(yd * metresPerYard) }

// Feet returns the length of that many international feet.
func Feet(ft float64) Length { return Length(ft * metresPerFoot) }

// Inches returns the length of that many international inches.
func Inches(in float64) Length { return Length(in * metresPerInch) }

// Metres returns l in metres.
func (l Length) Metres() float64 { return float64(l) }

// Centimetres returns l in centimetres.
func (l Length) Centimetres() float64 { return float64(l) * 100 }

// Millimetres returns l in millimetres.
func (l Length) Millimetres() float64 { return float64(l) * 1000 }

// Kilometres returns l in kilometres.
func (l Length) Kilometres() float64 { return float64(l) / 1000 }

// Yards returns l in international yards.
func (l Length) Yards() float64 { return float64(l) / metresPerYard }

// Feet returns l in international feet.
func (l Length) Feet() float64 { return float64(l) / metresPerFoot }

// Inches returns l in international inches.
func (l Length) Inches() float64 { return float64(l) / metresPerInch }

// Scale returns l multiplied by the pure number k.
func (l Length) Scale(k float64) Length { return Length(float64(l) * k) }
