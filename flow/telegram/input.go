package telegram

import (
	"slices"
	"strings"
	"time"

	"linetender/flow"
	"linetender/flow/wording"
)

// account is what the channel told about the program's own account.
type account struct {
	id   int64
	name string // user name without @
	sees bool   // reads every message of a group: privacy mode is off
}

// input maps an update to what the conversation takes; false if there is nothing in it for it.
func (b account) input(u update, at time.Time) (flow.Input, bool) {
	switch {
	case u.Message != nil:
		return b.said(u.Message, false)
	case u.Edited != nil:
		return b.said(u.Edited, true)
	case u.Press != nil && u.Press.Message != nil:
		return b.pressed(u.Press, at)
	}
	return flow.Input{}, false
}

func (b account) pressed(p *press, at time.Time) (flow.Input, bool) {
	button := readButtonData(p.Data)
	return flow.Input{
		Chat: p.Message.key(), Person: speaker(p.From), At: at.UTC(),
		Press: &button, Handle: p.ID, Direct: true,
		Group: p.Message.Chat.group(), Partial: p.Message.Chat.group() && !b.sees,
	}, true
}

// anonymous is the account under which the channel shows an administrator who hides their name.
const anonymous = 1087968824

func (b account) said(m *message, edited bool) (flow.Input, bool) {
	in := flow.Input{
		Chat: m.key(), At: time.Unix(m.Date, 0).UTC(), Edited: edited,
		Group: m.Chat.group(), Partial: m.Chat.group() && !b.sees,
	}
	if edited && m.EditDate != 0 {
		in.At = time.Unix(m.EditDate, 0).UTC()
	}
	switch {
	case m.From == nil, m.Forwarded, m.Chat.Type == "channel":
		return flow.Input{}, false
	case m.From.ID == anonymous && m.As != nil && m.As.ID == m.Chat.ID:
		// Someone of the group, it can't be said who; a halt must be heard from them too.
		in.Person = flow.Person{ID: personKey(m.As.ID), Name: plain(m.As.Title)}
	case m.From.Bot:
		return flow.Input{}, false
	default:
		in.Person = speaker(*m.From)
	}

	text, entities := m.Text, m.Entities
	if text == "" {
		text, entities = m.Caption, m.CaptionEntities
	}
	in.Other = m.other()
	in.Files, in.Place = m.files(), m.at()
	var addressed, elsewhere bool
	in.Text, addressed, elsewhere = b.address(text, entities)
	if in.Text == "" && in.Other == "" || elsewhere && in.Group {
		return flow.Input{}, false
	}
	answers := m.ReplyTo != nil && m.ReplyTo.From != nil && m.ReplyTo.From.ID == b.id
	in.Direct = !in.Group || addressed || answers
	return in, true
}

func speaker(p person) flow.Person {
	return flow.Person{ID: personKey(p.ID), Name: plain(strings.TrimSpace(p.First + " " + p.Last))}
}

// address takes the program's name out of a text: /stop@name becomes /stop, and @name at the start
// goes. Addressed tells whether the text is meant for the program by a command or by its name;
// elsewhere, that it is a command to another bot.
func (b account) address(text string, entities []entity) (rest string, addressed, elsewhere bool) {
	var out strings.Builder
	done := 0
	for _, e := range entities {
		from, okFrom := byteAt(text, e.Offset)
		to, okTo := byteAt(text, e.Offset+e.Length)
		if !okFrom || !okTo || from < done || to <= from {
			continue
		}
		word := text[from:to]
		command, name, named := strings.Cut(word, "@")
		mine := strings.EqualFold(name, b.name)
		switch {
		case e.Type == "bot_command" && named && !mine:
			elsewhere = elsewhere || from == 0
			continue
		case e.Type == "bot_command":
			addressed = addressed || mine || from == 0
			out.WriteString(text[done:from] + command)
		case e.Type == "mention" && mine:
			addressed = true
			if strings.TrimSpace(text[:from]) != "" {
				continue
			}
			out.WriteString(text[done:from])
			to += len(text[to:]) - len(strings.TrimLeft(text[to:], " ,:"))
		default:
			continue
		}
		done = to
	}
	out.WriteString(text[done:])
	return strings.TrimSpace(out.String()), addressed, elsewhere
}

// addressed is m as it is said in a chat. In a group a bare command goes to the bot that spoke last,
// which may be another one: the way to a stop must name us.
func (b account) addressed(m flow.Message, chat int64) flow.Message {
	if chat >= 0 || b.name == "" {
		return m
	}
	parts := slices.Clone(m.Parts)
	for i, p := range parts {
		if p.Key == string(wording.StopWay) {
			parts[i].Text = strings.ReplaceAll(p.Text, "/stop", "/stop@"+b.name)
		}
	}
	m.Parts = parts
	return m
}
