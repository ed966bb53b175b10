package calc

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// lack is a place of the load path that nothing fills, and the list of the
// case that would.
type lack struct{ what, field string }

func named(pl place) lack {
	if pl.kinds == nil {
		return lack{anchorsFor[pl.use], "anchors"}
	}
	return lack{part(pl), "gear"}
}

// eachOnce says a thing that is missing in several places once, with how often.
func eachOnce(what []string) []string {
	var out []string
	for i, w := range what {
		if slices.Contains(what[:i], w) {
			continue
		}
		n := 0
		for _, v := range what {
			if v == w {
				n++
			}
		}
		if n > 1 {
			w = fmt.Sprintf("%s, %d times", w, n)
		}
		out = append(out, w)
	}
	return out
}

// What is missing where nothing makes an anchor place, or joins a block.
var anchorsFor = map[string]string{
	"standing": "an anchor for the tackle", "lead": "an anchor for the lead block",
	"holding": "an anchor for the holding line", "puller": "an anchor for the winch",
}

var joinersOf = map[string]string{
	"load": "what joins the moving block to the load", "anchor": "what joins the standing block to its anchor",
	"lead-block": "what joins the lead block to its anchor",
}

// Where what joins a block or a winch to its anchor must go round it.
var roundOf = map[string]string{
	"anchor": "a strop round the anchor of the tackle", "lead-block": "a strop round the anchor of the lead block",
}

const winchRound = "a strop round the anchor of the winch"

const holdingRope = "a holding rope"

func part(pl place) string {
	switch {
	case pl.joint:
		return "what joins the lengths of the line end to end"
	case pl.use == "holding":
		return holdingRope
	case pl.sheaves > 0:
		wheels := "one sheave"
		if pl.sheaves > 1 {
			wheels = strconv.Itoa(pl.sheaves) + " sheaves"
		}
		return "a " + strings.ReplaceAll(pl.use, "-", " ") + " with " + wheels
	case pl.winch:
		return winchRound
	case goesRound(pl.kinds):
		return roundOf[pl.use]
	case len(pl.kinds) > 1 && pl.use != "haul":
		return joinersOf[pl.use]
	}
	return "a haul rope"
}
