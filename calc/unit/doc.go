// Package unit holds the quantities of a recovery as types: a force is not a
// mass, a slope in per cent is not a slope in degrees, and the compiler says so.
//
// Everything is SI inside: newtons, kilograms, metres, radians, joules,
// pascals. Other units exist only in constructors and accessors, which carry
// the unit in their name and come in pairs:
//
//	f := unit.Kilonewtons(12.5) // in
//	f.PoundsForce()             // out, 2810.1 as a rigger's tag would have it
//
// There is no constructor named Tons or Pounds. A ton is three different
// masses and a pound is a mass or a force, so the name must choose. Reading
// what people write, where they do not choose, is package bound's business.
//
// # What the types do not catch
//
// f * f compiles and is newtons squared: multiply with Scale. Two forces
// swapped in a call compile too: give same-typed neighbours names in a struct.
// A plain conversion such as unit.Force(x) hides its unit and belongs nowhere
// outside this package.
//
// # Conversions
//
// All are exact by definition, so an error in a converted value is that of one
// or two float64 roundings, a part in 10^15. The definitions stand beside the
// constants in definition.go.
//
// No function here refuses a number: an infinite or undefined value passes
// through, so that the check with a name and a limit happens once, where the
// limit is known, and ends in a *RangeError.
package unit
