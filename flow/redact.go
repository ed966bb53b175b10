package flow

// erasedTopic is the topic of the notes by which a job records what a
// person's data was taken out of: Path is the number of the entry, Value the
// digest of what was left.
const erasedTopic = "erased"
