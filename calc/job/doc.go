// Package job holds what is known about one recovery: the sheet as people
// and programs write it, and the case that calc reckons with.
//
// A [Sheet] is the written form. Its fields are strings as a person writes
// them ("2.4 t", "level 48 in, gap 9 in"), so a chat can fill it answer by
// answer and a file can be read into it unchanged. [Decode] reads one from
// JSON and refuses whatever it does not understand; nothing is dropped
// silently. [Sheet.Case] reads the quantities and words and returns a [Case]
// in SI ranges.
//
// Missing is not zero and not good: every optional field of a Case is a
// pointer or a word whose empty value means that nobody has said.
//
// A vehicle that is an anchor tells its mass, whether it is chocked (on the side
// it is pulled to), braked and in_line (it points along the pull), and the
// ground and slope that it stands on; without any of these it is not known what
// it holds.
//
// The diameter of a block is that of its sheave in the groove, of a shackle that
// of its bow, of a rope or sling its thickness; what bends tightly keeps less.
// A shackle's side_angle is that of the pull out of its own line.
//
// What a crew saw while it pulled is told under seen, and only that: a slip or
// a stuck load has no way that it moved, a reading has a force and a place.
// Something seen holds for the load, the ground and the puller as they were;
// nobody but a person who knows what was put right since takes it out. Another
// puller that is brought is told beside the first under pullers, and seen says
// which one it was: so the new one is not held to what the old one could not.
//
// Every refusal is a *[FieldError]: one line that names the field and says
// what would be right.
package job
