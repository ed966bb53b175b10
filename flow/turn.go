package flow

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"time"

	"linetender/calc"
	"linetender/calc/unit"
	"linetender/flow/wording"
)

// A turn works on one input. What it does to the job goes through act and
// fire, so that replaying its entry does the same.
type turn struct {
	e     *Engine
	log   Log // to look at, where there is one
	in    Input
	chat  *chatState
	s     *Session // nil while the chat has no job
	left  *Session // that who speaks was in, and others work on
	last  *Session // the job that the chat was in before, once it was looked for
	began Spot     // where the job was when the turn began

	stood0    stood0            // what hold or list stood before
	manning0  map[string]string // who held the posts of a tight line before
	hurt0     bool              // whether who speaks was hurt then
	manned0   string            // of this job
	moved0    bool              // whether it moved then, or was about to
	entry     Entry             // of the job
	kept      []Act             // of the chat
	*mail                       // what is said in the chat that is spoken to now
	mails     []*mail
	silent    bool     // nothing was said on purpose
	before    []Write  // of a job that the chat has left in this turn
	over      []Settle // buttons of that job
	extra     []Write  // of streams beside the job and the chat
	said      string   // what the button said that was pressed, where its label is not in the book
	planned   *calc.Plan
	kinds     map[[2]string]string // the words for kinds of pieces and anchors, by list and kind
	handed    handedTo             // when cards were last handed out
	asItStood *calc.Plan           // as it was before an answer was replaced in this turn
	lastRead  bool                 // it was
	known     bool                 // planned is up to date
	doubts    bool                 // an odd figure was read, and asked back about
	bettered  bool                 // a good part in the place of a refused one has its plain yes
	unmoved   bool                 // what was told to be bad was not made good by words
	passing   wording.Names        // gear that was counted in passing and not taken
	relisted  bool                 // gear is read out anew
	stamps    bool                 // a rating was told as more than before, and is asked again
	eyed      bool                 // somebody else is said to have looked, and that was taken
	looker    string               // who has looked at what was told to be bad, by their own phone
	lookText  string               // the message that names who has looked
	heldFor   bool                 // everybody holds for the words of this turn already
	isThere   bool                 // the load is where it was to come to: the figures of another bite can wait
	wayGone   wording.Names        // what was told of the way and went with an anchor or the way out; not said yet
	regiven   bool                 // an answer that waited for what was not read counts now
	oddCount  bool                 // rope and load did not go as the parts say
	givenUp   bool                 // who speaks goes from a post of a tight line, or hands it on
	retaken   bool                 // everybody is asked anew for the post that they have
	others    map[string]bool      // places of pieces that another one takes, with a point behind
	supposed  bool                 // it is only tried what would be
	meant1    bool                 // which piece was meant is answered, and nothing more
	adding    bool                 // what is told now is one piece more, whatever is there
	isMore    bool                 // that was the answer to which one it is
	echoed    bool                 // the words of this turn were only passed on
	read      []dangersRead        // what was read of danger
	err       error
}

// act does something to the job and keeps it in the entry.
func (t *turn) act(a Act) {
	if t.err != nil {
		return
	}
	if err := t.s.apply(a, t.entry); err != nil {
		t.err = err
		return
	}
	t.entry.Acts = append(t.entry.Acts, a)
	if a.Do == DoSet || a.Do == DoSign || a.Do == DoUnreport {
		t.known = false
	}
}

// fire moves the job on. Being there already is no event.
func (t *turn) fire(e Event) {
	if t.err != nil {
		return
	}
	for _, m := range moves() {
		if m.Event == e && m.To == t.s.State {
			return
		}
	}
	if t.s.Held["closing"] != "" {
		t.act(Act{Do: DoHold, Path: "closing"})
	}
	t.standFirst(e)
	t.act(Act{Do: DoMove, Event: e})
}

// plan reckons the job as it is known, once for each state of the sheet. Nil
// while weight, slope, ground or direction are missing.
func (t *turn) plan() *calc.Plan {
	if t.known {
		return t.planned
	}
	t.known, t.planned = true, nil
	p, ok := t.e.reckon(t.sheet())
	if !ok {
		return nil
	}
	p = t.keptRig(t.sheet(), p)
	t.planned, t.entry.Decided = p.plan, p.found
	return t.planned
}

