package flow

// An Engine turns one input into what is to be kept and what is to be said.
// It reads only the log and keeps nothing between turns.
type Engine struct {
	// Anyone lets every chat start a session; without it only chats that the
	// door knows may.
	Anyone bool
}

// Turn reads what it needs of log and returns what in does.
func (e *Engine) Turn(log Log, in Input) (Turn, error) {
	return Turn{Update: in.Update, Chat: in.Chat}, nil
}

func (e *Engine) sorry(a Arrival) (Turn, error) {
	return Turn{Update: "sorry/" + a.Key, Chat: a.Chat}, nil
}
