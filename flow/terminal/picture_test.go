package terminal

import (
	"bytes"
	"context"
	"encoding/base64"
	"errors"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/mattn/go-sixel"

	"linetender/flow"
)

// TestShows: a picture is written to a file, and what the terminal says of it
// is the caption, what it shows in words and where it is. What can't be made
// or written is said to be so, and the words stand.
func TestShows(t *testing.T) {
	dir := t.TempDir()
	bits := somePicture(t, 4, 3)
	made := map[string]flow.Shown{
		flow.ShowRig:  {Name: "rig.png", Type: "image/png", Bytes: bits, Alt: "A truck in a ditch.\nOne block."},
		flow.ShowCard: {Name: "card.html", Type: "text/html", Bytes: []byte("<p>card</p>"), Alt: "The card"},
		"../up":       {Name: "x.png", Type: "image/png", Bytes: bits},
	}
	x := &Terminal{
		Pictures: filepath.Join(dir, "pictures"),
		Render: func(_ context.Context, s flow.Show) (flow.Shown, error) {
			if m, ok := made[s.What]; ok {
				return m, nil
			}
			return flow.Shown{}, errors.New("no such thing")
		},
	}
	m := said("GO.")
	for _, what := range []string{flow.ShowRig, flow.ShowCard, flow.ShowForce, "../up"} {
		m.Shows = append(m.Shows, flow.Show{What: what, Job: "larch-42", Entry: 7, Caption: "The " + what})
	}
	m.Choices = []flow.Choice{{Choice: "go", Label: "go on"}}
	var out strings.Builder
	if err := x.show(context.Background(), m, func(m flow.Message, _ []flow.Shown, _ int) error { return writePlain(&out, m) }); err != nil {
		t.Fatal(err)
	}
	rig, card := filepath.Join(dir, "pictures", "larch-42-rig-7.png"), filepath.Join(dir, "pictures", "larch-42-card-7.html")
	inOrder(t, out.String(), "GO.", "The rig\nA truck in a ditch.\nOne block.", "Picture: "+rig, "The card\n", "Page: "+card,
		"The force: it could not be made here", "The ../up: it could not be made here", "[go on]")
	for path, want := range map[string][]byte{rig: bits, card: []byte("<p>card</p>")} {
		if got, err := os.ReadFile(path); err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s holds %d bytes, %v, want the %d that were made", path, len(got), err, len(want))
		}
	}
	if got := list(t, dir+"/pictures"); strings.Count(got, "\n") != 1 || strings.Count(got, "-rw-------") != 2 {
		t.Errorf("the folder holds %q, want two files for their owner only", got)
	}
	x.Pictures = write(t, filepath.Join(dir, "file"), nil)
	out.Reset()
	if err := x.show(context.Background(), m, func(m flow.Message, _ []flow.Shown, _ int) error { return writePlain(&out, m) }); err != nil {
		t.Fatal(err)
	}
	inOrder(t, out.String(), "GO.", "A truck in a ditch.", "The rig: it could not be written", "[go on]")
}

// TestInlineOf: only terminals that say that they can are sent a picture.
func TestInlineOf(t *testing.T) {
	for _, test := range []struct {
		term, program string
		want          inline
	}{
		{"xterm-256color", "", noInline},
		{"xterm-256color", "Apple_Terminal", noInline},
		{"xterm-256color", "vscode", noInline},
		{"", "iTerm.app", noInline},
		{"dumb", "iTerm.app", noInline},
		{"screen-256color", "iTerm.app", noInline},
		{"tmux-256color", "WezTerm", noInline},
		{"xterm-256color", "tmux", noInline},
		{"xterm-kitty", "", kittyInline},
		{"xterm-256color", "ghostty", kittyInline},
		{"xterm-256color", "iTerm.app", itermInline},
		{"xterm-256color", "WezTerm", itermInline},
		{"foot", "", sixelInline},
		{"foot-extra", "", sixelInline},
		{"mlterm-256color", "", sixelInline},
		{"footer", "", noInline},
	} {
		env := map[string]string{"TERM": test.term, "TERM_PROGRAM": test.program}
		if got := inlineOf(func(name string) string { return env[name] }); got != test.want {
			t.Errorf("TERM=%s TERM_PROGRAM=%s: %v, want %v", test.term, test.program, got, test.want)
		}
	}
}

// TestInline reads back what each convention sends.
func TestInline(t *testing.T) {
	bits := noisyPicture(t)
	made := flow.Shown{Type: "image/png", Bytes: bits}
	style := Style{Width: func() int { return 61 }}
	if got := style.picture(made); got != "" {
		t.Errorf("a terminal without pictures is sent %q", got)
	}
	style.Inline = kittyInline
	var text string
	pieces := regexp.MustCompile(`\x1b_G([^;]*);([A-Za-z0-9+/=]*)\x1b\\`).FindAllStringSubmatch(style.picture(made), -1)
	for i, p := range pieces {
		text += p[2]
		want := "m=1"
		if i == 0 {
			want = "a=T,f=100,q=2,c=60,m=1"
		}
		if i == len(pieces)-1 {
			want = "m=0"
		}
		if p[1] != want || len(p[2]) > kittyPiece {
			t.Errorf("piece %d has %q and %d letters, want %q", i, p[1], len(p[2]), want)
		}
	}
	sameBytes(t, "kitty", text, bits)

	style.Inline = itermInline
	one := regexp.MustCompile(`^\x1b\]1337;File=inline=1;size=\d+;width=60;preserveAspectRatio=1:([^\a]*)\a\n$`).FindStringSubmatch(style.picture(made))
	if one == nil {
		t.Fatal("OSC 1337 has another shape")
	}
	sameBytes(t, "iTerm2", one[1], bits)

	style.Inline = sixelInline
	var back image.Image
	if err := sixel.NewDecoder(strings.NewReader(style.picture(made))).Decode(&back); err != nil {
		t.Fatal(err)
	}
	if got := back.Bounds().Dx(); got != 60*cellWidth {
		t.Errorf("drawn %d pixels wide, want %d", got, 60*cellWidth)
	}
	for _, s := range []inline{kittyInline, itermInline, sixelInline} {
		style.Inline = s
		if got := style.picture(flow.Shown{Type: "text/html", Bytes: []byte("<p>")}); got != "" {
			t.Errorf("a page is drawn as %q", got)
		}
	}
	style.Inline = sixelInline
	if got := style.picture(flow.Shown{Type: "image/png", Bytes: []byte("none")}); got != "" {
		t.Errorf("a broken picture is drawn as %q", got)
	}
}

// noisyPicture is one that is long however well it is packed.
func noisyPicture(t *testing.T) []byte {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, 1080, 200))
	x := uint32(1)
	for i := range m.Pix {
		x = x*1664525 + 1013904223
		m.Pix[i] = byte(x >> 24)
		if i%4 == 3 {
			m.Pix[i] = 255
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func sameBytes(t *testing.T, name, text string, want []byte) {
	t.Helper()
	got, err := base64.StdEncoding.DecodeString(text)
	if err != nil || !bytes.Equal(got, want) {
		t.Errorf("%s: %d bytes come out, %v, want the picture's %d", name, len(got), err, len(want))
	}
}
