package picture

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"strconv"
	"strings"
)

const (
	dashOn  = 16.0
	dashOff = 10.0
)

// inks are the pens by day and by night, both on a solid ground of their own.
// Contrast with that ground is at least 4.5 for every pen but zone and faint,
// which carry no text.
var inks = []struct {
	pen        Pen
	day, night string
}{
	{Ink, "#14181c", "#f2f4f5"},
	{Faint, "#7a828a", "#8d969e"},
	{Rope, "#0b4f8a", "#8cc8ff"},
	{Hold, "#5b3a8c", "#cdb2f5"},
	{Warn, "#a11212", "#ff9d94"},
	{Zone, "#fbe9d2", "#3a2c1a"},
	{Page, "#ffffff", "#14181c"},
}

// SVG writes the drawing as one self-contained SVG element on a solid ground,
// dark where the reader's surroundings are. Nil for an empty drawing.
func (d Drawing) SVG() []byte {
	if d.Empty() {
		return nil
	}
	var b bytes.Buffer
	title, desc := d.Name+"-title", d.Name+"-desc"
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" class="lt-picture" viewBox="0 0 %s %s" role="img" aria-labelledby="%s %s">`+"\n",
		num(d.Width), num(d.Height), title, desc)
	fmt.Fprintf(&b, "<title id=\"%s\">%s</title>\n<desc id=\"%s\">%s</desc>\n<style>\n", title, escaped(d.Title), desc, escaped(d.Alt()))
	for _, night := range []bool{false, true} {
		if night {
			b.WriteString("@media screen and (prefers-color-scheme: dark) {\n")
		}
		for _, i := range inks {
			c := i.day
			if night {
				c = i.night
			}
			fmt.Fprintf(&b, ".lt-s-%s{stroke:%s}.lt-f-%s{fill:%s}\n", i.pen, c, i.pen, c)
		}
	}
	b.WriteString("}\n.lt-picture text{font-family:Go,\"DejaVu Sans\",Arial,sans-serif}\n</style>\n")
	fmt.Fprintf(&b, `<rect class="lt-f-page" width="%s" height="%s"/>`+"\n", num(d.Width), num(d.Height))
	for _, o := range d.Ops {
		o.svg(&b)
	}
	b.WriteString("</svg>\n")
	return b.Bytes()
}

func (o Op) svg(b *bytes.Buffer) {
	var look strings.Builder
	class := "lt-f-" + string(o.Fill)
	if o.Fill == "" {
		class = ""
		look.WriteString(` fill="none"`)
	}
	if o.Pen != "" && o.Stroke > 0 {
		class = strings.TrimSpace(class + " lt-s-" + string(o.Pen))
		fmt.Fprintf(&look, ` stroke-width="%s" stroke-linejoin="round" stroke-linecap="round"`, num(o.Stroke))
	}
	if o.Dashed {
		fmt.Fprintf(&look, ` stroke-dasharray="%s %s"`, num(dashOn), num(dashOff))
	}
	at := o.At[0]
	switch o.Kind {
	case Line:
		fmt.Fprintf(b, `<polyline class="%s"%s points="%s"/>`, class, look.String(), pairs(o.At))
	case Polygon:
		fmt.Fprintf(b, `<polygon class="%s"%s points="%s"/>`, class, look.String(), pairs(o.At))
	case Circle:
		fmt.Fprintf(b, `<circle class="%s"%s cx="%s" cy="%s" r="%s"/>`, class, look.String(), num(at.X), num(at.Y), num(o.Radius))
	case Arc:
		a, z := onCircle(at, o.Radius, o.From), onCircle(at, o.Radius, o.To)
		large := 0
		if math.Abs(o.To-o.From) > 180 {
			large = 1
		}
		fmt.Fprintf(b, `<path class="%s"%s d="M%s %sA%s %s 0 %d 0 %s %s"/>`, class, look.String(),
			num(a.X), num(a.Y), num(o.Radius), num(o.Radius), large, num(z.X), num(z.Y))
	case Text:
		weight := ""
		if o.Bold {
			weight = ` font-weight="bold"`
		}
		fmt.Fprintf(b, `<text class="lt-f-%s" x="%s" y="%s" font-size="%s"%s text-anchor="%s" textLength="%s" lengthAdjust="spacingAndGlyphs">%s</text>`,
			o.Pen, num(at.X), num(at.Y), num(o.Size), weight, o.Side, num(measure(o.Text, o.Size, o.Bold)), escaped(o.Text))
	}
	b.WriteByte('\n')
}

// onCircle is the point at an angle in degrees, counter-clockwise from the right.
func onCircle(c Point, r, deg float64) Point {
	return Point{c.X + r*math.Cos(deg*math.Pi/180), c.Y - r*math.Sin(deg*math.Pi/180)}
}

func pairs(at []Point) string {
	out := make([]string, len(at))
	for i, p := range at {
		out[i] = num(p.X) + "," + num(p.Y)
	}
	return strings.Join(out, " ")
}

func num(v float64) string { return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64) }

func escaped(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a strings.Builder takes everything
	return b.String()
}
