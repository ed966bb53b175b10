package flow

import (
	"encoding/json"
	"fmt"
	"time"

	"linetender/flow/wording"
)

// entryVersion is written into every entry. An entry of a later version is
// refused, because its acts could mean what this release does not know.
const entryVersion = 1

// An Entry is one turn of a job as it is kept: who said what and when, what
// it meant, where that took the job, what was decided and what was answered.
type Entry struct {
	Version int      `json:"v"`
	N       uint64   `json:"n,omitempty"`      // which entry of the job it is, from 1
	Prev    string   `json:"prev,omitempty"`   // the chain before this entry, see Link
	At      string   `json:"at"`               // RFC 3339, UTC
	Offset  string   `json:"offset,omitempty"` // of the site, where known
	Who     Person   `json:"who"`
	Chat    string   `json:"chat"`
	Update  string   `json:"update"`
	Group   bool     `json:"group,omitempty"`   // several people read the chat
	Partial bool     `json:"partial,omitempty"` // only commands, replies and presses reach the program from there
	Piped   bool     `json:"piped,omitempty"`   // it came out of a pipe or a file, at no time that anybody knows
	Heard   Heard    `json:"heard"`
	Acts    []Act    `json:"acts,omitempty"`
	State   State    `json:"state"`           // after the turn
	Topic   string   `json:"topic,omitempty"` // asked at its end
	Decided *Finding `json:"decided,omitempty"`
	Said    []Said   `json:"said,omitempty"`
	Slot    string   `json:"slot,omitempty"`   // of the buttons that were shown
	Under   int      `json:"under,omitempty"`  // paragraphs at the end of Said that they stand under
	Notice  bool     `json:"notice,omitempty"` // said in place of a press: the buttons that are up stay
	Sent    []Sent   `json:"sent,omitempty"`   // what was said in other chats
	Was     string   `json:"was,omitempty"`    // digest of the entry before a person's data was taken out of it
}

// Sent is what an entry said in a chat other than its own.
type Sent struct {
	Chat  string `json:"chat"`
	Said  []Said `json:"said,omitempty"`
	Slot  string `json:"slot,omitempty"`
	Under int    `json:"under,omitempty"`
}

// asked is what buttons stand under: the last paragraphs of what was said,
// without the way to a stop, which is told where the buttons are.
func asked(said []Said, under int) string {
	n := min(max(under, 1), len(said)) // an older release kept no count
	var m Message
	for _, p := range said[len(said)-n:] {
		if p.Key != string(wording.StopWay) {
			m.Parts = append(m.Parts, p)
		}
	}
	return m.Text()
}

// Heard is what came in, word for word.
type Heard struct {
	Text  string `json:"text,omitempty"`
	Press string `json:"press,omitempty"` // the choice
	Other string `json:"other,omitempty"`
	Files []File `json:"files,omitempty"`
	Place *Place `json:"place,omitempty"`
}

// Finding is what the plan decided, and a digest of all of it, by which a
// reviewer can tell whether the same release still decides the same.
type Finding struct {
	Decision string   `json:"decision"`
	Why      []string `json:"why,omitempty"`
	Digest   string   `json:"digest"`
}

// An Act is one effect of a turn on the job. Which fields count depends on Do.
type Act struct {
	Do     Do       `json:"do"`
	Event  Event    `json:"event,omitempty"`
	Topic  string   `json:"topic,omitempty"`
	Path   string   `json:"path,omitempty"`
	Value  string   `json:"value,omitempty"`
	Was    string   `json:"was,omitempty"` // what Value replaced
	How    How      `json:"how,omitempty"`
	Names  []string `json:"names,omitempty"`
	Second string   `json:"second,omitempty"`
	Reason string   `json:"reason,omitempty"`
	Member *Member  `json:"member,omitempty"`
	Moment string   `json:"moment,omitempty"` // when it was said, as exactly as the channel tells; RFC 3339
	Cue    Cue      `json:"cue,omitempty"`
	Pieces []string `json:"pieces,omitempty"` // that a signature is given for
}

