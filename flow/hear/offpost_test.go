package hear

import "testing"

// TestOffPost: who goes from a post or hands it on is heard however it is said, with what
// else the message says; what only has those words goes nowhere.
func TestOffPost(t *testing.T) {
	names := []string{"Ada", "Bo", "Cy Holm"}
	for text, rest := range map[string]string{
		"I have to go, handing the rope to Bo": "", "gotta run, Fay has my rope now": "", "i'm off now, bye": "", "sorry lads, got to leave": "",
		"i can't stay, my kid is ill": "", "giving the holding line to Cy": "", "Cy takes over from me": "", "I need to leave, can someone take over?": "",
		"i quit": "", "handing over to Cy": "", "handing over the wheel to Cy, back in 5 min": "", "can someone else drive, i have to go": "",
		"I'm done for today": "", "I have to go, Cy leads": "cy leads", "i let go of the rope": "", "swapping with Cy": "", "need a break, Cy holds it for me": "",
		"Cy is holding the rope now": "", "have to pee": "", "need a break, Cy holds it": "", "i have to leave. bo takes it": "", "i gotta go, wife calls, bye": "", "i have to go and bo has my rope": "", "bo relieves me": "",
		"need the loo": "", "i must leave in 10 min": "", "i'm leaving": "", "we have to go home now": "", "i've given the brake to the new lad": "",
		"the sling slips, i have to go": "the sling slips,", "my shift is over": "", "i can't do this any more": "", "somebody else takes over": "",
		"please relieve me": "", "i need someone to take over": "", "i hand my post to fay": "", "i'll leave now": "", "leaving it to Bo": "",
		"dropped the rope": "", "Bo has it now": "", "i have to leave because my son is ill": "",
	} {
		if got := OffPost(text, names); got.Goes+got.Hands == "" || got.Rest != rest {
			t.Errorf("%q is read as %+v, want %q besides", text, got, rest)
		}
	}
	for _, text := range []string{
		"so it is", "cy holds it", "bo takes it", "i have to go lower", "we should go", "i'll go and chock", "i have to go to the block", "shall i go?", "it has to go up a bit", "the rope is on",
		"Bo has the brake on", "i need to go slow", "i'm done", "holding", "Bo drives", "Cy is there now", "the winch takes over", "i left the shackle on the bank", "i have to go in",
		"i leave 10 cm slack", "i passed the rope round the tree", "give the rope a turn", "we have to go on", "the brake holds it now", "is Bo at my rope?", "do i have to go?", "i need a photo",
	} {
		if got := OffPost(text, names); got.Goes+got.Hands != "" {
			t.Errorf("%q is read as %+v", text, got)
		}
	}
}
