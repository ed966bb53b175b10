package flow

import (
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// What is told at the verdict that has been done about a no-go.

var (
	// unloading are words that something is taken off the load, and offLoad that it was.
	unloading = hear.Expression(`\b(?:unload\w*|offload\w*|lighten\w*|lighter|empt(?:y|ied|ying)|(?:take|taking|get|lift\w*|tip\w*|shovel\w*|throw|pump\w*|drain\w*|drop\w*)\b[^.;?]*\b(?:off|out)\b)|` + offLoadText)
	offLoad   = hear.Expression(offLoadText)
	// toUnload are words by which it is still to be done, or is not.
	toUnload = hear.Expression(`\b(?:not|no|never|nothing|\w+n'?t|can|could|will|would|ll|to|if|once|when|until|want|might|may|should|must|half)\b`)
)

const offLoadText = `\b(?:unloaded|offloaded|lightened|emptied|(?:took|taken|got|lifted|tipped|shovel+ed|threw|thrown|pumped|drained|dropped)\b[^.;?]*\b(?:off|out)|(?:is|are|it'?s|everything|all of it|half of it) (?:off|empty|unloaded)(?: (?:it|her))?(?: now)?$)`

// unloaded takes that the load was made lighter by no one knows how much: what it weighs
// now is asked, and until then it is as heavy as it was told.
func (t *turn) unloaded() bool {
	low := hear.Lowered(t.in.Text)
	if _, told := t.s.Sheet.Get("load.mass"); !told || !offLoad.MatchString(low) || toUnload.MatchString(low) || t.namesGear(low) || t.ownerIn(low) == "puller" {
		return false
	}
	t.note(t.in.Text)
	t.act(Act{Do: DoAgain, Topic: "mass", Reason: t.saying(wording.SupposeWeightNow)})
	t.fire(Reopens)
	t.act(Act{Do: DoAsk})
	t.next()
	return true
}

// changesUnsaid takes words at the verdict that name an answer and give it a value as the
// change that they would be behind that word: "tie-back yes", "parts 4".
func (t *turn) changesUnsaid() bool {
	if t.in.Group && !t.in.Direct || strings.HasPrefix(hear.Lowered(t.in.Text), "change") || hear.ToCome(t.in.Text) {
		return false
	}
	h := hear.Listen("change "+t.in.Text, hear.TopicNone)
	if h.Act != hear.Change || h.Value == "" || h.Value == t.in.Text {
		return false
	}
	names := t.changeable(h.Object)
	if len(names) != 1 {
		return false
	}
	tp, ok := topicByName(names[0])
	if !ok || len(tp.fills) == 0 {
		return false
	}
	said := t.whoIsWho().Listen(h.Value, tp.heard())
	fits := slices.ContainsFunc(said.Facts, func(f hear.Fact) bool { return f.Field == tp.fills0() })
	if !fits && !(yesOrNo(tp) && (said.Act == hear.Yes || said.Act == hear.No) && len(said.Facts) == 0) || said.Unread() != "" {
		return false
	}
	t.change(h)
	return true
}
