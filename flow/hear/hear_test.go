package hear

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"linetender/calc/job"
)

// row is one block of testdata/phrases.txt.
type row struct {
	topic Topic
	text  string
	want  string
}

func rows(t testing.TB) []row {
	t.Helper()
	text, err := os.ReadFile("testdata/phrases.txt")
	if err != nil {
		t.Fatal(err)
	}
	var out []row
	for _, block := range strings.Split(string(text), "\n\n") {
		head, want, _ := strings.Cut(strings.TrimSpace(block), "\n")
		head, ok := strings.CutPrefix(head, "> ")
		if !ok {
			continue
		}
		topic, said, ok := strings.Cut(head, "|")
		if !ok {
			t.Fatalf("no topic before %q", head)
		}
		out = append(out, row{Topic(strings.TrimSpace(topic)), strings.TrimSpace(said), strings.TrimSpace(want)})
	}
	if len(out) < 150 {
		t.Fatalf("only %d phrases", len(out))
	}
	return out
}

// show writes what was heard, a line a thing.
func show(h Heard) string {
	var b strings.Builder
	if h.Act != None {
		b.WriteString(strings.TrimSpace(fmt.Sprintf("act: %s %s", h.Act, h.Object)) + "\n")
	}
	for _, f := range h.Facts {
		fmt.Fprintf(&b, "%s: %s", f.Field, f.Value)
		if f.Vague {
			b.WriteString(" !")
		}
		if f.Guess {
			b.WriteString(" ?")
		}
		b.WriteString("\n")
	}
	if len(h.Cleared) > 0 {
		fmt.Fprintf(&b, "cleared: %s\n", strings.Join(h.Cleared, ", "))
	}
	if h.Lives {
		b.WriteString("lives: true\n")
	}
	if h.Rest != "" {
		fmt.Fprintf(&b, "rest: %s\n", h.Rest)
	}
	return b.String()
}

func TestPhrases(t *testing.T) {
	for _, r := range rows(t) {
		if got := strings.TrimSpace(show(Listen(r.text, r.topic))); got != r.want {
			t.Errorf("after %q, %q says\n%s\nwant\n%s", r.topic, r.text, got, r.want)
		}
	}
}

var index = regexp.MustCompile(`\[\+?\d+\]`)

// fill writes facts to a sheet and reads it. What Case must have and the facts
// do not tell is there already.
func fill(facts []Fact) error {
	s := job.Sheet{Load: job.LoadSheet{Mass: "1 t", Slope: "1 deg", Pull: "level", Ground: "gravel"}}
	for _, f := range facts {
		field := index.ReplaceAllString(f.Field, "[0]")
		switch field { // each is a piece by itself: a rope has a knot, and the block told after it none
		case "gear[0].kind":
			s.Gear = nil
		case "anchors[0].kind":
			s.Anchors = nil
		}
		if len(s.Gear) == 0 && strings.HasPrefix(field, "gear") {
			kind := map[string]string{"gear[0].sling_angle": "sling", "gear[0].side_angle": "shackle"}[field]
			s.Gear = []job.GearSheet{{Kind: cmp.Or(kind, "rope")}}
		}
		if len(s.Anchors) == 0 && strings.HasPrefix(field, "anchors") {
			s.Anchors = []job.AnchorSheet{{Kind: "tree"}}
		}
		if strings.HasPrefix(field, "load.lip.") && s.Load.Lip == (job.LipSheet{}) {
			s.Load.Lip = job.LipSheet{Height: "1 cm", WheelRadius: "40 cm"}
		}
		if err := s.Set(field, f.Value); err != nil {
			return fmt.Errorf("%s = %q: %w", f.Field, f.Value, err)
		}
		if _, err := s.Case(); err != nil {
			return fmt.Errorf("%s = %q: %w", f.Field, f.Value, err)
		}
	}
	return nil
}

