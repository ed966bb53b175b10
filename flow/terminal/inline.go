package terminal

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"image"
	"image/png"
	"strings"

	"github.com/mattn/go-sixel"
	"golang.org/x/image/draw"

	"linetender/flow"
)

// How a terminal shows a picture among its lines. All three are open
// conventions; a terminal that does not have one prints rubbish, so only the
// names in TERM and TERM_PROGRAM that are known to have it count.
type inline int

const (
	noInline    inline = iota
	kittyInline        // the graphics protocol that the terminal kitty began: APC G, base64 in pieces
	itermInline        // OSC 1337 File, which iTerm2 began
	sixelInline        // DEC's: six rows of pixels a character
)

// inlineOf reads the environment. Inside of a multiplexer the outer names are
// still there and nothing gets through.
func inlineOf(getenv func(string) string) inline {
	name, program := getenv("TERM"), getenv("TERM_PROGRAM")
	switch {
	case strings.HasPrefix(name, "screen"), strings.HasPrefix(name, "tmux"), program == "tmux", name == "dumb", name == "":
		return noInline
	case strings.HasPrefix(name, "xterm-kitty"), strings.HasPrefix(name, "xterm-ghostty"), program == "ghostty":
		return kittyInline
	case program == "iTerm.app", program == "WezTerm":
		return itermInline
	case name == "foot", strings.HasPrefix(name, "foot-"), strings.HasPrefix(name, "mlterm"), strings.Contains(name, "sixel"):
		return sixelInline
	}
	return noInline
}

// widestPicture is how wide a picture gets, in columns; a cell is taken to be
// cellWidth pixels wide where pixels must be given.
const (
	widestPicture = 80
	cellWidth     = 9
)

// picture returns what shows a PNG, empty where the terminal can't.
func (s Style) picture(made flow.Shown) string {
	if made.Type != "image/png" {
		return ""
	}
	columns := min(max(s.Width()-1, narrowest), widestPicture)
	switch s.Inline {
	case kittyInline:
		return kitty(made.Bytes, columns)
	case itermInline:
		return fmt.Sprintf("\x1b]1337;File=inline=1;size=%d;width=%d;preserveAspectRatio=1:%s\a\n",
			len(made.Bytes), columns, base64.StdEncoding.EncodeToString(made.Bytes))
	case sixelInline:
		return sixels(made.Bytes, columns*cellWidth)
	}
	return ""
}

// kittyPiece is how much of the text one control sequence may carry.
const kittyPiece = 4096

// kitty sends a PNG in pieces: all but the last say that more follows.
func kitty(bits []byte, columns int) string {
	text := base64.StdEncoding.EncodeToString(bits)
	var b strings.Builder
	head := fmt.Sprintf("a=T,f=100,q=2,c=%d,", columns)
	for len(text) > 0 {
		piece := text[:min(kittyPiece, len(text))]
		text = text[len(piece):]
		more := 0
		if len(text) > 0 {
			more = 1
		}
		fmt.Fprintf(&b, "\x1b_G%sm=%d;%s\x1b\\", head, more, piece)
		head = ""
	}
	b.WriteString("\n")
	return b.String()
}

// sixels draws a PNG in pixels; one that can't be read is left out, because
// its file and its words are there.
func sixels(bits []byte, width int) string {
	from, err := png.Decode(bytes.NewReader(bits))
	if err != nil {
		return ""
	}
	size := from.Bounds()
	width = min(width, size.Dx())
	to := image.NewRGBA(image.Rect(0, 0, width, max(1, size.Dy()*width/size.Dx())))
	draw.CatmullRom.Scale(to, to.Bounds(), from, size, draw.Src, nil)
	var b bytes.Buffer
	if err := sixel.NewEncoder(&b).Encode(to); err != nil {
		return ""
	}
	return b.String() + "\n"
}
