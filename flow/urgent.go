package flow

// Urgent reports whether an input calls a stop, by its button or by the word
// in whatever was written. A stop has its turn ahead of what its chat said
// before, and is not counted by any pace. It reads no log.
func (e *Engine) Urgent(in Input) bool { return (&turn{e: e, in: in}).stops() }
