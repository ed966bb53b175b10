// Package bound carries what is not known exactly: a range over a quantity,
// from the lowest figure believed possible to the highest, with one best figure
// to show. Uncertainty lives here and nowhere else: a demand is judged at High, a
// capacity at Low.
//
//	m, err := bound.ReadMass("2.2 to 2.6 t")
//	m.Value.High // what the load is taken to weigh
//
// # Reading what people write
//
// ReadMass, ReadForce, ReadLength, ReadSlope and ReadAngle read one quantity,
// for the conversation and for case files alike:
//
//	2400kg   2.4 t   2,4 t   5,200 lb   12 000 kg   5k lbs
//	3 ft 6 in   3'6"   1 1/2"   ½ inch   24mm   three quarters of an inch
//	two and a half tonnes   half a ton   twelve hundredweight   11 stone 6 lb
//	2.2 to 2.6 t   2.2-2.6 t   between 2 and 3 tonnes   2400 kg +/- 10%   2400 ± 50 kg
//	1.8 t + 300 kg   2 tons plus half a ton   (weights only)
//	14 deg   25 %   1 in 4   level 48 in, gap 9 in   board 48 in, rise 9 in
//
// ReadRatio and ReadCount read numbers without a unit, by the same words.
//
// They never guess. Where a text has two readings the wider one is taken if it is
// a range in the trade (a ton, a hundredweight); otherwise it is refused, with a
// sentence that says what would be right. In particular:
//
//   - A figure without a unit is refused, and so is anything left over.
//   - 5,200 lb is 5200 lb and 2,4 t is 2.4 t: a comma before exactly three digits
//     marks thousands, any other single comma is a decimal mark.
//   - 2,400 t and 2.400 kg are refused: half of the world reads them a thousand
//     times larger or smaller than the other half, and both figures occur. So are
//     the like in any unit where the wrong reading would pass for a right one.
//   - A bare ton spans 2000 lb to 2240 lb, with the tonne inside; a bare
//     hundredweight spans 100 lb to 112 lb. As a rating, count the low end.
//   - "About" is noted in Reading.Rough and changes no figure; "over" and "at
//     least" are refused, because one end is missing.
//
// What comes out is finite, ordered and not negative. Zero passes: whether a
// rope may have no length is for the caller to say.
package bound
