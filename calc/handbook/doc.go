// Package handbook holds the trade's figures as data: every coefficient,
// threshold, design factor, spread and distance that the calculation uses is a
// row of a CSV file under tables/, with a low, best and high value in the unit
// its source printed, the source, the place in it and how it was read. Code
// elsewhere asks for a figure by its name in the trade and gets a typed quantity
// with the row to cite.
//
// # The tables
//
//	file         tables                           accessors                         main sources
//	ground.csv   rolling, sliding, grip (tyres,   Rolling, Sliding, Grip,           Moyer in Marks'; Carvill 1993; CRREL TR-01-16;
//	             tracks), mire, belly             GripTracked, Mire, BellyDrag      Baker 1975, Fricke 1990; Noon 1994; Peurifoy
//	tackle.csv   sheave, tackle, drum layer,      SheaveEfficiency, DrumLayer,      NAVEDTRA 14251; Pipeline Rules of Thumb;
//	             winch, post friction             StallOverRating, PostFriction     TM 9-2320-279-10-2; Kimbell 1981
//	rope.csv     stretch at break, rope, bend,    StretchAtBreak, SheaveOverRope,   UFC 4-159-03; NAVEDTRA 12018, 14160; Plymouth
//	             knot, strength over manila       BendShare, KnotEfficiency         Cordage 1946, Day 1970, USDA 1964; CI 1401-06
//	gear.csv     design factor, chain, sharing,   DesignFactor, ChainWorking,       ASME B30.9, B30.26; 49 CFR 393.108;
//	             shackle side load                PartsThatCount, ShackleSide       WAC 296-155-33905
//	anchor.csv   pickets, deadman, tree, stump,   PicketHold, DeadmanPressure,      NAVEDTRA 14251; TM 5-5420-278-10; Australian
//	             vehicle anchor                   TreeHold, VehicleAnchorShare      Emergency Manual; WAC 296-54-569
//	people.csv   people, crew                     PersonPull, PersonMost, PersonMass, CrewFor HSE L23; US Army field manual; Cayero 2022
//	post.go      who has which part (no figures)  Posts, MostPosts                  common practice; 29 CFR 1926.1417(y), .1419
//	rule.csv     rule of thumb                    RopeBreaking, WireWorking, ...    NAVEDTRA 14043, 14026, 14251
//	             strongest sold                   StrongestRope, StrongestShackle   from memory
//	spread.csv   mass, slope, length spread       MassSpread, SlopeSpread, Pace     common practice
//	limit.csv    limit, pull                      MassSigned, OffLineBlocked, ...   common practice
//	likely.csv   likely                           LikelyMass, LikelyForce, ...      judgment
//	remedy.csv   remedy                           HeaviestPuller, RampedMost, ...   judgment
//
// # How a figure is chosen
//
// Where sources differ the row spans them, and the end that the calculation is
// judged by is never the kinder one: resistance at its high end, grip and
// strength at their low end, and for what a strong puller may do to small gear
// the high end of grip. Lines that begin with # in the files give the reason
// where one is needed. Figures left out on purpose: the recovery field
// fraction of one fifth of the weight for gravel, several times any
// measurement; loose dirt's 0.60 to 0.65 as grip, because it is the drag of a tyre
// that digs itself in; a tree's capacity from its diameter by formula, because
// none with readable coefficients was found; adding the pull of more people
// than their number, because teams lose a share of it.
//
// # How sure a figure is
//
// Row.Read says how it was got: read on the published page, second-hand in
// somebody's quotation, computed from something read, common practice of our
// own, or from memory. A row that joins several sources carries the least sure
// of those that set its ends. Row.Assumed marks the last two kinds: the user
// must see those as assumptions. A rule of thumb from a piece's thickness may
// say that it will not do; it never says that an unmarked piece will.
//
// # Lookups
//
// A key that is not in a table gives ok false and zero values, never a
// plausible number; the one exception is a knot nobody listed, which counts as
// the worst of the listed ones. The tables are read once at start; broken
// embedded data panics with the prefix "handbook:".
package handbook
