package flow

import "linetender/flow/wording"

// Alarm returns what must be said at once to an input that cannot be kept,
// because the disk is full or has failed: a stop halts everybody whether it
// can be written down or not. It is empty for anything else, which is answered
// once it can be kept. It reads no log, for that may be what failed.
func (e *Engine) Alarm(in Input) (string, error) {
	t := newTurn(e, in)
	if !t.stops() {
		return "", nil
	}
	t.say(wording.StopCalled, nil)
	t.say(wording.StopUnkept, nil)
	messages, _, err := t.messages(t.mail)
	if err != nil {
		return "", err
	}
	text := ""
	for i, m := range messages {
		if i > 0 {
			text += "\n\n"
		}
		text += m.Text()
	}
	return text, nil
}

// AlarmChats returns every chat that such a stop concerns, that of the input
// first. It reads the log as far as that can be read: where it can't, only the
// input's own chat is known.
func (e *Engine) AlarmChats(log Log, in Input) []string {
	chats := []string{in.Chat}
	c := newChat(in.Chat)
	if err := log.Replay(chatStream(in.Chat), 0, c.fold); err != nil || len(c.jobs) == 0 {
		return chats
	}
	at := c.job
	if at == "" { // it has left the last of them
		at = c.jobs[len(c.jobs)-1]
	}
	s, err := load(log, at)
	if err != nil {
		return chats
	}
	for _, chat := range s.chats() {
		if chat != in.Chat {
			chats = append(chats, chat)
		}
	}
	return chats
}
