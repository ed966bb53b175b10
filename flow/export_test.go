package flow

// Load replays a job, for the tests outside.
func Load(log Log, code string) (*Session, error) { return load(log, code) }
