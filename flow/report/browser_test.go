package report

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// browser starts Chromium, where it is there and asked for.
func browser(t *testing.T) context.Context {
	t.Helper()
	if os.Getenv("LINETENDER_BROWSER") == "" {
		t.Skip("set LINETENDER_BROWSER=1 to open the pages in Chromium")
	}
	opts := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.NoSandbox)
	ctx, cancel := chromedp.NewExecAllocator(t.Context(), opts...)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	if _, err := chromedp.Run(ctx, chromedp.Navigate("about:blank")); err != nil {
		t.Fatal("start Chromium: ", err)
	}
	ctx, cancel = context.WithTimeout(ctx, 2*time.Minute)
	t.Cleanup(cancel)
	return ctx
}

func do[T any](t *testing.T, ctx context.Context, a chromedp.Action[T]) T {
	t.Helper()
	v, err := chromedp.Run(ctx, a)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func open(t *testing.T, ctx context.Context, p page) {
	t.Helper()
	file := filepath.Join(t.TempDir(), p.name+".html")
	if err := os.WriteFile(file, p.html, 0o644); err != nil {
		t.Fatal(err)
	}
	do(t, ctx, chromedp.Navigate("file://"+file))
}

func scheme(t *testing.T, ctx context.Context, dark bool) {
	t.Helper()
	value := "light"
	if dark {
		value = "dark"
	}
	_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: value}}})
	if err != nil {
		t.Fatal(err)
	}
}

var pdfPage = regexp.MustCompile(`/Type\s*/Page\b[^s]`)

// One page at both paper sizes, with the margins that a printer's own settings
// make widest, however much there is to say.
func TestCardPrintsOnOnePage(t *testing.T) {
	ctx := browser(t)
	for _, p := range all(t) {
		if !strings.HasPrefix(p.name, "card") {
			continue
		}
		open(t, ctx, p)
		for paper, size := range map[string]chromedp.PaperSize{"A4": chromedp.PaperA4, "letter": chromedp.PaperLetter} {
			for _, margin := range []float64{0.3, 0.4} {
				pdf := do(t, ctx, chromedp.PrintToPDF(chromedp.PDFPaper(size), chromedp.PDFMargin(margin)))
				if n := len(pdfPage.FindAll(pdf, -1)); n != 1 {
					t.Errorf("%s prints on %d pages of %s with margins of %g in", p.name, n, paper, margin)
				}
				if dir := os.Getenv("LINETENDER_LOOK"); dir != "" {
					if err := os.WriteFile(filepath.Join(dir, p.name+"."+paper+".pdf"), pdf, 0o644); err != nil {
						t.Fatal(err)
					}
				}
			}
		}
	}
}

func TestReportPrints(t *testing.T) {
	ctx := browser(t)
	for _, p := range all(t) {
		if !strings.HasPrefix(p.name, "report") {
			continue
		}
		open(t, ctx, p)
		pdf := do(t, ctx, chromedp.PrintToPDF(chromedp.PDFPaper(chromedp.PaperA4)))
		if len(pdfPage.FindAll(pdf, -1)) == 0 {
			t.Errorf("%s prints on no page", p.name)
		}
	}
}

// contrast is the least contrast of any text in the page with what lies behind
// it, worked out in the page from the colours as they are shown.
const contrast = `(() => {
	const lum = c => { const v = c.match(/[\d.]+/g).slice(0, 3).map(x => x / 255).map(x => x <= .03928 ? x / 12.92 : ((x + .055) / 1.055) ** 2.4);
		return .2126 * v[0] + .7152 * v[1] + .0722 * v[2]; };
	const solid = c => !/rgba\(.*, 0\)|transparent/.test(c);
	const ground = e => { for (; e; e = e.parentElement) { const b = getComputedStyle(e).backgroundColor; if (solid(b)) return b; } return "rgb(255,255,255)"; };
	let least = 99;
	for (const e of document.querySelectorAll("body *")) {
		if (![...e.childNodes].some(n => n.nodeType === 3 && n.data.trim())) continue;
		let ink, back;
		if (e.closest("svg")) {
			if (e.tagName !== "text") continue;
			ink = getComputedStyle(e).fill;
			back = getComputedStyle(e.closest("svg").querySelector("rect")).fill;
		} else { ink = getComputedStyle(e).color; back = ground(e); }
		const a = lum(ink), b = lum(back);
		least = Math.min(least, (Math.max(a, b) + .05) / (Math.min(a, b) + .05));
	}
	return least;
})()`

