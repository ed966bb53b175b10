package wording

import (
	"linetender/calc/bound"
	"linetender/calc/unit"
)

// Args are the arguments of one message, by the names that the file uses.
type Args map[string]any

// Names are joined as a list in a sentence.
type Names []string

// Either are joined as a list in a sentence of which one is meant.
type Either []string

// Lines are put one under the other.
type Lines []string

// samples lists every argument name of the message file with a value of its
// kind. A message may use no other names, and [Book.Say] takes no other kinds.
var samples = Args{
	"Force":     Load{unit.Kilonewtons(4.8)},
	"Most":      Load{unit.Kilonewtons(19)},
	"Limit":     Limit{unit.Kilonewtons(21.5)},
	"Need":      bound.Of[unit.Force]{Low: unit.Kilonewtons(7.2), Best: unit.Kilonewtons(9), High: unit.Kilonewtons(11.8)},
	"Haul":      bound.Of[unit.Force]{Low: unit.Kilonewtons(3.7), Best: unit.Kilonewtons(4.7), High: unit.Kilonewtons(6.4)},
	"Avail":     bound.Of[unit.Force]{Low: unit.Kilonewtons(11.5), Best: unit.Kilonewtons(15.2), High: unit.Kilonewtons(19.1)},
	"Mass":      bound.Of[unit.Mass]{Low: unit.Tonnes(1.8), Best: unit.Tonnes(2.4), High: unit.Tonnes(3)},
	"Weighs":    bound.Of[unit.Mass]{Low: unit.Kilograms(734), Best: unit.Kilograms(917), High: unit.Kilograms(1204)},
	"Length":    bound.Of[unit.Length]{Low: unit.Metres(12), Best: unit.Metres(12), High: unit.Metres(12)},
	"Rope":      bound.Of[unit.Length]{Low: unit.Metres(52), Best: unit.Metres(52), High: unit.Metres(52)},
	"Clear":     unit.Metres(36),
	"Slack":     unit.Metres(0.25),
	"Slope":     bound.Of[unit.Angle]{Low: unit.Degrees(13), Best: unit.Degrees(14), High: unit.Degrees(15)},
	"Per":       24,
	"Count":     3,
	"Parts":     2,
	"Number":    4,
	"Total":     21,
	"Percent":   30,
	"Text":      "wet clover",
	"Result":    "4.8 kN",
	"Was":       "2.4 t",
	"Why":       "the puller slips before it moves",
	"What":      "the rope",
	"Name":      "Ada",
	"Second":    "Bo",
	"Reason":    "the rope is new",
	"Code":      "larch-42",
	"Secret":    "plum-maple-teal-19",
	"Check":     "L8",
	"Criterion": "everyone stands outside the clear distance",
	"Source":    "common practice",
	"Place":     "uphill, to the side",
	"Duty":      "decides and gives the signals",
	"Role":      "leader",
	"List":      Lines{"one thing", "another thing"},
	"Names":     Names{"Ada", "Bo", "Cy"},
	"People":    Names{"Bo", "Cy"},
	"Either":    Either{"the rope", "the block"},
	"Question":  AskMass,
	"Example":   LikeMass,
	"Topic":     NameMass,
	"Decision":  DecisionNoGo,
	"Severity":  SeverityBlock,
}
