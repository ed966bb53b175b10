package flow

import (
	"encoding/json"
	"fmt"
	"slices"

	"linetender/calc/unit"
)

// chatState is what is known of a chat beside its job: which job it is in,
// what gear its crew keeps, and whether the door lets it in.
type chatState struct {
	name  string
	last  uint64
	job   string   // code of the job it is in
	past  string   // the one before
	jobs  []string // all it was in, the latest last
	kits  map[string][]Fact
	order []string // names of kits, the latest last
	units unit.System
	front doorState

	lessons []lesson
}

// A Fact is a value of the sheet by itself.
type Fact struct {
	Path  string `json:"path"`
	Value string `json:"value"`
}

// chatEntry is one entry of a chat's stream.
type chatEntry struct {
	Version int    `json:"v"`
	At      string `json:"at"`
	Who     Person `json:"who"`
	Update  string `json:"update"`
	Heard   Heard  `json:"heard"`
	Acts    []Act  `json:"acts,omitempty"`
	Kit     []Fact `json:"kit,omitempty"`
	Said    []Said `json:"said,omitempty"`
}

// The acts of a chat.
const (
	DoEnter Do = "enter" // the chat is in the job Value now
	DoKit   Do = "kit"   // the entry's kit is kept as Value
	DoTry   Do = "try"   // a wrong code was sent
	DoAdmit Do = "admit" // the chat is let in
	DoGuest Do = "guest" // the chat is let into the job Value, and into no other
)

func newChat(name string) *chatState {
	return &chatState{name: name, kits: map[string][]Fact{}}
}

func (c *chatState) fold(n uint64, body []byte) error {
	var e chatEntry
	if err := json.Unmarshal(body, &e); err != nil {
		return fmt.Errorf("decode entry %d of chat %q: %w", n, c.name, err)
	}
	if e.Version < 1 || e.Version > entryVersion {
		return fmt.Errorf("entry %d of chat %q: version %d is not one this release reads", n, c.name, e.Version)
	}
	for _, a := range e.Acts {
		switch a.Do {
		case DoEnter:
			if a.Value != "" && !slices.Contains(c.jobs, a.Value) {
				c.jobs = append(c.jobs, a.Value)
			}
			if a.Value != c.job {
				c.past, c.job = c.job, a.Value
			}
		case DoLesson:
			c.learnLesson(a)
		case DoKit:
			c.keep(a.Value, e.Kit)
		case DoUnits:
			c.units = unit.Metric
			if a.Value == unit.Customary.String() {
				c.units = unit.Customary
			}
		case DoTry:
			c.front.tries = append(c.front.tries, e.At)
		case DoGuest:
			c.front.guest = a.Value
			c.front.tries = nil
		case DoAdmit:
			c.front.in = true
			c.front.tries = nil
		}
	}
	c.last = n
	return nil
}

func (c *chatState) keep(name string, kit []Fact) {
	if _, ok := c.kits[name]; !ok {
		c.order = append(c.order, name)
	}
	c.kits[name] = kit
}

// write returns the chat's part of a turn.
func (c *chatState) write(t *turn) (Write, error) {
	e := chatEntry{
		Version: entryVersion, At: t.entry.At, Who: t.entry.Who, Update: t.entry.Update,
		Acts: t.kept, Kit: t.kit(),
	}
	if t.s == nil {
		// A job's own entry has these; a chat without one has only this.
		e.Heard, e.Said = t.entry.Heard, t.entry.Said
	}
	body, err := json.Marshal(e)
	if err != nil {
		return Write{}, fmt.Errorf("encode chat entry: %w", err)
	}
	return Write{Stream: chatStream(c.name), After: c.last, Entries: [][]byte{body}}, nil
}
