package report

import (
	"bytes"
	"embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"math"
	"strings"
	"sync"

	"github.com/BurntSushi/toml"

	"linetender/calc"
	"linetender/calc/unit"
	"linetender/flow/wording"
)

//go:embed en.toml card.html report.html
var files embed.FS

var words = readWords()

func readWords() map[string]string {
	text, err := files.ReadFile("en.toml")
	if err != nil {
		panic("report: built-in words: " + err.Error())
	}
	var w map[string]string
	if _, err := toml.Decode(string(text), &w); err != nil {
		panic("report: built-in words: " + err.Error())
	}
	return w
}

// say words a key; a key that the file lacks is an error of the page.
func say(key string, args ...any) (string, error) {
	w, ok := words[key]
	if !ok {
		return "", fmt.Errorf("no words for %q", key)
	}
	if len(args) == 0 {
		return w, nil
	}
	return fmt.Sprintf(w, args...), nil
}

var talk = sync.OnceValue(wording.English)

// chat words a sentence as the conversation has it, so that the page and the card
// on a phone say the same.
func chat(key wording.Key) (string, error) { return talk().Say(unit.Metric, key, nil) }

var pages = template.Must(template.New("").Option("missingkey=error").Funcs(template.FuncMap{
	"say":     say,
	"chat":    chat,
	"load":    func(f unit.Force) string { return force(f, math.Ceil) },
	"limit":   limit,
	"share":   share,
	"span":    span,
	"metres":  func(l unit.Length) string { return figure(l.Metres(), math.Ceil) + " m" },
	"atmost":  func(l unit.Length) string { return figure(l.Metres(), math.Floor) + " m" },
	"word":    func(s string) string { return strings.ReplaceAll(s, "-", " ") },
	"verdict": verdict,
	"key":     key,
}).ParseFS(files, "*.html"))

func write(name string, data any) ([]byte, error) {
	var b bytes.Buffer
	if err := pages.ExecuteTemplate(&b, name, data); err != nil {
		return nil, fmt.Errorf("page %s: %w", name, err)
	}
	return b.Bytes(), nil
}

// A Picture is a drawing set into a page. SVG must be of our own making: it is
// not escaped. Alt says in words what it says.
type Picture struct {
	Title string
	SVG   []byte
	Alt   string
}

// Markup is the drawing as it goes into the page.
func (p Picture) Markup() template.HTML { return template.HTML(p.SVG) } // written by flow/picture, which escapes

// A Photo is a picture that somebody sent.
type Photo struct {
	Type    string // image/jpeg or image/png
	Bytes   []byte
	Caption string
	Who, At string
}

// Shown reports whether the photo is of a kind that a page may hold.
func (p Photo) Shown() bool { return p.Type == "image/jpeg" || p.Type == "image/png" }

// Source is the photo written into the page, so that no file goes with it.
func (p Photo) Source() template.URL {
	return template.URL("data:" + p.Type + ";base64," + base64.StdEncoding.EncodeToString(p.Bytes)) // Shown has checked the type
}

func verdict(p calc.Plan) (string, error) {
	if p.Conditional {
		return say("decision_conditional")
	}
	return say("decision_" + strings.ReplaceAll(string(p.Decision), "-", "_"))
}

// Loads are rounded up and limits down, so that no rounding flatters.

func force(f unit.Force, to func(float64) float64) string {
	return figure(f.Kilonewtons(), to) + " kN (" + figure(f.PoundsForce(), to) + " lbf)"
}

func limit(f *unit.Force) (string, error) {
	if f == nil {
		return say("not_known")
	}
	return force(*f, math.Floor), nil
}

func share(r *float64) (string, error) {
	if r == nil {
		return say("no_share")
	}
	return fmt.Sprintf("%.0f %%", math.Ceil(max(0, *r*100-1e-9))), nil
}

func span(f *calc.Force) (string, error) {
	if f == nil {
		return say("not_known")
	}
	return say("span", figure(f.Low.Kilonewtons(), math.Floor), force(f.High, math.Ceil))
}

func figure(v float64, to func(float64) float64) string { return unit.Short(unit.Figures(v, 3, to)) }

func loaded(f unit.Force) string { return force(f, math.Ceil) }

// key is a word of a plan as the words file has it in its keys.
func key(word string) string { return strings.ReplaceAll(word, "-", "_") }
