package picture

import (
	"math"
	"slices"
	"unicode/utf8"
)

// Width is the width of every picture in pixels. A phone shows it 360 px wide,
// so that SmallText comes out at 11 px there.
const (
	Width     = 1080.0
	phone     = 360.0
	SmallText = 34.0
)

// A Point is a place in the picture, x to the right and y down, in pixels.
type Point struct{ X, Y float64 }

func (p Point) plus(q Point) Point             { return Point{p.X + q.X, p.Y + q.Y} }
func (p Point) times(k float64) Point          { return Point{p.X * k, p.Y * k} }
func (p Point) along(u Point, k float64) Point { return p.plus(u.times(k)) }

// Kind is what an op draws.
type Kind string

// The kinds.
const (
	Line    Kind = "line" // through all its points
	Polygon Kind = "polygon"
	Circle  Kind = "circle" // about its one point
	Arc     Kind = "arc"    // about its one point, from From to To, counter-clockwise from the right
	Text    Kind = "text"   // its point is on the base line, at the side that Side says
)

// Pen is what an op is drawn with. What a pen stands for is told by a shape or a
// word as well: colour is never the only sign.
type Pen string

// The pens.
const (
	Ink   Pen = "ink"
	Faint Pen = "faint" // ground, frames, help lines
	Rope  Pen = "rope"  // the haul line
	Hold  Pen = "hold"  // the holding line
	Warn  Pen = "warn"
	Zone  Pen = "zone" // a light ground under other things
	Page  Pen = "page"
)

// Side is where a text lies from its point.
type Side string

// The sides.
const (
	Start  Side = "start"
	Middle Side = "middle"
	End    Side = "end"
)

// An Op is one thing drawn. Both back ends draw the same ops.
type Op struct {
	Kind     Kind
	Part     string // what of the rig it is, "" for ornament
	At       []Point
	Radius   float64
	From, To float64 // of an arc, degrees
	Pen      Pen
	Fill     Pen // of a polygon or circle, "" for none
	Stroke   float64
	Dashed   bool
	Text     string
	Size     float64
	Bold     bool
	Side     Side
}

// A Drawing is a description of a picture, ready to be written as SVG or PNG.
type Drawing struct {
	Name          string // a short name fit for ids and files
	Title         string
	Width, Height float64
	Ops           []Op
	alt           []string
	gist          []string
}

// Alt says in words all that the drawing says.
func (d Drawing) Alt() string { return joined(d.alt) }

// longestGist is how much a phone shows of what stands for a drawing, in characters.
const longestGist = 280

// Gist says in words what matters most of the drawing, short enough for a
// message; what did not fit is left to [Drawing.Alt].
func (d Drawing) Gist() string {
	var out []string
	size := 0
	for _, g := range d.gist {
		if size += utf8.RuneCountInString(g) + 1; size <= longestGist {
			out = append(out, g)
		}
	}
	return joined(out)
}

// Empty reports whether there is nothing to draw: a plan that gives no force has
// no picture.
func (d Drawing) Empty() bool { return len(d.Ops) == 0 }

func (d *Drawing) add(o Op) {
	if o.Stroke == 0 && o.Kind != Text && o.Pen != "" {
		o.Stroke = 3
	}
	d.Ops = append(d.Ops, o)
}

func (d *Drawing) line(part string, pen Pen, width float64, at ...Point) {
	d.add(Op{Kind: Line, Part: part, Pen: pen, Stroke: width, At: at})
}

func (d *Drawing) dashed(part string, pen Pen, width float64, at ...Point) {
	d.add(Op{Kind: Line, Part: part, Pen: pen, Stroke: width, At: at, Dashed: true})
}

func (d *Drawing) shape(part string, pen, fill Pen, at ...Point) {
	d.add(Op{Kind: Polygon, Part: part, Pen: pen, Fill: fill, At: at})
}

func (d *Drawing) disc(part string, pen, fill Pen, at Point, r float64) {
	d.add(Op{Kind: Circle, Part: part, Pen: pen, Fill: fill, At: []Point{at}, Radius: r})
}

func (d *Drawing) box(part string, pen, fill Pen, x, y, w, h float64) {
	d.shape(part, pen, fill, Point{x, y}, Point{x + w, y}, Point{x + w, y + h}, Point{x, y + h})
}

func (d *Drawing) text(part string, side Side, size float64, bold bool, at Point, text string) {
	d.add(Op{Kind: Text, Part: part, Side: side, Size: size, Bold: bold, At: []Point{at}, Text: text, Pen: Ink})
}

// arrow is a line with a filled head at its last point.
func (d *Drawing) arrow(part string, pen Pen, width float64, from, to Point) {
	l := math.Hypot(to.X-from.X, to.Y-from.Y)
	if l == 0 {
		return
	}
	u := Point{(to.X - from.X) / l, (to.Y - from.Y) / l}
	n := Point{-u.Y, u.X}
	head := min(8+3*width, l)
	base := to.along(u, -head)
	d.line(part, pen, width, from, base)
	d.shape("", pen, pen, to, base.along(n, head*0.45), base.along(n, -head*0.45))
}

// A Box is the ground that a text covers.
type Box struct{ Left, Top, Right, Bottom float64 }

// Meets reports whether two boxes share ground.
func (b Box) Meets(c Box) bool {
	return b.Left < c.Right && c.Left < b.Right && b.Top < c.Bottom && c.Top < b.Bottom
}

// Bounds is the ground that a text op covers, of the face it is set in: from the
// highest letters to the lowest.
func (o Op) Bounds() Box {
	w := measure(o.Text, o.Size, o.Bold)
	x := o.At[0].X
	switch o.Side {
	case Middle:
		x -= w / 2
	case End:
		x -= w
	}
	return Box{x, o.At[0].Y - 0.76*o.Size, x + w, o.At[0].Y + 0.22*o.Size}
}

// Texts are the ops that set text.
func (d Drawing) Texts() []Op {
	return slices.DeleteFunc(slices.Clone(d.Ops), func(o Op) bool { return o.Kind != Text })
}

// dashes cuts a line through points into its dashes, on long and off short.
func dashes(at []Point, on, off float64) [][2]Point {
	var out [][2]Point
	left, drawing := on, true
	for i := 1; i < len(at); i++ {
		a, b := at[i-1], at[i]
		l := math.Hypot(b.X-a.X, b.Y-a.Y)
		for done := 0.0; done < l; {
			step := min(left, l-done)
			if drawing {
				k, m := done/l, (done+step)/l
				out = append(out, [2]Point{
					{a.X + (b.X-a.X)*k, a.Y + (b.Y-a.Y)*k}, {a.X + (b.X-a.X)*m, a.Y + (b.Y-a.Y)*m},
				})
			}
			done += step
			if left -= step; left <= 1e-9 {
				drawing = !drawing
				left = map[bool]float64{true: on, false: off}[drawing]
			}
		}
	}
	return out
}
