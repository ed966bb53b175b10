package flow

import (
	"linetender/calc"
)

// An item of the list is asked anew once it is said to be put right, or once what
// it rests on is another thing. A yes is unsaid with that. A no stands until it has
// been answered anew: nobody reads a go between, and nothing pulls. What is asked
// meanwhile goes by the plan as it would be without that no.

// reopenItem has an item asked anew.
func (t *turn) reopenItem(path string) { t.reopens(path, "") }

func (t *turn) reopens(path, why string) {
	t.act(Act{Do: DoReopen, Topic: path, Reason: why})
	if value, told := t.s.Sheet.Get(path); told && !t.fails(path, value) {
		t.act(Act{Do: DoSet, Path: path, How: Told})
	}
}

func (t *turn) fails(path, value string) bool {
	for _, c := range siteChecks {
		if c.path() == path {
			return failing(c, value)
		}
	}
	return false
}

// askedAnew reports whether a no stands that is asked anew.
func (s *Session) askedAnew(c siteCheck) bool {
	return s.Settled[c.path()] == "" && s.Rounds[c.path()] > 0 && c.fails(s.Sheet)
}

// onceRight is the plan as it would be with all that is asked anew put right: by
// it the questions go on. What is decided, and shown, is [turn.plan].
func (t *turn) onceRight() *calc.Plan {
	sheet, any := t.sheet(), false
	for _, c := range siteChecks {
		if !t.s.askedAnew(c) {
			continue
		}
		if !any {
			clone, err := sheet.Clone()
			if err != nil {
				t.err = err
				return nil
			}
			sheet, any = clone, true
		}
		if err := sheet.Set(c.path(), ""); err != nil {
			t.err = err
			return nil
		}
	}
	if !any {
		return t.plan()
	}
	p, ok := t.e.reckon(sheet)
	if !ok {
		return nil
	}
	return t.keptRig(sheet, p).plan
}
