package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode"

	"github.com/spf13/cobra"

	"linetender/calc/job"
)

// Exit statuses of the program.
const (
	exitDone  = 0 // done, whatever was decided
	exitFault = 1 // the program could not do its work; the line on standard error says why
	exitWrong = 2 // the call or the input is wrong; the line on standard error says what would be right
	exitFound = 3 // what was looked into is not as it should be: a log that does not hold, an answer that would differ
)

// A callError is a wrong call or a wrong input. Its text is one line that
// says what would be right.
type callError struct{ text string }

func (e *callError) Error() string { return e.text }

func wrongCall(format string, args ...any) error {
	return &callError{fmt.Sprintf(format, args...)}
}

// errTold ends the program with exitWrong when every wrong line has been told
// already.
var errTold = errors.New("told already")

// streams are where a command reads and writes.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

// run carries out one call of the program and returns its exit status. It
// reads the environment for LINETENDER_DATA, LINETENDER_TOKEN, NO_COLOR and
// the platform's data folder, and nothing else.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	root := newRoot(streams{in: stdin, out: stdout, err: stderr})
	root.SetArgs(args)
	err := root.ExecuteContext(ctx)

	var call *callError
	var field *job.FieldError
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errTold):
		return exitWrong
	case errors.Is(err, errFound):
		return exitFound
	case errors.As(err, &call), errors.As(err, &field):
		fmt.Fprintln(stderr, oneLine(err.Error()))
		return exitWrong
	default:
		fmt.Fprintln(stderr, "linetender: "+oneLine(err.Error()))
		return exitFault
	}
}

func newRoot(s streams) *cobra.Command {
	root := newTalk(s)
	root.SilenceErrors = true
	root.SilenceUsage = true
	root.CompletionOptions.DisableDefaultCmd = true
	root.SetIn(s.in)
	root.SetOut(s.out)
	root.SetErr(s.err)
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return wrongCall("%s: %v; %s", c.CommandPath(), err, helpHint(c))
	})
	root.AddCommand(newDemo(s), newServe(s), newJoin(s), newPlan(s), newSum(s), newLog(s), newBackup(s), newMove(s), newHealth(s), newDoctor(s), newVersion(s), newCompletion(s))
	root.SetHelpCommand(newHelp())
	return root
}

// helpHint says where a command's flags and arguments are listed.
func helpHint(c *cobra.Command) string {
	path := strings.Fields(c.CommandPath())
	return fmt.Sprintf("%q lists what it takes", strings.Join(append([]string{path[0], "help"}, path[1:]...), " "))
}

// exactly returns an argument check that wants n arguments and, when they are
// not there, says what would be right.
func exactly(n int, right string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) == n {
			return nil
		}
		return wrongCall("%s: %s; %s", c.CommandPath(), right, helpHint(c))
	}
}

// noArgs refuses arguments, naming the nearest command below c if there is one.
func noArgs(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	return unknownCommand(c, args[0])
}

func unknownCommand(c *cobra.Command, word string) error {
	c.SuggestionsMinimumDistance = 2 // letters; cobra's own default counts only where it prints itself
	if near := c.SuggestionsFor(word); len(near) > 0 {
		return wrongCall("%s: there is no command %q; the nearest is %q", c.CommandPath(), word, near[0])
	}
	if !c.HasAvailableSubCommands() {
		return wrongCall("%s: it takes no argument, and was given %q; %s", c.CommandPath(), word, helpHint(c))
	}
	return wrongCall("%s: there is no command %q; %s", c.CommandPath(), word, helpHint(c))
}

// oneLine keeps a message on one line and visible, whatever text of a user it
// quotes: line ends become spaces, and characters that steer a terminal or
// turn the reading direction are written out.
func oneLine(text string) string {
	var b strings.Builder
	for _, r := range strings.TrimRight(text, "\r\n") {
		switch {
		case r == '\n' || r == '\r' || r == '\t':
			b.WriteByte(' ')
		case unicode.IsControl(r) || unicode.Is(unicode.Cf, r):
			fmt.Fprintf(&b, "\\u%04x", r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
