package telegram

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/color"
	"image/png"
	"slices"
	"strings"
	"testing"
	"time"

	"linetender/flow"
	"linetender/flow/telegram/apitest"
)

// drawn is a picture as the renderer makes one.
func drawn(t *testing.T, width, height int) flow.Shown {
	t.Helper()
	pic := image.NewPaletted(image.Rect(0, 0, width, height), color.Palette{color.White, color.Black})
	var b bytes.Buffer
	if err := png.Encode(&b, pic); err != nil {
		t.Fatal(err)
	}
	return flow.Shown{Name: "rig.png", Type: "image/png", Bytes: b.Bytes(), Alt: "Two parts of line, the winch pulls uphill."}
}

// maker makes pictures as the tests want them, and counts.
type maker struct {
	make func(flow.Show) (flow.Shown, error)
	made []flow.Show
}

func (m *maker) into(c *Config) {
	c.Render = func(_ context.Context, s flow.Show) (flow.Shown, error) {
		m.made = append(m.made, s)
		return m.make(s)
	}
}

func showing1(caption string) flow.Message {
	m := words("Here is the rig.")
	m.Shows = []flow.Show{{What: flow.ShowRig, Job: "larch-42", Entry: 7, Caption: caption}}
	return m
}

func TestPicturesFollowTheWords(t *testing.T) {
	pic, page := drawn(t, 1080, 800), flow.Shown{Name: "card.html", Type: "text/html", Bytes: []byte("<!doctype html>"), Alt: "The card."}
	m := &maker{make: func(s flow.Show) (flow.Shown, error) {
		if s.What == flow.ShowCard {
			return page, nil
		}
		return pic, nil
	}}
	sending(t, func(t *testing.T, g *ground) {
		g.srv.User(4, "Ann").Private().Say("hi")
		msg := question("Ready?", "q", "Yes")
		msg.Shows = []flow.Show{
			{What: flow.ShowRig, Job: "larch-42", Entry: 7, Caption: "The rig"},
			{What: flow.ShowCard, Job: "larch-42", Entry: 7, Caption: strings.Repeat("🚜 pull ", 300)},
		}
		g.box.post(t, 4, msg)
		g.box.post(t, 4, words("Next."))
		g.settle(t)
		said := g.srv.Said(4)
		var kinds []string
		for _, s := range said {
			kinds = append(kinds, s.Kind)
			if s.Kind != "text" && units(s.Text) > longestCaption {
				t.Errorf("a caption of %d units", units(s.Text))
			}
		}
		if !slices.Equal(kinds, []string{"text", "photo", "document", "text", "text", "text"}) {
			t.Fatalf("the chat shows %v", kinds)
		}
		if said[1].Text != "The rig" || !bytes.Equal(said[1].File.Data, pic.Bytes) || said[2].File.Name != "card.html" || said[5].Text != "Next." {
			t.Errorf("the chat shows %q", texts(said))
		}
		if got := said[2].Text + " " + said[3].Text + " " + said[4].Text; got != strings.TrimSpace(msg.Shows[1].Caption) {
			t.Errorf("the caption and what follows it say %q", got)
		}
		if len(said[0].Buttons) != 1 {
			t.Error("the buttons are not under the words")
		}
		if m.made[0] != msg.Shows[0] || m.made[1] != msg.Shows[1] {
			t.Errorf("made %+v", m.made)
		}
	}, m.into)
}

func TestAPictureIsMadeAnewAtEachTry(t *testing.T) {
	pic := drawn(t, 1080, 800)
	for _, kind := range []apitest.Kind{apitest.TooMany, apitest.Broken, apitest.Reset, apitest.Half, apitest.Hang} {
		m := &maker{make: func(flow.Show) (flow.Shown, error) { return pic, nil }}
		sending(t, func(t *testing.T, g *ground) {
			g.srv.User(4, "Ann").Private().Say("hi")
			g.srv.Fail(apitest.Fault{Method: "sendPhoto", Kind: kind, Times: 2, RetryAfter: 9 * time.Second})
			g.box.post(t, 4, showing1("The rig"))
			g.settle(t)
			said := g.srv.Said(4)
			if len(said) != 2 || said[1].Kind != "photo" || !bytes.Equal(said[1].File.Data, pic.Bytes) {
				t.Errorf("%v: the chat shows %+v", kind, said)
			}
			if len(m.made) != 3 {
				t.Errorf("%v: made %d times, want at each of 3 tries", kind, len(m.made))
			}
		}, m.into)
	}
}

func TestASlowUploadIsNotCut(t *testing.T) {
	pic := drawn(t, 1080, 800)
	m := &maker{make: func(flow.Show) (flow.Shown, error) { return pic, nil }}
	sending(t, func(t *testing.T, g *ground) {
		g.srv.User(4, "Ann").Private().Say("hi")
		g.srv.Fail(apitest.Fault{Method: "sendPhoto", Kind: apitest.Slow, Pause: uploadTime - time.Second, Times: 1})
		g.box.post(t, 4, showing1("The rig"))
		g.settle(t)
		if n := len(g.srv.Calls("sendPhoto")); n != 1 || g.srv.Last(4).Kind != "photo" {
			t.Errorf("%d tries; the chat shows %+v", n, g.srv.Last(4))
		}
	}, m.into, func(c *Config) { // a client whose own limit is that of a poll
		own := *c.HTTP
		own.Timeout = time.Minute
		c.HTTP = &own
	})
}

