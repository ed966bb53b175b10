package hear

import (
	"regexp"
	"slices"
	"strings"

	"linetender/calc/bound"
)

// A slope has an owner. What is said of the slope that the puller stands on
// must never take the place of the stuck vehicle's, which decides the force;
// where it is not plain whose slope it is, nothing is taken.

var (
	pullerSlope = regexp.MustCompile(`(?i)\bpuller(?:'s|’s|s)?\s+slope\b|\bslope\s+(?:of|under|at|for|where)\s+(?:the\s+)?puller\b`)
	pullerLevel = regexp.MustCompile(`(?i)\bpuller(?:'s|’s|s)?\s+slope\s*(?:is|:|=|to)?\s*(?:level|flat)\b|\bpuller\s+(?:is|stands|sits)\s+(?:on\s+(?:the\s+)?)?(?:level|flat)\b`)
	pullerSide  = regexp.MustCompile(`(?i)\bpuller(?:'s|’s|s)?\s+(?:side|cross)[- ]?slope\b|\b(?:side|cross)[- ]?slope\s+(?:of|under|at|for|where)\s+(?:the\s+)?puller\b`)
	// A machine that may be either of the two.
	someSlope = regexp.MustCompile(`(?i)\b(?:tractor|winch|loader|digger|excavator|machine|skidder|forwarder|dozer)(?:'s|’s)?\s+slope\b|\bslope\s+(?:of|under|at|for|where)\s+(?:the\s+)?(?:tractor|winch|loader|digger|excavator|machine|skidder|forwarder|dozer)\b`)
)

// onUp is how the way behind level ground is said to rise.
var onUp = regexp.MustCompile(`(?i)\b(?:uphill|up)\b`)

// owned gives a slope to whom it was said of.
func owned(text string, topic Topic, h Heard) Heard {
	switch {
	case h.Act == Stop || topic == TopicText || len(text) > longest:
		return h
	case pullerLevel.MatchString(text) && slices.ContainsFunc(tokenize(text), func(t token) bool { return goesOver[t.text] }):
		// Level to begin with is not level, and what comes then is its way, not the load's.
		h.Facts = slices.DeleteFunc(withoutSlope(h.Facts), func(f Fact) bool { return f.Field == "load.pull" || f.Field == "puller.slope" })
		if onUp.MatchString(text) {
			h.Facts = append(h.Facts, Fact{Field: "puller.pull", Value: "uphill", Said: onUp.FindString(text)})
		} else {
			h.Rest = text
		}
	case pullerLevel.MatchString(text):
		said := pullerLevel.FindString(text)
		h.Facts = append(withoutSlope(h.Facts), Fact{Field: "puller.slope", Value: "0 to 2 deg", Said: said}, Fact{Field: "puller.pull", Value: "level", Said: said})
		h.Rest = without(h.Rest, said)
	case pullerSide.MatchString(text):
		for i, f := range h.Facts {
			if name, ok := strings.CutPrefix(f.Field, "load.side_slope"); ok {
				h.Facts[i].Field = "puller.side_slope" + name
			}
		}
	case pullerSlope.MatchString(text):
		h = pullersOwn(text, h)
	case someSlope.MatchString(text) && topic.stage() != "puller":
		was := len(h.Facts)
		if h.Facts = withoutSlope(h.Facts); len(h.Facts) < was {
			h.Rest = text
		}
		if h.Act == Change && h.Object == string(TopicSlope) {
			h.Object = ""
		}
		return h
	default:
		return h
	}
	if h.Act == Change && h.Object == string(TopicSlope) {
		h.Object = "puller.slope"
	}
	return h
}

// pullersOwn makes a slope that was taken for the load's, or not at all, the
// puller's.
func pullersOwn(text string, h Heard) Heard {
	done := false
	for i, f := range h.Facts {
		if f.Field == "load.slope" {
			h.Facts[i].Field, done = "puller.slope", true
		}
		done = done || f.Field == "puller.slope"
	}
	h.Facts = withoutSlope(h.Facts)
	if done {
		return h
	}
	at := pullerSlope.FindStringIndex(text)
	value, _, _ := strings.Cut(strings.TrimLeft(text[at[1]:], " :="), ",")
	for _, before := range []string{"is ", "to "} {
		value = strings.TrimPrefix(value, before)
	}
	if _, err := bound.ReadSlope(value); err == nil {
		h.Facts = append(h.Facts, Fact{Field: "puller.slope", Value: strings.TrimSpace(value), Said: text})
		h.Rest = ""
	}
	return h
}

// without drops the clause that holds some words from what was left over.
func without(rest, said string) string {
	clauses := slices.DeleteFunc(strings.Split(rest, "; "), func(c string) bool { return strings.Contains(c, said) })
	return strings.Join(clauses, "; ")
}

// withoutSlope drops what was taken for the stuck vehicle's slope.
func withoutSlope(facts []Fact) []Fact {
	return slices.DeleteFunc(facts, func(f Fact) bool {
		return f.Field == "load.slope" || f.Field == "load.slope_from" || f.Field == "gear[+1].kind" && pullerSlope.MatchString(f.Said+" slope")
	})
}
