package hear

func rating(h *head) string {
	if h.class == "end" && h.path == "puller." {
		return "hitch_rating"
	}
	return "rating"
}

// handbookWords tell that a hitch's figure is its maker's: what the handbook of a machine
// gives for its drawbar is the pull that may be put on it, and no breaking strength. A
// plate may be another's, such as a winch's, and is asked about.
//
// Source: common practice.
var handbookWords = []string{"handbook", "manual"}

// rated writes a rating and, where the words say so, what it means. Of two
// figures on one tag the working one counts.
func (m *message) rated(h *head, field string, it, stamp *item) {
	kind := ""
	if stamp != nil {
		kind = stamp.means["rkind"]
	}
	of := field + "_kind"
	if m.unlabelled(h, field, kind, it, stamp) {
		return
	}
	if old := h.slots[of]; old != nil && kind != "" && kind != old.Value {
		if kind == "breaking" {
			use([]*item{it, stamp})
			m.breaksAt = append(m.breaksAt, it.q.text)
			return
		}
		if broke := h.slots[field]; broke != nil && old.Value == "breaking" && kind == "working" {
			m.breaksAt = append(m.breaksAt, broke.Value)
		}
		delete(h.slots, field)
		delete(h.slots, of)
	}
	if !m.put(h, field, it.q.text, it.q, it) {
		return
	}
	switch {
	case kind != "":
		m.put(h, of, kind, nil, stamp)
	case field == "hitch_rating" && m.topic == TopicHitchRating && h.slots[of] == nil && m.speaks(it.clause.from, it.clause.to, handbookWords):
		m.put(h, of, "working", nil, it)
	}
}

// unlabelled reports whether a figure that is told beside one without a word on what it
// means was seen to: "3.25 t, breaks at 16 t" keeps the 3.25 t, whose meaning is asked,
// and of "16 t, wll 4 t" the working limit counts.
func (m *message) unlabelled(h *head, field, kind string, it, stamp *item) bool {
	was := h.from[field]
	if h.slots[field] == nil || h.slots[field+"_kind"] != nil || was == nil || kind == "" || was.si == 0 {
		return false
	}
	switch {
	case kind == "breaking" && it.q.si > was.si:
		use([]*item{it, stamp})
		m.breaksAt = append(m.breaksAt, it.q.text)
		return true
	case kind == "working" && it.q.si < was.si:
		h.stood[field].used = false
		delete(h.slots, field)
	}
	return false
}
