package flow_test

import (
	"testing"

	"linetender/flow"
)

// TestWhoLookedInASentence: who the second was may be told with what they did; half of it,
// a question or a denial is nobody's look.
func TestWhoLookedInASentence(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for words, taken := range map[string]bool{
		"Pete went round it all": true, "pete has looked at everything": true, "Pete walked it with me": true, "Pete went round and looked": true, "pete walked round with me and saw em all": true, "pete went round and saw none": false, "Pete checked it all": true, "it was Pete, looked at it all too": true,
		"Pete looked at some of it": false, "Pete hasnt looked at it": false, "has Pete looked at it all?": false, "Zorro went round it all": false, "Jo went round it all": false,
		"Pete went round it all but the oak": false, "Pete never went round it": false,
	} {
		c, _ := onePhone(t, "Jo, Pete, Anna, Bert", "ask.second_look")
		got := c.say(words)
		if asks(got, "ask.second_look") == taken {
			t.Errorf("%q: %s", words, keysOf(got))
		}
	}
}

// TestWhoSignsInASentence: "I do, Tom" is Tom's name; a question or a doubt is nobody's.
func TestWhoSignsInASentence(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for words, taken := range map[string]bool{
		"i do, Bo": true, "I do": true, "i will sign for it, Bo": true, "me, Bo": true, "I answer for it": true,
		"do i?": false, "i dont": false, "i do not": false, "i do, no": false,
	} {
		c, _ := onePhone(t, "Ada, Bo, Cy, Di", "ask.sign_name")
		if got := c.say(words); asks(got, "ask.sign_second") != taken {
			t.Errorf("%q: %s", words, keysOf(got))
		}
	}
}
