package flow

import (
	"slices"
	"strings"

	"linetender/flow/wording"
)

// knownFields lists the fields of the sheet outside its lists, in the order
// in which they are spoken of.
var knownFields = []string{
	"hazards", "load.mass", "load.mass_from", "load.slope", "load.slope_from", "load.pull", "load.ground", "load.sunk", "load.locked",
	"load.belly", "load.lip", "load.lip.height", "load.lip.wheel_radius", "load.off_line", "load.off_line_from", "load.side_slope", "load.side_slope_from",
	"load.tow_point.kind", "load.tow_point.rating", "load.tow_point.rating_kind", "load.tow_point.condition",
	"load.holding_point.kind", "load.holding_point.rating", "load.holding_point.rating_kind", "load.holding_point.condition", "load.holding_point.shared",
	"distance", "reach", "lead", "holding_reach",
	"puller.kind", "puller.mass", "puller.driven", "puller.ground", "puller.slope", "puller.slope_from", "puller.pull", "puller.rating", "puller.rating_kind",
	"puller.capstan", "puller.winch_layer", "puller.drum", "puller.people", "puller.hitch", "puller.hitch_rating", "puller.hitch_rating_kind", "puller.hitch_height", "puller.axle_height",
	"puller.wheelbase", "puller.front_share", "puller.cg_height", "puller.rollover_frame", "puller.side_slope", "puller.side_slope_from", "puller.run",
	"tackle.parts", "crew",
}

var (
	anchorFields = []string{"kind", "use", "diameter", "alive", "lean", "pattern", "soil", "mass", "chocked", "braked", "in_line", "ground", "slope",
		"rating", "rating_kind", "length", "depth", "tied_back", "strap_held", "sling_angle"}
	gearFields = []string{"kind", "use", "count", "length", "diameter", "material", "rating", "rating_kind", "condition", "knots", "sling_angle", "sling_hitch", "side_angle", "improvised"}
)

// knownLines says what is on the sheet, one line a thing.
func (t *turn) knownLines() []string {
	var out []string
	for _, path := range knownFields {
		v, ok := t.s.Sheet.Get(path)
		if !ok || path == "load.lip.height" && t.s.Sheet.Load.Lip.None {
			continue
		}
		line := t.plain(path, v)
		if t.s.How[path] == Skipped {
			line = t.sayingWith(wording.SoFarTaken, wording.Args{"Text": line})
		}
		out = append(out, line)
	}
	for i := range t.s.Sheet.Anchors {
		out = append(out, t.pieceLine("anchors", i, anchorFields, nil))
	}
	for i := range t.s.Sheet.Gear {
		out = append(out, t.pieceLine("gear", i, gearFields, nil))
	}
	return out
}

// pieceLine says one anchor or piece of gear on one line. was holds, by path,
// what its values stand in for.
func (t *turn) pieceLine(list string, i int, fields []string, was map[string]string) string {
	at := list + "[" + itoa(i) + "]"
	var words []string
	for _, f := range fields[1:] {
		v, ok := t.s.Sheet.Get(at + "." + f)
		if !ok {
			continue
		}
		said := t.detail(at+"."+f, v)
		if t.s.How[at+"."+f] == Skipped {
			said = t.sayingWith(wording.ReadUnknown, wording.Args{"Text": said})
		}
		if old := was[at+"."+f]; old != "" {
			said = t.instead(said, t.detail(at+"."+f, old))
		}
		words = append(words, said)
	}
	label := t.label(list, i)
	if old := was[at+".kind"]; old != "" {
		label = t.instead(label, t.word(at+".kind", old))
	}
	text := strings.Join(words, ", ")
	if text == "" {
		return label
	}
	return t.sayingWith(wording.ReadPiece, wording.Args{"What": label, "Text": text})
}

