package main

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"linetender/calc/unit"
	"linetender/flow"
	"linetender/flow/wording"
)

// A job is read one line an event: its number, when, who, what came in, and the
// first of what was answered. What is decided has a line of its own where it
// turns. All of an event is what --all prints.

const (
	longestHeard = 70  // characters of what came in
	longestLine  = 150 // of a whole line
)

// outline prints the lines of a job as its events come.
type outline struct {
	day     string
	decided string
}

func (o *outline) lines(n uint64, e flow.Entry) string {
	var b strings.Builder
	day, clock := siteTime(e)
	if day != o.day {
		o.day = day
		fmt.Fprintf(&b, "%s\n", oneLine(day))
	}
	line := fmt.Sprintf("%5d  %s  %s: %s", n, oneLine(clock), oneLine(cmp.Or(e.Who.Name, e.Who.ID, "time")), cutTo(heardText(e), longestHeard))
	if said := saidFirst(e); said != "" {
		line = cutTo(line+" | "+said, longestLine)
	}
	b.WriteString(line + "\n")
	if d := e.Decided; d != nil && d.Decision != o.decided {
		o.decided = d.Decision
		why := ""
		if len(d.Why) > 0 {
			why = ": " + d.Why[0]
		}
		fmt.Fprintf(&b, "%5s  %s%s\n", "", strings.ToUpper(oneLine(d.Decision)), oneLine(why))
	}
	return b.String()
}

// siteTime is the day and the time of day of an event, at the site where it is known how its clocks go.
func siteTime(e flow.Entry) (day, clock string) {
	at, err := time.Parse(time.RFC3339, e.At)
	if err != nil {
		return e.At, "--:--"
	}
	zone := "UTC"
	if off, err := time.Parse("-07:00", e.Offset); err == nil {
		_, seconds := off.Zone()
		at, zone = at.In(time.FixedZone("", seconds)), "at the site, "+e.Offset
	} else {
		at = at.UTC()
	}
	return at.Format("2006-01-02") + " (" + zone + ")", at.Format("15:04")
}

// heardText is what came in, in a few words.
func heardText(e flow.Entry) string {
	h := e.Heard
	switch {
	case h.Press != "":
		return "[" + pressed(h.Press) + "]"
	case h.Text != "":
		return h.Text
	case h.Other != "":
		return h.Other
	case e.Was != "":
		return "(a person was taken out of this event)"
	}
	return "-"
}

// pressed is what a button said, as far as its wording is kept, and what it was for.
func pressed(choice string) string {
	parts := strings.Split(choice, ".")
	k, args := wording.Key("choice."+parts[0]), wording.Args{"Number": 0}
	if len(parts) > 1 {
		if n, err := strconv.Atoi(parts[1]); err == nil {
			args["Number"] = n
		}
	}
	words := wording.English()
	label, err := words.Say(unit.Metric, k, args)
	if !words.Has(k) || err != nil {
		return choice
	}
	for _, p := range parts[1:] {
		if !strings.Contains(label, p) {
			label += ", " + p
		}
	}
	return label
}

// saidFirst is the first of what was answered, or of what others were told.
func saidFirst(e flow.Entry) string {
	for _, s := range e.Said {
		if s.Text != "" {
			return s.Text
		}
	}
	for _, sent := range e.Sent {
		for _, s := range sent.Said {
			if s.Text != "" {
				return fmt.Sprintf("told %s: %s", sent.Chat, s.Text)
			}
		}
	}
	return ""
}

// cutTo is a text on one line, no longer than so many characters.
func cutTo(text string, most int) string {
	text = oneLine(text)
	if utf8.RuneCountInString(text) <= most {
		return text
	}
	return strings.TrimRight(string([]rune(text)[:most-1]), " ") + "…"
}
