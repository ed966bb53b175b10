package apitest

import "fmt"

// Press is a button that was pressed.
type Press struct {
	ID     string
	Update int64
	server *Server
	old    bool
	answer *Answer
}

// Answer is what the bot answered to a press; an empty text only ends the waiting sign.
type Answer struct {
	Text  string
	Alert bool
}

// Press presses the button of a message that has the given label, or data. It fails the test if the
// message shows no such button.
func (st *Seat) Press(messageID int64, button string) *Press {
	s := st.user.server
	s.tb.Helper()
	s.mu.Lock()
	defer s.mu.Unlock()
	m := st.chat.find(messageID)
	if m == nil {
		s.tb.Errorf("%s presses %q on message %d, which is not there", st.user.name, button, messageID)
		return &Press{server: s}
	}
	for _, row := range m.shown().Buttons {
		for _, b := range row {
			if b.Data != "" && (b.Label == button || b.Data == button) {
				return st.press(m, b.Data)
			}
		}
	}
	s.tb.Errorf("message %d %q has no button %q: it has %v", messageID, m.text, button, m.shown().Buttons)
	return &Press{server: s}
}

// PressOld presses a button that the message no longer shows: from a phone that has not caught up.
func (st *Seat) PressOld(messageID int64, data string) *Press {
	s := st.user.server
	s.tb.Helper()
	s.mu.Lock()
	defer s.mu.Unlock()
	m := st.chat.find(messageID)
	if m == nil {
		s.tb.Errorf("%s presses %q on message %d, which is not there", st.user.name, data, messageID)
		return &Press{server: s}
	}
	return st.press(m, data)
}

// press queues the update; presses reach the bot whatever the privacy mode. The caller holds mu.
func (st *Seat) press(m *message, data string) *Press {
	s := st.user.server
	p := &Press{server: s, ID: fmt.Sprintf("43%d", 9_000_000+len(s.presses))}
	s.presses[p.ID] = p
	if m.chat.botOut || m.chat.blocked {
		return p
	}
	p.Update = s.push("callback_query", map[string]any{
		"id": p.ID, "from": st.user.json(), "message": m.json(), "chat_instance": fmt.Sprint(-m.chat.id), "data": data,
	})
	return p
}

// Answer returns what the bot answered.
func (p *Press) Answer() (Answer, bool) {
	p.server.mu.Lock()
	defer p.server.mu.Unlock()
	if p.answer == nil {
		return Answer{}, false
	}
	return *p.answer, true
}

// Expire makes the press too old to be answered.
func (p *Press) Expire() {
	p.server.mu.Lock()
	defer p.server.mu.Unlock()
	p.old = true
}

func answerCallback(s *Server, p params, _ map[string]Upload) (any, error) {
	press, ok := s.presses[p.text("callback_query_id")]
	if !ok || press.old {
		return nil, badRequest("query is too old and response timeout expired or query ID is invalid")
	}
	if press.answer == nil { // only the first answer is shown
		press.answer = &Answer{Text: p.text("text"), Alert: p.flag("show_alert")}
	}
	return true, nil
}
