// Package job holds what is known about one recovery: the sheet as people
// and programs write it, and the case that calc reckons with.
//
// A [Sheet] is the written form. Its fields are strings as a person writes
// them ("2.4 t", "level 48 in, gap 9 in"), so a chat can fill it answer by
// answer and a file can be read into it unchanged. [Decode] reads one from
// JSON and refuses whatever it does not understand; nothing is dropped
// silently. [Sheet.Case] reads the quantities and words and returns a [Case]
// in SI ranges.
//
// Missing is not zero and not good: every optional field of a Case is a
// pointer or a word whose empty value means that nobody has said.
//
// A vehicle that is an anchor tells its mass, whether it is chocked (on the side
// it is pulled to), braked and in_line (it points along the pull), and the
// ground and slope that it stands on; without any of these it is not known what
// it holds.
//
// The diameter of a block is that of its sheave in the groove, of a shackle that
// of its bow, of a rope or sling its thickness; what bends tightly keeps less.
// Knots are of a rope, a sling, a strap or a chain; a sling_angle is of the last three
// or of a bridle over several points, and strap_held of a tree or a stump. Of anything
// else they are refused: left out they would make it better than told.
//
// A shackle's side_angle is that of the pull out of its own line. The sling_hitch of
// a sling, a strap or a chain is choked where it goes round a thing and back through
// its own eye, basket where both eyes come to the shackle, and straight where one eye
// is at the pull and the other at what is pulled.
//
// What a crew saw while it pulled is told under seen, and only that: a slip or
// a stuck load has no way that it moved, a reading has a force and a place.
// Something seen holds for the load, the ground and the puller as they were;
// nobody but a person who knows what was put right since takes it out. Another
// puller that is brought is told beside the first under pullers, and seen says
// which one it was: so the new one is not held to what the old one could not.
//
// # The fields
//
// By the object that holds them. Of each the type beside it says how it is
// read and what it means.
//
//	sheet         load, distance, lead, reach, holding_reach, puller, pullers, tackle, anchors, gear, gear_more, holding_more,
//	              crew, hazards, site, signed, seen, sure
//	load          mass, mass_from, slope, slope_from, pull, ground, locked, sunk, lip, wheel_radius, off_line, off_line_from,
//	              belly, side_slope, side_slope_from, tow_point, holding_point
//	lip           height, wheel_radius, axle_share
//	tow_point,    kind, rating, rating_kind, condition, count, equalised, sling_angle, shared
//	holding_point
//	puller,       name, kind, mass, driven, slope, slope_from, pull, ground, side_slope, side_slope_from, rating, rating_kind,
//	pullers, by   winch_layer, drum, capstan, hitch_rating, hitch_rating_kind, people, run, hitch, hitch_height, axle_height, front_share,
//	              wheelbase, cg_height, rollover_frame
//	tackle        parts, haul_from, sheave, lead_blocks, lead_angle
//	anchors       name, kind, use, diameter, alive, lean, tied_back, strap_held, pattern, soil, mass, chocked, braked, in_line,
//	              ground, slope, slope_from, rating, rating_kind, length, depth, equalised, sling_angle
//	gear          kind, use, name, count, rating, rating_kind, material, diameter, length, sheaves, equalised, knots,
//	              sling_angle, sling_hitch, side_angle, condition, improvised
//	site          clear, under, between, aboard, driver_shielded, sober, briefed, plan_seen, signals, hands_off, ends_joined, line_free,
//	              public, leader_seen, light, chocks, chock_height, hold_stays, running_start, lifting, tries, anchor_marked,
//	              consent, aid, edges_padded, holding_slack
//	signed        check, by, second, reason, pieces
//	seen          what, parts, haul_from, hauled_by, lead_blocks, puller, force, at, took_in, moved, alike, try, reloaded, load, by,
//	              sheave
//
// With gear_more or holding_more absent the list of gear is all there is, and
// one that is empty says that there is none. sure names fields whose odd figure
// somebody has said to be so. off_line_from and side_slope_from say how an angle
// was found, as slope_from does. A holding_point that is shared is the tow point
// itself. A sling_angle is from the line of pull to a leg, of gear, of a bridle
// between tow points and of anchors that share; only what is equalised shares.
// A drum is the winch's, across one layer of rope. Of what was seen, hauled_by
// is the parts of a second tackle that hauled the first, took_in the rope that
// came in, moved how far the load went with it, at where the load cell hung,
// and reloaded that the load was unloaded or laden since; try is which pull it was seen
// in, so that what slipped or stuck in one counts once. chock_height is of the
// chocks, and holding_slack what the holding line is tended to. holding_reach is
// from the load, where it stands at the start, to the holding line's anchor.
//
// A signature for a check that lists pieces (R4, of what the puller's most loads past
// half of its breaking strength) names the same pieces, as the plan wrote them with
// their figures; when a piece or a figure is another, it covers nothing.
//
// Every refusal is a *[FieldError]: one line that names the field and says
// what would be right.
package job
