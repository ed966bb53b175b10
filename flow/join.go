package flow

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// One job, many phones. The lead gets a code that is easy to read out, and
// whoever sends it from a chat of their own is in the job as what the code is
// for. Only its digest is kept. A code lets in any number, for half a day or
// until it is revoked; guessing is slowed like at the door.

// codeHours is how long a code lets people in.
const codeHours = 12 * time.Hour

// A Code is one that lets people into a job.
type Code struct {
	As As
	At string // when it was made
}

// joinEntry is the one entry of a code's stream: it leads from the digest to
// the job.
type joinEntry struct {
	Version int    `json:"v"`
	At      string `json:"at"`
	Job     string `json:"job"`
}

func joinStream(digest string) string { return "join/" + digest }

// codeWordsFor are the words by which a code is asked for.
var codeWordsFor = map[string]As{
	"crew code": AsCrew, "join code": AsCrew, "add a phone": AsCrew, "add phone": AsCrew, "phones": AsCrew,
	"coordinator code": AsCoordinator, "add coordinator": AsCoordinator, "add a coordinator": AsCoordinator,
	"observer code": AsObserver, "add observer": AsObserver, "add an observer": AsObserver,
}

// joinCode makes a code and says it. Its words are in no log.
func (t *turn) joinCode(as As) {
	if !t.isLead() && (t.me() == nil || t.me().As != AsCoordinator) {
		t.remark(wording.JoinNotLead, wording.Args{"Name": t.s.Lead.Name})
		return
	}
	code := t.e.newSecret()
	d := digest(code)
	t.act(Act{Do: DoCode, Path: string(as), Value: d})
	body, err := json.Marshal(joinEntry{Version: entryVersion, At: t.entry.At, Job: t.s.Code})
	if err != nil {
		t.err = fmt.Errorf("encode a code's entry: %w", err)
		return
	}
	t.extra = append(t.extra, Write{Stream: joinStream(d), Entries: [][]byte{body}})
	t.saySecret(wording.Key("codefor."+string(as)), wording.Args{"Secret": code})
	if t.in.Local && t.e.Command != nil {
		t.saySecret(wording.JoinCommand, wording.Args{"Text": t.e.Command(code)})
	}
	if t.e.Link != nil {
		if link := t.e.Link(code); link != "" {
			t.saySecret(wording.JoinLink, wording.Args{"Text": link})
		}
	}
	t.ask()
}

// revoke ends all codes of the job.
func (t *turn) revoke() {
	if !t.isLead() {
		t.remark(wording.JoinNotLead, wording.Args{"Name": t.s.Lead.Name})
		return
	}
	t.act(Act{Do: DoRevoke})
	t.remark(wording.JoinRevoked, nil)
}

// codeIn returns the code that a message is, whichever way it was sent: by
// itself, after join, or in the link that opens a chat. After a command, or
// written with its dashes after join, it is one though a word of it is wrong: it must not begin a job by itself.
func codeIn(text string) (string, bool) {
	low := strings.ToLower(strings.TrimSpace(text))
	meant := strings.HasPrefix(low, "/")
	for _, before := range []string{"/start", "/join", "join"} {
		if rest, ok := strings.CutPrefix(low, before); ok {
			low, meant = rest, meant || strings.Count(rest, "-") == 4 // "join the two ropes at 20" is none
			break
		}
	}
	code, ok := CodeFrom(low)
	if !ok || meant {
		return code, ok
	}
	for _, w := range strings.Split(code, "-")[:4] {
		if !slices.Contains(codeWords, w) {
			return "", false
		}
	}
	return code, true
}

// CodeFrom reads a code as people type one that was read out to them: four
// words and two digits, large or small, with blanks, dashes of any kind or
// other signs between and around them. Whether anybody made it is not asked.
func CodeFrom(text string) (string, bool) {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	if len(words) != 5 || len(words[4]) != 2 || strings.Trim(words[4], "0123456789") != "" {
		return "", false
	}
	for _, w := range words[:4] {
		if strings.ContainsFunc(w, func(r rune) bool { return !unicode.IsLetter(r) }) {
			return "", false
		}
	}
	return strings.Join(words, "-"), true
}