// detail says one value of a piece without naming the field, where the value
// names itself.
func (t *turn) detail(path, value string) string {
	field := path[strings.LastIndexByte(path, '.')+1:]
	switch field {
	case "alive", "lean", "improvised", "tied_back", "strap_held", "chocked", "braked", "in_line", "condition", "knots", "use", "count", "sling_angle", "sling_hitch", "side_angle":
		k := wording.Key("detail." + field + "_" + word(value))
		if t.e.Words.Has(k) {
			return t.saying(k)
		}
		return t.sayingWith(wording.Key("detail."+field), wording.Args{"Text": value})
	}
	if both := t.inBoth(path, value); both != "" {
		return both
	}
	return t.word(path, value)
}

// word makes a value of the sheet fit to be part of a key.
func word(value string) string {
	return strings.ReplaceAll(strings.ReplaceAll(value, "-", "_"), " ", "_")
}

// word returns a value as its button says it, else as it is.
func (t *turn) word(path, value string) string {
	if k := choiceWord(path, value); k != "" && t.e.Words.Has(k) {
		return t.saying(k)
	}
	return value
}

// choiceWord returns the key of the button that gives a path a value.
func choiceWord(path, value string) wording.Key {
	if strings.HasPrefix(path, "gear[") && strings.HasSuffix(path, ".kind") {
		return wording.Key("name." + value)
	}
	general := place.ReplaceAllString(path, "[]")
	if strings.HasSuffix(path, "slope_from") || path == "load.off_line_from" {
		general = "load.slope_from"
	}
	if path == "load.holding_point.rating_kind" || path == "puller.hitch_rating_kind" { // worded alike
		general = "load.tow_point.rating_kind"
	}
	if strings.HasPrefix(path, "anchors[") && strings.HasSuffix(path, ".kind") {
		general = "anchors[0].kind"
	}
	for _, list := range [][]topic{firstTopics, laterTopics} {
		for _, tp := range list {
			for _, o := range tp.offers {
				for _, s := range o.sets {
					if s.path == general && s.value == value {
						return wording.Key("choice." + o.choice)
					}
				}
			}
		}
	}
	return ""
}

// nameOf returns what a field of the sheet is called.
func (t *turn) nameOf(path string) string {
	if k := wording.Key("field." + strings.ReplaceAll(strings.ReplaceAll(path, "pullers[0]", "puller"), ".", "_")); t.e.Words.Has(k) {
		return t.saying(k)
	}
	general := place.ReplaceAllString(path, "[]")
	for _, list := range [][]topic{firstTopics, laterTopics} {
		for _, tp := range list {
			if tp.name == general || len(tp.fills) > 0 && tp.fills[0] == path {
				return t.name(tp.name)
			}
		}
	}
	for _, tp := range laterTopics {
		if slices.Contains(tp.fills, path) {
			return t.name(tp.name)
		}
	}
	if head, _, whole := strings.Cut(path, "["); whole && strings.HasSuffix(path, "]") { // one of several, all of it
		for _, name := range []string{head, strings.TrimSuffix(head, "s")} {
			if t.e.Words.Has(topicKey("name", name)) {
				return t.name(name)
			}
		}
	}
	return strings.NewReplacer("_", " ", ".", " ").Replace(place.ReplaceAllString(path, ""))
}

// name returns what a topic is called.
func (t *turn) name(topic string) string {
	k := topicKey("name", topic)
	if !t.e.Words.Has(k) {
		return topic
	}
	return t.saying(k)
}

// valueOf says what a topic's answer is now.
func (t *turn) valueOf(tp topic) string {
	var words []string
	for _, path := range tp.fills {
		if v, ok := t.s.Sheet.Get(path); ok {
			words = append(words, t.word(path, v))
		}
	}
	return strings.Join(words, ", ")
}

// saying returns a message without arguments.
func (t *turn) saying(k wording.Key) string { return t.sayingWith(k, nil) }

func (t *turn) sayingWith(k wording.Key, args wording.Args) string {
	text, err := t.e.Words.Say(t.units(), k, args)
	if err != nil && t.err == nil {
		t.err = err
	}
	return text
}
