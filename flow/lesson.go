package flow

import (
	"slices"

	"linetender/calc/bound"
	"linetender/flow/wording"
)

// A lesson is the one line that a crew leaves for the next. It is kept with
// the chat, and with the job's summary, and is said again when a job begins
// that is like it in two of ground, puller and weight.
type lesson struct {
	job  string
	text string
	like likeness
}

// likeness is what jobs are compared by.
type likeness struct{ ground, puller, mass string }

// DoLesson is kept with a chat: Value is the line, Topic the job's code, and
// Names are its ground, puller and weight.
const DoLesson Do = "lesson"

// keepLesson keeps the line for the next crew, where the lead has left one.
func (t *turn) keepLesson() {
	text := t.s.Past["lesson"]
	if text == "" || text == "-" || !t.main() {
		return
	}
	l := t.s.likeness()
	t.kept = append(t.kept, Act{Do: DoLesson, Value: text, Topic: t.s.Code, Names: []string{l.ground, l.puller, l.mass}})
}

// Lesson is the line for the next crew; empty for none.
func (s *Session) Lesson() string {
	if text := s.Past["lesson"]; text != "-" {
		return text
	}
	return ""
}

func (s *Session) likeness() likeness {
	var l likeness
	l.ground, _ = s.Sheet.Get("load.ground")
	l.puller, _ = s.Sheet.Get("puller.kind")
	l.mass, _ = s.Sheet.Get("load.mass")
	return l
}

// learnLesson takes one in that is kept with the chat.
func (c *chatState) learnLesson(a Act) {
	names := slices.Clone(a.Names)
	for len(names) < 3 {
		names = append(names, "")
	}
	c.lessons = append(c.lessons, lesson{job: a.Topic, text: a.Value, like: likeness{names[0], names[1], names[2]}})
}

// alike counts in how many of the three two jobs are alike.
func (l likeness) alike(m likeness) int {
	n := 0
	if l.ground != "" && l.ground == m.ground {
		n++
	}
	if l.puller != "" && l.puller == m.puller {
		n++
	}
	a, err1 := bound.ReadMass(l.mass)
	b, err2 := bound.ReadMass(m.mass)
	if err1 == nil && err2 == nil && a.Value.Low <= b.Value.High.Scale(1.5) && b.Value.Low <= a.Value.High.Scale(1.5) {
		n++
	}
	return n
}

// mostLessons is how many lessons are said at once, the latest first.
const mostLessons = 2

// recall says what earlier crews of the chat have left for a job like this one.
func (t *turn) recall() {
	said := 0
	for _, l := range slices.Backward(t.chat.lessons) {
		if l.job == t.s.Code || l.like.alike(t.s.likeness()) < 2 {
			continue
		}
		t.say(wording.LessonBefore, wording.Args{"Code": l.job, "Text": l.text})
		if said++; said == mostLessons {
			return
		}
	}
}
