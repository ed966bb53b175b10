package terminal

import (
	"os"
	"strconv"
	"strings"

	"github.com/mattn/go-runewidth"
	"github.com/muesli/reflow/wordwrap"
	"golang.org/x/term"

	"linetender/flow"
)

// A Style is what a terminal can show.
type Style struct {
	Color   bool
	Unicode bool
	Inline  inline     // how a picture is shown among the lines
	Width   func() int // in columns; asked at each message, because windows change
}

// StyleOf looks at a terminal and the environment.
func StyleOf(out *os.File, getenv func(string) string) Style {
	s := Style{
		Inline: inlineOf(getenv),
		Color:  getenv("NO_COLOR") == "" && getenv("TERM") != "dumb",
		Width: func() int {
			w, _, err := term.GetSize(int(out.Fd()))
			if err != nil || w <= 0 {
				return usualWidth
			}
			return w
		},
	}
	locale := getenv("LC_ALL")
	for _, name := range []string{"LC_CTYPE", "LANG"} {
		if locale == "" {
			locale = getenv(name)
		}
	}
	locale = strings.ToLower(locale)
	s.Unicode = strings.Contains(locale, "utf-8") || strings.Contains(locale, "utf8")
	return s
}

// usualWidth is taken where the terminal does not say; widest keeps lines
// readable where it is very wide.
const (
	usualWidth = 80
	widest     = 100
	narrowest  = 20
)

const (
	bold  = "\x1b[1m"
	red   = "\x1b[1;31m"
	green = "\x1b[1;32m"
	amber = "\x1b[1;33m"
	off   = "\x1b[0m"
)

// colors mark what must not be overlooked. The words say it too.
var colors = []struct{ prefix, color string }{
	{"stop.", red}, {"line.lost", red}, {"line.stop", red}, {"line.still", red}, {"line.unsent", amber}, {"line.", amber}, {"plan.no_go", red}, {"plan.refer", red}, {"figure.block", red}, {"hazard.", red}, {"checks.failed", red},
	{"plan.go_signed", amber}, {"plan.open", amber}, {"plan.go", green}, {"plan.cleared", green}, {"ask.", bold},
}

// whole is the key of what must be copied in one piece: the terminal itself
// breaks its line, and knows that it did.
const whole = "join.command"

// show writes one message for a person: wrapped, coloured where that is
// wanted, pictures where they can be shown, each choice with the letter that
// picks it, from the letter of the number first, or with its number where that
// picks it too.
func (s Style) show(m flow.Message, made []flow.Shown, first int) string {
	width := min(max(s.Width()-1, narrowest), widest)
	var b strings.Builder
	for i, p := range m.Parts {
		if i > 0 {
			b.WriteString("\n")
		}
		text := s.signs(visible(p.Text))
		if p.Key != whole { // a command with a line end in it is two commands when it is pasted
			text = wrap(text, width)
		}
		b.WriteString(s.paint(p.Key, text))
		b.WriteString("\n")
	}
	for _, shown := range made {
		b.WriteString(s.picture(shown))
	}
	if len(m.Choices) > 0 {
		b.WriteString("\n")
		sign := func(i int) string { return letter(first + i) }
		if m.Numbered && first == 0 {
			sign = number
		}
		b.WriteString(s.choices(m.Choices, sign, width))
	}
	return b.String()
}

// wrap breaks lines at blanks only: a code with a line end behind a hyphen
// can't be marked and copied.
func wrap(text string, width int) string {
	w := wordwrap.NewWriter(width)
	w.Breakpoints = nil
	_, _ = w.Write([]byte(text)) // into memory
	_ = w.Close()
	return w.String()
}

// choices writes each choice with what picks it, as many on a line as fit whole. One
// that no line holds goes on in the next, set in.
func (s Style) choices(list []flow.Choice, sign func(int) string, width int) string {
	var b strings.Builder
	at := 0
	for i, c := range list {
		text := sign(i) + ") " + s.signs(visible(c.Label))
		wide := runewidth.StringWidth(text)
		switch {
		case at == 0:
		case at+len(apart)+wide > width:
			b.WriteString("\n")
			at = 0
		default:
			b.WriteString(apart)
			at += len(apart)
		}
		if wide > width {
			text = strings.ReplaceAll(wrap(text, width-len(apart)), "\n", "\n"+apart)
			wide = width
		}
		b.WriteString(text)
		at += wide
	}
	b.WriteString("\n")
	return b.String()
}

// apart is what stands between two choices on a line.
const apart = "   "

func (s Style) paint(key, text string) string {
	if !s.Color {
		return text
	}
	for _, c := range colors {
		if strings.HasPrefix(key, c.prefix) {
			lines := strings.Split(text, "\n")
			for i := range lines {
				lines[i] = c.color + lines[i] + off
			}
			return strings.Join(lines, "\n")
		}
	}
	return text
}

// plainer replaces the signs of the wording that a terminal without Unicode
// would garble.
var plainer = strings.NewReplacer("°", " deg", "»", ">", "…", "...", "½", " 1/2", "¼", " 1/4", "¾", " 3/4", "×", "x", "±", "+/-", "–", "-", "’", "'", "Ø", "dia")

func (s Style) signs(text string) string {
	if s.Unicode {
		return text
	}
	text = plainer.Replace(text)
	return strings.Map(func(r rune) rune {
		if r > '~' {
			return '?'
		}
		return r
	}, text)
}

// letter is what picks choice i: a, b, c and so on, then aa, bb.
func letter(i int) string { return strings.Repeat(string(rune('a'+i%26)), 1+i/26) }

// number is what picks choice i where a number could be nothing else.
func number(i int) string { return strconv.Itoa(i + 1) }
