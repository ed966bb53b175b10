package flow

import (
	"slices"
	"strings"
	"testing"

	"linetender/calc"
	"linetender/calc/handbook"
	"linetender/calc/job"
)

// cardsOf are the cards of a crew of so many, each with a phone, by name: what
// pulls, whether something rolls back, and whether the rope runs over blocks.
func cardsOf(t *testing.T, n int, holds, blocks bool, kind string) map[string]string {
	t.Helper()
	x := crewTurn(n, holds)
	set := func(path, value string) {
		if err := x.s.Sheet.Set(path, value); err != nil {
			t.Fatal(err)
		}
	}
	set("puller.kind", kind)
	set("puller.run", "30 m")
	set("distance", "12 m")
	set("reach", "25 m")
	set("load.slope", "8 deg")
	set("load.pull", "uphill")
	x.s.Sheet.Anchors = []job.AnchorSheet{{Kind: "tree"}}
	rove := &calc.Rove{Parts: 1, HaulFrom: "moving"}
	if blocks {
		rove = &calc.Rove{Parts: 2, HaulFrom: "moving", Sheaves: 1}
		x.planned.Anchors = []calc.Held{{Kind: "tree", Use: "standing"}}
	}
	x.planned.Tackle = rove
	x.planned.Force = &calc.Force{Low: 5000, Best: 7000, High: 9000}
	x.planned.Energy = &calc.Stored{Clear: 70}
	x.planned.Holding = &calc.Holding{Needed: holds, Static: calc.Force{Low: 1000, Best: 2000, High: 3000}}
	out := map[string]string{}
	for i, name := range nine[:n] {
		m := Member{ID: itoa(i + 1), Name: name, Chat: "c" + itoa(i+1), As: AsCrew}
		if i == 0 {
			m.As = AsLead
		}
		x.s.Party = append(x.s.Party, m)
	}
	x.propose(x.everyone(x.s.Crew))
	for _, m := range x.s.Party {
		x.mail = &mail{chat: m.Chat}
		x.card(x.planned, m)
		var lines []string
		for _, r := range x.replies {
			lines = append(lines, x.sayingWith(r.key, r.args))
		}
		out[m.Name] = strings.Join(lines, "\n")
	}
	return out
}

// TestCards: each person's card, at every size of crew, with and without a holding
// line, blocks and each kind of puller: their own parts and nobody else's, each
// named where there are several, what stops the pull, how far it goes, what is done
// at its end, and nothing that the rig does not have. With -v they can be read.
func TestCards(t *testing.T) {
	Lone(t)
	for _, kind := range []string{"wheeled", "winch", "hand-winch", "people"} {
		for _, holds := range []bool{true, false} {
			for _, blocks := range []bool{true, false} {
				for n := 2; n <= 9; n++ {
					cards := cardsOf(t, n, holds, blocks, kind)
					for i, name := range nine[:n] {
						card := cards[name]
						if kind == "wheeled" {
							t.Logf("--- %d people, holding line %v, blocks %v: %s\n%s", n, holds, blocks, name, card)
						}
						for _, f := range cardFaults(card, i < handbook.MostPosts(holds), holds, blocks) {
							t.Errorf("%d people, %s, holding line %v, blocks %v: %s's card %s\n%s", n, kind, holds, blocks, name, f, card)
						}
					}
				}
			}
		}
	}
}

func cardFaults(card string, part, holds, blocks bool) (out []string) {
	for _, want := range []string{"No signal, no answer", "STOP shouted", "Call STOP at once when: ", "While a line is tight: 70 m"} {
		if !strings.Contains(card, want) {
			out = append(out, "lacks "+want)
		}
	}
	named, bare := strings.Count(card, "As "), strings.Count(card, "Where: ")
	if bare > 1 || bare == 1 && named > 0 || part && bare+named == 0 {
		out = append(out, "does not say which place is for what")
	}
	if !part {
		if !strings.Contains(card, "You have no part") || strings.Contains(card, "You: ") || strings.Contains(card, "You say: ") {
			out = append(out, "gives a part to who has none")
		}
		return out
	}
	for _, want := range []string{"You: ", "How far: ", "Hold points, in this order"} {
		if !strings.Contains(card, want) {
			out = append(out, "lacks "+want)
		}
	}
	watches := strings.Contains(card, "You: lookout.") || strings.Contains(card, "You: recorder.")
	if ends := strings.Contains(card, "At the rig's end: ") && strings.Contains(card, "At a crest or a lip: "); ends == watches {
		out = append(out, "does not say what is done at the end of a rig and at a crest to those who do it, or does to others")
	}
	if !watches && !strings.Contains(card, "You say: ") {
		out = append(out, "does not say what its holder confirms at a hold")
	}
	if strings.Contains(strings.ReplaceAll(card, "No blocks.", ""), "block") && !blocks {
		out = append(out, "names a block")
	}
	if strings.Contains(strings.ToLower(card), "holding line") && !holds || strings.Contains(card, "holder") && !holds {
		out = append(out, "names a holding line")
	}
	return out
}

// TestCardDuties: a card has the places and duties of its holder's posts and no
// other's.
func TestCardDuties(t *testing.T) {
	say := map[string]string{
		"leader": "Decides each hold", "driver": "Moves only on signal", "signal": "Gives motion signals", "rigger": "Connects and reads",
		"anchor_watch": "Watches the mark", "holder": "Takes in slack", "chocks": "Chock follows each bite, by pole. ", "lookout": "Keeps the area empty", "recorder": "Notes times",
	}
	for _, row := range []struct {
		people int
		holds  bool
		want   []string // duties of each, the leader first
	}{
		{2, false, []string{"leader signal rigger anchor_watch chocks lookout", "driver"}},
		{3, false, []string{"leader signal lookout", "driver", "rigger anchor_watch chocks"}},
		{4, true, []string{"leader signal lookout", "driver", "rigger anchor_watch chocks", "holder"}},
		{4, false, []string{"leader signal lookout", "driver", "rigger anchor_watch", "chocks"}},
		{5, true, []string{"leader signal lookout", "driver", "rigger anchor_watch", "holder", "chocks"}},
		{5, false, []string{"leader signal", "driver", "rigger anchor_watch", "chocks", "lookout"}},
		{6, true, []string{"leader signal", "driver", "rigger anchor_watch", "holder", "chocks", "lookout"}},
		{6, false, []string{"leader signal", "driver", "rigger anchor_watch", "chocks", "lookout", "recorder"}},
		{7, true, []string{"leader", "driver", "signal", "rigger anchor_watch", "holder", "chocks", "lookout"}},
		{7, false, []string{"leader", "driver", "signal", "rigger anchor_watch", "chocks", "lookout", "recorder"}},
		{8, true, []string{"leader", "driver", "signal", "rigger anchor_watch", "holder", "chocks", "lookout", "recorder"}},
		{9, false, []string{"leader", "driver", "signal", "rigger anchor_watch", "chocks", "lookout", "recorder", "", ""}},
	} {
		cards := cardsOf(t, row.people, row.holds, true, "wheeled")
		for i, name := range nine[:row.people] {
			mine := strings.Fields(row.want[i])
			for duty, words := range say {
				if got, want := strings.Contains(cards[name], words), slices.Contains(mine, duty); got != want {
					t.Errorf("%d people, holding line %v: %s's card has the duty of %s: %v, want %v", row.people, row.holds, name, duty, got, want)
				}
			}
		}
	}
}
