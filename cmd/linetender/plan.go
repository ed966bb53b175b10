package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"linetender/calc"
	"linetender/calc/job"
)

func newPlan(s streams) *cobra.Command {
	var text, each bool
	var pictures string
	c := &cobra.Command{
		Use:   "plan FILE|-",
		Short: "Plan the case in a file and print the plan as JSON",
		Long: `Read one case from FILE, or from standard input when it is -, and print its plan as JSON: the decision and
its reasons, force, tackle, what each member carries against what it may carry, and what was assumed.

With --each the file holds one case a line. The cases are planned on all cores and the plans printed one a line
in the order of the cases; a line that cannot be planned is reported with its number on standard error, prints
nothing on standard output, and the rest go on. Blank lines are passed over.

With --pictures DIR the rig (rig.svg, rig.png), where the force comes from (force.svg, force.png) and a card of
one page for the windscreen (card.html) are written into the folder DIR as well. A plan that refers the job to a
professional has only the card.

Exit status: 0 every plan was computed, whatever it decides; 2 the input or the call is wrong, with one line on
standard error that names the field and says what would be right. A case is at most 1 MiB.`,
		Example: `  linetender plan testdata/readme/ditch.json
  linetender plan --text testdata/readme/ditch.json
  linetender plan - < testdata/readme/ditch.json
  linetender plan --pictures . testdata/readme/ditch.json
  linetender plan --each testdata/readme/each.jsonl`,
		Args: exactly(1, "name one file with a case, or - for standard input"),
		RunE: func(c *cobra.Command, args []string) error {
			if text && each {
				return wrongCall("%s: --text words one plan; leave out --each or --text", c.CommandPath())
			}
			if pictures != "" && each {
				return wrongCall("%s: --pictures draws one plan; leave out --each or --pictures", c.CommandPath())
			}
			in, err := openCase(c, args[0], s.in)
			if err != nil {
				return err
			}
			defer in.Close()
			if each {
				return planEach(c.Context(), in, s)
			}
			draw := func(job.Case, calc.Plan) error { return nil }
			if pictures != "" {
				draw = func(facts job.Case, p calc.Plan) error { return writePictures(c, pictures, p, facts) }
			}
			return planOne(in, s.out, text, draw)
		},
	}
	c.Flags().BoolVar(&text, "text", false, "print the plan as the chat would word it")
	c.Flags().StringVar(&pictures, "pictures", "", "write the rig, the force and a card to print into this `folder`")
	c.Flags().BoolVar(&each, "each", false, "the file holds one case a line; print one plan a line")
	return c
}

// openCase opens the named file, or standard input for "-".
func openCase(c *cobra.Command, name string, stdin io.Reader) (io.ReadCloser, error) {
	if name == "-" {
		return io.NopCloser(stdin), nil
	}
	f, err := os.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, wrongCall("%s: there is no file %s; name a file with a case, or - for standard input", c.CommandPath(), name)
	}
	if err != nil {
		return nil, wrongCall("%s: %s cannot be read (%v); name a file with a case, or - for standard input", c.CommandPath(), name, errors.Unwrap(err))
	}
	if info, err := f.Stat(); err == nil && info.IsDir() {
		f.Close()
		return nil, wrongCall("%s: %s is a folder; name a file with a case, or - for standard input", c.CommandPath(), name)
	}
	return f, nil
}

// planOne prints the plan of one case, after draw has drawn it.
func planOne(in io.Reader, out io.Writer, text bool, draw func(job.Case, calc.Plan) error) error {
	// One byte more than a case may have, so that too much shows as too much.
	raw, err := io.ReadAll(io.LimitReader(in, job.MaxBytes+1))
	if err != nil {
		return err
	}
	sheet, facts, plan, err := planFor(raw)
	if err != nil {
		return err
	}
	if err := draw(facts, plan); err != nil {
		return err
	}
	w := bufio.NewWriter(out)
	if text {
		if err := writeText(w, sheet, plan); err != nil {
			return err
		}
		return w.Flush()
	}
	printed, err := encode(plan, "  ")
	if err != nil {
		return err
	}
	if _, err := w.Write(printed); err != nil {
		return err
	}
	return w.Flush()
}

// planFor reads a case and reckons its plan.
//
// Errors: *job.FieldError.
func planFor(raw []byte) (job.Sheet, job.Case, calc.Plan, error) {
	sheet, err := job.Decode(raw)
	if err != nil {
		return job.Sheet{}, job.Case{}, calc.Plan{}, err
	}
	c, err := sheet.Case()
	if err != nil {
		return job.Sheet{}, job.Case{}, calc.Plan{}, err
	}
	return sheet, c, calc.Reckon(c), nil
}

// encode returns v as JSON with a line end, indented by indent at each depth.
// It leaves <, > and & as they are: plans are read by people and files, not
// inside HTML.
func encode(v any, indent string) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", indent)
	if err := e.Encode(v); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// planEach plans one case a line.
func planEach(ctx context.Context, in io.Reader, s streams) error {
	p := newProgress(in, s)
	bad, err := eachLine(ctx, p.reader(), job.MaxBytes,
		func(line []byte) ([]byte, error) {
			_, _, plan, err := planFor(line)
			if err != nil {
				return nil, err
			}
			return encode(plan, "")
		},
		p.print, p.refuse)
	if err := errors.Join(err, p.close()); err != nil {
		return err
	}
	if bad > 0 {
		return errTold
	}
	return nil
}
