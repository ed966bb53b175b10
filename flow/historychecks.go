package flow

import (
	"slices"
	"strings"
	"time"

	"linetender/calc"
	"linetender/flow/wording"
)

// checked keeps an answer to a check on the spot.
func (h *historian) checked(a Act, e Entry) {
	field, _ := strings.CutPrefix(a.Topic, "site.")
	c, ok := siteCheckOf(field)
	if !ok {
		return
	}
	mark := Checked{check: c.field, Claim: h.t.fits(c.claimed(a.Value)), Value: h.ticked(c, a.Value), Fails: a.Value == c.bad, Who: h.name(e.Who), At: at(e)}
	if name := first0(a.Names); name != "" && name != mark.Who {
		mark.Who, mark.By = name, mark.Who
	}
	h.out.Checks = append(h.out.Checks, mark)
}

// ticked is an answer to a check as its button says it.
func (h *historian) ticked(c siteCheck, value string) string {
	for _, o := range c.topic().offers {
		for _, s := range o.sets {
			if s.value == value {
				return h.t.saying(wording.Key("choice." + o.choice))
			}
		}
	}
	return value
}

// reopened marks the answers to a check that do not count any more.
func (h *historian) reopened(a Act, e Entry) {
	field, _ := strings.CutPrefix(a.Topic, "site.")
	c, ok := siteCheckOf(field)
	if !ok {
		return
	}
	for i := range h.out.Checks {
		if k := &h.out.Checks[i]; k.check == c.field && k.Again == "" {
			k.Again = at(e)
		}
	}
}

// signed keeps a signature to a failing check, which is told as the plan of
// that moment had it.
func (h *historian) signed(a Act, e Entry) {
	check := a.Topic
	if a.Was != "" { // the very words that were signed
		check = a.Was
	} else if p := h.t.plan(); p != nil {
		for _, c := range p.Checks {
			if c.ID == a.Topic && (check == a.Topic || c.Result == calc.Fail) {
				check = c.Text
			}
		}
	}
	if slices.ContainsFunc(h.out.Overrides, func(o Override) bool {
		return a.Was == "" && o.By == first0(a.Names) && o.Second == a.Second && o.Reason == a.Reason
	}) {
		return // it stays when another is taken back
	}
	o := Override{Check: check, By: first0(a.Names), Second: a.Second, Reason: a.Reason, At: at(e)}
	for _, p := range h.puts {
		if p.Check == a.Topic && p.Said != "" {
			o.Put = append(o.Put, WordPut{Name: p.Name, Text: p.Text, At: p.Said})
		}
	}
	h.puts = nil
	h.out.Overrides = append(h.out.Overrides, o)
}

// put keeps what one who is to sign was asked; asked anew, what was asked before
// is nothing.
func (h *historian) put(a Act, _ Entry) {
	h.puts = slices.DeleteFunc(h.puts, func(p Put) bool { return p.Member == a.Path })
	h.puts = append(h.puts, Put{Member: a.Path, Name: first0(a.Names), Check: a.Topic, Text: a.Value})
}

func (h *historian) worded(a Act, e Entry) {
	for i := range h.puts {
		if h.puts[i].Member == a.Path {
			h.puts[i].Said = at(e)
		}
	}
}

func (h *historian) stopped(_ Act, e Entry) {
	halt := Halt{At: at(e), Who: h.name(e.Who)}
	if n := len(h.t.s.Stops); n > 0 {
		halt.Drill = h.t.s.Stops[n-1].Drill
	}
	h.out.Halts = append(h.out.Halts, halt)
}

// halt is the stop that is on, nil for none.
func (h *historian) halt() *Halt {
	if n := len(h.out.Halts); n > 0 && h.out.Halts[n-1].Over == "" {
		return &h.out.Halts[n-1]
	}
	return nil
}

func (h *historian) stood(a Act, e Entry) {
	halt := h.halt()
	if halt == nil {
		return
	}
	who := h.name(Person{ID: a.Value})
	for _, s := range halt.Still {
		if s.Who == who {
			return
		}
	}
	halt.Still = append(halt.Still, Stood{Who: who, After: between(halt.At, at(e))})
}

func (h *historian) wentOn(a Act, e Entry) {
	if halt := h.halt(); halt != nil {
		halt.Over, halt.Reason = at(e), a.Reason
	}
}

// oldStop tells a stop of an early release, which moved the job and kept no
// act of its own.
func (h *historian) oldStop(e Entry) {
	has := func(do Do) bool { return slices.ContainsFunc(e.Acts, func(a Act) bool { return a.Do == do }) }
	halt := h.halt()
	switch {
	case e.State == Halted && halt == nil && !has(DoOver):
		h.stopped(Act{}, e)
	case e.State != Halted && halt != nil && !has(DoOver) && !has(DoStop):
		reason := ""
		for _, a := range e.Acts {
			if a.Do == DoNote && a.Topic == "" {
				reason = a.Value
			}
		}
		h.wentOn(Act{Reason: reason}, e)
	}
}

// between is the time from one moment to another, as at writes them.
func between(from, to string) time.Duration {
	const form = "2006-01-02 15:04:05 -07:00"
	a, err := time.Parse(form, from)
	b, err2 := time.Parse(form, to)
	if err != nil || err2 != nil {
		return 0
	}
	return b.Sub(a)
}

// told keeps each plan that was given: how it changed is what a reviewer asks
// first.
func (h *historian) told(_ Act, _ Entry) {
	h.plans++
	if found := h.t.s.Found; h.first == "" && found != nil {
		h.first = found.Decision
	}
}

// comparisons hold what was planned against what came, each a part of it.
var comparisons = []func(*historian) []Compared{
	(*historian).comparePlans,
	(*historian).compareBites,
	(*historian).compareRows,
}

// comparePlans tells how often the plan that was given became another.
func (h *historian) comparePlans() []Compared {
	if h.plans == 0 {
		return nil
	}
	end := h.t.s.outcome(h.t.s.Found)
	row := Compared{What: "plans", Planned: "1", Happened: itoa(h.plans)}
	if end == nil || h.first == "" {
		return []Compared{row}
	}
	return []Compared{row, {What: "decision", Planned: h.first, Happened: end.Decision}}
}

// refused keeps a no to signing, or that it was taken back.
func (h *historian) refused(a Act, e Entry) {
	if a.Value != "" {
		h.out.Refused = append(h.out.Refused, NoWord{Name: first0(a.Names), Check: a.Was, Words: a.Value, At: at(e)})
		h.noes = append(h.noes, a.Path+" "+a.Topic)
		return
	}
	for i, of := range h.noes {
		member, check, _ := strings.Cut(of, " ")
		if member == a.Path && (a.Topic == "" || a.Topic == check) && h.out.Refused[i].Back == "" {
			h.out.Refused[i].Back = at(e)
		}
	}
}