// Light and dark, wide and phone: text stands out, nothing runs off the side
// and dark is dark.
func TestPagesOnScreens(t *testing.T) {
	ctx := browser(t)
	for _, p := range all(t) {
		open(t, ctx, p)
		for _, wide := range []int64{360, 1200} {
			do(t, ctx, chromedp.EmulateViewport(wide, 800))
			var grounds []string
			for _, dark := range []bool{false, true} {
				scheme(t, ctx, dark)
				if got := do(t, ctx, chromedp.Evaluate[float64](contrast)); got < 4.5 || got > 21.1 {
					t.Errorf("%s, dark %v, %d px: least contrast %.2f", p.name, dark, wide, got)
				}
				grounds = append(grounds, do(t, ctx, chromedp.Evaluate[string](`getComputedStyle(document.body).backgroundColor`)))
				if over := do(t, ctx, chromedp.Evaluate[int](`document.documentElement.scrollWidth - innerWidth`)); over > 0 {
					t.Errorf("%s runs %d px off a screen of %d", p.name, over, wide)
				}
				if dir := os.Getenv("LINETENDER_LOOK"); dir != "" {
					name := p.name + "." + strconv.FormatInt(wide, 10) + map[bool]string{true: ".dark.png", false: ".light.png"}[dark]
					if err := os.WriteFile(filepath.Join(dir, name), do(t, ctx, chromedp.FullScreenshot(100)), 0o644); err != nil {
						t.Fatal(err)
					}
				}
			}
			if grounds[0] == grounds[1] {
				t.Errorf("%s is as light in the dark: %v", p.name, grounds)
			}
		}
	}
}

// On a phone the smallest label of the rig is 11 px high or more, in the page too.
func TestLabelsOnAPhone(t *testing.T) {
	ctx := browser(t)
	for _, p := range all(t) {
		if !bytes.Contains(p.html, []byte("lt-picture")) || strings.HasPrefix(p.name, "card") {
			continue
		}
		open(t, ctx, p)
		do(t, ctx, chromedp.EmulateViewport(392, 800)) // 360 beside the page's own margins
		least := do(t, ctx, chromedp.Evaluate[float64](`Math.min(...[...document.querySelectorAll("svg text")].map(e => parseFloat(e.getAttribute("font-size")) * e.getScreenCTM().a))`))
		if least < 10.9 {
			t.Errorf("%s: the smallest label is %.1f px", p.name, least)
		}
	}
}

// Every picture has a name, every table heads its columns and headings come in order.
func TestPagesCanBeHeard(t *testing.T) {
	ctx := browser(t)
	for _, p := range all(t) {
		open(t, ctx, p)
		faults := do(t, ctx, chromedp.Evaluate[[]string](`(() => {
			const out = [];
			for (const s of document.querySelectorAll("svg")) {
				const ids = (s.getAttribute("aria-labelledby") || "").split(" ");
				if (s.getAttribute("role") !== "img" || !ids.every(i => document.getElementById(i)?.textContent.trim())) out.push("a picture has no name");
			}
			for (const i of document.querySelectorAll("img")) if (!i.alt) out.push("a photo has no words");
			for (const t of document.querySelectorAll("table")) if (!t.querySelector("th[scope=col]")) out.push("a table has no heads");
			let at = 0;
			for (const h of document.querySelectorAll("h1,h2,h3,h4")) { const n = +h.tagName[1]; if (n > at + 1) out.push("heading " + h.textContent + " skips a level"); at = n; }
			const ids = [...document.querySelectorAll("[id]")].map(e => e.id);
			if (new Set(ids).size !== ids.length) out.push("an id is there twice");
			for (const a of document.querySelectorAll("a[href^='#']")) if (!document.querySelector(a.getAttribute("href"))) out.push("a link leads nowhere");
			if (document.documentElement.lang !== "en") out.push("no language");
			return out;
		})()`))
		for _, f := range faults {
			t.Errorf("%s: %s", p.name, f)
		}
	}
}
