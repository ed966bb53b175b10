package job

import (
	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/unit"
)

// Ranges of the quantities a case holds.
type (
	Force  = bound.Of[unit.Force]
	Mass   = bound.Of[unit.Mass]
	Length = bound.Of[unit.Length]
	Angle  = bound.Of[unit.Angle]
	Share  = bound.Of[bound.Ratio]
)

// A Case is a sheet read into SI ranges. A nil pointer, an empty word and a
// nil list mean that nobody has said, which is never the same as zero.
type Case struct {
	Load        Load
	Distance    *Length // how far the load must travel
	Lead        *Length // standing block to the puller
	Reach       *Length // load to the anchor that holds the standing block
	HoldReach   *Length // load, at the start, to the anchor of the line that holds it
	Pullers     []Puller
	Tackle      Tackle
	Anchors     []Anchor
	Gear        []Gear
	GearMore    bool // more pieces may still be named
	HoldingMore bool // a line to hold the load may still be named
	Crew        *int
	Hazards     []string // what was found of the hazards that were asked
	Asked       bool     // the hazards were asked at all
	Site        Site
	Signed      []SignatureSheet
	Seen        []Seen
	Learnt      *Learnt    // what calc drew from Seen; nil as it is read
	Odd         []Odd      // figures that are hardly so, and that nobody has said to be
	Supplied    []Supplied // what reading filled in, most important first
}

// Supplied is a value that nobody gave.
type Supplied struct{ Field, Value, Why string }

// Load is the stuck vehicle. Mass and Slope carry the spread of how they were
// found; Slope is positive whichever way the load is pulled.
type Load struct {
	Mass         Mass
	Guessed      bool // Mass is a guess, because that was told or nothing was
	Slope        Angle
	SlopeTold    string // "level" or "board" when it was told as one of these
	Pull         string
	Ground       handbook.Ground
	Locked       *Share // share of the weight on wheels that will not turn; nil spans all
	Sunk         string
	Lip          *Lip // nil: nobody has said; Lip.None: there is no step
	WheelRadius  *Length
	OffLine      *Angle
	Belly        *bool
	SideSlope    *Angle
	TowPoint     *TowPoint
	HoldingPoint *TowPoint
}

// Lip is a step before the wheels of one axle.
type Lip struct {
	None      bool
	Height    Length
	Radius    Length
	AxleShare *Share // share of the load's weight on the axle that meets it
}

// A Rating is what is stamped on a piece. The zero value is nobody has said.
type Rating struct {
	Kind     string // working, breaking or unmarked
	Force    *Force // nil when unmarked or not told
	Told     string // the figure as it was written
	AsWeight bool   // it was written as a weight, as the trade does: 2.2 t, 3500 lb
}

// TowPoint is where a line is made fast on the load, or Count alike that a
// bridle spans.
type TowPoint struct {
	Kind       string
	Rating     Rating // of one
	Condition  string
	Count      int
	Equalised  bool
	SlingAngle *Angle
	Shared     bool // a holding point that is the tow point itself
}

// Puller is what gives the force.
type Puller struct {
	Name        string
	Kind        string
	Mass        *Mass
	Driven      *Share
	Slope       *Angle
	Pull        string
	Ground      handbook.Ground
	SideSlope   *Angle
	Rating      Rating
	Layer       int     // drum layer, the last when nobody has said; 0 of a hand winch that stores no rope
	LayerUntold bool    // nobody has said it
	Drum        *Length // across it, over one layer of rope
	Capstan     bool    // no rope is stored on a drum: a capstan's is led off again, and through many a hand hoist rope or chain only runs
	HitchRating Rating
	People      *int
	Run         *Length
	Hitch       string
	HitchHeight *Length
	AxleHeight  *Length
	FrontShare  *Share
	Wheelbase   *Length
	CGHeight    *Length
	Rollover    *bool
}

// Tackle pins how the rope is rove; zero values leave it to the plan.
type Tackle struct {
	Parts      int
	HaulFrom   string
	Sheave     string
	LeadBlocks *int
	LeadAngle  *Angle // inside angle between the two lines; nil counts as doubled back
}

// Anchor is a fixed point.
type Anchor struct {
	Name       string
	Kind       string
	Use        string
	Diameter   *Length // of the trunk or log at the base, or the face of a timber
	Alive      *bool
	Lean       *bool
	TiedBack   *bool
	StrapHeld  *bool
	Pattern    string
	Soil       string
	Mass       *Mass
	Chocked    *bool // of a vehicle, as the next four
	Braked     *bool
	InLine     *bool
	Ground     handbook.Ground
	Slope      *Angle
	Rating     Rating
	Length     *Length
	Depth      *Length
	Equalised  bool
	SlingAngle *Angle // of one that shares
}

// Gear is one piece of the load path, or Count alike.
type Gear struct {
	Kind       string
	Use        string
	Name       string
	Count      int
	Rating     Rating
	Material   string
	Diameter   *Length
	Length     *Length
	Sheaves    int
	Equalised  bool
	Knots      []string
	KnotsTold  bool
	SlingAngle *Angle
	SlingHitch string // straight, basket or choked
	SideAngle  *Angle // of a shackle
	Condition  string
	Improvised *bool
}

// Site is what only people on the spot can see, as the sheet has it.
type Site struct {
	SiteSheet
	Chock *Length // how high the chocks are; nil when not told
	Slack *Length // slack the holding line is tended to; nil when not told
}

// Seen is one thing that the crew saw while it pulled.
type Seen struct {
	What     string // slip, move, stuck or reading
	Parts    int
	HaulFrom string
	HauledBy int    // parts of a second tackle, 0 when there was none
	Leads    *int   // lead blocks; nil when not told
	Puller   *int   // which of several; nil when not told
	Force    *Force // what a load cell showed, its spread laid about it
	At       string // haul or load
	TookIn   *Length
	Moved    *Length
	Alike    bool // the way left asks for no more than the place where it was seen
	Try      *int // which pull it was seen in; nil when not told
	Reloaded bool // the load was unloaded or laden since

	// What it was seen with; nil and empty are as the case has them.
	Load   *Load
	By     []Puller // which of them it was is not known where there are several
	Sheave string
}

// Learnt is what was drawn from what the crew saw, before anything about the
// job was changed: a change is then planned with the same lesson.
type Learnt struct {
	Told, Need Force         // along the line: as told, and as what was seen has it
	Sum        string        // that gives the high end of Need, where that is not the one told
	Left       []bound.Ratio // of each puller's pull, by its place; 1 is all of it
	Grip       []bound.Ratio // of what the ground holds of each: another slipped on such ground
	Stood      []Stood       // where a load stood
	Misfits    []Misfit      // what does not fit what was told
	Untold     []string      // fields that say what was on the load while it stood, and that nobody told
}

// Stood is where the load stood: with that gain, or less, it will again.
type Stood struct {
	Parts    int
	HaulFrom string
	Gain     bound.Ratio // of tackles and lead blocks, at the best figure of the sheaves; less for a load that needs less since
	Pullers  []bool      // by their place: those that are no better than what was there
}

// Misfit is something seen that nothing told allows.
type Misfit struct {
	Seen   int      // its place in Case.Seen
	Fields []string // to measure again
}
