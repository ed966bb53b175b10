package job_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"linetender/calc/job"
)

// sentences are refusals to the letter, one for every way a sentence is made.
// $ is the least that a load must say, # what a load says besides its mass.
var sentences = []struct{ given, want string }{
	// The JSON itself.
	{`   `, `the JSON ends too early; write one whole object with its closing brace`},
	{`[]`, `the case must be one JSON object, such as {"load": {...}}`},
	{`null`, `the case must be one JSON object, such as {"load": {...}}`},
	{`{"load":{$}`, `the JSON ends too early; write one whole object with its closing brace`},
	{"{\"load\":\n{$},\n\"crew\": 3,,}", `the JSON is broken at line 3, column 11, where , stands; leave out the comma that nothing follows`},
	{"{\"load\":{$},\"distance\":\"8\nm\"}", `distance: the JSON is broken at line 1, column 87; close the text with a double quote before the line ends, and write no tabs in it`},
	{`{"load":{$},"crew":"3}`, `crew: the JSON ends too early; write one whole object with its closing brace`},
	{`{load:{$}}`, `the JSON is broken at line 1, column 2, where l stands; write texts and names in double quotes`},
	{`{"load":{$} "crew":3}`, `the JSON is broken at line 1, column 74, where " stands; write a comma before it, or a colon if it is a field's value`},
	{`{"load":{$},}`, `the JSON is broken at line 1, column 74, where } stands; leave out the comma that nothing follows`},
	{`{'load':{$}}`, `the JSON is broken at line 1, column 2, where ' stands; write straight double quotes round names and texts`},
	{"\n{\"crew\": nul}", `crew: the JSON is broken at line 2, column 13, where } stands; write texts in double quotes; the only bare words are true, false and null`},
	{`// a case`, `the JSON is broken at line 1, column 1, where / stands; leave the remark out; JSON has none`},
	{"{\"puller\":{\n\"name\":\"J\xfcrgen\"}}", `the text is not UTF-8 at line 2, column 10; save the file as UTF-8`},
	{`{"load":{$}} {}`, `there is text after the case's closing brace; one file holds one object`},
	{`{"load":{$}}]`, `there is text after the case's closing brace; one file holds one object`},
	{`{"load":{$},"load":{$}}`, `load: this field is given twice; give it once`},
	{`{"load":{$},"gear":[{"kind":"rope","kind":"block"}]}`, `gear[0].kind: this field is given twice; give it once`},
	// Fields.
	{`{"load":{$},"wieght":1}`, `wieght: the case has no such field; it takes anchors, crew, distance, gear, gear_more, hazards, holding_more, holding_reach, lead, load, puller, pullers, reach, seen, signed, site, sure, tackle`},
	{`{"load":{$},"gera":[]}`, `gera: the case has no such field; the nearest is "gear"`},
	{`{"load":{$},"Crew":3}`, `"Crew": the case has no such field; the nearest is "crew"`},
	{`{"load":{$},"crew\n":3}`, `"crew\n": the case has no such field; the nearest is "crew"`},
	{`{"load":{$,"lip":{"heigth":"20 cm"}}}`, `load.lip.heigth: load.lip has no such field; the nearest is "height"`},
	{`{"load":{$},"gear":[{"kind":"rope"},{"ratign":"2 t"}]}`, `gear[1].ratign: gear[1] has no such field; the nearest is "rating"`},
	// Kinds of value.
	{`{"load":null}`, `load: null is not an answer here; write an object in braces, or leave the field out`},
	{`{"load":"heavy"}`, `load: this kind of value does not fit here; write an object in braces`},
	{`{"load":{$},"hazards":null}`, `hazards: null is not an answer here; write a list in square brackets, or leave the field out`},
	{`{"load":{$},"hazards":[7]}`, `hazards[0]: this kind of value does not fit here; write a text in quotes`},
	{`{"load":{$},"hazards":[""]}`, `hazards[0]: the text is empty; write a text in quotes, or leave the field out`},
	{`{"load":{$},"gear":[null]}`, `gear[0]: null is not an answer here; write an object in braces, or leave the field out`},
	{`{"load":{$},"crew":"3"}`, `crew: this kind of value does not fit here; write a whole number`},
	{`{"load":{$},"distance":8}`, `distance: 8 has no unit; write a number and a unit, such as 24 mm or 60 ft`},
	{`{"load":{$},"distance":" "}`, `distance: the text is empty; write a number and a unit, such as 24 mm or 60 ft, or leave the field out`},
	{`{"load":{"mass":2400,#}}`, `load.mass: 2400 has no unit; write a number and a unit, such as 2400 kg or 5200 lb`},
	{`{"load":{$,"belly":0}}`, `load.belly: this kind of value does not fit here; write true or false`},
	{`{"load":{$,"locked":"half"}}`, `load.locked: this kind of value does not fit here; write a number from 0 to 1`},
	{`{"load":{$,"off_line":7}}`, `load.off_line: 7 has no unit; write an angle in degrees, such as 10 deg`},
	{`{"load":{$,"side_slope":7}}`, `load.side_slope: 7 has no unit; write a slope, such as 14 deg, 25 %, 1 in 4 or level 48 in, gap 9 in`},
	{`{"load":{$},"puller":{"rating":3}}`, `puller.rating: 3 has no unit; write a number and a unit, such as 12 kN or 2.2 t`},
	// Shares and counts.
	{`{"load":{$,"locked":1e999}}`, `load.locked: 1e999 is no share; write a number from 0 to 1, such as 0.5`},
	{`{"load":{$},"puller":{"driven":50}}`, `puller.driven: 50 is no share; write a number from 0 to 1, such as 0.5`},
	{`{"load":{$},"crew":2.5}`, `crew: 2.5 does not fit; write a whole number from 0 to 1000`},
	{`{"load":{$},"crew":1e30}`, `crew: 1e30 does not fit; write a whole number from 0 to 1000`},
	{`{"load":{$},"crew":99999999999999999999999999999999999999999999}`, `crew: 9999999999999999999999999999999999999999… does not fit; write a whole number from 0 to 1000`},
	{`{"load":{$},"tackle":{"parts":0}}`, `tackle.parts: 0 does not fit; write a whole number from 1 to 30`},
	{`{"load":{$},"tackle":{"lead_blocks":31}}`, `tackle.lead_blocks: 31 does not fit; write a whole number from 0 to 30`},
	{`{"load":{$},"puller":{"winch_layer":0}}`, `puller.winch_layer: 0 does not fit; write a whole number from 1 to 1000`},
	{`{"load":{$},"site":{"chocks":-1}}`, `site.chocks: -1 does not fit; write a whole number from 0 to 1000`},
	// Quantities.
	{`{}`, `load.mass: this must be there; write it, such as "2400 kg"`},
	{`{"load":{"mass":"heavy",#}}`, `load.mass: "heavy" is no weight; write a number and a unit, such as 2400 kg or 5200 lb`},
	{`{"load":{"mass":"2400",#}}`, `load.mass: "2400" has no unit; write a number and a unit, such as 2400 kg or 5200 lb`},
	{`{"load":{"mass":"-2 t",#}}`, `load.mass: "-2 t" is below zero; write a number and a unit, such as 2400 kg or 5200 lb`},
	{`{"load":{"mass":"0 to 2 t",#}}`, `load.mass: "0 to 2 t" is no weight at all; write what it weighs, such as 2400 kg`},
	{`{"load":{"mass":"199 to 201 t",#}}`, `load.mass: "199 to 201 t" is over 200 t; write the weight of one vehicle`},
	{`{"load":{"mass":"5 m",#}}`, `load.mass: "5 m" has no unit of weight; write a number and a unit, such as 2400 kg or 5200 lb`},
	{`{"load":{"mass":"2 t","slope":"-5 deg","pull":"level","ground":"sand"}}`, `load.slope: "-5 deg" is below zero; write degrees, per cent, a rise in a level run, or what a level or a board shows, such as 14 deg, 25 %, 1 in 4, or level 48 in, gap 9 in`},
	{`{"load":{"mass":"2 t","slope":"14","pull":"level","ground":"sand"}}`, `load.slope: "14" has no unit; write degrees, per cent, a rise in a level run, or what a level or a board shows, such as 14 deg, 25 %, 1 in 4, or level 48 in, gap 9 in`},
	{`{"load":{"mass":"2 t","slope":"board 48 in, rise 50 in","pull":"level","ground":"sand"}}`, `load.slope: "board 48 in, rise 50 in" has a rise above the length of the board; write a rise that is less than the board, such as board 48 in, rise 9 in`},
	{`{"load":{"mass":"2 t","slope":"level 0 in, gap 9 in","pull":"level","ground":"sand"}}`, `load.slope: "level 0 in, gap 9 in" has a level of no length; write both lengths with their unit, such as level 48 in, gap 9 in or board 48 in, rise 9 in`},
	{`{"load":{$,"off_line":"70 to 80 deg"}}`, `load.off_line: "70 to 80 deg" is too far off the line; write an angle under 80 deg`},
	{`{"load":{$,"lip":{"height":"0 cm","wheel_radius":"40 cm"}}}`, `load.lip.height: "0 cm" is nothing; write what it is, above zero`},
	{`{"load":{$,"lip":{"height":"10 cm"}}}`, `load.lip: a step needs both its height and the wheel's radius, such as 20 cm and 38 cm; write null for no step`},
	{`{"load":{$},"lead":"-1 m"}`, `lead: "-1 m" is below zero; write a number and a unit, such as 24 mm, 1/2 in or 3 ft 6 in`},
	{`{"load":{$},"puller":{"rating":"0 kN"}}`, `puller.rating: "0 kN" is nothing; write what it is, above zero`},
	{`{"load":{$},"pullers":[{"kind":"winch"},{"slope":"95 deg"}]}`, `pullers[1].slope: "95 deg" is upright or steeper; write a slope below 90 degrees, such as 14 deg, 25 %, 1 in 4, or level 48 in, gap 9 in`},
	{`{"load":{$},"tackle":{"lead_angle":"181 deg"}}`, `tackle.lead_angle: "181 deg" can't be; write the inside angle between the two lines, from 0 to 180 deg`},
	{`{"load":{$,"tow_point":{"sling_angle":"91 deg"}}}`, `load.tow_point.sling_angle: "91 deg" can't be; write the angle from the line of pull to a leg, from 0 to 90 deg`},
	// Words and signatures.
	{`{"load":{"mass":"2 t","slope":"10 deg","pull":"uphill","ground":"wet gras"}}`, `load.ground: "wet gras" is not a word for this; the nearest is "wet grass" (of asphalt, wet asphalt, gravel, firm soil, grass, wet grass, loose soil, sand, mud, snow, ice)`},
	{`{"load":{$},"hazards":["water","fule"]}`, `hazards[1]: "fule" is not a word for this; the nearest is "fuel" (of overhead-line, traffic, water, fuel, battery, people-inside, overturned, hazmat, edge, surge, hollow, broken)`},
	{`{"load":{$,"tow_point":{"rating_kind":"braking"}}}`, `load.tow_point.rating_kind: "braking" is not a word for this; the nearest is "breaking" (of working, breaking, unmarked)`},
	{`{"load":{$},"gear":[{"kind":"rope","condition":"fine"}]}`, `gear[0].condition: "fine" is not a word for this; write one of good, damaged, unknown`},
	{`{"load":{$},"anchors":[{}]}`, `anchors[0].kind: say what it is: tree, stump, picket, deadman, vehicle, rock, rated, person, post`},
	{`{"load":{$},"puller":{"kind":"winch"},"pullers":[{"kind":"winch"}]}`, `pullers: give either puller or pullers, not both`},
	{`{"load":{$},"signed":[{"check":"L4","by":"Ada","reason":"seen"}]}`, `signed[0].second: a signature needs check, by, second and reason; write who else agrees`},
	{`{"load":{$},"signed":[{"check":"L4","by":"Ada","second":" ada ","reason":"seen"}]}`, `signed[0].second: the second person must be somebody else than "Ada"`},
	// Text that no person wrote.
	{"{\"load\":{$},\"hazards\":[\"w\xfeter\"]}", `the text is not UTF-8 at line 1, column 87; save the file as UTF-8`},
	{`{"load":{$},"hazards":["a\u2028b\nc\td"]}`, `hazards[0]: "a\u2028b\nc\td" is not a word for this; write one of overhead-line, traffic, water, fuel, battery, people-inside, overturned, hazmat, edge, surge, hollow, broken`},
	{`{"load":{$},"distance":"8 m\nand more"}`, `distance: "8 m\nand more" leaves one end open; write both ends, such as 10 to 12 m`},
	{`{"load":{$},"\u0000\u202e":1}`, `"\x00\u202e": the case has no such field; it takes anchors, crew, distance, gear, gear_more, hazards, holding_more, holding_reach, lead, load, puller, pullers, reach, seen, signed, site, sure, tackle`},
}

