package flow

import (
	"regexp"
	"strconv"
	"strings"

	"linetender/calc/job"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A topic is one question: what it fills, which buttons it has and what
// stands in for an answer that nobody can give. The questions are data; the
// engine knows none of them by name except where a comment says so.
type topic struct {
	name   string     // stored, and the last part of its wording keys
	state  State      // where it is asked
	hears  hear.Topic // what a short answer to it is about; empty: its name
	fills  []string   // paths of the sheet, the one that makes it answered first
	offers []offer    // buttons, shown when late says so
	late   bool       // buttons only after misses
	skip   []set      // what is taken when nobody knows; nothing: the span of all answers
	noskip bool       // it can't be skipped
	apply  func(job.Sheet) bool
}

// An offer is one button and what pressing it says.
type offer struct {
	choice string // in Press, and the last part of the label's key
	sets   []set
	label  string // what it says, where that is not in the book under its choice
}

// A set is one path and what it becomes.
type set struct{ path, value string }

func one(choice, path, value string) offer { return offer{choice: choice, sets: []set{{path, value}}} }

// sets makes offers for one path from pairs of choice and value.
func sets(path string, pairs ...string) []offer {
	var out []offer
	for i := 0; i < len(pairs); i += 2 {
		out = append(out, one(pairs[i], path, pairs[i+1]))
	}
	return out
}

func yesNo(path string) []offer { return sets(path, "yes", "true", "no", "false") }

func grounds(path string) []offer {
	return sets(path, "asphalt", "asphalt", "wet_asphalt", "wet asphalt", "gravel", "gravel", "firm_soil", "firm soil",
		"grass", "grass", "wet_grass", "wet grass", "loose_soil", "loose soil", "sand", "sand", "mud", "mud", "snow", "snow", "ice", "ice")
}

// firstTopics are the seven answers before the first figure, in order.
var firstTopics = []topic{
	{name: "people", state: People, fills: []string{"hazards"}, noskip: true, offers: append(
		sets("hazards", "none", "none", "people_inside", "people-inside"),
		sets("hazards", "overhead_line", "overhead-line", "traffic", "traffic", "water", "water", "fuel", "fuel",
			"battery", "battery", "hazmat", "hazmat", "edge", "edge", "overturned", "overturned",
			"surge", "surge", "hollow", "hollow", "broken", "broken")...)},
	{name: "mass", state: Weight, fills: []string{"load.mass", "load.mass_from"}, late: true,
		offers: sets("load.mass", "car", "1 to 2 t", "pickup", "2 to 3.5 t", "light_truck", "3.5 to 7.5 t", "tractor", "3 to 8 t"),
		skip:   []set{{"load.mass", "1 to 30 t"}}}, // up to what the method takes at all, so past what must be signed for
	{name: "slope", state: Slope, fills: []string{"load.slope", "load.slope_from"}, late: true,
		offers: append(sets("load.slope", "gentle", "0 to 5 deg", "street", "5 to 10 deg", "steep", "10 to 20 deg", "bank", "20 to 30 deg"),
			offer{choice: "level"}, offer{choice: "board"}),
		skip: []set{{"load.slope", "0 to 35 deg"}}}, // likewise
	{name: "ground", state: Ground, fills: []string{"load.ground", "load.sunk", "load.locked"}, late: true,
		offers: grounds("load.ground"), skip: []set{{"load.ground", "mud"}}},
	{name: "pull", state: Way, fills: []string{"load.pull"},
		offers: sets("load.pull", "uphill", "uphill", "downhill", "downhill", "level_way", "level"),
		skip:   []set{{"load.pull", "uphill"}}},
	{name: "puller", state: Puller, late: true,
		fills:  []string{"puller.kind", "puller.mass", "puller.driven", "puller.ground", "puller.hitch", "puller.rating", "puller.people", "load.tow_point.kind"},
		offers: sets("puller.kind", "wheeled", "wheeled", "tracked", "tracked", "winch", "winch", "hand_winch", "hand-winch", "crew_pull", "people")},
	{name: "anchor", state: Anchor, late: true, fills: []string{"anchors[0].kind"},
		offers: append(sets("anchors[0].kind", "tree", "tree", "stump", "stump", "picket", "picket", "deadman", "deadman",
			"vehicle", "vehicle", "rock", "rock", "rated", "rated"), offer{choice: "nothing"})},
}

func has(path string) func(job.Sheet) bool {
	return func(s job.Sheet) bool { _, ok := s.Get(path); return ok }
}

func pullerIs(kinds ...string) func(job.Sheet) bool {
	return func(s job.Sheet) bool {
		k, _ := s.Get("puller.kind")
		for _, want := range kinds {
			if k == want {
				return true
			}
		}
		return false
	}
}

// mayRunThrough reports whether nobody has said yet that the puller, a hand
// winch, has rope on a drum.
func mayRunThrough(s job.Sheet) bool {
	_, counted := s.Get("puller.winch_layer")
	return pullerIs("hand-winch")(s) && !counted
}

// winds reports whether the puller winds rope up on a drum, which a hand winch
// does until somebody says that it only runs through.
func winds(s job.Sheet) bool {
	through, _ := s.Get("puller.capstan")
	return pullerIs("winch")(s) || pullerIs("hand-winch")(s) && through != "true"
}

// laterTopics are what may be left to find out, place by place. Those with []
// in the name are asked of each anchor or piece of gear.
var laterTopics = []topic{
	{name: "ton", state: Weight, hears: hear.TopicTon, noskip: false,
		offers: []offer{{choice: "t"}, {choice: "short_ton"}, {choice: "long_ton"}}},
	{name: "mass_from", state: Weight, fills: []string{"load.mass_from"}, skip: []set{{"load.mass_from", "guess"}},
		offers: sets("load.mass_from", "weighed", "weighed", "plate", "plate", "guess", "guess")},
	{name: "slope_from", state: Slope, fills: []string{"load.slope_from"}, skip: []set{{"load.slope_from", "eye"}},
		offers: sets("load.slope_from", "by_level", "level", "by_phone", "phone", "by_eye", "eye")},
	{name: "level_length", state: Slope, hears: hear.TopicLevel},
	{name: "level_gap", state: Slope, hears: hear.TopicLevel},
	{name: "board_length", state: Slope, hears: hear.TopicBoard},
	{name: "board_rise", state: Slope, hears: hear.TopicBoard},

	{name: "wheels", state: AtLoad, fills: []string{"load.locked"},
		offers: sets("load.locked", "all_turn", "0", "half_locked", "0.5", "all_locked", "1")},
	{name: "sunk", state: AtLoad, fills: []string{"load.sunk"},
		offers: sets("load.sunk", "not_sunk", "none", "hub", "hub", "fender", "fender", "cab", "cab"), skip: []set{{"load.sunk", "cab"}}},
	{name: "belly", state: AtLoad, fills: []string{"load.belly"}, offers: yesNo("load.belly"), skip: []set{{"load.belly", "true"}}},
	{name: "lip", state: AtLoad, fills: []string{"load.lip", "load.lip.height"}, offers: sets("load.lip", "no_step", "none")},
	{name: "wheel_radius", state: AtLoad, fills: []string{"load.lip.wheel_radius"}, apply: has("load.lip.height"),
		skip: []set{{"load.lip.wheel_radius", "25 cm"}}},
	{name: "off_line", state: AtLoad, fills: []string{"load.off_line", "load.off_line_from"},
		offers: sets("load.off_line", "straight", "0 to 5 deg", "some_side", "10 to 20 deg", "much_side", "20 to 40 deg")},
	{name: "side_slope", state: AtLoad, fills: []string{"load.side_slope", "load.side_slope_from"},
		offers: sets("load.side_slope", "flat", "0 to 3 deg", "gentle", "0 to 5 deg", "street", "5 to 10 deg", "steep", "10 to 20 deg")},
	{name: "tow_point", state: AtLoad, fills: []string{"load.tow_point.kind"},
		offers: sets("load.tow_point.kind", "rated_eye", "rated-eye", "frame", "frame", "hitch_ball", "hitch-ball", "bumper", "bumper",
			"tie_down", "tie-down", "suspension", "suspension")},
	{name: "tow_point.rating", state: AtLoad, fills: []string{"load.tow_point.rating", "load.tow_point.rating_kind"}, apply: has("load.tow_point.kind"),
		offers: sets("load.tow_point.rating_kind", "unmarked", "unmarked"), skip: []set{{"load.tow_point.rating_kind", "unmarked"}}},
	{name: "tow_point.rating_kind", state: AtLoad, fills: []string{"load.tow_point.rating_kind"}, apply: has("load.tow_point.rating"),
		offers: sets("load.tow_point.rating_kind", "working_limit", "working", "breaking", "breaking"),
		skip:   []set{{"load.tow_point.rating_kind", "breaking"}}},
	{name: "tow_point.condition", state: AtLoad, fills: []string{"load.tow_point.condition"}, apply: has("load.tow_point.kind"),
		offers: sets("load.tow_point.condition", "good", "good", "damaged", "damaged"), skip: []set{{"load.tow_point.condition", "unknown"}}},
	{name: "distance", state: AtLoad, fills: []string{"distance"}},
	// Asked once there is gear to hold it with: until then much else may decide.
	{name: "holding_point", state: AtLoad, hears: hear.TopicTowPoint, apply: has("gear[0].kind"),
		fills: []string{"load.holding_point.kind", "load.holding_point.rating", "load.holding_point.rating_kind", "load.holding_point.shared"},
		offers: append(sets("load.holding_point.kind", "rated_eye", "rated-eye", "frame", "frame", "hitch_ball", "hitch-ball", "bumper", "bumper",
			"tie_down", "tie-down", "suspension", "suspension"), one("same_point", "load.holding_point.shared", "true"))},
	{name: "holding_point.condition", state: AtLoad, hears: hear.TopicTowCondition, fills: []string{"load.holding_point.condition"}, apply: has("load.holding_point.kind"),
		offers: sets("load.holding_point.condition", "good", "good", "damaged", "damaged"), skip: []set{{"load.holding_point.condition", "unknown"}}},

	{name: "anchors[].diameter", state: AtAnchor},
	{name: "anchors[].alive", state: AtAnchor, offers: yesNo("anchors[].alive"), skip: []set{{"anchors[].alive", "false"}}},
	{name: "anchors[].lean", state: AtAnchor, offers: yesNo("anchors[].lean"), skip: []set{{"anchors[].lean", "true"}}},
	{name: "anchors[].pattern", state: AtAnchor,
		offers: sets("anchors[].pattern", "stake_1", "1", "stake_111", "1-1-1", "stake_321", "3-2-1"), skip: []set{{"anchors[].pattern", "1"}}},
	{name: "anchors[].soil", state: AtAnchor, skip: []set{{"anchors[].soil", "wet"}},
		offers: sets("anchors[].soil", "loam", "loam", "clay_gravel", "clay-gravel", "river_sand", "river-sand", "rock_soil", "rock", "wet", "wet")},
	{name: "anchors[].mass", state: AtAnchor},
	{name: "anchors[].chocked", state: AtAnchor, offers: yesNo("anchors[].chocked"), skip: []set{{"anchors[].chocked", "false"}}},
	{name: "anchors[].braked", state: AtAnchor, offers: yesNo("anchors[].braked"), skip: []set{{"anchors[].braked", "false"}}},
	{name: "anchors[].in_line", state: AtAnchor, offers: yesNo("anchors[].in_line"), skip: []set{{"anchors[].in_line", "false"}}},
	{name: "anchors[].ground", state: AtAnchor, offers: grounds("anchors[].ground"), skip: []set{{"anchors[].ground", "ice"}}},
	{name: "anchors[].slope", state: AtAnchor, skip: []set{{"anchors[].slope", "0 to 35 deg"}},
		offers: sets("anchors[].slope", "flat", "0 to 2 deg", "gentle", "0 to 5 deg", "street", "5 to 10 deg", "steep", "10 to 20 deg")},
	{name: "anchors[].rating", state: AtAnchor, offers: sets("anchors[].rating_kind", "unmarked", "unmarked"), skip: []set{{"anchors[].rating_kind", "unmarked"}}},
	{name: "anchors[].rating_kind", state: AtAnchor, skip: []set{{"anchors[].rating_kind", "breaking"}},
		offers: sets("anchors[].rating_kind", "working_limit", "working", "breaking", "breaking")},
	{name: "anchors[].length", state: AtAnchor},
	{name: "anchors[].depth", state: AtAnchor},
	{name: "anchors[].sling_angle", state: AtAnchor, skip: []set{{"anchors[].sling_angle", "60 deg"}},
		offers: sets("anchors[].sling_angle", "straight", "0 to 5 deg", "angle_30", "30 deg", "angle_45", "45 deg")},
	{name: "anchors[].tied_back", state: AtAnchor, offers: yesNo("anchors[].tied_back"), skip: []set{{"anchors[].tied_back", "false"}}},
	{name: "anchors[].tied_with", state: AtAnchor, skip: []set{{"anchors[].tied_back", "false"}}},
	{name: "anchors[].strap_held", state: AtAnchor, offers: yesNo("anchors[].strap_held"), skip: []set{{"anchors[].strap_held", "false"}}},
	{name: "reach", state: AtAnchor, fills: []string{"reach"}},
	{name: "lead", state: AtAnchor, fills: []string{"lead"}},
	{name: "holding_reach", state: AtAnchor, fills: []string{"holding_reach"}},

	{name: "puller.kind", state: AtPuller, fills: []string{"puller.kind"},
		offers: sets("puller.kind", "wheeled", "wheeled", "tracked", "tracked", "winch", "winch", "hand_winch", "hand-winch", "crew_pull", "people")},
	{name: "puller.ground", state: AtPuller, fills: []string{"puller.ground"}, offers: grounds("puller.ground"), skip: []set{{"puller.ground", "ice"}}},
	{name: "puller.mass", state: AtPuller, fills: []string{"puller.mass"}},
	{name: "puller.driven", state: AtPuller, fills: []string{"puller.driven"},
		offers: sets("puller.driven", "all_driven", "1", "rear_driven", "0.6"), skip: []set{{"puller.driven", "0.5"}}},
	{name: "puller.slope", state: AtPuller, fills: []string{"puller.slope", "puller.pull"},
		offers: []offer{{choice: "flat", sets: []set{{"puller.slope", "0 to 2 deg"}, {"puller.pull", "level"}}},
			{choice: "uphill", sets: []set{{"puller.slope", "0 to 10 deg"}, {"puller.pull", "uphill"}}},
			{choice: "downhill", sets: []set{{"puller.slope", "0 to 10 deg"}, {"puller.pull", "downhill"}}}}},
	{name: "puller.pull", state: AtPuller, fills: []string{"puller.pull"},
		offers: sets("puller.pull", "uphill", "uphill", "downhill", "downhill", "level_way", "level"), skip: []set{{"puller.pull", "uphill"}}},
	{name: "puller.rating", state: AtPuller, fills: []string{"puller.rating", "puller.rating_kind"}, apply: pullerIs("winch", "hand-winch")},
	{name: "puller.rating_kind", state: AtPuller, fills: []string{"puller.rating_kind"}, apply: has("puller.rating"),
		offers: sets("puller.rating_kind", "working_limit", "working", "breaking", "breaking"), skip: []set{{"puller.rating_kind", "breaking"}}},
	{name: "puller.capstan", state: AtPuller, fills: []string{"puller.capstan"}, apply: mayRunThrough, offers: yesNo("puller.capstan"), skip: []set{{"puller.capstan", "false"}}},
	{name: "puller.winch_layer", state: AtPuller, fills: []string{"puller.winch_layer"}, apply: winds, skip: []set{{"puller.winch_layer", "5"}}},
	{name: "puller.drum", state: AtPuller, fills: []string{"puller.drum"}, apply: winds, skip: []set{{"puller.drum", "2 to 25 cm"}}},
	{name: "puller.people", state: AtPuller, fills: []string{"puller.people"}, apply: pullerIs("people")},
	{name: "puller.hitch", state: AtPuller, fills: []string{"puller.hitch"},
		offers: sets("puller.hitch", "drawbar", "drawbar", "rated_point", "rated-point", "frame", "frame", "top_link", "top-link", "three_point", "three-point",
			"axle", "axle", "ball", "ball", "bumper", "bumper", "loader", "loader", "roll_bar", "roll-bar")},
	{name: "puller.hitch_rating", state: AtPuller, fills: []string{"puller.hitch_rating", "puller.hitch_rating_kind"}},
	{name: "puller.hitch_rating_kind", state: AtPuller, fills: []string{"puller.hitch_rating_kind"}, apply: has("puller.hitch_rating"),
		offers: sets("puller.hitch_rating_kind", "working_limit", "working", "breaking", "breaking"), skip: []set{{"puller.hitch_rating_kind", "breaking"}}},
	{name: "puller.hitch_height", state: AtPuller, fills: []string{"puller.hitch_height", "puller.axle_height"}, apply: pullerIs("wheeled", "tracked", "winch")},
	{name: "puller.axle_height", state: AtPuller, fills: []string{"puller.axle_height"}, apply: pullerIs("wheeled", "tracked", "winch")},
	{name: "puller.wheelbase", state: AtPuller, fills: []string{"puller.wheelbase"}, apply: pullerIs("wheeled", "tracked"), skip: []set{{"puller.wheelbase", "1.2 to 3 m"}}},
	{name: "puller.front_share", state: AtPuller, fills: []string{"puller.front_share"}, apply: pullerIs("wheeled", "tracked"), skip: []set{{"puller.front_share", "0.25"}},
		offers: sets("puller.front_share", "share_third", "0.33", "share_40", "0.4", "share_half", "0.5")},
	{name: "puller.cg_height", state: AtPuller, fills: []string{"puller.cg_height"}, apply: pullerIs("wheeled", "tracked"), skip: []set{{"puller.cg_height", "0.6 to 1.2 m"}}},
	{name: "puller.rollover_frame", state: AtPuller, fills: []string{"puller.rollover_frame"}, offers: yesNo("puller.rollover_frame"),
		skip: []set{{"puller.rollover_frame", "false"}}},
	{name: "puller.side_slope", state: AtPuller, fills: []string{"puller.side_slope", "puller.side_slope_from"}, hears: hear.TopicSideSlope,
		skip:   []set{{"puller.side_slope", "0 to 35 deg"}},
		offers: sets("puller.side_slope", "flat", "0 to 3 deg", "gentle", "0 to 5 deg", "street", "5 to 10 deg")},
	{name: "puller.run", state: AtPuller, fills: []string{"puller.run"}},

	{name: "gear", state: AtGear, fills: []string{"gear[0].kind"}, offers: []offer{{choice: "done"}}},
	{name: "rope", state: AtGear, offers: []offer{{choice: "nothing"}}},
	{name: "block", state: AtGear, offers: []offer{{choice: "nothing"}}},
	{name: "shackle", state: AtGear, offers: []offer{{choice: "nothing"}}},
	{name: "sling", state: AtGear, offers: []offer{{choice: "nothing"}}},
	{name: "gear_sound", state: AtGear, offers: []offer{{choice: "yes"}, {choice: "no"}}},
	{name: "gear[].rating", state: AtGear, offers: sets("gear[].rating_kind", "unmarked", "unmarked"), skip: []set{{"gear[].rating_kind", "unmarked"}}},
	{name: "gear[].rating_kind", state: AtGear, offers: sets("gear[].rating_kind", "working_limit", "working", "breaking", "breaking"),
		skip: []set{{"gear[].rating_kind", "breaking"}}},
	{name: "gear[].length", state: AtGear},
	{name: "gear[].material", state: AtGear, skip: []set{{"gear[].material", "nylon"}},
		offers: sets("gear[].material", "polyester", "polyester", "nylon", "nylon", "hmpe", "hmpe", "polypropylene", "polypropylene", "manila", "manila", "wire", "wire")},
	{name: "gear[].diameter", state: AtGear},
	{name: "gear[].condition", state: AtGear, offers: sets("gear[].condition", "good", "good", "damaged", "damaged"), skip: []set{{"gear[].condition", "unknown"}}},
	{name: "gear[].knots", state: AtGear, offers: sets("gear[].knots", "no_knots", "none")},
	{name: "gear[].sling_angle", state: AtGear,
		offers: sets("gear[].sling_angle", "straight", "0 to 5 deg", "angle_30", "30 deg", "angle_45", "45 deg"), skip: []set{{"gear[].sling_angle", "45 deg"}}},
	{name: "gear[].sling_hitch", state: AtGear, skip: []set{{"gear[].sling_hitch", "choked"}},
		offers: sets("gear[].sling_hitch", "basket", "basket", "choked", "choked", "end_to_end", "straight")},
	{name: "gear[].side_angle", state: AtGear,
		offers: sets("gear[].side_angle", "bow_to_pin", "0 to 5 deg", "some_aside", "45 deg", "square_aside", "90 deg"), skip: []set{{"gear[].side_angle", "90 deg"}}},
	{name: "gear[].improvised", state: AtGear, offers: sets("gear[].improvised", "made_for", "false", "put_together", "true"), skip: []set{{"gear[].improvised", "true"}}},
	{name: "holding", state: AtGear, hears: hear.TopicRope, offers: []offer{{choice: "nothing"}}},

	{name: "crew", state: Crew, fills: []string{"crew"},
		offers: sets("crew", "n1", "1", "n2", "2", "n3", "3", "n4", "4", "n5", "5", "n6", "6"), skip: []set{{"crew", "1"}}},
	{name: "names", state: Crew, hears: hear.TopicText},
	{name: "kit_name", state: AtGear, hears: hear.TopicText},
	{name: "kit_check", state: AtGear, hears: hear.TopicYesNo, offers: []offer{{choice: "yes"}, {choice: "no"}}},
	{name: "second_look", state: Checks, hears: hear.TopicText, noskip: true, offers: []offer{{choice: "not_yet"}}},
	{name: "which", state: Amend, hears: hear.TopicText, noskip: true},
	{name: "sign_name", state: Signing, hears: hear.TopicText, offers: []offer{{choice: "no"}}},
	{name: "sign_second", state: Signing, hears: hear.TopicText},
	{name: "sign_reason", state: Signing, hears: hear.TopicText},
	{name: "sign_word", state: Signing, hears: hear.TopicText, offers: []offer{{choice: "no"}}},
}

// place is the number in a path such as gear[2].rating.
var place = regexp.MustCompile(`\[(\d+)\]`)

// topicByName returns the topic of a stored name. For a piece's topic, such
// as gear[2].rating, its paths have the piece's number.
func topicByName(name string) (topic, bool) {
	number := place.FindStringSubmatch(name)
	general := place.ReplaceAllString(name, "[]")
	for _, list := range [][]topic{firstTopics, laterTopics} {
		for _, t := range list {
			if t.name != general {
				continue
			}
			if number == nil {
				return t, !strings.Contains(general, "[]")
			}
			return t.of(number[1]), true
		}
	}
	if field, ok := strings.CutPrefix(name, "site."); ok {
		if c, ok := siteCheckOf(field); ok {
			return c.topic(), true
		}
	}
	return topic{}, false
}

// of makes the topic of all pieces the topic of piece n.
func (t topic) of(n string) topic {
	at := func(path string) string { return strings.ReplaceAll(path, "[]", "["+n+"]") }
	t.name = at(t.name)
	t.hears = hear.Topic(t.name)
	t.fills = []string{t.name}
	offers := make([]offer, len(t.offers))
	for i, o := range t.offers {
		offers[i] = offer{choice: o.choice}
		for _, s := range o.sets {
			offers[i].sets = append(offers[i].sets, set{at(s.path), s.value})
		}
	}
	t.offers = offers
	skips := make([]set, len(t.skip))
	for i, s := range t.skip {
		skips[i] = set{at(s.path), s.value}
	}
	t.skip = skips
	return t
}

// heard returns what a short answer to t is about.
func (t topic) heard() hear.Topic {
	if t.hears != "" {
		return t.hears
	}
	return hear.Topic(t.name)
}

// key returns the wording key of t in a section.
func (t topic) key(section string) wording.Key { return topicKey(section, t.name) }

func topicKey(section, name string) wording.Key {
	if strings.HasPrefix(name, "site.") {
		name = "check"
	}
	name = strings.ReplaceAll(place.ReplaceAllString(name, ""), "[]", "")
	return wording.Key(section + "." + strings.ReplaceAll(name, ".", "_"))
}

// piece returns which anchor or piece of gear t is about.
func (t topic) piece() (list string, n int, ok bool) {
	m := place.FindStringSubmatchIndex(t.name)
	if m == nil {
		return "", 0, false
	}
	n, err := strconv.Atoi(t.name[m[2]:m[3]])
	return t.name[:m[0]], n, err == nil
}