// contract returns what is wrong with what was heard, whatever was said.
func contract(text string, topic Topic) error {
	h := Listen(text, topic)
	seen := map[string]bool{}
	for _, f := range h.Facts {
		if seen[f.Field] {
			return fmt.Errorf("%s twice", f.Field)
		}
		seen[f.Field] = true
		if i := strings.Index(f.Field, "[+"); i >= 0 && !slices.ContainsFunc(h.Facts, func(k Fact) bool {
			return k.Field == f.Field[:strings.Index(f.Field, "]")+1]+".kind"
		}) {
			return fmt.Errorf("%s belongs to no piece with a kind", f.Field)
		}
	}
	if (h.Act == Stop) != Stops(text) {
		return errors.New("a stop is heard in two ways")
	}
	if h.Act == Stop && (len(h.Facts) > 0 || h.Rest != "") {
		return errors.New("more than a stop was heard")
	}
	if again := Listen(text, topic); !reflect.DeepEqual(again, h) {
		return errors.New("it is heard in two ways")
	}
	return fill(h.Facts)
}

func TestFactsFitTheSheet(t *testing.T) {
	for _, r := range rows(t) {
		for _, topic := range []Topic{r.topic, TopicNone, TopicPeople, TopicMass, TopicPuller, TopicGear, TopicRope, TopicAnchor, "gear[2].rating"} {
			if err := contract(r.text, topic); err != nil {
				t.Errorf("%q after %q: %v", r.text, topic, err)
			}
		}
	}
}

// TestWordsThatBrokeIt: texts that were drawn once and broke the reading.
func TestWordsThatBrokeIt(t *testing.T) {
	for _, text := range []string{"bull bar 2 wheel drive"} {
		for _, topic := range []Topic{TopicNone, TopicMass, TopicTowPoint, TopicPuller} {
			if err := contract(text, topic); err != nil {
				t.Errorf("%q after %q: %v", text, topic, err)
			}
		}
	}
}

// words that people put together, to try what nobody thought of.
func vocabularyWords() []string {
	var out []string
	for _, list := range talk {
		for _, p := range list {
			out = append(out, strings.Join(p.words, " "))
		}
	}
	for _, list := range acts {
		for _, p := range list {
			out = append(out, strings.Join(p.words, " "))
		}
	}
	slices.Sort(out)
	return append(out, "2.4 t", "3 ton", "5200 lb", "12", "1/2\"", "24mm", "60m", "14 deg", "25 %", "3 in 10", "22 kN", ".", ",", "?", "0 kg",
		"900 t", "1,5", "3-2-1", "\n", "!", "-", "(", "¾", "six", "w/", "&", "4x4", "89.5 deg", "2 to 3 t", "0 m", "level 48 in, gap 9 in")
}

func TestAnyWordsKeepTheContract(t *testing.T) {
	said := vocabularyWords()
	topics := []Topic{TopicNone, TopicPeople, TopicMass, TopicLevel, TopicBoard, TopicGround, TopicLip, TopicTowPoint, TopicPuller, TopicHitch,
		TopicAnchor, TopicDistance, TopicRope, TopicGear, TopicCrew, TopicCheck, "gear[1].knots", "anchors[0].diameter", TonOf("load.mass"), TonOf("gear[0].rating")}
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfN(rapid.SampledFrom(said), 0, 14).Draw(t, "words")
		text := strings.Join(words, " ")
		topic := rapid.SampledFrom(topics).Draw(t, "topic")
		if err := contract(text, topic); err != nil {
			t.Fatalf("%q after %q: %v", text, topic, err)
		}
	})
}

func TestStopWins(t *testing.T) {
	stops := []string{"STOP", "stop!!", "plz stop", "Stop.", "stpo", "sotp", "stoop", "stopp", "s t o p", "S.T.O.P", "halt", "HALT!", "st0p",
		"stooop", "stopstop", "ＳＴＯＰ", "/stop", "stop please"}
	all := rows(t)
	for _, r := range all {
		for _, stop := range stops {
			for _, text := range []string{stop + " " + r.text, r.text + " " + stop, r.text + "\n" + stop, r.text + ". " + stop + ", " + r.text} {
				if h := Listen(text, r.topic); !reflect.DeepEqual(h, Heard{Act: Stop}) {
					t.Fatalf("%q is heard as %+v", text, h)
				}
			}
		}
	}
	for _, text := range []string{"asphalt", "tractor's top link", "a step in front", "stopcock is shut", "the top of the slope", "spot on", "bits to pull", "post"} {
		if h := Listen(text, TopicNone); h.Act == Stop {
			t.Errorf("%q is heard as a stop", text)
		}
	}
}

