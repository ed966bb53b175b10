// Package hear turns one text message, and what was just asked, into facts for
// the sheet: "bout 2.4 ton w/ the trailer. wet clover. wheels turn fine" is a
// mass whose ton must be asked about, a ground and wheels that are free.
//
//	h := hear.Listen("our 4x4 tractor 3.1t on the gravel lane", hear.TopicPuller)
//	h.Facts // puller.kind wheeled, puller.driven 1, puller.mass 3.1t, puller.ground gravel ...
//
// It is deterministic, keeps nothing between messages and never fails. The words
// it knows are data, in words.txt; the figures are read by package bound.
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
//   - What is asked ("can't I just add pulleys?"), wished for or undone again is
//     no fact.
//   - A hazard said is a hazard; "none" takes a plain no to all of them.
package hear
