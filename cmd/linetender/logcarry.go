package main

import (
	"errors"
	"io"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"linetender/flow/archive"
)

func newLogExport(s streams) *cobra.Command {
	var data, out string
	var chats bool
	c := &cobra.Command{
		Use:   "export [CODE...]",
		Short: "Write jobs as JSON Lines, to keep or to import elsewhere",
		Long: `Write the named jobs, or all, as JSON Lines: one object a line, the first saying what the file is, then a line
an event, a line a job with its summary, and a last line that counts them. Events stand there as they were
written, so log import takes them in byte for byte. The package documentation of flow/archive describes it all.

Chats outside of jobs and the door stay behind: they say who may talk to this installation, and hold saved kits.
--chats writes them too. Photos are files of their own, in the data folder under photos.`,
		Example: "  linetender log export --out jobs.jsonl\n  linetender log export larch-42 > larch-42.jsonl",
		RunE: func(c *cobra.Command, args []string) error {
			ask := url.Values{"code": codesOf(args)}
			if chats {
				if len(args) > 0 {
					return wrongCall("%s: --chats is for all of a store; leave out the codes, or --chats", c.CommandPath())
				}
				ask.Set("chats", "yes")
			}
			m := newMeter(s.err, "exporting", "jobs")
			defer m.close()
			return toFile(c, out, s.out, func(w io.Writer) error {
				return doLog(c, data, "export", logCall{ask: ask, out: w, meter: m})
			})
		},
	}
	outFlag(c, &out)
	c.Flags().BoolVar(&chats, "chats", false, "the chats and the door too: who may talk, saved kits")
	dataFlag(c, &data)
	return c
}

func exportJobs(c logCall) error {
	o := archive.Options{Jobs: c.ask["code"], Chats: c.ask.Has("chats"), Stop: c.ctx.Err, Seen: func(archive.Count) { c.meter.add(1) }}
	_, err := archive.Write(c.out, c.shelf, o)
	if errors.Is(err, archive.ErrMissing) {
		return wrongCall("%v; linetender log list names those there are", err)
	}
	return err
}

// outFlag adds --out to a command that can write into a file.
func outFlag(c *cobra.Command, out *string) {
	c.Flags().StringVar(out, "out", "", "write to this new `FILE` instead of standard output")
	_ = c.MarkFlagFilename("out")
}

// toFile has write fill a new file, which gets its name only once it is whole,
// or standard output where no name is given.
func toFile(c *cobra.Command, name string, stdout io.Writer, write func(io.Writer) error) (err error) {
	if !c.Flags().Changed("out") {
		return write(stdout)
	}
	if _, err := os.Lstat(name); !errors.Is(err, fs.ErrNotExist) || name == "" {
		return wrongCall("%s: %s is there already; name a new file with --out", c.CommandPath(), orDash(name))
	}
	f, err := os.CreateTemp(filepath.Dir(name), "."+filepath.Base(name)+".*")
	if err != nil {
		return wrongCall("%s: %s cannot be written; name a new file, in a folder that you may write to", c.CommandPath(), name)
	}
	defer os.Remove(f.Name())
	err = write(f)
	if err = errors.Join(err, f.Sync(), f.Close()); err != nil {
		return err
	}
	if err := os.Link(f.Name(), name); err != nil { // refuses to take another's place
		return os.Rename(f.Name(), name) // where there are no links
	}
	return nil
}

func newLogImport(s streams) *cobra.Command {
	var data string
	var chats bool
	c := &cobra.Command{
		Use:   "import FILE|-",
		Short: "Take in the jobs of an export",
		Long: `Take in the jobs of a file that log export wrote, or of standard input when it is -. Each job is checked before
any of it is kept, as log verify does, and kept whole or not at all. A job that is there already, or there
already and further on, is left alone, so an import that was broken off is simply run again; one that is there
and different is refused and stays as it is.

A file does not say who wrote it: a job that holds is whole and in order, not true. --keep counts from the import.

Exit status: 0 all that was asked for is there now; 2 some were refused, or the file is no export.`,
		Example: "  linetender log import jobs.jsonl\n  linetender log import - < jobs.jsonl",
		Args:    exactly(1, "name one file that log export wrote, or - for standard input"),
		RunE: func(c *cobra.Command, args []string) error {
			ask := url.Values{}
			if chats {
				ask.Set("chats", "yes")
			}
			in, err := openCase(c, args[0], s.in)
			if err != nil {
				return err
			}
			defer in.Close()
			m := newMeter(s.err, "importing", "")
			defer m.close()
			return doLog(c, data, "import", logCall{ask: ask, in: m.reader(in), out: s.out, meter: m})
		},
	}
	c.Flags().BoolVar(&chats, "chats", false, "the chats and the door too, where the file has them: who may talk, saved kits")
	dataFlag(c, &data)
	return c
}

func importJobs(c logCall) error {
	taken, err := archive.Read(c.in, c.shelf, archive.Taking{
		Chats: c.ask.Has("chats"), Stop: c.ctx.Err,
		Refuse: func(name string, why error) error {
			return c.print("refused %s: %s\n", oneLine(name), oneLine(why.Error()))
		},
	})
	told := c.print("taken in %d with %d events, there already %d, refused %d\n", taken.New.Streams, taken.New.Entries, taken.Same, taken.Refused)
	if told == nil && taken.Left > 0 {
		told = c.print("left out %d that are no jobs; --chats takes them too\n", taken.Left)
	}
	var file *archive.FileError
	switch {
	case told != nil:
		return told
	case errors.As(err, &file):
		if told := c.print("the rest was not read: %s\n", oneLine(err.Error())); told != nil {
			return told
		}
		return errTold
	case err != nil:
		return err
	case taken.Refused > 0:
		return errTold
	}
	return nil
}