// Do names what an act does. Its value is stored.
type Do string

// The acts.
const (
	DoJoin   Do = "join"   // Member comes in, or comes back
	DoGone   Do = "gone"   // the member Value leaves
	DoRig    Do = "rig"    // the job is rigged as Names has it: the tackle, then what is for what; Path rigRenamed: as before, in other names
	DoAway   Do = "away"   // nothing reaches the member Value: their terminal has closed
	DoHere   Do = "here"   // the member Value is heard again
	DoName   Do = "name"   // the member Path goes by Value
	DoLead   Do = "lead"   // the member Value has the lead
	DoCode   Do = "code"   // a code lets people in as Path; Value is its digest
	DoRevoke Do = "revoke" // no code lets anybody in any more
	DoWant   Do = "want"   // Value is asked in the chat Path now
	DoStop   Do = "stop"   // somebody calls a stop
	DoStill  Do = "still"  // the member Value stands still
	DoOver   Do = "over"   // the lead lets the job go on after a stop, for Reason
	DoBegin  Do = "begin"  // a job begins: Value is its code
	DoMove   Do = "move"   // Event is fired
	DoAsk    Do = "ask"    // Topic is the question now
	DoSet    Do = "set"    // the sheet's Path becomes Value, as How says
	DoSettle Do = "settle" // Topic has its answer, as How says
	DoReopen Do = "reopen" // Topic has no answer any more; Reason is kept where only what was told is another thing
	DoKeep   Do = "keep"   // what was seen and signed is kept under the digest Value of what was told; without one nothing is
	DoAsWas  Do = "as-was" // what was kept under the digest Value counts again
	DoMiss   Do = "miss"   // Topic got words that could not be read
	DoUnits  Do = "units"  // the person writes in Value: metric or customary
	DoNote   Do = "note"   // Value is to be kept and changes nothing
	DoFigure Do = "figure" // the first figure was given
	DoTold   Do = "told"   // the plan was given; Value is its digest, Path its decision, Was what keeps it from a go
	DoHold   Do = "hold"   // Value is kept for the next part of a question of several, under Path
	DoCheck  Do = "check"  // a person answered the check Topic with Value
	DoSign   Do = "sign"   // Names signs Topic, with Second and Reason
	DoPut    Do = "put"    // to Names, the member Path, who is to sign Topic, Value was put; Was is what fails, with the Reason
	DoWord   Do = "word"   // the member Path says yes to signing Topic
	DoRefuse Do = "refuse" // Names, the member Path with the post Second, says no to signing Topic, where Was fails, in the words Value; without words it is taken back
	DoCrew   Do = "crew"   // Names are there
	DoSeat   Do = "seat"   // the post Topic, called Path, is for Value, on the phone of the member Second
	DoUnseat Do = "unseat" // the crew has no post Topic any more
	DoTake   Do = "take"   // whoever has the post Topic takes it on
	DoSecond Do = "second" // Names looked at the check Topic as well and say Value
	DoPart   Do = "part"   // of the check Topic it is said in the words Value that it is so in part, or not yet
	DoQuick  Do = "quick"  // the check Topic was answered sooner than anybody can look, and asked back about
	DoQuery  Do = "query"  // Value is asked of the member Path, or through them of Second, who has no phone
	DoReply  Do = "reply"  // Value is the answer to the question with the number Path
	DoRemind Do = "remind" // what stands to be answered in the chat Path was said again
	DoDiffer Do = "differ" // whoever speaks tells the sheet's Path to be Value, known as Reason says, where Was stands, known as Second says
	DoAgree  Do = "agree"  // the lead has said that the sheet's Path is Value
	DoCard   Do = "card"   // the card with the digest Value was handed to Path

	DoUnread  Do = "unread"  // Value, written by whoever speaks at the place Topic, was not read
	DoQuote   Do = "quote"   // what was not read there, of the number Path, is put to whoever speaks before the answer Value counts
	DoUnquote Do = "unquote" // whoever speaks says that nothing is wrong with it; with a Value, that something is

	DoStage    Do = "stage"    // Cue takes the pull on
	DoRelease  Do = "release"  // the hold point Value is released, and Cue takes the pull on
	DoAnew     Do = "anew"     // the hold point that the pull stands at gets another number: what was confirmed counts no more
	DoSure     Do = "sure"     // the duty Path of the hold point Value is confirmed by Names, as Reason says
	DoDoubt    Do = "doubt"    // the same is not so
	DoWithhold Do = "withhold" // whoever speaks keeps the hold point Value from being released, for Reason where they say it
	DoLift     Do = "lift"     // and does so no more
	DoFault    Do = "fault"    // whoever speaks tells of a thing, in the words Value, that nothing is pulled with
	DoMended   Do = "mended"   // whoever speaks has looked at what Path told of: it is put right
	DoQuiet    Do = "quiet"    // it was told that nobody answers at the hold point Value
	DoDrill    Do = "drill"    // the lead calls the stop drill
	DoReport   Do = "report"   // Path was seen during the pull, Value in whose words
	DoUnreport Do = "unreport" // the report of the place Path is taken back by whoever told it, in the words Value
	DoSlack    Do = "slack"    // the holding line's slack is Value
	DoAgain    Do = "again"    // Topic is to be asked again, because of Reason
	DoFresh    Do = "fresh"    // what time could have changed was asked again
	DoCause    Do = "cause"    // Value is what the stop was for, a cause or words
	DoDebrief  Do = "debrief"  // Value is the answer to the part Path of the debrief
)

