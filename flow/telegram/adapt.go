package telegram

// unchanged is what the channel says of an edit that changes nothing; settled, of that and of one whose
// message is gone or too old to be changed.
const unchanged = "message is not modified"

var settled = []string{unchanged, "message to edit not found", "message can't be edited", "message_id_invalid", "there is no text in the message"}

// refusedMarkup is what it says of text or buttons that it does not take.
var refusedMarkup = []string{"too long", "parse", "markup", "button", "entit"}

// skip drops the step that failed if it was only to stop a phone waiting, which it does by itself.
func (w *work) skip(t *trouble) bool {
	st := w.steps[0]
	if st.kind != endPress || st.text != "" || t.kind == badToken {
		return false
	}
	w.steps = w.steps[1:]
	return true
}

// adapt changes what is left of a parcel so that a refusal is not the end of it. False means that
// nothing more can be done with it.
func (w *work) adapt(t *trouble) bool {
	st := &w.steps[0]
	switch {
	case st.kind == settle && (t.kind == refused || t.kind == gone) && t.says(settled...):
		w.steps = w.steps[1:]
	case st.kind == endPress && t.kind == refused:
		// The press is too old to be answered in place. What was to be said there is said aloud.
		text := st.text
		w.steps = w.steps[1:]
		if text != "" {
			w.say(text)
		}
	case st.kind == settle && t.kind == refused:
		w.steps = w.steps[1:] // the old buttons stay; pressing one changes nothing
	case t.kind == refused && t.says("thread not found", "topic_closed", "topic_deleted") && !st.loose:
		for i := range w.steps {
			w.steps[i].loose = true
		}
	case st.kind == refresh && t.kind == refused:
		return w.updateOtherwise(t)
	case st.kind == say && t.kind == refused && !w.bare && t.says(refusedMarkup...):
		w.bare = true
		rest := pieces(st.text, longestText/2)
		var again []step
		for _, text := range rest {
			again = append(again, step{kind: say, text: text, loose: st.loose})
		}
		for _, later := range w.steps[1:] {
			later.markup = nil
			again = append(again, later)
		}
		w.steps = again
	default:
		return false
	}
	return true
}
