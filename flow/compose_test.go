package flow_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"linetender/flow"
	"linetender/flow/script"
)

const answersDir = "testdata/answers"

// answers are what one person would say to each question, however the
// questions are ordered. A long conversation is composed from them, so that
// it need not be typed anew when the plan finds another question more telling.
//
//	# what the conversation protects
//	topic = answer            more lines for a topic are taken one after the other
//	~words in the question = answer
type answers struct {
	about  []string
	byKey  map[string][]string
	byWord [][2]string
}

func readAnswers(t *testing.T, path string) *answers {
	t.Helper()
	body, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	a := &answers{byKey: map[string][]string{}}
	for _, line := range strings.Split(string(body), "\n") {
		if about, ok := strings.CutPrefix(line, "# "); ok {
			a.about = append(a.about, about)
			continue
		}
		key, answer, ok := strings.Cut(line, " = ")
		switch {
		case !ok:
		case strings.HasPrefix(key, "~"):
			a.byWord = append(a.byWord, [2]string{key[1:], answer})
		default:
			a.byKey[key] = append(a.byKey[key], answer)
		}
	}
	return a
}

// next takes the answer to a question, if there is one left.
func (a *answers) next(question flow.Said) (string, bool) {
	topic := strings.TrimPrefix(question.Key, "ask.")
	if list := a.byKey[topic]; len(list) > 0 {
		a.byKey[topic] = list[1:]
		return list[0], true
	}
	for i, w := range a.byWord {
		if strings.Contains(question.Text, w[0]) {
			a.byWord = append(a.byWord[:i:i], a.byWord[i+1:]...)
			return w[1], true
		}
	}
	if topic == "check" {
		return "[yes]", true
	}
	return "", false
}

// mostSteps ends a conversation that goes round in circles.
const mostSteps = 200

// TestCompose writes the golden conversations that are composed from answers,
// and otherwise holds each to have one; TestGoldenConversations holds what
// they say.
func TestCompose(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(answersDir, "*.txt"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no answers in %s: %v", answersDir, err)
	}
	for _, f := range files {
		name := strings.TrimSuffix(filepath.Base(f), ".txt")
		golden := filepath.Join(talkDir, name+".txtar")
		if !flow.Rewrite() {
			if _, err := os.Stat(golden); err != nil {
				t.Errorf("%s has no conversation: %v", f, err)
			}
			continue
		}
		if err := os.WriteFile(golden, compose(t, readAnswers(t, f)).Format(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func compose(t *testing.T, a *answers) script.Script {
	t.Helper()
	c := newChair(t)
	s := script.Script{About: strings.Join(a.about, "\n")}
	said := "/start"
	for range mostSteps {
		var sent []flow.Message
		if label, ok := (script.Step{Input: said}).Press(); ok {
			if !hasButton(c.last, label) {
				return s // the end of what can be pressed
			}
			sent = c.press(label)
		} else {
			sent = c.say(said)
		}
		s.Steps = append(s.Steps, stepOf(said, sent))
		parts := sent[len(sent)-1].Parts
		answer, ok := a.next(parts[len(parts)-1])
		if !ok {
			return s
		}
		said = answer
	}
	return s
}

func hasButton(m flow.Message, label string) bool {
	for _, c := range m.Choices {
		if c.Label == label {
			return true
		}
	}
	return false
}

// stepOf writes down what was answered.
func stepOf(said string, sent []flow.Message) script.Step {
	now := script.Step{Input: said}
	for _, m := range sent {
		now.Said = append(now.Said, m.Parts...)
	}
	if len(sent) > 0 {
		for _, o := range sent[len(sent)-1].Choices {
			now.Label = append(now.Label, o.Label)
		}
	}
	return now
}
