// Package terminal carries the conversation over standard input and output.
//
// Rules of this package:
//
//   - A line goes the same way as an update of any other channel: into the
//     inbox, through a turn, and what is answered comes out of the outbox. A
//     process that dies in between goes on where it stopped.
//   - Each terminal has a chat of its own and shows only that. The exchange in
//     the process that holds the store gives the turns; a terminal in another
//     process speaks through it.
//   - What comes in by itself, such as a stop called elsewhere, is shown at once
//     while a line is waited for, urgent messages first. It takes letters of its
//     own, so that a letter typed a moment too late is void and no other button.
//   - A terminal that joined stays up when the process that holds the store
//     ends: the next stop would be typed to the shell. It says that nobody
//     hears, and goes on as the same person when that process is back.
//   - On a terminal a person edits a line and picks a choice by its letter: a
//     number could be an answer. Where the conversation says that it could not, the
//     choices are numbered, and the number picks too. Colour, width and signs are those of the terminal;
//     NO_COLOR and TERM=dumb are obeyed.
//   - Where input is no terminal, one line is one answer and the output is the
//     plain transcript: what was said after "> ", what was answered, choices in
//     brackets. A line wholly in brackets picks the choice of that label.
//   - A picture is written to a file, its words and its path are shown; the
//     picture itself only where the terminal says that it can, and never in a
//     transcript.
//   - Nothing is shown that could steer the terminal or turn the direction of
//     writing: such characters are written out.
package terminal
