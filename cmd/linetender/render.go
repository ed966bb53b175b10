package main

import (
	"context"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"time"

	"linetender/calc"
	"linetender/flow"
	"linetender/flow/picture"
	"linetender/flow/report"
)

// A draftsman makes the pictures and pages of a job from its log, as it was
// after any of its entries.
type draftsman struct {
	log    archiveLog
	photos string // folder with the pictures that were kept, each called by the SHA-256 of its bytes
	now    func() time.Time
}

// archiveLog is what a draftsman reads.
type archiveLog interface {
	flow.Log
	Head(stream string) (head []byte, last uint64, err error)
}

// newDraftsman makes one for the store of a data folder.
func newDraftsman(log archiveLog, dir string) draftsman {
	return draftsman{log: log, photos: photosIn(dir), now: time.Now}
}

// render makes what a message shows. It reads the log up to the entry that the
// message belongs to, so that made again it is the same.
//
// Errors: flow.ErrNoJob; that nothing of the kind can be made of the job as it
// was then; those of the log and of the drawing.
func (d draftsman) render(ctx context.Context, s flow.Show) (flow.Shown, error) {
	if err := ctx.Err(); err != nil {
		return flow.Shown{}, err
	}
	h, err := newEngine(true).History(d.log, s.Job, s.Entry)
	if err != nil {
		return flow.Shown{}, err
	}
	switch s.What {
	case flow.ShowRig, flow.ShowForce:
		return drawn(h, s)
	case flow.ShowCard:
		if h.Plan == nil {
			return flow.Shown{}, fmt.Errorf("job %q has no plan at entry %d, and so no card", s.Job, s.Entry)
		}
		page, err := report.FillCard(h, cardPicture(h), picture.Numbers(*h.Plan)).HTML()
		return flow.Shown{Name: s.Job + "-card.html", Type: "text/html", Bytes: page, Alt: s.Caption}, err
	case flow.ShowReport:
		page, err := d.report(h)
		return flow.Shown{Name: s.Job + "-report.html", Type: "text/html", Bytes: page, Alt: s.Caption}, err
	}
	return flow.Shown{}, fmt.Errorf("%q is nothing that can be shown", s.What)
}

func drawn(h *flow.History, s flow.Show) (flow.Shown, error) {
	var d picture.Drawing
	if h.Plan != nil && h.Case != nil {
		d = picture.Force(*h.Plan)
		if s.What == flow.ShowRig {
			d = picture.Rig(*h.Plan, *h.Case)
		}
	}
	if d.Empty() {
		return flow.Shown{}, fmt.Errorf("job %q has nothing to draw at entry %d", s.Job, s.Entry)
	}
	bits, err := d.PNG()
	if err != nil {
		return flow.Shown{}, err
	}
	return flow.Shown{Name: s.Job + "-" + s.What + ".png", Type: "image/png", Bytes: bits, Alt: d.Gist()}, nil
}

// cardPicture is the rig as it goes on a card.
func cardPicture(h *flow.History) report.Picture {
	if h.Plan == nil || h.Case == nil {
		return report.Picture{}
	}
	return framed(picture.Card(*h.Plan, *h.Case))
}

// framed is a drawing as a page takes it; empty for an empty one.
func framed(d picture.Drawing) report.Picture {
	if d.Empty() {
		return report.Picture{}
	}
	return report.Picture{Title: d.Title, SVG: d.SVG(), Alt: d.Alt()}
}

// report prints the report of a history, checked against the chain.
func (d draftsman) report(h *flow.History) ([]byte, error) {
	head, last, err := d.log.Head(flow.JobStream(h.Job.Code))
	if err != nil {
		return nil, err
	}
	proof, err := proveJob(d.log, h.Job.Code, head, h.Head)
	if err != nil {
		return nil, err
	}
	l := report.Looked{
		Made: fmt.Sprintf("%s, by %s", d.now().UTC().Format("2006-01-02 15:04 UTC"), versionLine(buildInfo())), Proof: proof, Photo: d.photo,
	}
	if last > h.Job.Last {
		l.Made += fmt.Sprintf(", as the job stood after event %d of %d", h.Job.Last, last)
	}
	if h.Plan != nil {
		l.Numbers = picture.Numbers(*h.Plan)
		if h.Case != nil {
			l.Pictures = pictures(*h.Plan, h)
		}
	}
	r, err := report.Fill(h, l)
	if err != nil {
		return nil, err
	}
	return r.HTML()
}

func pictures(p calc.Plan, h *flow.History) []report.Picture {
	return []report.Picture{framed(picture.Rig(p, *h.Case)), framed(picture.Force(p))}
}

// sumPattern is the name of a kept picture: nothing that a log holds leads to
// another file.
var sumPattern = regexp.MustCompile(`^[0-9a-f]{64}$`)

// photo finds a picture that was kept, and tells its kind by its bytes.
func (d draftsman) photo(f flow.File) (kind string, bytes []byte) {
	for _, name := range d.kept(f.Sum) {
		if bytes, err := os.ReadFile(name); err == nil {
			return http.DetectContentType(bytes), bytes
		}
	}
	return "", nil
}

// kept lists the files of a picture.
func (d draftsman) kept(sum string) []string {
	if !sumPattern.MatchString(sum) {
		return nil
	}
	names, err := filepath.Glob(filepath.Join(d.photos, sum+"*"))
	if err != nil {
		return nil // only a bad pattern
	}
	return names
}
