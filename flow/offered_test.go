package flow_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"

	"linetender/flow"
)

// sentences are all of the book, by key.
func sentences(t *testing.T) map[string]string {
	t.Helper()
	var file map[string]map[string]any
	if _, err := toml.DecodeFile("wording/en.toml", &file); err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for section, messages := range file {
		for name, text := range messages {
			if s, ok := text.(string); ok {
				out[section+"."+name] = s
			}
		}
	}
	if len(out) < 500 {
		t.Fatalf("only %d sentences", len(out))
	}
	return out
}

// standing1 is a chair at a question of a job that is known throughout.
func standing1(t *testing.T, topic string, more ...[2]string) *chair {
	t.Helper()
	c := newChair(t)
	c.say("/start")
	turn, err := flow.StandAt(c.engine, c.log, c.input(), c.session().Code, topic, append(slices.Clone(knownJob), more...))
	if err != nil {
		t.Fatalf("%s: %v", topic, err)
	}
	if _, err := c.log.Commit(turn); err != nil {
		t.Fatal(err)
	}
	c.log.sent()
	return c
}

// refused returns the key of the paragraph that says that a message was not taken.
func refused(sent []flow.Message) string {
	for _, m := range sent {
		for _, p := range m.Parts {
			if strings.HasPrefix(p.Key, "refuse.") || slices.Contains([]string{"pull.no_change", "join.passed", "pull.wheel_unread", "pull.slack_unread", "stop.unclear"}, p.Key) {
				return p.Key
			}
		}
	}
	if len(sent) == 0 {
		return "silence"
	}
	return ""
}

// kindFor is what a piece must be for a question to be asked of it.
var kindFor = map[string][2]string{
	"anchors[].pattern": {"anchors[0].kind", "picket"}, "anchors[].soil": {"anchors[0].kind", "picket"}, "anchors[].mass": {"anchors[0].kind", "vehicle"},
	"anchors[].chocked": {"anchors[0].kind", "vehicle"}, "anchors[].braked": {"anchors[0].kind", "vehicle"}, "anchors[].in_line": {"anchors[0].kind", "vehicle"},
	"anchors[].ground": {"anchors[0].kind", "vehicle"}, "anchors[].slope": {"anchors[0].kind", "vehicle"}, "anchors[].rating": {"anchors[0].kind", "rated"},
	"anchors[].rating_kind": {"anchors[0].kind", "rated"}, "anchors[].length": {"anchors[0].kind", "deadman"}, "anchors[].depth": {"anchors[0].kind", "deadman"},
	"anchors[].strap_held": {"anchors[0].kind", "stump"}, "anchors[].tied_with": {"anchors[0].tied_back", "true"}, "gear[].sling_angle": {"gear[0].kind", "sling"}, "gear[].side_angle": {"gear[0].kind", "shackle"},
	"gear[].sling_hitch": {"gear[0].kind", "sling"},
	"puller.rating":      {"puller.kind", "winch"}, "puller.rating_kind": {"puller.kind", "winch"}, "puller.winch_layer": {"puller.kind", "winch"}, "puller.drum": {"puller.kind", "winch"}, "puller.people": {"puller.kind", "people"},
	"puller.capstan": {"puller.kind", "hand-winch"},
	"wheel_radius":   {"load.lip.height", "12 cm"}, "kit_check": {"crew", "4"},
}

// elsewhere are questions that need more than a sheet to be asked: what.
var elsewhere = map[string]string{
	"ton": "a ton told", "kit_check": "a kit", "kit_name": "gear to keep", "names": "a crew", "second_look": "a crew",
	"sign_name": "a failed check", "sign_second": "a failed check", "sign_reason": "a failed check", "sign_word": "a failed check",
	"level_gap": "the level's length", "board_rise": "the board's length", "which": "answers to choose from",
}

var alternatives = regexp.MustCompile(`, or:? `)

