package hear

import (
	"slices"
	"strings"
)

// Damage is a piece that is not whole.
const Damage Kind = "damage"

// faults reads what one part of a message says of a machine's parts, and of pieces
// that are not whole.
func (r *dangerReading) faults(words string, asked bool) {
	over := danger.in("faultover", words)
	for _, k := range []struct {
		kind Kind
		list string
	}{{Keeper, "keeperill"}, {Brake, "brakeill"}, {Unbraked, "unbraked"}} {
		what, ok := danger.group(k.list, words)
		if !ok {
			if over && k.kind == Brake {
				if what := danger["brakeword"].FindString(words); what != "" {
					r.found = append(r.found, Danger{Kind: Brake, What: what, Said: words, Stands: Past})
				}
			}
			continue
		}
		d := Danger{Kind: k.kind, What: what, Said: words}
		switch {
		case asked || danger.in("askedfault", words):
			d.Stands = Asked
		case over && danger.in("nofault", words):
			d.Stands = Denied
		case over:
			d.Stands = Past
		}
		r.found = append(r.found, d)
	}
	what, ok := danger.group("flawed", words)
	if !ok {
		if n := len(r.found); n > 0 && r.found[n-1].Kind == Damage && danger.in("discarded", words) {
			r.found[n-1].Stands = Past
		}
		return
	}
	d := Danger{Kind: Damage, What: what, Said: words}
	switch {
	case asked:
		d.Stands = Asked
	case danger.in("flawless", words):
		d.Stands = Denied
	case danger.in("discarded", words):
		d.Stands = Past
	}
	r.found = append(r.found, d)
}

// seen reads what is seen of the rig. That runs over the whole message, without
// the parts that tell of who is there no more.
func (r *dangerReading) seen(low string) {
	stands := Now
	if strings.HasSuffix(strings.TrimSpace(low), "?") {
		stands = Asked
	}
	var b strings.Builder
	for _, p := range r.parts {
		if !p.past {
			b.WriteString(p.words)
		}
		b.WriteString(p.end)
	}
	words := strings.Trim(b.String(), " .!\n")
	add := func(k Kind) {
		r.found = append(r.found, Danger{Kind: k, What: danger["seenthing"].FindString(words), Said: words, Stands: stands})
	}
	if danger.in("unheld", words) || danger.in("loadcreeps", words) && !strings.Contains(words, "anchor") && !danger.in("anchor", words) { // "the oak moved, it's creeping"
		add("runs")
	}
	for _, k := range Seen {
		switch {
		case k == Hurt:
			if danger.in("hurt", wayless(words)) && !slices.ContainsFunc(r.found, func(d Danger) bool { return d.Kind == Hurt && d.Stands != Denied }) {
				add(Hurt)
			}
		case k == Inside && r.by(), danger.in(string(k), words):
			add(k)
		}
	}
}

// by reports whether a stranger is at what is rigged.
func (r *dangerReading) by() bool {
	for _, d := range r.found {
		if d.Is(Near) && d.By {
			return true
		}
	}
	return false
}

// SeenIn returns which kind of what is seen a message tells of first; empty for
// none. That somebody was hurt stands, though they are said to be well again.
func SeenIn(found []Danger) Kind {
	for _, d := range found {
		if d.Kind == Hurt && (d.Stands == Now || d.Stands == Past) {
			return Hurt
		}
	}
	for _, d := range found {
		if d.Stands == Now && slices.Contains(Seen, d.Kind) {
			return d.Kind
		}
	}
	return ""
}

// PullerSlips reports whether a message tells that the puller slipped or its wheels
// spun, whatever else it tells: a load that stands then, or settles, takes that back
// as little as a sound does.
func PullerSlips(found []Danger) bool {
	return slices.ContainsFunc(found, func(d Danger) bool { return d.Is("slips") && danger.in("pullerslips", d.Said) })
}

// Shocked reports whether words tell that the line took a shock: a jerk, or that it came
// tight at once.
func Shocked(text string) bool {
	return slices.ContainsFunc(Dangers(text, nil), func(d Danger) bool { return d.Is("jerked") || d.Is("sound") && danger.in("snapstight", d.Said) })
}

// HeardOnly reports whether words are of what was heard and not seen.
func HeardOnly(text string) bool { return danger.in("heardonly", Lowered(text)) }
