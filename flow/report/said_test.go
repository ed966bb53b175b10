package report

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"linetender/flow"
)

// What went to several chats is printed once and loses nothing: each chat's words can
// be read out of the blocks again, in their order, and none comes twice for the same.
func TestSaidOnceLosesNothing(t *testing.T) {
	words := rapid.SliceOfN(rapid.SampledFrom([]string{"HOLD.", "Stand clear.", "Hold 3: held.", "Anyone may write stop.", "Look, then confirm:"}), 0, 6)
	rapid.Check(t, func(t *rapid.T) {
		in := map[string][]string{here: words.Draw(t, "here")}
		list := merged(nil, here, in[here])
		for _, chat := range []string{"test/Bo", "test/Cy", "test/Di"} {
			in[chat] = words.Draw(t, chat)
			list = merged(list, chat, in[chat])
		}
		for chat, want := range in {
			var got []string
			for _, d := range list {
				if slices.Contains(d.chats, chat) {
					got = append(got, d.text)
				}
			}
			if !slices.Equal(got, want) {
				t.Fatalf("in %q was said %q and is printed %q", chat, want, got)
			}
		}
	})
}

// One paragraph to three phones stands once, with all three before it.
func TestSaidToSeveral(t *testing.T) {
	all := func(chat string) flow.Sent {
		return flow.Sent{Chat: chat, Said: []flow.Said{{Text: "HOLD. Puller stops."}, {Text: "Ada: wait"}}}
	}
	w := &filler{}
	out := w.said(flow.Moment{Said: []string{"HOLD. Puller stops.", "Hold 4: held."}, Sent: []flow.Sent{all("test/Bo"), all("test/Cy")}})
	want := []string{"Here and to test/Bo, test/Cy: HOLD. Puller stops.", "To test/Bo, test/Cy: Ada: wait", "Hold 4: held."}
	if !slices.Equal(out, want) || w.err != nil {
		t.Errorf("%q, %v", out, w.err)
	}
	if strings.Count(strings.Join(out, "\n"), "Puller stops") != 1 {
		t.Error("what went to three is printed more than once")
	}
}