// joins answers a code that lets into a job. It returns nil when the code is
// none of those: the door may know it.
func (t *turn) joins(log Log, code string) (*Turn, error) {
	d := digest(code)
	var at joinEntry
	found := false
	err := log.Replay(joinStream(d), 0, func(_ uint64, body []byte) error {
		found = true
		return json.Unmarshal(body, &at)
	})
	if err != nil {
		return nil, &storageError{err}
	}
	if !found && !t.chat.front.in && !t.e.Anyone && !t.in.Local {
		return nil, nil // the door counts wrong codes of those who are not in
	}
	// A code, right or wrong, is no part of any log.
	t.in.Text, t.entry.Heard.Text = "", ""
	if t.wrongLately() >= wrongMost {
		t.say(wording.DoorShut, nil)
		return t.done()
	}
	if !found {
		return t.wrongCode()
	}
	s, err := t.e.load(log, at.Job)
	if err != nil {
		return nil, &storageError{err}
	}
	c, ok := s.Codes[d]
	ok = ok && t.since(c.At) <= codeHours
	if m := s.member(t.in.Person.ID); !ok && s.State != Closed && m != nil && !m.Gone && m.Chat == t.in.Chat && t.chat.job == s.Code {
		ok, c = true, Code{As: m.As, At: t.entry.At} // who is in needs no code
	}
	if !ok || s.State == Closed {
		return t.wrongCode()
	}
	if at, err := t.bound(log, s.Code); err != nil || at != nil {
		if err != nil {
			return nil, err
		}
		return t.stays(at)
	}
	t.s = s
	t.mail.partial = t.in.Partial
	t.enter(c.As)
	return t.done()
}

func (t *turn) wrongCode() (*Turn, error) {
	t.kept = append(t.kept, Act{Do: DoTry})
	t.say(wording.DoorWrong, nil)
	return t.done()
}

// enter takes whoever speaks into the job.
func (t *turn) enter(as As) {
	if m := t.me(); m != nil && !m.Gone && m.Chat == t.in.Chat && (as != AsCrew || !m.afar()) {
		t.backIn(*m)
		return
	}
	name := t.in.Person.Name
	if was := t.me(); was != nil && was.Name != "" { // who comes back goes by what they went by
		name = was.Name
	}
	m := Member{ID: t.in.Person.ID, Name: t.s.freeName(name, t.in.Person.ID), Chat: t.in.Chat, As: as}
	if t.s.alone() { // what the lead was asked last stays as it is
		t.act(Act{Do: DoWant, Path: t.s.leadChat(), Value: t.want(t.s.leadChat()).id})
	}
	t.act(Act{Do: DoJoin, Member: &m})
	t.kept = append(t.kept, Act{Do: DoEnter, Value: t.s.Code})
	if !t.chat.front.in {
		t.kept = append(t.kept, Act{Do: DoGuest, Value: t.s.Code})
	}
	t.stopOn()
	t.say(wording.Key("welcome."+string(as)), wording.Args{"Code": t.s.Code, "Name": m.Name})
	t.say(wording.JoinStop, nil)
	t.newcomer(m)
	t.vacates(m)
	for _, chat := range t.s.chats(AsLead, AsCoordinator) {
		if chat != t.in.Chat {
			t.inChat(chat, func() {
				t.say(wording.Key("told."+string(as)), wording.Args{"Name": m.Name})
			})
		}
	}
	t.ask()
}

// comesBack reports whether the input only opens a chat: a channel sends it for
// whoever comes back, so it is no word for the others.
func (t *turn) comesBack() bool {
	first, _, _ := strings.Cut(strings.TrimSpace(t.in.Text), " ")
	return t.in.Press == nil && strings.EqualFold(first, "/start")
}

// backIn tells somebody of the job who comes back where they are: a stop that
// is on first, then which job it is, what they are called there and their part.
func (t *turn) backIn(m Member) {
	t.stopOn()
	args := wording.Args{"Code": t.s.Code, "Name": m.Name}
	var parts wording.Names
	for _, s := range t.s.Seats {
		if s.Member == m.ID && s.Taken {
			parts = append(parts, t.role(s))
		}
	}
	switch {
	case t.isLead():
		t.say(wording.JoinBackLead, args)
	case len(parts) > 0:
		args["Names"] = parts
		t.say(wording.JoinBackPart, args)
	default:
		t.say(wording.JoinBack, args)
	}
	t.ask()
}

// callMe changes what somebody goes by.
func (t *turn) callMe(name string) {
	m := t.me()
	if m == nil || wording.Plain(name) == "" {
		t.miss("")
		return
	}
	if s := t.seatNamed(name); s != nil && t.s.phone(*s) == nil && t.s.seatOf(m.ID) == nil {
		t.isMe(*s)
		return
	}
	t.act(Act{Do: DoName, Path: m.ID, Value: t.ownName(t.s.freeName(name, m.ID), m.ID)})
	t.remark(wording.JoinNamed, wording.Args{"Name": t.me().Name})
}

// handOver gives the lead to somebody on the spot. Who is afar may only release
// a hold's veto and stop: the leader of a pull confirms what must be seen. Who
// comes to the spot joins as crew, and can lead then.
//
// Source: common practice; that a coordinator does not lead is the more careful
// reading of it.
func (t *turn) handOver(name string) {
	to := t.s.called(name)
	switch {
	case !t.isLead():
		t.remark(wording.JoinNotLead, wording.Args{"Name": t.s.Lead.Name})
	case to != nil && to.afar():
		t.remark(wording.JoinLeadAfar, wording.Args{"Name": to.Name})
	case to != nil && to.Away:
		t.remark(wording.SeatNotHere, wording.Args{"Name": to.Name})
	case to == nil || to.ID == t.in.Person.ID:
		t.remark(wording.JoinWho, wording.Args{"Names": t.names1(AsCrew)})
	case t.s.tight() && t.s.doer("leader") != nil:
		t.leadAsked1(*to)
	default:
		t.leadTo(*to)
	}
}