// finding is what is kept of a plan.
func finding(p calc.Plan) *Finding {
	text, err := json.Marshal(p)
	if err != nil {
		// A plan is finite numbers and text; anything else is our bug.
		panic("flow: plan: " + err.Error())
	}
	sum := sha256.Sum256(text)
	return &Finding{Decision: string(p.Decision), Why: p.Why, Digest: hex.EncodeToString(sum[:8])}
}

// units returns the system in which the person thinks.
func (t *turn) units() unit.System {
	if t.s != nil && !t.s.Unsure {
		return t.s.Units
	}
	return t.chat.units
}

// finish makes the turn's messages complete and returns what is to be kept
// and sent.
func (t *turn) finish() (Turn, error) {
	if t.err != nil {
		return Turn{}, t.err
	}
	t.manned()
	t.rearranged()
	t.guard()
	t.keepsLeft()
	t.voids()
	t.spread()
	t.relieves()
	if t.err != nil {
		return Turn{}, t.err
	}
	out := Turn{Update: t.in.Update, Chat: t.in.Chat}
	for _, m := range t.driverFirst() {
		if err := t.post(m, &out); err != nil {
			return Turn{}, err
		}
	}
	out.Writes = append(out.Writes, t.before...)
	if t.s != nil {
		w, err := t.write()
		if err != nil {
			return Turn{}, err
		}
		out.Writes = append(out.Writes, w)
	}
	if len(t.kept) > 0 || t.s == nil {
		w, err := t.chat.write(t)
		if err != nil {
			return Turn{}, err
		}
		out.Writes = append(out.Writes, w)
	}
	out.Writes = append(out.Writes, t.extra...)
	return out, nil
}

// write returns the job's part of the turn.
func (t *turn) write() (Write, error) {
	t.entry.State, t.entry.Topic, t.entry.Prev = t.s.State, t.s.Topic, t.s.Chain
	t.entry.N = t.s.Last + 1
	t.entry.Who.Name = t.s.nameOf(t.entry.Who) // as the crew know them: the channel may have another name, or none
	body, err := t.entry.encode()
	if err != nil {
		return Write{}, err
	}
	h := t.head()
	t.s.Chain = Link(t.s.Chain, body)
	h.N, h.Chain = t.entry.N, t.s.Chain
	head, err := json.Marshal(h)
	if err != nil {
		return Write{}, fmt.Errorf("encode head: %w", err)
	}
	return Write{Stream: jobStream(t.s.Code), After: t.s.Last, Entries: [][]byte{body}, Head: head}, nil
}

func (t *turn) head() Head {
	h := Head{Version: entryVersion, Code: t.s.Code, State: t.s.State, Lead: t.s.Lead.Name, Began: t.s.Began, Last: t.entry.At}
	h.Chat, h.Wake, h.Words = t.s.leadChat(), t.wake(), wording.Plain(t.in.Text)
	if p := t.in.Place; p != nil {
		t.s.Pin = p.String()
	}
	h.Place = t.s.place()
	for _, m := range t.s.present() {
		h.People = append(h.People, m.Name)
	}
	h.Load, _ = t.s.Sheet.Get("load.mass")
	if f := t.s.outcome(cmp.Or(t.entry.Decided, t.s.Found)); f != nil {
		h.Decision = f.Decision
	}
	h.Lesson = t.s.Lesson()
	return h
}

func jobStream(code string) string  { return "job/" + code }
func chatStream(chat string) string { return "chat/" + chat }

// newEntry begins the record of a turn.
func newEntry(in Input) Entry {
	e := Entry{
		At: in.At.UTC().Format(time.RFC3339), Offset: in.Offset,
		Who: in.Person, Chat: in.Chat, Update: in.Update, Group: in.Group, Partial: in.Partial, Piped: in.Piped,
		Heard: Heard{Text: in.Text, Other: in.Other, Files: in.Files, Place: in.Place},
	}
	if in.Away {
		e.Heard.Other = otherAway
	}
	if in.Press != nil {
		e.Heard.Press = in.Press.Choice
	}
	return e
}