// TestExamplesAreRead: what a question gives as an example of an answer is taken
// as one, each of its alternatives.
func TestExamplesAreRead(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	book, tried := sentences(t), 0
	for _, name := range flow.TopicNames() {
		if elsewhere[name] != "" {
			continue
		}
		like := "like." + strings.ReplaceAll(strings.ReplaceAll(name, "[]", ""), ".", "_")
		example := book[like]
		if example == "" {
			t.Errorf("%s has no example", name)
			continue
		}
		var more [][2]string
		if kv := kindFor[name]; kv[0] != "" {
			more = append(more, kv)
		}
		for _, one := range alternatives.Split(example, -1) {
			each := []string{one}
			if name == "slope" && strings.Contains(one, "%") {
				each = strings.Split(one, ", ")
			}
			for _, answer := range each {
				c := standing1(t, strings.ReplaceAll(name, "[]", "[0]"), more...)
				before := len(flat(t, c.session().Sheet))
				sent := c.say(answer)
				tried++
				if k := refused(sent); k != "" {
					t.Errorf("at %s, its example %q is answered %s:\n%s", name, answer, k, textOf(sent))
				}
				s := c.session()
				if at := strings.ReplaceAll(name, "[]", "[0]"); s.Topic == at && len(flat(t, s.Sheet)) == before {
					t.Errorf("at %s, its example %q changes nothing:\n%s", name, answer, textOf(sent))
				}
			}
		}
	}
	if tried < 70 {
		t.Errorf("only %d examples were tried", tried)
	}
}

// offers are the literal commands that a sentence tells people to write.
var offers = regexp.MustCompile(`(?:[Ff]or instance:? |[Ww]rite:? (?:for instance:? )?)([a-zA-Z0-9](?:[^{}.:;]|[.][0-9])*?)(?:[.](?:\s|$)|[:;)]|, (?:then|or|which|and)\b| to begin\b| to get\b| again\b| for all of it\b|$)`)

// TestOffersWork: each command that a sentence offers is taken where the
// sentence is said.
func TestOffersWork(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	book, tried := sentences(t), 0
	for _, key := range slices.Sorted(mapKeys(book)) {
		section, name, _ := strings.Cut(key, ".")
		if slices.Contains([]string{"like", "name", "choice"}, section) {
			continue
		}
		for _, m := range offers.FindAllStringSubmatch(book[key], -1) {
			offer := strings.TrimSpace(m[1])
			if offer == "" || offer == "it" || strings.HasPrefix(offer, "it ") { // what is to be written, and no command
				continue
			}
			if notTyped[key] != "" || len(madeOf[key]) > 0 {
				continue
			}
			tried++
			if k, text := sayAt(t, placeOf(section, name), offer); k != "" {
				t.Errorf("%s offers %q, which is answered %s:\n%s", key, offer, k, text)
			}
		}
	}
	for _, key := range slices.Sorted(mapKeys(madeOf)) {
		section, name, _ := strings.Cut(key, ".")
		if book[key] == "" {
			t.Errorf("there is no sentence %s", key)
		}
		for _, offer := range madeOf[key] {
			tried++
			if k, text := sayAt(t, placeOf(section, name), offer); k != "" {
				t.Errorf("%s offers %q, which is answered %s:\n%s", key, offer, k, text)
			}
		}
	}
	for key := range notTyped {
		if book[key] == "" {
			t.Errorf("there is no sentence %s", key)
		}
	}
	if tried < 40 {
		t.Errorf("only %d offers were tried", tried)
	}
}

func mapKeys[V any](m map[string]V) func(func(string) bool) {
	return func(yield func(string) bool) {
		for k := range m {
			if !yield(k) {
				return
			}
		}
	}
}

