package flow

import "fmt"

// codeWords make codes that can be read out over a bad line: short, common,
// no two alike in sound.
var codeWords = []string{
	"acorn", "alder", "amber", "apron", "arrow", "aspen", "badge", "barley", "basin", "beech", "birch", "bison",
	"bramble", "brick", "bridle", "brook", "button", "cabin", "candle", "canvas", "cedar", "cherry", "clover", "cobble",
	"copper", "cotton", "cricket", "daisy", "damson", "dapple", "ember", "falcon", "fennel", "fern", "finch", "flint",
	"garnet", "ginger", "gravel", "hamlet", "harvest", "hazel", "heather", "heron", "hollow", "indigo", "ivory", "jasper",
	"juniper", "kettle", "lantern", "larch", "lemon", "linen", "magpie", "maple", "meadow", "mallow", "nettle", "nutmeg",
	"onion", "orchard", "otter", "paddock", "pebble", "pepper", "plover", "pocket", "poplar", "quarry", "quill", "rabbit",
	"raven", "ribbon", "river", "rowan", "saddle", "saffron", "sorrel", "spruce", "starling", "sunrise", "tansy", "thistle",
	"timber", "tulip", "turnip", "velvet", "violet", "walnut", "willow", "window", "winter", "yarrow", "yellow", "zephyr",
}

// newCode returns the code of a new job, such as larch-42. If it is taken,
// the log refuses the turn and it runs again with another.
func (e *Engine) newCode() string {
	return fmt.Sprintf("%s-%02d", codeWords[e.Random(len(codeWords))], e.Random(100))
}

// newSecret returns a code that lets a chat in. Four words and a number are
// 33 bits; the door slows guessing.
func (e *Engine) newSecret() string {
	w := func() string { return codeWords[e.Random(len(codeWords))] }
	return fmt.Sprintf("%s-%s-%s-%s-%02d", w(), w(), w(), w(), e.Random(100))
}
