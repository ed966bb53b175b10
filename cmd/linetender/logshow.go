package main

import (
	"fmt"
	"net/url"
	"strings"

	"github.com/spf13/cobra"

	"linetender/flow"
)

func newLogShow(s streams) *cobra.Command {
	var data string
	var all bool
	c := &cobra.Command{
		Use:   "show CODE",
		Short: "Print one job, a line an event",
		Long: `Print the job with this code, in order, a line an event: when, who, what came in and the first of what was answered;
and what was decided, where that turned. --all prints the whole of each: where it came from and what came with it, what
it meant, what was decided with all reasons, all that was answered and what was said in other chats.`,
		Example: "  linetender log show larch-42\n  linetender log show larch-42 --all",
		Args:    exactly(1, "name the code of one job, as log list has it"),
		RunE: func(c *cobra.Command, args []string) error {
			ask := url.Values{"code": codesOf(args)}
			if all {
				ask.Set("all", "yes")
			}
			return doLog(c, data, "show", logCall{ask: ask, out: s.out})
		},
	}
	c.Flags().BoolVar(&all, "all", false, "the whole of each event, many lines each")
	dataFlag(c, &data)
	return c
}

// showJob prints the events of one job.
//
// Errors: *callError when there is no such job.
func showJob(c logCall) error {
	code, turns := c.ask.Get("code"), 0
	var short outline
	err := c.shelf.Replay(flow.JobStream(code), 0, func(n uint64, body []byte) error {
		e, err := flow.DecodeEntry(body)
		if err != nil {
			return fmt.Errorf("turn %d: %w", n, err)
		}
		turns++
		if c.ask.Get("all") == "" {
			return c.print("%s", short.lines(n, e))
		}
		return c.print("%s\n", turnText(n, e))
	})
	if err != nil {
		return err
	}
	if turns == 0 {
		return noSuchJob(code)
	}
	return nil
}

func turnText(n uint64, e flow.Entry) string {
	var b strings.Builder
	row := func(name, text string) {
		if text == "" {
			return
		}
		for i, line := range strings.Split(text, "\n") {
			if i > 0 {
				name = ""
			}
			fmt.Fprintf(&b, "  %-8s %s\n", name, oneLine(line))
		}
	}
	at := e.At
	if e.Offset != "" {
		at += " (site " + e.Offset + ")"
	}
	fmt.Fprintf(&b, "%d. %s  %s in %s\n", n, oneLine(at), oneLine(personText(e.Who)), oneLine(e.Chat))
	row("heard", e.Heard.Text)
	row("pressed", e.Heard.Press)
	row("heard", e.Heard.Other)
	for _, f := range e.Heard.Files {
		row("file", fileText(f))
	}
	if p := e.Heard.Place; p != nil {
		row("place", placeText(*p))
	}
	if e.Was != "" {
		row("taken", "a person was taken out of this event")
	}
	for _, a := range e.Acts {
		row("meant", meant(a))
	}
	stands := string(e.State)
	if e.Topic != "" {
		stands += ", asking " + e.Topic
	}
	row("stands", stands)
	if e.Decided != nil {
		row("decided", strings.Join(append([]string{e.Decided.Decision}, e.Decided.Why...), "\n"))
	}
	for _, s := range e.Said {
		row("said", s.Text)
	}
	for _, sent := range e.Sent {
		name := "to " + sent.Chat
		for _, s := range sent.Said {
			row("sent", name+": "+s.Text)
			name = strings.Repeat(" ", len(name))
		}
	}
	return b.String()
}

// personText is who somebody is: what they are called and the channel's mark
// of them, so that two of one name are told apart.
func personText(p flow.Person) string {
	switch {
	case p.Name == "":
		return orDash(p.ID)
	case p.ID == "" || p.ID == p.Name:
		return p.Name
	}
	return p.Name + " (" + p.ID + ")"
}

func fileText(f flow.File) string {
	parts := []string{f.Kind}
	for _, p := range []string{f.Name, f.Type} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	if f.Size > 0 {
		parts = append(parts, fmt.Sprintf("%d bytes", f.Size))
	}
	if f.Sum != "" {
		parts = append(parts, "SHA-256 "+f.Sum)
	}
	return strings.Join(parts, ", ")
}

func placeText(p flow.Place) string {
	text := fmt.Sprintf("%.5f, %.5f", p.Lat, p.Lon)
	if p.Good > 0 {
		text += fmt.Sprintf(" (within %.0f m)", p.Good)
	}
	return text
}

// meant words one act for the log: what it did, to what, and how that is known.
func meant(a flow.Act) string {
	parts := []string{string(a.Do)}
	for _, p := range []string{string(a.Event), a.Topic, a.Path} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	if a.Value != "" {
		parts = append(parts, "= "+a.Value)
	}
	if a.Was != "" {
		parts = append(parts, "(was "+a.Was+")")
	}
	if a.How != "" {
		parts = append(parts, "("+string(a.How)+")")
	}
	if m := a.Member; m != nil {
		parts = append(parts, personText(flow.Person{ID: m.ID, Name: m.Name}), "as", string(m.As), "in", m.Chat)
	}
	if len(a.Names) > 0 {
		parts = append(parts, "by "+strings.Join(a.Names, ", "))
	}
	if a.Second != "" {
		parts = append(parts, "second "+a.Second)
	}
	if a.Reason != "" {
		parts = append(parts, "because "+a.Reason)
	}
	return strings.Join(parts, " ")
}
