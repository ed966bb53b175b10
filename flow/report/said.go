package report

import (
	"slices"
	"strings"

	"linetender/flow"
)

// What one event said goes to many phones, and most of it to several of them alike:
// it is printed once, with all whom it went to, and what went to the same ones one
// after the other is one block. Nothing is left out, and in each chat the order is
// that in which it was said there.

// A told is one paragraph and the chats that it was said in; here is where the event
// came from.
type told struct {
	text  string
	chats []string
}

const here = ""

// said is what an event said, block by block.
func (w *filler) said(m flow.Moment) []string {
	var list []told
	list = merged(list, here, m.Said)
	for _, s := range m.Sent {
		var texts []string
		for _, p := range s.Said {
			texts = append(texts, p.Text)
		}
		list = merged(list, s.Chat, texts)
	}
	var out []string
	for i := 0; i < len(list); {
		j := i
		var lines []string
		for ; j < len(list) && slices.Equal(list[j].chats, list[i].chats); j++ {
			lines = append(lines, list[j].text)
		}
		out = append(out, w.toChats(list[i].chats, strings.Join(lines, "\n\n")))
		i = j
	}
	return out
}

// merged puts what was said in one chat into what is there: a paragraph that stands
// there already, after the one before it, has only its chat put to it.
func merged(list []told, chat string, texts []string) []told {
	from := 0
	for _, text := range texts {
		at := slices.IndexFunc(list[from:], func(d told) bool { return d.text == text && !slices.Contains(d.chats, chat) })
		if at >= 0 {
			at += from
			list[at].chats = append(list[at].chats, chat)
			from = at + 1
			continue
		}
		list = slices.Insert(list, from, told{text: text, chats: []string{chat}})
		from++
	}
	return list
}

// toChats says whom a block went to, where that is not only the one who spoke.
func (w *filler) toChats(chats []string, text string) string {
	others := slices.DeleteFunc(slices.Clone(chats), func(c string) bool { return c == here })
	switch {
	case len(others) == 0:
		return text
	case len(others) < len(chats):
		return w.say("in_chats_too", strings.Join(others, ", "), text)
	}
	return w.say("in_chat", strings.Join(others, ", "), text)
}