// pieces writes facts so that the numbers of pieces and what was said do not count.
func pieces(h Heard) string {
	byPiece := map[string][]string{}
	var out []string
	for _, f := range h.Facts {
		line := fmt.Sprint(f.Field, "=", f.Value, f.Vague, f.Guess)
		if i := strings.Index(f.Field, "]"); i >= 0 {
			item := f.Field[:i]
			byPiece[item] = append(byPiece[item], index.ReplaceAllString(line, "[]"))
			continue
		}
		out = append(out, line)
	}
	for _, lines := range byPiece {
		out = append(out, strings.Join(lines, "\n"))
	}
	slices.Sort(out)
	return strings.Join(out, "\n")
}

func TestOrderOfSentencesDoesNotMatter(t *testing.T) {
	for _, c := range []struct {
		topic Topic
		text  string
	}{
		{TopicNone, "pickup + trailer bout 2.4 ton w/ the trailer, off the lane nose up. 3 in 10 on the level. wet clover. wheels turn fine"},
		{TopicAnchor, "24mm polyester 60m tag says WLL 2.2t. block 3t, two shackles 3.25, tow eye 3t in the book. oak 20 inch, alive and sound. must come 12 m, lane is straight 40m. 4 of us"},
		{TopicNone, "6600 lb box truck, 1 in 4 grass bank. got the lawn tractor 1150 lbs w/ me on it. 2 pulleys"},
		{TopicNone, "7200 lb skid steer. 15 deg wet grass. loader 11000 lb on hard dirt. two 2000 lb round slings side by side"},
		{TopicNone, "2600kg 4x4 in to the hubs, diff sat on the middle. mud. 6 degrees out. 4t tractor on hard ground"},
		{TopicNone, "3.2 t camper on 10 degree meadow dry. Rope 16mm PP tag break 3.6t. tractor 4.5t"},
		{TopicPeople, "nobody in it. no wires. diesel leaking. no traffic"},
		{TopicGround, "mud. axle deep. two wheels locked. belly is clear"},
		{TopicMass, "2.4 t. wet grass. 1 in 5"},
		{TopicGear, "rope 60 m 24 mm. chain 10 mm no tag. two blocks 3 t. 4.75 t shackle WLL"},
	} {
		sentences := strings.Split(c.text, ". ")
		want := pieces(Listen(c.text, c.topic))
		if want == "" {
			t.Errorf("%q says nothing", c.text)
		}
		permute(sentences, 0, func(order []string) {
			text := strings.Join(order, ". ")
			if got := pieces(Listen(text, c.topic)); got != want {
				t.Errorf("%q says\n%s\nbut %q says\n%s", c.text, want, text, got)
			}
		})
	}
}

func permute(list []string, from int, visit func([]string)) {
	if from == len(list) {
		visit(list)
		return
	}
	for i := from; i < len(list); i++ {
		list[from], list[i] = list[i], list[from]
		permute(list, from+1, visit)
		list[from], list[i] = list[i], list[from]
	}
}

