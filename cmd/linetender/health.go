package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"strings"
	"time"

	"github.com/spf13/cobra"
)

// What a serving process is held to. A long poll answers within a minute, so
// three without a word are silence; a turn takes a fraction of a second.
const (
	channelSilence = 3 * time.Minute
	turnPatience   = 2 * time.Minute
	healthQuestion = "/health"
)

// A vital is one sign of life.
type vital struct {
	Name string `json:"name"`
	Well bool   `json:"well"`
	Said string `json:"said"`
}

// vitals are the signs of life of one process, as the hatch tells them.
type vitals []vital

func (vs vitals) well() bool {
	for _, v := range vs {
		if !v.Well {
			return false
		}
	}
	return true
}

// line words the signs on one line, what is wrong first.
func (vs vitals) line() string {
	var wrong, right []string
	for _, v := range vs {
		text := v.Name + ": " + v.Said
		if v.Well {
			right = append(right, text)
		} else {
			wrong = append(wrong, text)
		}
	}
	return strings.Join(append(wrong, right...), "; ")
}

// checkup is what the signs of life are read from.
type checkup struct {
	now func() time.Time
	// write makes one small durable change to the store.
	write func() error
	// waiting returns since when the oldest unanswered update has waited, and
	// how many parcels are unsent.
	waiting func() (oldest time.Time, unsent int, err error)
	// channel returns when the channel last answered, or an error when it is
	// known to be closed to us; nil where no channel is served.
	channel func() (time.Time, error)
}

func (c checkup) vitals() vitals {
	vs := vitals{{Name: "store", Well: true, Said: "writes"}}
	if err := c.write(); err != nil {
		vs[0] = vital{Name: "store", Said: err.Error()}
	}
	now := c.now()
	if oldest, unsent, err := c.waiting(); err != nil {
		vs = append(vs, vital{Name: "turns", Said: err.Error()})
	} else if waited := now.Sub(oldest); !oldest.IsZero() && waited > turnPatience {
		vs = append(vs, vital{Name: "turns", Said: fmt.Sprintf("a message has waited %s for its answer", waited.Round(time.Second))})
	} else {
		vs = append(vs, vital{Name: "turns", Well: true, Said: fmt.Sprintf("keep up, %d to send", unsent)})
	}
	if c.channel == nil {
		return vs
	}
	heard, err := c.channel()
	switch silence := now.Sub(heard); {
	case err != nil:
		vs = append(vs, vital{Name: "channel", Said: err.Error()})
	case silence > channelSilence:
		vs = append(vs, vital{Name: "channel", Said: fmt.Sprintf("silent for %s", silence.Round(time.Second))})
	default:
		vs = append(vs, vital{Name: "channel", Well: true, Said: fmt.Sprintf("heard %s ago", max(silence, 0).Round(time.Second))})
	}
	return vs
}

// answer tells the vitals at the hatch: status 503 when one is not well.
func (c checkup) answer(w http.ResponseWriter, _ *http.Request) {
	vs := c.vitals()
	w.Header().Set("Content-Type", "application/json")
	if !vs.well() {
		w.WriteHeader(http.StatusServiceUnavailable)
	}
	_ = json.NewEncoder(w).Encode(vs)
}

func newHealth(s streams) *cobra.Command {
	var data string
	c := &cobra.Command{
		Use:   "health",
		Short: "Ask the running process whether it is well",
		Long: `Ask the process that keeps the data folder whether it is well: whether its store takes a durable write,
whether messages get their turn, and, when it serves a channel, whether it still hears the channel.
Meant for a container's health check and for supervisors; the question goes over a local socket to that process only.

Exit status: 0 all is well; 1 something is not, or no process keeps the folder.`,
		Example: "  linetender health\n  linetender health --data ./sessions",
		Args:    noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			dir, err := dataFolder(c, data)
			if err != nil {
				return err
			}
			var told strings.Builder
			err = askHatch(c.Context(), dir, healthQuestion, &told)
			var refusal *hatchRefusal
			ill := errors.As(err, &refusal) && refusal.status == http.StatusServiceUnavailable
			if err != nil && !ill {
				return fmt.Errorf("%w (%s)", err, dir)
			}
			text := told.String()
			if ill {
				text = refusal.said
			}
			var vs vitals
			if err := json.Unmarshal([]byte(text), &vs); err != nil {
				return fmt.Errorf("the running process answered %q, which this release does not understand", text)
			}
			if ill {
				return fmt.Errorf("not well: %s", vs.line())
			}
			_, err = fmt.Fprintln(s.out, "well: "+oneLine(vs.line()))
			return err
		},
	}
	dataFlag(c, &data)
	return c
}
