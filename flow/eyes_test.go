package flow_test

import (
	"path/filepath"
	"strings"
	"testing"

	"linetender/flow"
	"linetender/flow/script"
)

// onePhone plays a golden job on one phone up to the question for names and
// gives these, then yes to whatever is on the list, up to the question key.
func onePhone(t *testing.T, names, key string) (*chair, []flow.Message) {
	t.Helper()
	scripts, err := script.Folder(talkDir)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range scripts {
		if s.Name != "s01-go-two-parts" {
			continue
		}
		c := newChair(t)
		var sent []flow.Message
		for _, st := range s.Steps {
			input := st.Input
			if asks(sent, "ask.names") {
				input = names
			}
			if label, ok := st.Press(); ok {
				sent = c.press(label)
			} else {
				sent = c.say(input)
			}
			if asks(sent, key) {
				return c, sent
			}
		}
		t.Fatalf("nobody was asked %s", key)
	}
	t.Fatalf("no such conversation in %s", filepath.Clean(talkDir))
	return nil, nil
}

// asks reports whether the last of some messages says key.
func asks(sent []flow.Message, key string) bool {
	return len(sent) > 0 && strings.Contains(keysOf(sent), key)
}

func keysOf(sent []flow.Message) string {
	var b strings.Builder
	for _, m := range sent {
		for _, p := range m.Parts {
			b.WriteString(string(p.Key) + " ")
		}
	}
	return b.String()
}

// Whoever holds the only phone walks the list, under whatever name they told,
// and is not the second who looks.
func TestTheHolderIsNotTheSecond(t *testing.T) {
	flow.Lone(t)
	c, _ := onePhone(t, "Pete on the tractor, Jo thats me, Anna, old Bert", "ask.second_look")
	for _, no := range []string{"Jo", "jo.", "it's Jo", "Jo thats me", "me", "everybody did", "i think so", "why bother?", "no"} {
		if got := c.say(no); !asks(got, "ask.second_look") || asks(got, "eyes.noted") {
			t.Errorf("%q was taken for the second: %s", no, keysOf(got))
		}
	}
	if got := c.say("Anna went round"); !asks(got, "eyes.noted") {
		t.Errorf("Anna was not taken: %s", keysOf(got))
	}

	// Without a word of who it is, the first named has the phone.
	c, _ = onePhone(t, "Jo, Pete, Anna, Bert", "ask.second_look")
	if got := c.say("Jo"); asks(got, "eyes.noted") {
		t.Errorf("the first named was taken for the second: %s", keysOf(got))
	}
}

// Only a name is a signature; a sentence is read for what it says.
func TestOnlyANameSigns(t *testing.T) {
	flow.Lone(t)
	c, _ := onePhone(t, "Ada, Bo, Cy, Di", "ask.sign_name")
	for _, no := range []string{"cos we need it out by tonight", "why?", "yes", "everybody agrees", "i dont know him", "not sure, i am not a boss", "maybe my uncle petru", "rather not me"} {
		if got := c.say(no); !asks(got, "ask.sign_name") {
			t.Errorf("%q was taken for a name: %s", no, keysOf(got))
		}
	}
	if got := c.say("me"); !asks(got, "ask.sign_second") {
		t.Fatalf("whoever speaks was not taken: %s", keysOf(got))
	}
	for _, same := range []string{"Ada", "ada lund", "me"} {
		if got := c.say(same); !asks(got, "ask.sign_second") {
			t.Errorf("%q was taken for a second person: %s", same, keysOf(got))
		}
	}
	if got := c.say("no its got a rops frame, pete just looked"); asks(got, "ask.sign_second") || asks(got, "ask.sign_reason") || asks(got, "checks.signed") {
		t.Errorf("a sentence that begins with no signed: %s", keysOf(got))
	}
}