// takeLead gives the lead to whoever asks, when the lead has left or has been
// silent for long.
func (t *turn) takeLead() {
	m := t.me()
	if m == nil {
		t.remark(wording.RefuseNotHere, nil)
		return
	}
	if m.afar() {
		t.remark(wording.JoinLeadAfarYou, nil)
		return
	}
	if t.namedLead(*m) { // it is what they are asked
		t.takes(*t.s.doer("leader"))
		return
	}
	if t.isLead() {
		t.remark(wording.SeatTakenTwice, wording.Args{"Name": m.Name})
		return
	}
	was := t.s.member(t.s.Lead.ID)
	if was != nil && !was.Gone && !was.Away && t.s.State != Away && !t.leadElsewhere() && t.since(was.Heard) < leadSilence && !t.leadHurt() && !t.namedLead(*m) {
		t.remark(wording.JoinLeadThere, wording.Args{"Name": was.Name})
		return
	}
	if !t.wheelLeads(*m) {
		t.leadTo(*m)
	}
}

// namedLead reports whether somebody was named for the leader's part, and has not taken
// it on yet.
func (t *turn) namedLead(m Member) bool {
	s := t.s.doer("leader")
	return s != nil && s.Post.Does == "leader" && s.Member == m.ID && !s.Taken
}

// leadSilence is how long a lead must have been silent before somebody else
// may take over.
const leadSilence = 10 * time.Minute

func (t *turn) leadTo(m Member) {
	was, hurt := t.s.Lead.Name, t.leadHurt()
	t.act(Act{Do: DoLead, Value: m.ID})
	for _, chat := range t.s.chats() {
		t.inChat(chat, func() { t.say(wording.JoinNewLead, wording.Args{"Name": m.Name, "Was": was}) })
	}
	if !hurt { // else nobody gets the post of who takes over: it is named as empty once the stop is over
		t.leaderIs(m)
	}
	t.personChanged()
	t.onward()
	t.ask()
}

// gone takes somebody out of the job who says so.
func (t *turn) gone(m Member) {
	t.act(Act{Do: DoGone, Value: m.ID, Path: staysWithheld})
	if m.Chat == t.in.Chat && !t.in.Group {
		t.kept = append(t.kept, Act{Do: DoEnter})
	}
	t.say(wording.JoinLeft, wording.Args{"Code": t.s.Code})
	for _, chat := range t.s.chats() {
		if chat != t.in.Chat {
			t.inChat(chat, func() { t.say(wording.JoinGone, wording.Args{"Name": m.Name}) })
		}
	}
	t.stillWithheld(m)
	t.leftSeat(m)
	t.onward()
}

// names1 lists who is there as one of those.
func (t *turn) names1(as ...As) wording.Names {
	var out wording.Names
	for _, m := range t.s.present(as...) {
		out = append(out, m.Name)
	}
	return out
}

// aside takes what comes from a chat in which the questions of the job are not
// asked, and reports whether it did. A coordinator amends like the lead; what
// follows from it is asked of the lead.
func (t *turn) aside(text string, h hear.Heard) bool {
	m := t.me()
	if t.main() || m == nil {
		return false
	}
	if t.looksAt(text, h) {
		return true
	}
	if !t.s.alone() && m.As != AsObserver && saysFacts(h.Act) && t.differs(text, h) {
		return true
	}
	switch h.Act {
	case hear.SoFar, hear.Words, hear.Sum:
		return false
	case hear.Leave:
		t.gone(*m)
		return true
	case hear.New:
		t.remark(wording.JoinLeaveFirst, wording.Args{"Code": t.s.Code})
		return true
	case hear.Change:
		if m.As == AsCoordinator {
			return false
		}
	case hear.None:
		if m.As == AsCoordinator && len(h.Facts) > 0 {
			return false
		}
	case hear.Note:
		t.note(h.Object)
		t.remark(wording.ReadNoted, nil)
		return true
	}
	if h.Act == hear.None && t.hazardTold(text) {
		return true
	}
	if m.As == AsCrew && t.putRight(text) {
		return true
	}
	if t.answersQuery(text, true) {
		return true
	}
	if t.notHarmless(text, h) || t.whyWithheld(text) {
		return true
	}
	t.note(text)
	if m.As == AsObserver {
		t.remark(wording.JoinOnlySees, nil)
		return true
	}
	t.inChat(t.s.leadChat(), func() { t.say(wording.JoinSays, wording.Args{"Name": m.Name, "Text": wording.Plain(text)}) })
	t.remark(wording.JoinPassed, wording.Args{"Name": t.s.Lead.Name})
	return true
}
