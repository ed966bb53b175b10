// Package calc reckons a ground-level recovery pull: the force it takes, the
// tackle, what every piece carries and may carry, and whether it is a go.
//
//	topic                         package            main source                                completeness
//	weight on a slope             slope              statics                                    exact
//	what resists                  resistance         statics; US Army depth rule for mire       no suction, no momentum
//	tackle with friction          tackle             statics; Pipeline Rules of Thumb p. 6      two reevings, one over another
//	puller's least and most       puller             statics                                    no engine, no gearing
//	what a piece may carry        gear               ASME B30.9, B30.26                         stamped pieces only
//	anchors                       anchor             NAVEDTRA 14251; TM 5-5420-278-10           trees by common practice
//	travel, arrest, energy        motion             statics, linear rope                       no damping credited
//	the trade's figures           handbook           a source a row                             as far as sources could be read
//	ranges, and reading them      bound, unit        legal definitions of units                 exact
//	what a crew saw while pulling job, calc             derived; spreads are judgment            four kinds
//	the case as it is written     job                                                           whole
//	pocket sums                   sum                as the topics
//
// [Reckon] composes them. Demand is judged at its high end, capacity at its
// low end; a decision rests on the worst corner of what is known. What nobody
// has said leaves its check unknown and the plan [Open]: not knowing is never
// better than knowing.
//
// # What the sums leave out
//
// It is statics: no lifting, no snatch, nobody carried. Over the limits that
// refer (mass, slope, force, and hazards of kind) a plan holds no force at
// all, because a number invites a pull.
//
// # Where sources leave room
//
// A hung belly drags as well as the wheels and takes no weight off them. A
// puller's own rolling resistance is taken off its whole weight. A level pull
// may climb or fall by the spread of how the slope was found. A piece whose
// working limit alone is stamped breaks at twice that when the puller's most
// is held against it, and at the most that makers leave over a working limit, or
// at the strongest of its thickness, when its stiffness makes an arrest harder. A holding line is reckoned at its shortest, what is
// left of the way to its own anchor, but not under three metres unless it was
// told to be shorter; nobody having told that way, no plan with such a line is a
// go. One anchor under several blocks carries the sum of what is on them.
// Ropes add up in a straight line only: what runs through sheaves is one whole
// rope, and each tackle of a compound has its own, reckoned over the reach. What joins the
// lengths of a straight line must be named. A rope over a sheave that suits it
// keeps its strength, over a smaller one what the table of bends has, and over
// one that nobody measured the least of that table. A machine as an anchor
// holds by its own ground at the lesser grip of tyres and tracks, and its own
// slope is taken as falling the way it is pulled; one that is not chocked, not
// braked or across the pull holds nothing. A hand winch is on the last layer of its
// drum, as any winch, until somebody counts them or says that it stores no rope. A drum
// that was measured tells by moments what its layers leave; of another the table does,
// and it is asked for where the thinnest that is built would be too weak. A listed piece that is
// improvised fails the plan unless it is set apart as spare: what lies with
// the gear gets used. All of these err to the safe side.
//
// The pull that lifts a wheeled puller's front is held against the need, which
// blocks (U7), and against the most that its grip can ever give, which takes a
// signature: when the load stops dead or the line catches, what it gives is no
// longer what the pull needs. That a rule for the throttle answers the second
// is judgment, as for the pieces at the puller's most (R4); no source that was
// read sets a figure for it.
//
// A step is pulled over only up to half of the wheel's radius (L7), which is
// stricter than the sources, who let a wheel climb up to its hub: past the half
// the pull soars. A wheel that does not turn can't climb one at all but is slid up its
// edge, which takes tan(α + φ) of what is on it, and from 80° on is no go (judgment;
// it jams at 90°). What the sheet of a case may tell is listed in
// [linetender/calc/job].
//
// What stands in for an untold angle off the line or slope of the puller is in the
// force, and opens the plan all the same: what a person would see there may be
// a block that no span of likely figures holds. So are a machine's lean, and how
// sound the points are that the lines are made fast to; only what no field
// but the site's can tell leaves a plan alone.
//
// # While it is pulled
//
// What the crew sees is told in [job.Sheet].Seen and narrows the ranges of the
// next plan; Plan.Seen says what each of it did. Never in favour of what was
// told: a slip brings the whole range of the puller down with its high end and,
// where it was to go, raises the need as well, because which of the two was
// wrong nobody knows. The most that can have moved a load is a machine's grip,
// but a winch's stall and people's most, which both may give over what they
// are rated at. What keeps a load moving is a fifth less than what is reckoned
// to start it again. A move or a reading counts for the place where it was
// seen: it lessens the need only where the rest of the way was said to be
// alike and no step is in it, and no longer once the puller slips or the load
// sticks; of several readings the highest counts, and one outside what was
// told improves nothing. A reading with which nobody told how far the load moved
// is that of one that stood. What was seen is true of the load, the puller and the sheaves
// that it was seen with: each thing seen may hold them, and moment.go says how
// it is carried over to what is there now. A load that was told to weigh
// otherwise since counts as another even where the figure is the same again, and
// what moved before lessens nothing of it.
// All of these err to the safe side.
//
// Around that stand plain functions of a plan and what was counted:
//
//	how hard to try the rig first             func LightLoad(p Plan) (Light, bool)
//	how far to the next hold                  func Bite(c job.Case, p Plan) BiteLength
//	the case further along                    func Moved(c job.Case, by Length) job.Case
//	what slack in the holding line would cost func HoldCost(c job.Case, p Plan, slack Length) Cost
//	rope against load, counted                func Advance(p Plan, tookIn, moved Length) Advanced
//	a load cell against the plan              func Compare(p Plan, at string, reading Force) Compared
//	what to ask again, and after what         func Stale(cause Cause) []Reopened; func (Reopened) In(job.Sheet) []string
//	what was seen and no longer holds         func Outlived(cause Cause, s job.Sheet) []int
//	gear to take out of service               func Retire(p Plan, events []Event) ([]Retired, error)
package calc
