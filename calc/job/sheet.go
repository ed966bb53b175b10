package job

// Sheet is a case as it is written. Quantities are text with a unit; a nil
// pointer, an empty string and a nil list mean that nobody has said.
type Sheet struct {
	Load        LoadSheet        `json:"load"`
	Distance    string           `json:"distance,omitempty" reads:"length"`
	Lead        string           `json:"lead,omitempty" reads:"length"`
	Reach       string           `json:"reach,omitempty" reads:"length"`
	HoldReach   string           `json:"holding_reach,omitempty" reads:"length"` // load, at the start, to the anchor of the line that holds it
	Puller      *PullerSheet     `json:"puller,omitempty"`
	Pullers     []PullerSheet    `json:"pullers,omitempty"`
	Tackle      *TackleSheet     `json:"tackle,omitempty"`
	Anchors     []AnchorSheet    `json:"anchors,omitempty"`
	Gear        []GearSheet      `json:"gear,omitempty"`
	GearMore    *bool            `json:"gear_more,omitempty"`    // more pieces may still be named; else the list is all there is, and an empty one says that there is none
	HoldingMore *bool            `json:"holding_more,omitempty"` // a line to hold the load may still be named
	Crew        *int             `json:"crew,omitempty"`
	Hazards     *[]string        `json:"hazards,omitempty" reads:"words"`
	Site        *SiteSheet       `json:"site,omitempty"`
	Signed      []SignatureSheet `json:"signed,omitempty"`
	Seen        []SeenSheet      `json:"seen,omitempty"`
	Sure        *[]string        `json:"sure,omitempty" reads:"words"` // fields whose odd figure somebody has said to be so
}

// LoadSheet is the stuck vehicle, how it lies and what holds it.
type LoadSheet struct {
	Mass          string         `json:"mass,omitempty" reads:"mass"`
	MassFrom      string         `json:"mass_from,omitempty" reads:"word"`
	Slope         string         `json:"slope,omitempty" reads:"slope"`
	SlopeFrom     string         `json:"slope_from,omitempty" reads:"word"`
	Pull          string         `json:"pull,omitempty" reads:"word"`
	Ground        string         `json:"ground,omitempty" reads:"word"`
	Locked        *float64       `json:"locked,omitempty" reads:"share"`
	Sunk          string         `json:"sunk,omitempty" reads:"word"`
	Lip           LipSheet       `json:"lip,omitzero"`
	WheelRadius   string         `json:"wheel_radius,omitempty" reads:"length"` // of the wheels that are chocked
	OffLine       string         `json:"off_line,omitempty" reads:"angle"`
	OffLineFrom   string         `json:"off_line_from,omitempty" reads:"word"`
	Belly         *bool          `json:"belly,omitempty"`
	SideSlope     string         `json:"side_slope,omitempty" reads:"slope"`
	SideSlopeFrom string         `json:"side_slope_from,omitempty" reads:"word"`
	TowPoint      *TowPointSheet `json:"tow_point,omitempty"`
	HoldingPoint  *TowPointSheet `json:"holding_point,omitempty"`
}

// LipSheet is a step before a wheel. The zero value means that nobody has
// said; None, written null, means that there is no step.
type LipSheet struct {
	None        bool     `json:"-"`
	Height      string   `json:"height,omitempty" reads:"length"`
	WheelRadius string   `json:"wheel_radius,omitempty" reads:"length"`
	AxleShare   *float64 `json:"axle_share,omitempty" reads:"share"`
}

// TowPointSheet is where a line is made fast on the load.
type TowPointSheet struct {
	Kind       string `json:"kind,omitempty" reads:"word"`
	Rating     string `json:"rating,omitempty" reads:"force"`
	RatingKind string `json:"rating_kind,omitempty" reads:"word"`
	Condition  string `json:"condition,omitempty" reads:"word"`
	Count      *int   `json:"count,omitempty" reads:"count"`       // points alike that a bridle spans
	Equalised  *bool  `json:"equalised,omitempty"`                 // the bridle runs free, so that they share evenly
	SlingAngle string `json:"sling_angle,omitempty" reads:"angle"` // from the line of pull to a leg of the bridle
	Shared     *bool  `json:"shared,omitempty"`                    // of a holding point: it is the tow point itself
}

