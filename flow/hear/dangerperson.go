package hear

import "strings"

// clause reads what one part of a message says of people and of machines.
func (r *dangerReading) clause(p dangerPart) {
	p.from = len(r.found)
	by, told := danger.group("saidby", strings.Trim(p.whole, " "))
	told = told && !pronoun[by]
	words := strings.Trim(p.words, " ")
	named := r.mark(words)
	stands := Now
	if danger.in("supposed", words) {
		stands = Supposed
	}
	before := len(r.found)
	r.near(words, named, stands)
	r.past(&p, words, before)
	p.past = p.past || stands == Supposed && len(r.found) > before
	asked := p.end == "?"
	r.hurt(p, named, asked)
	r.unfit(strings.Trim(p.whole, " "), named, asked)
	r.faults(strings.Trim(p.whole, " "), asked)
	if told {
		for i := p.from; i < len(r.found); i++ {
			r.found[i].Teller = by
		}
	}
	r.parts = append(r.parts, p)
}

// pronoun are words before a verb of saying that hand on nobody's words.
var pronoun = wordSet("i we you it that which stamp tag label plate sticker book handbook manual who not have has had just never")

// near reads who is where the rig can reach them.
func (r *dangerReading) near(words, named string, stands Standing) {
	if danger.in("asksone", words) {
		return
	}
	d := Danger{Kind: Near, Said: words, Stands: stands}
	apart := danger["holdingline"].ReplaceAllString(named, " ")
	if what, ok := danger.group("strangernear", words); ok {
		d.What, d.By = what, true
	} else if what, ok := danger.group("strangerin", words); ok {
		d.What, d.By = what, true
	} else if what, ok := danger.group("standsby", words); ok {
		d.What = what
	} else if what, ok := danger.group("oneofthem", words); ok {
		d.What = what
	} else if what, ok := danger.group("strangeronly", words); ok {
		d.What, d.Bare = what, true
	} else if at := danger["crewwhere"].FindString(apart); at != "" {
		d.What, d.Crew = r.named(at), true
	} else if at := danger["nobodywhere"].FindString(words); at != "" {
		if d.What, d.Stands = at, Denied; strings.HasPrefix(at, "any") && stands == Supposed {
			d.Stands = Asked
		}
	} else if what, ok := danger.group("strangerelse", words); ok && (danger.in("elsewhere", words) || danger.in("gone", words)) && !danger.in("notgone", words) {
		d.What, d.Stands = what, Past // they were there, and are not now
	} else {
		return
	}
	if d.Stands == Now && danger.in("nobody", words) && !d.Bare {
		d.Stands = Denied
	}
	r.found = append(r.found, d)
}

// past marks who is there no more: by the words of the part itself, or of the next
// one, which speaks on of them.
func (r *dangerReading) past(p *dangerPart, words string, before int) {
	gone := danger.in("gone", words) && !danger.in("notgone", words)
	away := danger.in("elsewhere", words) && !danger.in("notgone", words)
	rigged := danger.in("strangernear", words) || danger.in("oneofthem", words)
	if gone || away && !rigged {
		for i := before; i < len(r.found); i++ {
			if r.found[i].Kind == Near && r.found[i].Stands == Now {
				r.found[i].Stands = Past
			}
		}
		p.past = len(r.found) > before
	}
	spoken := len(r.found) > before // of somebody: it speaks of them, and of nobody before
	if spoken && !danger.in("goneon", words) || len(r.parts) == 0 {
		return
	}
	if !danger.in("goneon", words) || danger.in("notgone", words) || away && !gone && !danger.in("bynow", words) && !r.elsewhereAgain(words) {
		return
	}
	last := &r.parts[len(r.parts)-1]
	for i := last.from; i < before; i++ {
		if r.found[i].Kind == Near && r.found[i].Stands == Now && !r.found[i].Crew {
			r.found[i].Stands, last.past = Past, true
		}
	}
}

// elsewhereAgain reports whether words say of an animal that it is tied.
func (r *dangerReading) elsewhereAgain(words string) bool { return strings.Contains(words, "tied") }

// hurt reads who is hurt.
func (r *dangerReading) hurt(p dangerPart, named string, asked bool) {
	d := Danger{Kind: Hurt, Said: strings.Trim(p.words, " ")}
	p.words, p.whole = wayless(p.words), wayless(p.whole)
	switch {
	case danger.in("hurt", p.words), danger.in("wounded", named) && !danger.in("supposed", p.words):
		if d.What = r.whom(named); asked {
			d.Stands = Asked
		}
	case danger.in("hurt", p.whole):
		d.Stands, d.What = Denied, r.whom(r.mark(p.whole))
	default:
		if n := len(r.found); n > 0 && r.found[n-1].Kind == Hurt && r.found[n-1].Stands == Now && danger.in("wellagain", named) {
			r.found[n-1].Stands = Past
		}
		return
	}
	r.found = append(r.found, d)
}

// wayless are words without the way by which an ambulance would come.
func wayless(words string) string {
	return danger["ambulanceway"].ReplaceAllString(strings.TrimLeft(words, " "), " ")
}

// whom returns who words are about: one of the crew, whoever writes, or a word for
// a person.
func (r *dangerReading) whom(named string) string {
	named = strings.TrimSpace(danger["handson"].ReplaceAllString(named, ""))
	for _, w := range strings.Fields(named) {
		if strings.HasPrefix(w, "qn") {
			if n := r.named(w); n != w {
				return n
			}
		}
	}
	if danger.in("mine", named) {
		return "me"
	}
	if w := danger["anyone"].FindString(named); w != "" {
		return w
	}
	return ""
}

// unfit reads who may have no part.
func (r *dangerReading) unfit(words, named string, asked bool) {
	d := Danger{Said: words}
	switch {
	case danger.in("notsober", words) && !danger.in("nobodydrinks", words):
		d.Kind = Drink // asked or not: who asks has seen something
	case danger.in("nobodydrinks", words):
		d.Kind, d.Stands = Drink, Denied
	case r.young(words, named):
		if d.Kind = Young; asked || danger.in("supposed", words) {
			d.Stands = Asked
		}
	default:
		return
	}
	d.What = r.whom(named)
	if kin := danger["akin"].FindString(named); d.Kind == Young && kin != "" && !danger.in("name", named) {
		d.What = kin
	}
	r.found = append(r.found, d)
}

// young reports whether words tell of somebody under age.
func (r *dangerReading) young(words, named string) bool {
	if danger.in("kidless", words) {
		return false
	}
	if at := danger["name"].FindStringIndex(named); at != nil {
		young, _ := youngOf(named)
		return young
	}
	if danger.in("minor", words) {
		return true
	}
	if !danger.in("akin", words) {
		return false
	}
	young, _ := youngAge(words)
	return young
}