// A hazard that was said is never lost beside something else that was said.
func TestHazardOutweighsTheRest(t *testing.T) {
	for said, want := range map[string]string{
		"driver still in it": "people-inside", "wires overhead": "overhead-line", "leaks diesel": "fuel", "it's on its side": "overturned",
		"cars coming past": "traffic", "hanging over the edge": "edge", "water over the hubs": "water", "load is placarded": "hazmat",
		"battery is smoking": "fuel", "someone is hurt": "people-inside",
	} {
		for _, also := range []string{"nope all clear", "no", "none of those", "everyone's out", "3 t", "on its wheels"} {
			for _, text := range []string{said + ". " + also, also + ". " + said, also + ", but " + said} {
				h := Listen(text, TopicPeople)
				i := slices.IndexFunc(h.Facts, func(f Fact) bool { return f.Field == "hazards" })
				if i < 0 || !strings.Contains(h.Facts[i].Value, want) {
					t.Errorf("%q: want %s, heard %s", text, want, show(h))
				}
			}
		}
	}
}

// What is unsure, denied or asked is never the favourable fact.
func TestDoubtIsNoFact(t *testing.T) {
	for _, c := range []struct {
		topic Topic
		text  string
		field string
	}{
		{TopicWheels, "i think they turn", "load.locked"}, {TopicWheels, "should be free", "load.locked"}, {TopicWheels, "do the wheels turn?", "load.locked"},
		{TopicWheels, "maybe all free", "load.locked"}, {TopicBelly, "belly clear i think", "load.belly"}, {TopicAnchor, "the oak is probably alive and sound", "anchors[+1].alive"},
		{TopicRope, "16 mm rope, should be in good condition", "gear[+1].condition"}, {TopicSunk, "not sunk i think", "load.sunk"},
		{TopicPeople, "probably all clear", "hazards"}, {TopicPeople, "all clear?", "hazards"}, {TopicPeople, "not sure, all clear i guess", "hazards"},
		{"gear[0].rating", "2 t, working i think", "gear[0].rating_kind"}, {TopicRope, "rope 3 t", "gear[+1].rating_kind"},
		{TopicRope, "rope breaks at 3 t", "gear[+1].mass"}, {TopicMass, "wll 3 t", "load.mass"}, {TopicMass, "breaking 3 t", "load.mass"},
		{TopicGround, "would be firm if dry", "load.ground"}, {TopicLip, "no step i think", "load.lip"},
	} {
		for _, f := range Listen(c.text, c.topic).Facts {
			if f.Field == c.field {
				t.Errorf("after %q, %q is heard as %s = %s", c.topic, c.text, f.Field, f.Value)
			}
		}
	}
}

func TestLongMessagesAreCut(t *testing.T) {
	long := strings.Repeat("wet grass and a 2.4 t van on 14 deg, ", 5000)
	if err := contract(long, TopicNone); err != nil {
		t.Fatal(err)
	}
	h := Listen(long, TopicNone)
	if len(h.Rest) < len(long)-longest {
		t.Errorf("%d bytes of %d are left over", len(h.Rest), len(long))
	}
}

func FuzzListen(f *testing.F) {
	for _, r := range rows(f) {
		f.Add(r.text, string(r.topic))
	}
	for _, odd := range []string{"", "\x00", "\xff\xfe", "½½½", "....", "a/b/c", "''", `"`, "1in1in1in1", strings.Repeat("3 t ", 300)} {
		f.Add(odd, "people")
	}
	f.Fuzz(func(t *testing.T, text, topic string) {
		if err := contract(text, Topic(topic)); err != nil {
			t.Fatalf("%q after %q: %v", text, topic, err)
		}
	})
}

// TestAFlawIsNobody: what has a crack in it has nobody in it, whoever tells.
func TestAFlawIsNobody(t *testing.T) {
	for _, text := range []string{"the eye has a crack in it i think", "i saw a crack in it", "there is a nick in it i think", "shackle has a bend in it, i reckon"} {
		for _, f := range Listen(text, TopicNone).Facts {
			if f.Field == "hazards" {
				t.Errorf("%q is heard as %s", text, f.Value)
			}
		}
	}
	for _, text := range []string{"i am still in it", "theres someone in it", "i think somebody is in it"} {
		if h := Listen(text, TopicNone); len(h.Facts) != 1 || h.Facts[0].Value != "people-inside" {
			t.Errorf("%q is heard as %+v", text, h.Facts)
		}
	}
}
