package unit

import "math"

// StandardGravity is g₀, 9.80665 m/s² exactly, the acceleration that turns a
// mass into a weight here. Local gravity differs by at most 0.3 % (9.780 at the
// equator to 9.832 at the poles, from memory), far inside every spread we carry.
//
// Source: 3rd General Conference on Weights and Measures (CGPM), 1901, declaration
// on the unit of mass and on the definition of weight: 980.665 cm/s².
const StandardGravity = 9.80665

// The customary units, each exact. Typed in full rather than computed, so that
// a reader can hold them against the document. The documents are named from
// memory; a test holds every figure against the tables of GNU units where that
// is installed.
const (
	// International yard and pound agreement, in force 1 July 1959, between
	// Australia, Canada, New Zealand, South Africa, the United Kingdom and the
	// United States: the yard is 0.9144 m, the pound 0.45359237 kg. Written into
	// law in the United Kingdom by the Weights and Measures Act 1963.
	metresPerYard      = 0.9144
	metresPerFoot      = 0.3048 // a third of the yard
	metresPerInch      = 0.0254 // a thirty-sixth of the yard
	kilogramsPerPound  = 0.45359237
	newtonsPerPound    = kilogramsPerPound * StandardGravity // 4.4482216152605
	pascalsPerPoundFt2 = newtonsPerPound / (metresPerFoot * metresPerFoot)

	// Weights and Measures Act 1985 (UK), schedule 1: the ton is 2240 pounds,
	// the hundredweight 112, the stone 14. NIST Handbook 44, appendix C: the
	// short ton is 2000 pounds, the short hundredweight 100.
	poundsPerShortTon           = 2000
	poundsPerLongTon            = 2240
	poundsPerShortHundredweight = 100
	poundsPerLongHundredweight  = 112
	poundsPerStone              = 14

	// SI brochure, 9th edition, table 8: the tonne is 10³ kg, the minute 60 s, the hour 3600 s.
	kilogramsPerTonne = 1000
	secondsPerMinute  = 60
	secondsPerHour    = 3600

	metresPerMile = 1760 * metresPerYard

	radiansPerDegree = math.Pi / 180
)
