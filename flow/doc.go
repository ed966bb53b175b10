// Package flow is the conversation: from the first message of somebody beside
// a stuck vehicle to a plan that the crew can trust, and the list that is
// walked before anybody pulls. It knows no channel, no store and no terminal.
//
// # How a message becomes an answer
//
// A channel writes what arrives into the [Inbox]. The [Desk] gives each
// arrival a turn, one at a time in a chat and chats side by side. A turn reads
// the chat's and the job's streams from the [Log], lets the [Engine] work out
// what the input does, and commits it whole: what came in, what it meant, what
// was decided and what is to be said. If another writer was first, the turn
// begins again; what is delivered twice has one effect.
//
//	Input -> Engine.Turn -> Turn{Writes, Outbox} -> Log.Commit -> Message
//
// # What is stored
//
// A job is its log and nothing else. Each turn is one [Entry] of the stream
// job/CODE, and its acts are the only thing that changes a [Session]: the live
// session and the replayed one come from the same fold. chat/ID holds which
// job a chat is in, the gear it keeps and whether it was let in; door/front
// holds the digests of codes that let chats in.
//
// # Where a job stands
//
// The machine (machine.go, drawn in machine.md) has a state for each of the
// seven first answers, one for each place where people then look, and the
// phases after that. Its table is data; a machine of looplab/fsm is made
// afresh for each event and never kept. Within a state the session's topic is
// the question: topics (topic.go) are data as well, each with what it fills,
// its buttons and what is taken when nobody knows.
//
// What is asked next is what the plan says could change its mind, place by
// place (next.go). When nothing can, it stops asking.
//
// # What is safe by construction
//
//   - The first question is about people, and a hazard ends the asking: no
//     force is said then, because a number invites a pull.
//   - A stop is looked for before anything else, in every message and under
//     every button, however old.
//   - What nobody knows is taken at its worst and said to be taken.
//   - A block has no button that leads past it; a sign-off takes two names
//     and a reason.
//   - Every word comes from package wording; [Message] carries key and text.
package flow