func TestWhatCannotBeShownIsTold(t *testing.T) {
	small := drawn(t, 1080, 800)
	for name, tc := range map[string]struct {
		make  func(flow.Show) (flow.Shown, error)
		fault apitest.Fault
		kind  string // of the second message
		alt   bool
	}{
		"it fails":    {make: func(flow.Show) (flow.Shown, error) { return flow.Shown{}, errors.New("no such entry") }, kind: "text"},
		"it panics":   {make: func(flow.Show) (flow.Shown, error) { panic("a bug") }, kind: "text"},
		"it is empty": {make: func(flow.Show) (flow.Shown, error) { return flow.Shown{Type: "image/png"}, nil }, kind: "text"},
		"no picture": {make: func(flow.Show) (flow.Shown, error) {
			return flow.Shown{Name: "rig.png", Type: "image/png", Bytes: []byte("x")}, nil
		}, kind: "document"},
		"too wide": {make: func(flow.Show) (flow.Shown, error) { return drawn(t, 9000, 1001), nil }, kind: "document"},
		"too thin": {make: func(flow.Show) (flow.Shown, error) { return drawn(t, 2100, 100), nil }, kind: "document"},
		"too large": {make: func(flow.Show) (flow.Shown, error) {
			return flow.Shown{Name: "a", Type: "text/html", Bytes: make([]byte, largestFile+1), Alt: small.Alt}, nil
		}, kind: "text", alt: true},
		"it breaks off":   {make: func(flow.Show) (flow.Shown, error) { return small, nil }, fault: apitest.Fault{Method: "sendPhoto", Kind: apitest.Reset}, kind: "text", alt: true},
		"it is not taken": {make: func(flow.Show) (flow.Shown, error) { return small, nil }, fault: apitest.Fault{Method: "sendPhoto", Kind: apitest.Broken, Code: 413}, kind: "document"},
		"by no means":     {make: func(flow.Show) (flow.Shown, error) { return small, nil }, fault: apitest.Fault{Kind: apitest.Broken, Code: 413}, kind: "text", alt: true},
	} {
		m := &maker{make: tc.make}
		sending(t, func(t *testing.T, g *ground) {
			g.srv.User(4, "Ann").Private().Say("hi")
			if tc.fault.Kind != 0 {
				both := []apitest.Fault{tc.fault}
				if tc.fault.Method == "" {
					both = []apitest.Fault{tc.fault, tc.fault}
					both[0].Method, both[1].Method = "sendPhoto", "sendDocument"
				}
				for _, f := range both {
					g.srv.Fail(f)
				}
			}
			id := g.box.post(t, 4, showing1("The rig")) // the words go out by another method
			g.box.post(t, 4, words("Next."))
			g.settle(t)
			said := g.srv.Said(4)
			if g.box.gaveUp(id) != "" || len(said) != 3 || said[1].Kind != tc.kind || said[2].Text != "Next." {
				t.Errorf("%s: given up %q, the chat shows %+v", name, g.box.gaveUp(id), texts(said))
				return
			}
			if !strings.HasPrefix(said[1].Text, "The rig") || strings.Contains(said[1].Text, "could not be sent") != (tc.kind == "text") ||
				strings.Contains(said[1].Text, small.Alt) != tc.alt {
				t.Errorf("%s: in its place the chat is told %q", name, said[1].Text)
			}
		}, m.into)
	}
}

func TestWithoutAMakerWordsStandForPictures(t *testing.T) {
	sending(t, func(t *testing.T, g *ground) {
		g.srv.User(4, "Ann").Private().Say("hi")
		msg := showing1("The report")
		msg.Shows[0].What = flow.ShowReport
		g.box.post(t, 4, msg)
		g.settle(t)
		if got := g.srv.Last(4).Text; !strings.HasPrefix(got, "The report\n\nThe page ") {
			t.Errorf("the chat shows %q", got)
		}
	})
}

func TestAStopDoesNotWaitForAnUpload(t *testing.T) {
	pic := drawn(t, 1080, 800)
	m := &maker{make: func(flow.Show) (flow.Shown, error) { return pic, nil }}
	sending(t, func(t *testing.T, g *ground) {
		g.srv.User(4, "Ann").Private().Say("hi")
		g.srv.Fail(apitest.Fault{Method: "sendPhoto", Kind: apitest.Hang, Times: 1})
		g.box.post(t, 4, showing1("The rig"))
		g.srv.Wait("the upload", func() bool { return len(g.srv.Calls("sendPhoto")) == 1 })
		stop := words("STOP")
		stop.Urgent = true
		began := time.Now()
		g.box.post(t, 4, stop)
		g.ch.Sender().Posted("")
		g.srv.Wait("the stop", func() bool { return g.srv.Last(4).Text == "STOP" })
		if took := time.Since(began); took != 0 {
			t.Errorf("the stop took %v", took)
		}
		g.settle(t)
	}, m.into)
}
