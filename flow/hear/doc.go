// Package hear turns one text message, and what was just asked, into facts for
// the sheet: "bout 2.4 ton w/ the trailer. wet clover. wheels turn fine" is a
// mass whose ton must be asked about, a ground and wheels that are free.
//
//	h := hear.Listen("our 4x4 tractor 3.1t on the gravel lane", hear.TopicPuller)
//	h.Facts // puller.kind wheeled, puller.driven 1, puller.mass 3.1t, puller.ground gravel ...
//
// It is deterministic, keeps nothing between messages and never fails. The words
// it knows are data, in the files under words; figures are read by package bound.
//
// # Rules
//
//   - A stop anywhere in the message is a stop and nothing else.
//   - No fact is made up. Where a message has two readings, the more careful one
//     is taken if it is a fair reading of the words; otherwise the words go to
//     Rest, to be asked about.
//   - A figure without a unit is taken only where one unit is possible: a count,
//     or a rating between ratings that all have the same unit.
//   - A weight does not become a rating, nor a rating a weight: the thing that is
//     spoken of decides. Whether a rating is a working or a breaking load is
//     taken from the words and never supposed.
//   - A vehicle's figure says how plainly it is that vehicle's (Tie). One that stands
//     with something else takes no told figure's place; another machine is never
//     the one that pulls by being named.
//   - What is asked ("can't I just add pulleys?"), wished for or undone again is
//     no fact.
//   - A hazard said is a hazard; "none" takes a plain no to all of them, asked
//     about. Who denies some of them is in Heard.Cleared.
//   - Yes and No never fill a field: only the asker knows what they would mean.
//
// What two sentences say does not depend on their order, unless the second
// speaks on of what the first named: "our tractor. It weighs 4 t."
//
// # Judgment
//
// The rows of the word lists that stand for a figure or a class err on the side that
// asks for more pull or grants less: clover counts as wet grass, one wheel that
// will not turn as half of the weight, a handbrake as all of it and a guess, a
// driven rear axle as half of the puller, mushrooms as a dead tree, a depth over ten
// centimetres as on a small wheel. Who knows
// better says so at the next question.
package hear
