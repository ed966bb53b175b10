package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"os"
	"path/filepath"
	"sync"
	"time"

	"github.com/spf13/cobra"

	"linetender/flow/telegram"
	"linetender/store"
)

// clockSlack is how far this machine's clock may be from the channel's: codes
// and silences are counted in minutes.
const clockSlack = time.Minute

// roomWanted is what must be free in the data folder, in bytes: a long job
// is well below a hundredth of it.
const roomWanted = 16 << 20

// A finding is what doctor found about one thing.
type finding struct {
	about string
	well  bool
	said  string // what is, or what is wrong and what to do
}

func newDoctor(s streams) *cobra.Command {
	var o serveOptions
	c := &cobra.Command{
		Use:   "doctor",
		Short: "Look whether all is in order, and say what to do where it is not",
		Long: `Look whether the data folder can be written and has room, whether all that is kept there is sound, whether the
clock goes right, and, where there is a token, whether the channel can be reached and takes it. What is wrong is
said with what to do. Nothing is changed, and nothing is sent to anybody; a process that serves goes on meanwhile.

Exit status: 0 all is in order; 1 something is not.`,
		Example: "  linetender doctor\n  linetender doctor --token-file token",
		Args:    noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			if err := fromEnvironment(c); err != nil {
				return err
			}
			dir, err := dataFolder(c, o.data)
			if err != nil {
				return err
			}
			if err := o.check(c); err != nil {
				return err
			}
			d := doctor{dir: dir, now: time.Now}
			found := d.folder()
			found = append(found, d.jobs(c)...)
			found = append(found, d.channel(c, o)...)
			wrong := 0
			for _, f := range found {
				mark := "well "
				if !f.well {
					mark = "WRONG"
					wrong++
				}
				if _, err := fmt.Fprintf(s.out, "%s  %-8s %s\n", mark, f.about, oneLine(f.said)); err != nil {
					return err
				}
			}
			if wrong > 0 {
				return fmt.Errorf("%d of %d things are not in order; each line says what to do", wrong, len(found))
			}
			return nil
		},
	}
	dataFlag(c, &o.data)
	f := c.Flags()
	f.StringVar(&o.tokenFile, "token-file", "", "read the bot's token from `FILE` (default: "+tokenEnv+")")
	f.StringVar(&o.apiURL, "api-url", "", "use the Bot API server at this `URL` instead of the channel's own")
	return c
}

type doctor struct {
	dir string
	now func() time.Time
}

func ill(about, format string, args ...any) finding {
	return finding{about: about, said: fmt.Sprintf(format, args...)}
}

func fine(about, format string, args ...any) finding {
	return finding{about: about, well: true, said: fmt.Sprintf(format, args...)}
}

// folder looks whether the data folder can be written, and has room.
func (d doctor) folder() []finding {
	info, err := os.Stat(d.dir)
	if errors.Is(err, fs.ErrNotExist) {
		return []finding{fine("folder", "%s is not there yet; the first start makes it", d.dir)}
	}
	if err != nil {
		return []finding{ill("folder", "%v: let this user into it, or name another folder with --data", err)}
	}
	var found []finding
	if open := info.Mode().Perm() & 0o077; open != 0 {
		found = append(found, ill("folder", "other users of this machine can look into %s: chmod 700 it, people's words are kept there", d.dir))
	}
	f, err := os.CreateTemp(d.dir, ".doctor-*")
	if err != nil {
		return append(found, ill("folder", "nothing can be written in %s (%v): let this user write there, or mount it for writing", d.dir, cause(err)))
	}
	defer os.Remove(f.Name())
	if _, err = f.Write(make([]byte, roomWanted)); err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return append(found, ill("folder", "there is no room for %d MB more in %s (%v): free some space", roomWanted>>20, d.dir, cause(err)))
	}
	return append(found, fine("folder", "%s can be written and has room", d.dir))
}

