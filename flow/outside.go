package flow

import (
	"strings"

	"linetender/calc"
	"linetender/calc/bound"
	"linetender/calc/job"
	"linetender/calc/unit"
	"linetender/flow/wording"
)

// JobStream returns the name of the stream that is the log of the job with
// this code. The names of all jobs begin with JobStream("").
func JobStream(code string) string { return jobStream(code) }

// Tell words the plan of a case as the chat would, where no conversation led
// to it: there is no job, so nothing is kept and nobody is asked. The units
// that the weight is written in come first.
func (e *Engine) Tell(sheet job.Sheet, p calc.Plan) ([]Message, error) {
	t := newTurn(e, Input{})
	t.s = newSession()
	t.s.Sheet, t.s.Unsure = sheet, false
	if mass, err := bound.ReadMass(sheet.Load.Mass); err == nil {
		t.s.Units = mass.System
	}
	if p.Decision == calc.Refer {
		t.refer(&p, nil)
	} else {
		t.tell(&p)
		for i, w := range p.Seen { // in a job it was said when it was told
			if i == 0 {
				t.sayApart(wording.PullLearnt, wording.Args{"Text": w.Text})
				continue
			}
			t.say(wording.PullLearnt, wording.Args{"Text": w.Text})
		}
	}
	if t.err != nil {
		return nil, t.err
	}
	messages, _, err := t.messages(t.mail)
	return messages, err
}

// A MenuItem is one word that a channel may offer as a command.
type MenuItem struct{ Word, Does string }

// menu lists the words worth a place in a channel's menu, stop first.
var menu = []struct {
	word string
	does wording.Key
}{
	{"stop", wording.MenuStop}, {"how", wording.MenuHow}, {"why", wording.MenuWhy}, {"skip", wording.MenuSkip},
	{"back", wording.MenuBack}, {"so_far", wording.MenuSoFar}, {"new", wording.MenuNew}, {"leave", wording.MenuLeave},
	{"crew_code", wording.MenuCrewCode}, {"words", wording.MenuWords}, {"invite", wording.MenuInvite},
}

// Menu returns the words for a channel's menu of commands.
func (e *Engine) Menu() ([]MenuItem, error) {
	var items []MenuItem
	for _, m := range menu {
		does, err := e.Words.Say(unit.Metric, m.does, nil)
		if err != nil {
			return nil, err
		}
		items = append(items, MenuItem{Word: m.word, Does: does})
	}
	return items, nil
}

// Part names what whoever speaks in a chat of their own has to do in its job,
// which nobody would do if they left; empty for nothing.
//
// Errors: those of the log; that this release can't read the job.
func (e *Engine) Part(log Log, chat string) (string, error) {
	t := newTurn(e, Input{Chat: chat})
	if err := log.Replay(chatStream(chat), 0, t.chat.fold); err != nil || t.chat.job == "" {
		return "", err
	}
	s, err := e.load(log, t.chat.job)
	if err != nil || s.State == Closed {
		return "", err
	}
	t.s = s
	var parts []string
	for _, seat := range s.Seats {
		if m := s.phone(seat); m != nil && m.Chat == chat {
			parts = append(parts, t.role(seat))
		}
	}
	return strings.Join(parts, ", "), t.err
}
