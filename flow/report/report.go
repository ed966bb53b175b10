package report

import "linetender/calc"

// A Fact is one line of the summary.
type Fact struct{ Label, Value string }

// An Event is one entry of the timeline. At is as it shall be read, with its
// offset; Said is what was answered.
type Event struct {
	Seq           uint64
	At, Who, What string
	Said          []string
}

// An Answer is one thing that was told or measured.
type Answer struct {
	Question   string
	Said       string // word for word
	Understood string // value with its spread
	How        string // weighed, by a level, by eye
	Who, At    string
	Was        string // what it replaced, "" for nothing
}

// A Mark is one check as people or the plan settled it.
type Mark struct{ Check, Result, Who, At, Note string }

// An Override is a named person's yes to a failing check.
type Override struct {
	Check, By, Second, Reason, At string

	Put []string // what was put to each of both on their own phone
}

// A Stop is one call of stop.
type Stop struct{ At, Who, Reason, Still, Restart string }

// A HoldPoint is one hold of the pull.
type HoldPoint struct{ Number, Stage, At, Sure, Withheld, Released string }

// Seen is one thing that was seen during the pull.
type Seen struct{ At, Who, What, Words string }

// Told is one answer of the debrief.
type Told struct{ Question, Answer, Who string }

// A Compare holds one thing as planned against as it happened.
type Compare struct{ What, Planned, Happened string }

// A Report is all that the report of a job is made of. What is empty is told
// as empty, so that a reader can see that nothing was left out.
type Report struct {
	Title, Code, Made string // Made says when and by which release it was written
	Head              string // of the job's chain of entries
	Verified          string // how the check of the chain came out
	Summary           []Fact
	Plan              *calc.Plan // nil: no plan was reached
	Numbers           map[string]int
	Pictures          []Picture
	Timeline          []Event
	Answers           []Answer
	Checks            []Mark
	Overrides         []Override
	Refused           []string // noes of those who were asked to sign
	Stops             []Stop
	Holds             []HoldPoint
	Seen              []Seen
	Debrief           []Told
	Compared          []Compare
	Photos            []Photo
}

type reportView struct {
	Report
	Members []member
	Shown   []Picture // those that are not empty
}

// HTML prints the report.
//
// Errors: only our own, in template or words.
func (r Report) HTML() ([]byte, error) {
	v := reportView{Report: r}
	for _, p := range r.Pictures {
		if len(p.SVG) > 0 {
			v.Shown = append(v.Shown, p)
		}
	}
	if r.Plan != nil {
		var err error
		if v.Members, err = members(*r.Plan, r.Numbers); err != nil {
			return nil, err
		}
	}
	return write("report.html", v)
}