// cause is the reason below the operation and the path.
func cause(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

// kept checks the store through, by the process that holds it if one does.
func (d doctor) kept(ctx context.Context) []finding {
	st, err := store.Open(d.dir, store.Options{ReadOnly: true})
	switch {
	case errors.Is(err, store.ErrMissing):
		return []finding{fine("store", "nothing is kept yet")}
	case errors.Is(err, store.ErrLocked):
		if err := askHolder(ctx, d.dir, checkQuestion, err); err != nil {
			return []finding{ill("store", "%v", err)}
		}
		return []finding{fine("store", "sound; a running process has it")}
	case err != nil:
		return []finding{ill("store", "%v", err)}
	}
	defer st.Close()
	return d.sound(st, filepath.Join(d.dir, store.FileName))
}

// jobs checks the store that serve would use.
func (d doctor) jobs(c *cobra.Command) []finding {
	address := os.Getenv(envOf("store"))
	if address == "" || c.Flags().Changed("data") {
		return d.kept(c.Context())
	}
	st, err := openKeeper(c, address, d.dir, "")
	if err != nil {
		return []finding{ill("store", "%v", err)}
	}
	defer st.Close()
	return d.sound(st, st.Path())
}

// sound checks an open store through.
func (d doctor) sound(st Store, where string) []finding {
	if err := st.Check(); err != nil {
		return []finding{ill("store", "%v", err)}
	}
	n, err := st.Stats()
	if err != nil {
		return []finding{ill("store", "%v", err)}
	}
	found := []finding{fine("store", "sound: %d logs, %d messages unsent, %d given up, %d kB in %s",
		n.Streams, n.Unsent, n.Dead, n.Size>>10, where)}
	return append(found, d.lastChange(st)...)
}

// lastChange finds a clock that went back: what was written last would lie in
// the future.
func (d doctor) lastChange(st Store) []finding {
	var last time.Time
	enough := errors.New("the newest is enough")
	err := st.Streams("", "", true, func(_ string, _ []byte, _ uint64, changed time.Time) error {
		last = changed
		return enough
	})
	if err != nil && !errors.Is(err, enough) {
		return []finding{ill("store", "%v", err)}
	}
	if ahead := last.Sub(d.now()); ahead > clockSlack {
		return []finding{ill("clock", "something was kept at %s, which is %s from now: the clock was put back, or was wrong then; set it by network time. Nothing is lost, order does not hang on the clock",
			last.UTC().Format(time.RFC3339), ahead.Round(time.Second))}
	}
	return nil
}

// channel asks the channel once whether it knows the token, and by its answer
// holds the clock against it.
func (d doctor) channel(c *cobra.Command, o serveOptions) []finding {
	token, err := o.token(c)
	if err != nil && o.tokenFile == "" {
		return []finding{fine("channel", "not looked at: there is no token (%s or --token-file), and the terminal needs none", tokenEnv)}
	}
	if err != nil {
		return []finding{ill("token", "%v", err)}
	}
	dated := &dateEar{under: transport(), now: d.now}
	ch, err := telegram.New(telegram.Config{Token: token, Server: o.apiURL, HTTP: &http.Client{Transport: dated}})
	if err != nil {
		return []finding{ill("token", "%v", err)}
	}
	standing, err := ch.Ask(c.Context())
	switch {
	case errors.Is(err, telegram.ErrToken):
		return []finding{fine("reach", "the channel answers"), ill("token", "%v", err)}
	case err != nil:
		return []finding{ill("reach", "%v; look at the network, the name service, and --api-url if you gave one", err)}
	}
	found := []finding{fine("reach", "the channel answers, %d updates wait there", standing.Pending), fine("token", "good for @%s", standing.Name)}
	switch {
	case standing.Webhook != "" && standing.Trouble != "":
		found = append(found, ill("webhook", "the channel's latest post to %s did not get through (%s): look at what speaks TLS there, and at --listen", standing.Webhook, standing.Trouble))
	case standing.Webhook != "":
		found = append(found, fine("webhook", "the channel posts to %s", standing.Webhook))
	}
	skew, known := dated.skew()
	switch {
	case !known:
	case skew.Abs() > clockSlack:
		found = append(found, ill("clock", "this machine's clock is %s off the channel's: set it by network time; codes and times in the log hang on it", skew.Round(time.Second)))
	default:
		found = append(found, fine("clock", "within %s of the channel's", clockSlack))
	}
	return found
}

// dateEar notes how far the Date of an answer is from the clock here.
type dateEar struct {
	under http.RoundTripper
	now   func() time.Time
	mu    sync.Mutex
	off   time.Duration
	heard bool
}

func (e *dateEar) RoundTrip(r *http.Request) (*http.Response, error) {
	answer, err := e.under.RoundTrip(r)
	if err == nil {
		if at, err := http.ParseTime(answer.Header.Get("Date")); err == nil {
			e.mu.Lock()
			e.off, e.heard = e.now().Sub(at), true
			e.mu.Unlock()
		}
	}
	return answer, err
}

func (e *dateEar) skew() (off time.Duration, known bool) {
	e.mu.Lock()
	defer e.mu.Unlock()
	return e.off, e.heard
}
