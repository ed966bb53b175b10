package picture

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// The typefaces are built in, so that a PNG is alike on every machine and its
// texts are as wide as they were measured.
var (
	regular = parsed(goregular.TTF)
	bold    = parsed(gobold.TTF)
)

func parsed(ttf []byte) *sfnt.Font {
	f, err := opentype.Parse(ttf)
	if err != nil {
		panic("picture: built-in typeface: " + err.Error())
	}
	return f
}

func face(size float64, heavy bool) (font.Face, error) {
	f := regular
	if heavy {
		f = bold
	}
	return opentype.NewFace(f, &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingNone})
}

// widths keeps the advance of each letter by weight, at one unit of size.
var widths sync.Map

type letter struct {
	r     rune
	heavy bool
}

// measure is how wide a text is set.
func measure(text string, size float64, heavy bool) float64 {
	w := 0.0
	for _, r := range text {
		k := letter{r, heavy}
		v, ok := widths.Load(k)
		if !ok {
			f, err := face(1000, heavy)
			if err != nil {
				panic("picture: built-in typeface: " + err.Error())
			}
			a, _ := f.GlyphAdvance(r)
			v = float64(a) / 64 / 1000
			widths.Store(k, v)
		}
		w += v.(float64)
	}
	return w * size
}

// PNG writes the drawing as a picture of Width pixels on a white ground. Nil
// for an empty drawing.
//
// Errors: only those of the typeface and of the encoder.
func (d Drawing) PNG() ([]byte, error) {
	if d.Empty() {
		return nil, nil
	}
	c := canvas{img: image.NewRGBA(image.Rect(0, 0, int(d.Width), int(math.Ceil(d.Height)))), pens: map[Pen]*image.Uniform{}}
	for _, i := range inks {
		var r, g, b uint8
		if _, err := fmt.Sscanf(i.day, "#%02x%02x%02x", &r, &g, &b); err != nil {
			return nil, fmt.Errorf("colour of pen %s: %w", i.pen, err)
		}
		c.pens[i.pen] = image.NewUniform(color.RGBA{r, g, b, 255})
	}
	draw.Draw(c.img, c.img.Bounds(), c.pens[Page], image.Point{}, draw.Src)
	for _, o := range d.Ops {
		if err := c.op(o); err != nil {
			return nil, err
		}
	}
	var b bytes.Buffer
	e := png.Encoder{CompressionLevel: png.BestSpeed}
	if err := e.Encode(&b, c.img); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

type canvas struct {
	img  *image.RGBA
	pens map[Pen]*image.Uniform
}

func (c canvas) op(o Op) error {
	at := o.At
	switch o.Kind {
	case Text:
		return c.text(o)
	case Circle:
		at = ring(o.At[0], o.Radius, 0, 360)
	case Arc:
		at = ring(o.At[0], o.Radius, o.From, o.To)
	}
	if o.Fill != "" {
		c.fill(at, c.pens[o.Fill])
	}
	if o.Pen == "" || o.Stroke == 0 {
		return nil
	}
	if o.Kind == Polygon || o.Kind == Circle {
		at = append(append([]Point(nil), at...), at[0])
	}
	if o.Dashed {
		for _, s := range dashes(at, dashOn, dashOff) {
			c.stroke(s[:], o.Stroke, c.pens[o.Pen])
		}
		return nil
	}
	c.stroke(at, o.Stroke, c.pens[o.Pen])
	return nil
}

// ring is a polygon close enough to an arc to pass for it.
func ring(at Point, r, from, to float64) []Point {
	n := max(2, int(math.Ceil(math.Abs(to-from)/6)))
	out := make([]Point, 0, n+1)
	for i := range n + 1 {
		out = append(out, onCircle(at, r, from+(to-from)*float64(i)/float64(n)))
	}
	return out
}

// fill paints a polygon, in the smallest rectangle around it.
func (c canvas) fill(at []Point, with image.Image) {
	lo, hi := at[0], at[0]
	for _, p := range at {
		lo, hi = Point{min(lo.X, p.X), min(lo.Y, p.Y)}, Point{max(hi.X, p.X), max(hi.Y, p.Y)}
	}
	x, y := int(math.Floor(lo.X)), int(math.Floor(lo.Y))
	box := image.Rect(x, y, int(math.Ceil(hi.X))+1, int(math.Ceil(hi.Y))+1)
	r := vector.NewRasterizer(box.Dx(), box.Dy())
	for i, p := range at {
		px, py := float32(p.X-float64(x)), float32(p.Y-float64(y))
		if i == 0 {
			r.MoveTo(px, py)
			continue
		}
		r.LineTo(px, py)
	}
	r.ClosePath()
	r.Draw(c.img, box, with, image.Point{})
}

// stroke paints each run of a line as a rectangle with round ends.
func (c canvas) stroke(at []Point, width float64, with image.Image) {
	h := width / 2
	for i := 1; i < len(at); i++ {
		a, b := at[i-1], at[i]
		l := math.Hypot(b.X-a.X, b.Y-a.Y)
		if l == 0 {
			continue
		}
		n := Point{-(b.Y - a.Y) / l * h, (b.X - a.X) / l * h}
		c.fill([]Point{a.plus(n), b.plus(n), b.along(n, -1), a.along(n, -1)}, with)
	}
	if h >= 1 {
		for _, p := range at {
			c.fill(ring(p, h, 0, 360), with)
		}
	}
}

func (c canvas) text(o Op) error {
	f, err := face(o.Size, o.Bold)
	if err != nil {
		return fmt.Errorf("typeface at %g: %w", o.Size, err)
	}
	d := font.Drawer{Dst: c.img, Src: c.pens[o.Pen], Face: f,
		Dot: fixed.Point26_6{X: fixed.Int26_6(o.Bounds().Left * 64), Y: fixed.Int26_6(o.At[0].Y * 64)}}
	d.DrawString(o.Text)
	return nil
}
