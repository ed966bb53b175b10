package terminal

import (
	"slices"
	"strings"

	"linetender/flow"
)

// A line that is written can't be changed in place. What other channels keep up
// to date in one message, and say again in full, is here a line of what is new.

// goesOn are what is new with every word that anybody writes and every item that is
// answered: it is said along with other news, and by itself it is none.
var goesOn = []string{"board.head", "board.head_since", "board.words", "board.items", "board.open", "board.more"}

// news is what a message that is kept up to date says and did not say before,
// in one paragraph. That time goes on is nothing new.
func (t *Terminal) news(m flow.Message) flow.Message {
	was, known := t.live[m.Live]
	var now, fresh []string
	news := !known
	for _, p := range m.Parts {
		if p.Key == "board.at" {
			continue
		}
		now = append(now, p.Text)
		if !slices.Contains(was, p.Text) {
			fresh = append(fresh, strings.ReplaceAll(p.Text, "\n", " "))
			news = news || !slices.Contains(goesOn, p.Key)
		}
	}
	m.Parts = nil
	if !news { // it is said with the next that is
		if known {
			t.live[m.Live] = slices.DeleteFunc(was, func(old string) bool { return !slices.Contains(now, old) })
		}
		return m
	}
	if t.live == nil {
		t.live = map[string][]string{}
	}
	t.live[m.Live] = now
	key := "board_news"
	if !known {
		key = "board_first"
	}
	m.Parts = aside(key, strings.Join(fresh, " ")).Parts
	return m
}

// reminder is the key of the paragraph that a reminder begins with.
const reminder = "remind.again"

// brief leaves out of a reminder what was shown before, but for the question
// itself: the last paragraph over the buttons.
func (t *Terminal) brief(m flow.Message) flow.Message {
	if len(m.Parts) > 0 && m.Parts[0].Key == reminder {
		t.told = m.Revision
	}
	if t.seen == nil {
		t.seen = map[string]bool{}
	}
	again := t.told != 0 && m.Revision == t.told
	var parts []flow.Said
	for i, p := range m.Parts {
		asks := len(m.Choices) > 0 && i == len(m.Parts)-1
		if !again || asks || p.Key == reminder || !t.seen[p.Text] {
			parts = append(parts, p)
		}
	}
	for _, p := range m.Parts {
		t.seen[p.Text] = true
	}
	if again && len(parts) == 0 {
		m.Shows = nil
	}
	if len(m.Choices) > 0 {
		t.told = 0 // that was the question: what comes after it is whole, a card above all
	}
	m.Parts = parts
	return m
}
