// Package sum answers one question of the trade at a time: the pocket
// reference a rigger reaches for between jobs. Every answer carries the working
// that leads to it, in steps a pocket calculator can follow, and its source.
//
//	r, err := sum.Run("side-pull", map[string]string{"force": "838 N", "angle": "7 deg"})
//	name, args, err := sum.Read("sum side pull 838 N at 7 degrees")
//
//	sum            answers                                              by
//	slope          a slope in degrees, rise over run, share of weight   statics
//	grade          what a weight pulls along a slope, and presses       statics
//	side-pull      tension in a rope pulled sideways at its middle      statics
//	block-load     what a block and its strop carry                     statics
//	sling-leg      tension in each leg of a sling                       Site Safe NZ, sheet 4.2
//	tackle         haul, friction and gain of a tackle                  NAVEDTRA 14251; statics
//	compound       gain of tackles that haul one another                NAVEDTRA 14251
//	tackle-limit   load that a rope's limit lets a tackle move          NAVEDTRA 14043
//	recovery       line parts by the army's exercise rule               63B34G01
//	rope-rule      strength of rope by its size                         NAVEDTRA 14043, 14026
//	chain-rule     plain iron chain by its size                         Navy Steelworker V2
//	shackle-rule   a shackle by its size                                NAVEDTRA 14251
//	chain          graded chain by the printed table                    49 CFR 393.108
//	pickets        what a holdfast stands in a soil                     NAVEDTRA 14251
//	deadman        length of a buried log                               TM 5-5420-278-10
//	winch          pull left on a layer of the drum                     TM 9-2320-279-10-2
//	post           hold on a rope turned round a post                   statics
//	lip            pull that starts a wheel over a step                 statics
//	energy         energy and stretch of a tight rope                   statics, linear rope
//	arrest         peak in a line that catches a load                   statics, linear rope
//
// # Figures
//
// A result's figure is one SI number, its unit at the end of its name. It is the
// book's: what comes of the best of each figure that goes in. Where something
// that goes in is not known exactly, a range that somebody wrote or a table that
// spans its sources, a second field beside it, tension_range_n beside tension_n,
// has low, best and high, and the working ends on the end to plan with: the high
// one of a load, the low one of a capacity. A field that may be both a number
// and an object would have to be asked what it is; this one is always a number.
//
// A sum is the book's figure and no plan: a factor that a plan keeps, such as two
// on an anchor, is not in it, and the working says so.
//
// # Mistakes
//
// Where what was written shows one of the field's common mistakes (one rope's
// tension counted twice, a weight taken for the pull, a breaking strength for a
// working limit, per cent of a slope for the share of the weight), the working
// has a step that begins with "Mind:" and says by how much it would be off.
//
// # Package state
//
// None but the list of sums, which is filled once and never changes. Equal input
// gives equal bytes.
package sum
