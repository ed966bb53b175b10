package sum

import "linetender/calc/handbook"

// The most of things that a sum takes, far past any use: the figures then still
// come out finite.
const (
	mostParts = 64
	mostTurns = 100
)

// entries are the sums, in the order of the package documentation.
var entries = []entry{
	{
		name: "slope", about: "a slope in degrees, as rise over level run, and as the share of the weight that pulls down it",
		keys:    []key{{name: "of", kind: aSlope, zero: true, before: []string{"slope", "grade"}}},
		forms:   []form{{needs: []string{"of"}}},
		example: "of=25%", work: slopeOf,
	},
	{
		name: "grade", about: "what a weight pulls along a slope, and what it presses on the ground",
		keys: []key{
			{name: "mass", kind: aMass, before: weighs},
			{name: "of", kind: aSlope, zero: true, before: []string{"slope", "grade"}},
		},
		forms:   []form{{needs: []string{"mass", "of"}}},
		example: "mass=2400kg of=14deg", noise: vehicle, work: grade,
	},
	{
		name: "side-pull", about: "the tension in each half of a tight rope that is pulled sideways at its middle",
		keys: []key{
			{name: "force", kind: aForce, before: []string{"pull", "load"}},
			{name: "angle", kind: aSlope},
			{name: "span", kind: aLength, named: true, before: []string{"between", "apart"}, after: []string{"span", "apart", "long", "rope"}},
			{name: "offset", kind: aLength, named: true, before: []string{"sag", "moved", "sideways", "aside"}, after: []string{"offset", "sag", "sideways", "aside"}},
		},
		forms:   []form{{needs: []string{"force", "angle"}}, {needs: []string{"force", "span", "offset"}}},
		example: "force=838N angle=7deg", noise: []string{"middle", "mid-span", "rope", "each", "side"}, work: sidePull,
	},
	{
		name: "block-load", about: "what a block and its strop carry when a rope turns in it, by the inside angle between its two lines",
		keys: []key{
			{name: "tension", kind: aForce, before: []string{"line", "rope", "pull"}},
			{name: "angle", kind: anAngle, zero: true, before: []string{"between"}},
		},
		forms:   []form{{needs: []string{"tension", "angle"}}},
		example: "tension=10kN angle=90deg", noise: []string{"inside", "between", "lines", "line", "rope"}, work: blockLoad,
	},
	{
		name: "sling-leg", about: "the tension in each leg of a sling whose hook stands so high over the load",
		keys: []key{
			{name: "mass", kind: aMass, before: weighs},
			{name: "legs", kind: aCount, least: 1, named: true, after: []string{"legs", "leg"}},
			{name: "length", kind: aLength, named: true, before: []string{"long"}, after: []string{"long", "legs", "leg"}},
			{name: "height", kind: aLength, named: true, before: []string{"high", "hook"}, after: []string{"high", "up", "height"}},
		},
		forms:   []form{{needs: []string{"mass", "legs", "length", "height"}}},
		example: "mass=5t legs=2 length=3.5m height=2m", noise: []string{"each", "hook", "over", "sling"}, work: slingLeg,
	},
	{
		name: "tackle", about: "the haul, the friction and the gain of a tackle, by the manuals' tenth of the load a sheave or by the loss at each sheave",
		keys: []key{
			{name: "load", kind: aForce, before: []string{"force", "pull"}},
			{name: "advantage", kind: aCount, least: 1, named: true, before: []string{"ratio"}, after: []string{"advantage", "parts", "part"}},
			{name: "sheaves", kind: aCount, named: true, before: []string{"pulleys"}, after: []string{"sheaves", "sheave", "pulleys", "pulley"}},
			{name: "rule", kind: aWord, words: []string{"manual"}},
			{name: "parts", kind: aCount, least: 1, named: true, before: []string{"lines"}, after: []string{"parts", "part", "lines"}},
			{name: "efficiency", kind: aNumber, words: []string{"plain", "roller"}, named: true, after: []string{"efficiency", "efficient"}},
			{name: "haul_from", kind: aWord, words: []string{"standing", "moving"}, before: []string{"hauled from"}},
		},
		forms: []form{
			{needs: []string{"load", "advantage", "sheaves"}, takes: []string{"rule"}},
			{needs: []string{"load", "parts", "efficiency", "haul_from"}},
		},
		example: "load=1000lb advantage=4 sheaves=4 rule=manual", noise: []string{"hauled", "block", "rope", "sheaves", "sheave"}, work: tackleHaul,
	},
	{
		name: "compound", about: "the gain, without friction, of tackles each of which hauls the haul line of the one before",
		keys:    []key{{name: "advantages", kind: aList}},
		forms:   []form{{needs: []string{"advantages"}}},
		example: "advantages=4,3", work: compound,
	},
	{
		name: "tackle-limit", about: "the load that a rope's working limit lets a tackle move",
		keys: []key{
			{name: "rope_working", kind: aForce, rating: true, before: []string{"rope", "working", "limit"}, after: []string{"rope"}},
			{name: "advantage", kind: aCount, least: 1, named: true, before: []string{"ratio"}, after: []string{"advantage"}},
			{name: "sheaves", kind: aCount, named: true, before: []string{"pulleys"}, after: []string{"sheaves", "sheave", "pulleys", "pulley"}},
		},
		forms:   []form{{needs: []string{"rope_working", "advantage", "sheaves"}}},
		example: "rope_working=5kN advantage=4 sheaves=4", noise: []string{"working", "limit", "rope", "load"}, work: tackleLimit,
	},
	{
		name: "recovery", about: "the line parts that a mired vehicle takes, by the army's exercise rule",
		keys: []key{
			{name: "mass", kind: aMass, before: weighs},
			{name: "factor", kind: aWord, words: []string{"1", "2", "3"}, named: true, before: []string{"mire", "mire factor"}},
			{name: "puller", kind: aForce, rating: true, named: true, before: []string{"winch", "pull"}, after: []string{"winch", "puller"}},
		},
		forms:   []form{{needs: []string{"mass", "factor", "puller"}}},
		example: "mass=100000lb factor=2 puller=90000lb", noise: vehicle, work: recovery,
	},
	{
		name: "rope-rule", about: "the strength of new rope by its size: breaking strength of fibre by the Navy's rule, working limit of wire by either",
		keys: []key{
			{name: "material", kind: aWord, words: handbook.Materials()},
			{name: "circumference", kind: aLength, named: true, before: []string{"round", "around"}, after: []string{"round", "around", "circumference"}},
			{name: "diameter", kind: aLength, named: true, before: []string{"thick"}, after: []string{"thick", "diameter"}},
			{name: "rule", kind: aWord, words: []string{"navy", "australia"}},
		},
		forms: []form{
			{needs: []string{"material", "circumference"}, takes: []string{"rule"}},
			{needs: []string{"diameter"}, takes: []string{"material", "rule"}},
		},
		example: "material=manila circumference=3in", noise: []string{"rope", "line"}, work: ropeRule,
	},
	{
		name: "chain-rule", about: "the working limit of plain iron chain by its size",
		keys:    []key{{name: "diameter", kind: aLength, before: []string{"size"}, after: []string{"thick", "diameter"}}},
		forms:   []form{{needs: []string{"diameter"}}},
		example: "diameter=3/4in", noise: []string{"chain", "link", "iron"}, work: chainRule,
	},
	{
		name: "shackle-rule", about: "the working limit of a shackle by the size of its body beside the pin",
		keys:    []key{{name: "diameter", kind: aLength, before: []string{"size"}, after: []string{"thick", "diameter"}}},
		forms:   []form{{needs: []string{"diameter"}}},
		example: "diameter=5/8in", noise: []string{"shackle", "body"}, work: shackleRule,
	},
	{
		name: "chain", about: "the working limit of graded chain by the printed table",
		keys: []key{
			{name: "size", kind: aLength, before: []string{"diameter"}},
			{name: "grade", kind: aWord, words: []string{"30", "43", "70", "80", "100"}},
		},
		forms:   []form{{needs: []string{"size", "grade"}}},
		example: "size=3/8in grade=70", noise: []string{"chain"}, work: chain,
	},
	{
		name: "pickets", about: "what a holdfast of wooden or steel pickets stands in a soil",
		keys: []key{
			{name: "pattern", kind: aWord, words: handbook.PicketPatterns()},
			{name: "steel", kind: aCount, least: 1, named: true, after: []string{"steel"}},
			{name: "soil", kind: aWord, words: handbook.Soils()},
		},
		forms:   []form{{needs: []string{"pattern", "soil"}}, {needs: []string{"steel", "soil"}}},
		example: "pattern=1-1-1 soil=loam", noise: []string{"pickets", "picket", "ground", "firm"}, work: pickets,
	},
	{
		name: "deadman", about: "the length of a buried timber that stands a rope's breaking strength",
		keys: []key{
			{name: "breaking", kind: aForce, before: []string{"breaks", "strength"}, after: []string{"breaking", "rope"}},
			{name: "depth", kind: aLength, named: true, before: []string{"deep"}, after: []string{"deep", "down", "depth"}},
			{name: "slope", kind: aWord, words: []string{"1:1", "1:2", "1:3", "1:4"}},
			{name: "face", kind: aLength, named: true, before: []string{"high"}, after: []string{"face", "high"}},
			{name: "soil", kind: aWord, words: handbook.Soils()},
		},
		forms:   []form{{needs: []string{"breaking", "depth", "slope", "face", "soil"}}},
		example: "breaking=83600lb depth=7ft slope=1:3 face=18in soil=loam", noise: []string{"timber", "log", "rope", "pull"}, work: deadman,
	},
	{
		name: "winch", about: "what a winch pulls on a layer of its drum",
		keys: []key{
			{name: "rating", kind: aForce, rating: true, before: []string{"rated"}, after: []string{"winch", "rating"}},
			{name: "layer", kind: aCount, least: 1, named: true, after: []string{"layers", "layer"}},
		},
		forms:   []form{{needs: []string{"rating", "layer"}}},
		example: "rating=20000lb layer=2", noise: []string{"rope", "drum"}, work: winch,
	},
	{
		name: "post", about: "what a rope turned round a fixed post holds for a tension in the hand, and the hand for one in the line",
		keys: []key{
			{name: "turns", kind: aNumber, zero: true, named: true, after: []string{"turns", "turn"}},
			{name: "friction", kind: aNumber, zero: true, named: true, after: []string{"friction"}},
			{name: "tension", kind: aForce, before: []string{"load", "line", "pull"}},
		},
		forms:   []form{{needs: []string{"turns", "friction", "tension"}}},
		example: "turns=2 friction=0.2 tension=3kN", noise: []string{"round", "rope", "line"}, work: post,
	},
	{
		name: "lip", about: "the level pull that starts a wheel over a step, by the mass on the axle that climbs",
		keys: []key{
			{name: "mass", kind: aMass, before: weighs},
			{name: "height", kind: aLength, named: true, before: []string{"step", "high"}, after: []string{"step", "high", "lip"}},
			{name: "radius", kind: aLength, named: true, before: []string{"wheel"}, after: []string{"radius", "wheel"}},
		},
		forms:   []form{{needs: []string{"mass", "height", "radius"}}},
		example: "mass=1200kg height=10cm radius=38cm", noise: []string{"step", "wheel", "axle", "over"}, work: lip,
	},
	{
		name: "energy", about: "the energy in a tight rope and how far it is stretched",
		keys: []key{
			{name: "tension", kind: aForce, before: []string{"pull", "load"}},
			{name: "length", kind: aLength, before: []string{"long"}, after: []string{"long"}},
			{name: "material", kind: aWord, words: handbook.Materials()},
			{name: "breaking", kind: aForce, named: true, before: []string{"breaks", "breaks at", "strength"}, after: []string{"breaking", "strength"}},
		},
		forms:   []form{{needs: []string{"tension", "length", "material", "breaking"}}},
		example: "tension=12kN length=30m material=nylon breaking=100kN", noise: []string{"rope", "line", "that", "strength"}, work: energy,
	},
	{
		name: "arrest", about: "the peak in a holding line that catches a load which has run up its slack",
		keys: []key{
			{name: "mass", kind: aMass, before: weighs},
			{name: "of", kind: aSlope, zero: true, before: []string{"slope", "grade"}},
			{name: "slack", kind: aLength, zero: true, named: true, after: []string{"slack"}},
			{name: "length", kind: aLength, named: true, before: []string{"long"}, after: []string{"long", "rope", "line"}},
			{name: "material", kind: aWord, words: handbook.Materials()},
			{name: "breaking", kind: aForce, named: true, before: []string{"breaks", "breaks at", "strength"}, after: []string{"breaking", "strength"}},
		},
		forms:   []form{{needs: []string{"mass", "of", "slack", "length", "material", "breaking"}}},
		example: "mass=2400kg of=14deg slack=0.25m length=20m material=polyester breaking=80kN", noise: append([]string{"rope", "line", "that", "strength"}, vehicle...), work: arrest,
	},
}

// Words of a sentence for a mass, and for what has it.
var (
	weighs  = []string{"weight", "weighs", "weighing", "load"}
	vehicle = []string{"vehicle", "truck", "car", "tractor", "load", "winch"}
)
