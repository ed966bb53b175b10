package hear

import "slices"

// "Buried to the frame", "down to her axles", "sunk till the hubs": a verb or a
// way of sinking, to, and the part that the ground reaches.

var (
	sinking = wordSet("sunk sank sinks sinking bogged buried mired in down up")
	reaches = map[string]string{
		"hub": "hub", "hubs": "hub", "axle": "hub", "axles": "hub", "diff": "hub", "diffs": "hub", "rim": "hub", "rims": "hub",
		"chassis": "frame", "frame": "frame", "belly": "frame", "sump": "frame",
		"doors": "fender", "door": "fender", "bonnet": "cab", "windows": "cab", "roof": "cab",
	}
)

// miredAt reads at token i how deep something has sunk. A frame that is reached
// is hung up as well; "up to the frame" may be where a line goes.
func (m *message) miredAt(c *clause, i int) *phrase {
	if !sinking[m.word(i)] {
		return nil
	}
	at, deep := i, false
	for ; at < c.to && sinking[m.word(at)]; at++ {
		deep = deep || m.word(at) != "up" && m.word(at) != "in"
	}
	if at >= c.to || !slices.Contains([]string{"to", "till", "until"}, m.word(at)) {
		return nil
	}
	if at++; slices.Contains([]string{"the", "its", "her", "his", "their"}, m.word(at)) {
		at++
	}
	part := reaches[m.word(at)]
	if at >= c.to || part == "" || !deep && (part == "frame" || part == "fender" || part == "cab") {
		return nil
	}
	p := &phrase{means: map[string]string{"depth": part}}
	if part == "frame" {
		p.means = map[string]string{"depth": "fender", "belly": "true"}
	}
	for j, t := range m.tokens[i : at+1] {
		if j > 0 && m.tokens[i+j-1].mark != unbroken {
			return nil
		}
		p.words = append(p.words, t.text)
	}
	return p
}