// PullerSheet is what gives the force.
type PullerSheet struct {
	Name            string   `json:"name,omitempty"`
	Kind            string   `json:"kind,omitempty" reads:"word"`
	Mass            string   `json:"mass,omitempty" reads:"mass"`
	Driven          *float64 `json:"driven,omitempty" reads:"share"`
	Slope           string   `json:"slope,omitempty" reads:"slope"`
	SlopeFrom       string   `json:"slope_from,omitempty" reads:"word"`
	Pull            string   `json:"pull,omitempty" reads:"word"`
	Ground          string   `json:"ground,omitempty" reads:"word"`
	SideSlope       string   `json:"side_slope,omitempty" reads:"slope"`
	SideSlopeFrom   string   `json:"side_slope_from,omitempty" reads:"word"`
	Rating          string   `json:"rating,omitempty" reads:"force"`
	RatingKind      string   `json:"rating_kind,omitempty" reads:"word"`
	WinchLayer      *int     `json:"winch_layer,omitempty" reads:"count"`
	Drum            string   `json:"drum,omitempty" reads:"length"` // across the winch drum, over one layer of rope
	Capstan         *bool    `json:"capstan,omitempty"`             // no rope is stored on a drum: it is led off again, or only runs through
	HitchRating     string   `json:"hitch_rating,omitempty" reads:"force"`
	HitchRatingKind string   `json:"hitch_rating_kind,omitempty" reads:"word"`
	People          *int     `json:"people,omitempty" reads:"count"`
	Run             string   `json:"run,omitempty" reads:"length"`
	Hitch           string   `json:"hitch,omitempty" reads:"word"`
	HitchHeight     string   `json:"hitch_height,omitempty" reads:"length"`
	AxleHeight      string   `json:"axle_height,omitempty" reads:"length"`
	FrontShare      *float64 `json:"front_share,omitempty" reads:"share"`
	Wheelbase       string   `json:"wheelbase,omitempty" reads:"length"`
	CGHeight        string   `json:"cg_height,omitempty" reads:"length"`
	Rollover        *bool    `json:"rollover_frame,omitempty"`
}

// TackleSheet pins how the rope is rove; what it leaves out the plan chooses.
type TackleSheet struct {
	Parts      *int   `json:"parts,omitempty" reads:"parts"`
	HaulFrom   string `json:"haul_from,omitempty" reads:"word"`
	Sheave     string `json:"sheave,omitempty" reads:"word"`
	LeadBlocks *int   `json:"lead_blocks,omitempty" reads:"leads"`
	LeadAngle  string `json:"lead_angle,omitempty" reads:"angle"`
}

// AnchorSheet is a fixed point.
type AnchorSheet struct {
	Name       string `json:"name,omitempty"`
	Kind       string `json:"kind,omitempty" reads:"word"`
	Use        string `json:"use,omitempty" reads:"word"`
	Diameter   string `json:"diameter,omitempty" reads:"length"`
	Alive      *bool  `json:"alive,omitempty"`
	Lean       *bool  `json:"lean,omitempty"`
	TiedBack   *bool  `json:"tied_back,omitempty"`
	StrapHeld  *bool  `json:"strap_held,omitempty"`
	Pattern    string `json:"pattern,omitempty" reads:"word"`
	Soil       string `json:"soil,omitempty" reads:"word"`
	Mass       string `json:"mass,omitempty" reads:"mass"`
	Chocked    *bool  `json:"chocked,omitempty"` // of a vehicle, as the next five: wheels or tracks chocked on the side it is pulled to
	Braked     *bool  `json:"braked,omitempty"`  // its brakes are on and hold
	InLine     *bool  `json:"in_line,omitempty"` // it points along the pull, not across it
	Ground     string `json:"ground,omitempty" reads:"word"`
	Slope      string `json:"slope,omitempty" reads:"slope"` // of the ground under it, taken as falling the way it is pulled
	SlopeFrom  string `json:"slope_from,omitempty" reads:"word"`
	Rating     string `json:"rating,omitempty" reads:"force"`
	RatingKind string `json:"rating_kind,omitempty" reads:"word"`
	Length     string `json:"length,omitempty" reads:"length"`
	Depth      string `json:"depth,omitempty" reads:"length"`
	Equalised  *bool  `json:"equalised,omitempty"`                 // it shares a line evenly with the others of its use
	SlingAngle string `json:"sling_angle,omitempty" reads:"angle"` // of one that shares: from the line of pull to its leg
}

// GearSheet is one piece of the load path, or several alike.
type GearSheet struct {
	Kind       string    `json:"kind,omitempty" reads:"word"`
	Use        string    `json:"use,omitempty" reads:"word"`
	Name       string    `json:"name,omitempty"`
	Count      *int      `json:"count,omitempty" reads:"count"`
	Rating     string    `json:"rating,omitempty" reads:"force"`
	RatingKind string    `json:"rating_kind,omitempty" reads:"word"`
	Material   string    `json:"material,omitempty" reads:"word"`
	Diameter   string    `json:"diameter,omitempty" reads:"length"`
	Length     string    `json:"length,omitempty" reads:"length"`
	Sheaves    *int      `json:"sheaves,omitempty" reads:"count"`
	Equalised  *bool     `json:"equalised,omitempty"`
	Knots      *[]string `json:"knots,omitempty"`
	SlingAngle string    `json:"sling_angle,omitempty" reads:"angle"`
	SlingHitch string    `json:"sling_hitch,omitempty" reads:"word"` // of a sling, a strap or a chain: how it is put on
	SideAngle  string    `json:"side_angle,omitempty" reads:"angle"` // of a shackle: of the pull out of the line from bow to pin
	Condition  string    `json:"condition,omitempty" reads:"word"`
	Improvised *bool     `json:"improvised,omitempty"`
}

