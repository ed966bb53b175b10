package flow

import (
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// That somebody is hurt may have been a mistake. It is taken back where everybody who told
// it says so on their own phone, whoever leads and at least one beside them, and nobody
// said it of themselves; and where somebody is asked by what they have seen.
//
// Source: common practice, as for any danger that is so no more.

// heldNoneHurt marks a stop for somebody hurt that was a mistake.
const heldNoneHurt = "none-hurt"

// noneHurt takes back what a stop had told of somebody hurt, where the lead's reason is
// that it was a mistake and all the others who called it have said so.
func (t *turn) noneHurt(reason string) {
	stop := t.s.hurtStop()
	if stop == nil || !saysMistaken(reason) {
		return
	}
	others := 0
	for _, by := range append([]Person{stop.By}, stop.Others...) {
		if m := t.s.member(by.ID); m != nil && by.ID != t.s.Lead.ID && !m.afar() && t.s.Held[heldMistaken+by.ID] == stop.callOf(by.ID) {
			others++
		}
	}
	for _, said := range t.hurtTold(*stop) {
		if slices.ContainsFunc(hear.Dangers(said.words, t.crewNames()), func(d hear.Danger) bool { return d.Kind == hear.Hurt && d.What == "me" }) {
			return // whoever is hurt knows best
		}
	}
	if others == 0 {
		return
	}
	t.act(Act{Do: DoCause, Path: heldNoneHurt})
	for i, r := range t.s.Reports {
		if r.Kind == "hurt" && r.At >= stop.At {
			t.act(Act{Do: DoUnreport, Path: itoa(i), Value: wording.Plain(reason)})
		}
	}
	left := slices.DeleteFunc(slices.Clone(hazards(t.s.Sheet)), func(h string) bool { return h == peopleInside })
	value := strings.Join(left, ", ")
	if value == "" {
		value = "none"
	}
	if was, told := t.s.Sheet.Get("hazards"); told && was != value {
		t.act(Act{Do: DoSet, Path: "hazards", Value: value, Was: was, How: Told})
	}
	if d := t.s.differing("hazards"); d != nil {
		t.act(Act{Do: DoAgree, Path: "hazards", Value: value})
	}
}

// noneHurtSaid takes the word of somebody who was asked for what they have seen, that
// nobody is hurt or inside.
func (t *turn) noneHurtSaid(text string) bool {
	chat := t.in.Chat
	for _, d := range t.s.Differs {
		if !t.ofHurt(d) || !t.waved(d) || !t.asksLook(chat, d) || t.wantLook(chat).id != t.want(chat).id {
			continue
		}
		told := hear.Dangers(text, t.crewNames())
		none := slices.ContainsFunc(t.whoIsWho().Listen(text, hear.TopicPeople).Facts, func(f hear.Fact) bool { return f.Field == "hazards" && f.Value == "none" }) ||
			slices.ContainsFunc(told, func(o hear.Danger) bool { return o.Kind == hear.Hurt && o.Stands == hear.Denied })
		if !none || isQuestion(hear.Lowered(text)) || hear.HeardOnly(text) || slices.ContainsFunc(told, func(o hear.Danger) bool { return o.Stands == hear.Now }) {
			return false
		}
		t.agreeWas(d)
		return true
	}
	return false
}