func spell(given string) string {
	rest := `"slope":"10 deg","pull":"uphill","ground":"grass"`
	return strings.ReplaceAll(strings.ReplaceAll(given, "$", `"mass":"2 t",`+rest), "#", rest)
}

func TestSentences(t *testing.T) {
	for _, r := range sentences {
		_, err := caseOf(spell(r.given))
		if err == nil {
			t.Errorf("%s: taken", r.given)
			continue
		}
		if got := err.Error(); got != r.want {
			t.Errorf("%s\n got %s\nwant %s", r.given, got, r.want)
		}
		plainLine(t, r.given, err)
	}
}

// plainLine holds a refusal to one line of readable text.
func plainLine(t *testing.T, given string, err error) {
	t.Helper()
	text := err.Error()
	if text == "" || strings.ContainsAny(text, "\n\r\u2028\u2029\x00\x1b") || !utf8.ValidString(text) || len(text) > 600 {
		t.Errorf("%.80q: %.900q is not one line", given, text)
	}
}

// What is far too long or too deep is refused by as short a line, without the
// stack to read it all.
func TestHugeAndDeep(t *testing.T) {
	long := strings.Repeat("z", 500_000)
	deep := 200_000
	for name, given := range map[string]string{
		"name":           `{"load":{$},"` + long + `":1}`,
		"name in places": `{"load":{$},"puller":{"` + long + `":1}}`,
		"word":           `{"load":{$,"sunk":"` + long + `"}}`,
		"hazard":         `{"load":{$},"hazards":["` + long + `"]}`,
		"mass":           `{"load":{"mass":"` + strings.Repeat("9", 500_000) + ` kg",#}}`,
		"slope":          `{"load":{$,"side_slope":"` + long + `"}}`,
		"count":          `{"load":{$},"crew":` + strings.Repeat("9", 500_000) + `}`,
		"share":          `{"load":{$,"locked":` + strings.Repeat("9", 500_000) + `}}`,
		"no unit":        `{"load":{$},"reach":` + strings.Repeat("9", 500_000) + `}`,
		"signatures":     `{"load":{$},"signed":[{"check":"P3","by":"` + long + `","second":"` + long + `","reason":"x"}]}`,
		"lists":          `{"load":{$},"gear":` + strings.Repeat("[", deep) + strings.Repeat("]", deep) + `}`,
		"bare lists":     strings.Repeat("[", deep),
		"objects":        `{"load":` + strings.Repeat(`{"load":`, deep/2) + `1` + strings.Repeat("}", deep/2) + `}`,
		"knots":          `{"load":{$},"gear":[{"kind":"rope","knots":` + strings.Repeat("[", deep) + strings.Repeat("]", deep) + `}]}`,
		"after":          `{"load":{$}}` + strings.Repeat("}", deep),
		"over a MiB":     `{"load":{$}}` + strings.Repeat(" ", job.MaxBytes),
	} {
		t.Run(strings.ReplaceAll(name, " ", "-"), func(t *testing.T) {
			_, err := caseOf(spell(given))
			if err == nil {
				t.Fatal("taken")
			}
			plainLine(t, name, err)
		})
	}
	if _, err := job.Decode([]byte(spell(`{"load":{$}}`) + strings.Repeat(" ", job.MaxBytes-len(spell(`{"load":{$}}`))))); err != nil {
		t.Errorf("1 MiB is taken: %v", err)
	}
}