// How says where a value is from.
type How string

// The ways.
const (
	Told    How = "told"    // in the person's words
	Pressed How = "pressed" // by a button
	Skipped How = "skipped" // not known: the value is ours, and on the safe side
	FromKit How = "kit"     // from a saved kit that was looked over
)

func (e Entry) encode() ([]byte, error) {
	e.Version = entryVersion
	b, err := json.Marshal(e)
	if err != nil {
		return nil, fmt.Errorf("encode entry: %w", err)
	}
	return b, nil
}

// DecodeEntry reads an entry of a job's stream.
func DecodeEntry(body []byte) (Entry, error) {
	var e Entry
	if err := json.Unmarshal(body, &e); err != nil {
		return Entry{}, fmt.Errorf("decode entry: %w", err)
	}
	if e.Version < 1 || e.Version > entryVersion {
		return Entry{}, fmt.Errorf("decode entry: version %d is not one this release reads", e.Version)
	}
	if _, err := time.Parse(time.RFC3339, e.At); err != nil {
		return Entry{}, fmt.Errorf("decode entry: time: %w", err)
	}
	return e, nil
}

// Head is the summary of a job, for a list of jobs.
type Head struct {
	Version  int      `json:"v"`
	Code     string   `json:"code"`
	State    State    `json:"state"`
	Decision string   `json:"decision,omitempty"`
	Load     string   `json:"load,omitempty"` // what it weighs, as it was said
	Lead     string   `json:"lead,omitempty"` // who began it
	Began    string   `json:"began"`
	Last     string   `json:"last"`
	Chat     string   `json:"chat,omitempty"`   // of the lead
	Wake     string   `json:"wake,omitempty"`   // when it wants a turn though nobody speaks, RFC 3339
	N        uint64   `json:"n,omitempty"`      // of the last entry
	Chain    string   `json:"chain,omitempty"`  // after the last entry, see Link
	Words    string   `json:"words,omitempty"`  // last heard
	People   []string `json:"people,omitempty"` // who took part, by name
	Place    string   `json:"place,omitempty"`  // where it is, as it was told
	Lesson   string   `json:"lesson,omitempty"` // the crew's line for the next one
}

// DecodeHead reads a job's summary.
func DecodeHead(body []byte) (Head, error) {
	var h Head
	if err := json.Unmarshal(body, &h); err != nil {
		return Head{}, fmt.Errorf("decode head: %w", err)
	}
	return h, nil
}