// SiteSheet is what only people on the spot can see. A nil field has not
// been asked.
type SiteSheet struct {
	Clear          *bool  `json:"clear,omitempty"`                        // everyone outside the clear distance, nobody in line, in a bight or downhill
	Under          *bool  `json:"under,omitempty"`                        // somebody under, in front of or working on the load where it could move onto them
	Between        *bool  `json:"between,omitempty"`                      // somebody between load and puller
	Aboard         *bool  `json:"aboard,omitempty"`                       // somebody sits in the load to steer
	DriverShielded *bool  `json:"driver_shielded,omitempty"`              // every driver out of the line or behind something solid, not glass alone
	Sober          *bool  `json:"sober,omitempty"`                        // everyone who takes part is grown up, sober and rested
	Briefed        *bool  `json:"briefed,omitempty"`                      // every role said back this session, stop word known
	PlanSeen       *bool  `json:"plan_seen,omitempty"`                    // the plan stands on one card, and everyone has seen it
	Signals        *bool  `json:"signals,omitempty"`                      // signals agreed and tried, everyone can hear or see a stop
	HandsOff       *bool  `json:"hands_off,omitempty"`                    // nobody within reach of drum, block or line when it starts
	EndsJoined     *bool  `json:"ends_joined,omitempty"`                  // each end of each line is joined by a stamped piece that bears what the plan says
	LineFree       *bool  `json:"line_free,omitempty"`                    // the line touches nothing it could rub on, catch on or jump from
	Public         *bool  `json:"public,omitempty"`                       // a road, a path or people who take no part are near
	LeaderSeen     *bool  `json:"leader_seen,omitempty"`                  // the driver sees whoever leads, all the way
	Light          *bool  `json:"light,omitempty"`                        // both ends can be seen; no storm
	Chocks         *int   `json:"chocks,omitempty" reads:"count0"`        // wheels chocked on the side it would roll to
	ChockHeight    string `json:"chock_height,omitempty" reads:"length"`  // how high the chocks are
	HoldStays      *bool  `json:"hold_stays,omitempty"`                   // what holds the load now is not undone by the next step
	RunningStart   *bool  `json:"running_start,omitempty"`                // the puller takes a run at it
	Lifting        *bool  `json:"lifting,omitempty"`                      // the load is to be lifted or righted, not pulled
	Tries          *int   `json:"tries,omitempty" reads:"count0"`         // pulls that have failed already
	Marked         *bool  `json:"anchor_marked,omitempty"`                // anchors marked and watched by one person
	Consent        *bool  `json:"consent,omitempty"`                      // owner of land, road and vehicle has agreed
	Aid            *bool  `json:"aid,omitempty"`                          // ambulance can find the place; kit, knife and signal are there
	DampedOrPadded *bool  `json:"edges_padded,omitempty"`                 // edges and bends padded, pins moused, hook mouths closed
	HoldingSlack   string `json:"holding_slack,omitempty" reads:"length"` // slack the holding line is tended to
}

// SignatureSheet is a named person's yes to one failing check.
type SignatureSheet struct {
	Check  string   `json:"check,omitempty"`
	By     string   `json:"by,omitempty"`
	Second string   `json:"second,omitempty"`
	Reason string   `json:"reason,omitempty"`
	Pieces []string `json:"pieces,omitempty"` // those that the plan's check lists, word for word: without them, or with others, it covers nothing there
}

// SeenSheet is one thing that the crew saw while it pulled: with so many parts,
// hauled from that block, the puller slipped and the load stood; the load
// moved; the load was stuck though the puller held; or a load cell read so
// much while the load moved.
type SeenSheet struct {
	What     string `json:"what,omitempty" reads:"word"`
	Parts    *int   `json:"parts,omitempty" reads:"parts"`
	HaulFrom string `json:"haul_from,omitempty" reads:"word"`
	HauledBy *int   `json:"hauled_by,omitempty" reads:"parts"` // parts of a second tackle that hauled the first
	Leads    *int   `json:"lead_blocks,omitempty" reads:"leads"`
	Puller   *int   `json:"puller,omitempty" reads:"count0"` // which of several pullers, from 0
	Force    string `json:"force,omitempty" reads:"force"`   // what a load cell showed
	At       string `json:"at,omitempty" reads:"word"`       // where the cell hung
	TookIn   string `json:"took_in,omitempty" reads:"length"`
	Moved    string `json:"moved,omitempty" reads:"length"`
	Alike    *bool  `json:"alike,omitempty"`              // the way left is no steeper, softer or deeper than here, and no step is in it
	Try      *int   `json:"try,omitempty" reads:"count0"` // which pull it was seen in, by how often one was released; what is of one is one try
	Reloaded *bool  `json:"reloaded,omitempty"`           // the load was unloaded or laden since, so the same figure says no longer that it is as heavy

	// What it was seen with. What is left out was as the sheet has it now.
	Load   *LoadSheet   `json:"load,omitempty"`
	By     *PullerSheet `json:"by,omitempty"` // the puller
	Sheave string       `json:"sheave,omitempty" reads:"word"`
}
