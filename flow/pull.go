package flow

// wantPull asks a chat for what the pull waits for there.
func (t *turn) wantPull(chat string) want { return want{} }

// pullPress does what a button of the pull says.
func (t *turn) pullPress(choice string) bool { return false }

// pullWords does what words in the pull say.
func (t *turn) pullWords(text string) bool { return false }

// pullTick does what is due in the pull though nobody speaks.
func (t *turn) pullTick() {}

// pullWake is when the job wants a turn for that; empty for never.
func (t *turn) pullWake() string { return "" }