// notTyped are sentences whose words after write are no command by themselves, or
// are said where neither a sheet nor a pull is enough to stand: where that is.
var notTyped = map[string]string{
	"pull.fault_named": "with a defect told", "pull.goes_past": "where the load has arrived, in which TestNoBitePastTheArrival writes it", "pull.gives_up": "where the pull is given up, in which TestSecuringIsAlwaysThere writes it",
	"stop.secure": "a pull, in which TestSecuringIsAlwaysThere writes it",
	"open.words":  "no command", "ask.closed": "in a closed job", "open.broken": "in a job that can't be read", "open.unknown": "in a job that can't be read",
	"refuse.no_job": "in no job", "door.not_in": "in no job", "door.owner": "to the owner", "join.leave_first": "to a crew", "join.lead_there": "with a name",
	"join.outside": "after leaving", "join.outside_here": "after leaving", "join.outside_new": "after leaving", "join.outside_near": "after leaving", "welcome.crew": "with a name", "differ.look": "between two answers", "differ.how_known": "between two answers",
	"checks.failed_sign": "with an item that failed", "checks.put_right": "with an item that failed", "plan.seen_bad": "with an item that failed", "debrief.close": "on paper", "debrief.closing": "in looking back",
	"debrief.gear": "in looking back", "debrief.warned": "in looking back", "drill.done": "whatever it was", "drill.unclear": "in a drill", "pull.lay_none": "after a try that was stuck", "drill.done_winch": "whatever it was", "drill.done_hand_winch": "whatever it was", "drill.done_people": "whatever it was", "forget.ask": "after forget me", "forget.group": "after forget me",
	"debrief.which_piece": "in looking back", "debrief.no_piece": "in looking back", "pull.missing": "with a piece missing, in which TestGearOff writes it",
	"how.gear": "is the example of gear", "how.puller": "is the example of the puller", "how.cwt": "with a hundredweight told", "how.ton": "with a ton told", "how.names": "at the names", "how.lip": "is the example of lip",
	"pull.which_hold": "made of arguments", "checks.no_kept": "only by who said no", "stop.whose_mistake": "what it was, in their words", "refuse.file": "made of arguments", "refuse.file_aside": "no command", "refuse.misses": "made of arguments",
	"refuse.voice": "made of arguments", "refuse.odd": "after an odd figure", "refuse.too_long": "no command", "refuse.trouble": "no command",
	"seat.sure": "at a part", "stop.unclear": "in a stop", "stop.unclear_other": "in a stop", "stop.caller_mistaken": "in a stop", "stop.nobody": "in no job",
	"refuse.hearsay": "at a rating", "refuse.towing_weight": "at a rating", "refuse.tied_to": "at a tie-back", "refuse.tied_unsound": "at a tie-back", "refuse.take_back": "with a hazard told", "signer.reason": "at a signature",
}

// madeOf are offers that the sentence alone does not show, each with what is
// typed: the words after write go on, or a value belongs to them.
var madeOf = map[string][]string{
	"ask.referred": {"change weight 12 t, Gary checked it", "change hazards none, Gary checked it", "so far"}, "pull.referred": {"secure it here"}, "pull.no_change": {"change", "change ground wet grass"}, "refuse.edited": {"change", "change weight"},
	"pull.what_seen": {"took in 4 m, moved 1.9 m"}, "refuse.told_before": {"change weight", "change slope", "change puller's slope", "change tow point rating"},
	"seat.empty": {"Bo is lookout"}, "seat.unknown": {"change people 5"}, "plan.without": {"without the block", "without shackle"},
	"refuse.how_far": {"reach 25 m", "holding reach 25 m"}, "read.unfound": {"change weight 3.0 t weighed", "change slope 16 deg by level", "change side slope 6 deg by level"}, "read.relisted": {"without rope 1"},
}

// placeOf is where a sentence is said: a question, the verdict or a pull.
func placeOf(section, name string) string {
	switch section {
	case "pull":
		if slices.Contains([]string{"open", "unsigned", "nobody", "no_go"}, name) {
			return "" // what keeps a pull from beginning
		}
		return "pull"
	case "remind", "seat", "sure", "slack", "crew", "item":
		return "pull"
	case "how", "why", "ask":
		for _, topic := range flow.TopicNames() {
			if strings.ReplaceAll(strings.ReplaceAll(topic, "[]", ""), ".", "_") == name && elsewhere[topic] == "" {
				return topic
			}
		}
	}
	return ""
}

func sayAt(t *testing.T, place, text string) (key, said1 string) {
	t.Helper()
	switch place {
	case "pull":
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.Held)
		sent := p.say("Ada", text)["test/Ada"]
		return refused(sent), textOf(sent)
	case "":
		c := standing1(t, "")
		sent := c.say(text)
		return refused(sent), textOf(sent)
	default:
		var more [][2]string
		if kv := kindFor[place]; kv[0] != "" {
			more = append(more, kv)
		}
		c := standing1(t, strings.ReplaceAll(place, "[]", "[0]"), more...)
		sent := c.say(text)
		return refused(sent), textOf(sent)
	}
}
