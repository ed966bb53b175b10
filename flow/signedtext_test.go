package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestReportHasWhatWasSigned: the report has the very words that were put to who
// signed, each signature once.
func TestReportHasWhatWasSigned(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	h, err := p.engine.History(p.log, p.head().Code, 0)
	if err != nil {
		t.Fatal(err)
	}
	asked := ""
	for _, body := range p.log.streams["job/"+p.head().Code] {
		e, err := flow.DecodeEntry(body)
		if err != nil {
			t.Fatal(err)
		}
		said := e.Said
		for _, other := range e.Sent { // whoever answered last, the lead is asked
			said = append(said, other.Said...)
		}
		for _, s := range said {
			if s.Key == "ask.sign_name" {
				asked += s.Text + " " // it may take more than one paragraph
			}
		}
	}
	if len(h.Overrides) == 0 || asked == "" {
		t.Fatalf("nothing was signed: %d %q %v", len(h.Overrides), asked, p.job().Sheet.Signed)
	}
	for _, o := range h.Overrides {
		if !strings.Contains(asked, o.Check) {
			t.Errorf("the report has %q as signed, and asked was\n%s", o.Check, asked)
		}
	}
}
