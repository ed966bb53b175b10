package unit

// Duration is a span of time in seconds.
type Duration float64

// Seconds returns the duration of that many seconds.
func Seconds(s float64) Duration { return Duration(s) }

// Minutes returns the duration of that many minutes.
func Minutes(m float64) Duration { return Duration(m * secondsPerMinute) }

// Seconds returns d in seconds.
func (d Duration) Seconds() float64 { return float64(d) }

// Speed is a rate of travel in metres a second.
type Speed float64

// MetresPerSecond returns the speed of that many metres a second.
func MetresPerSecond(v float64) Speed { return Speed(v) }

// MetresPerSecond returns v in metres a second.
func (v Speed) MetresPerSecond() float64 { return float64(v) }

// KilometresPerHour returns v in kilometres an hour.
func (v Speed) KilometresPerHour() float64 {
	return Metres(float64(v) * secondsPerHour).Kilometres()
}

// MilesPerHour returns v in international miles an hour.
func (v Speed) MilesPerHour() float64 { return float64(v) * secondsPerHour / metresPerMile }
