package calc

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"linetender/calc/job"
)

// plainJob is a small job with everything told and put right: a pickup out of
// wet grass, up a gentle slope, in two parts from a tree, held by a second line.
const plainJob = `{
 "load": {"mass": "2000 kg", "mass_from": "weighed", "slope": "6 deg", "slope_from": "level", "pull": "uphill", "ground": "grass",
  "locked": 0, "sunk": "none", "lip": null, "off_line": "0 to 0 deg", "belly": false, "side_slope": "2 deg",
  "tow_point": {"kind": "frame", "rating": "6 t", "rating_kind": "working", "condition": "good"},
  "holding_point": {"kind": "rated-eye", "rating": "6 t", "rating_kind": "working", "condition": "good"}},
 "distance": "8 m", "lead": "10 m", "reach": "20 m", "holding_reach": "20 m",
 "puller": {"kind": "wheeled", "mass": "3 t", "driven": 1, "slope": "1 deg", "slope_from": "level", "pull": "uphill", "ground": "gravel",
  "side_slope": "1 deg", "run": "40 m", "hitch": "drawbar", "hitch_rating": "5 t", "hitch_rating_kind": "working", "hitch_height": "40 cm", "axle_height": "60 cm",
  "front_share": 0.5, "wheelbase": "3 m", "cg_height": "70 cm", "rollover_frame": true},
 "tackle": {"parts": 2, "haul_from": "moving", "lead_blocks": 0},
 "anchors": [
  {"kind": "rated", "use": "standing", "rating": "8 t", "rating_kind": "working"},
  {"kind": "rated", "use": "holding", "rating": "8 t", "rating_kind": "working"}],
 "gear": [
  {"kind": "rope", "use": "haul", "name": "line", "rating": "6 t", "rating_kind": "working", "material": "polyester", "diameter": "20 mm",
   "length": "80 m", "knots": [], "condition": "good", "improvised": false},
  {"kind": "rope", "use": "holding", "name": "second line", "rating": "6 t", "rating_kind": "working", "material": "polyester", "diameter": "20 mm",
   "length": "60 m", "knots": [], "condition": "good", "improvised": false},
  {"kind": "block", "use": "moving-block", "rating": "8 t", "rating_kind": "working", "diameter": "25 cm", "condition": "good", "improvised": false},
  {"kind": "sling", "use": "load", "name": "strop", "rating": "8 t", "rating_kind": "working", "sling_angle": "0 deg", "sling_hitch": "basket", "knots": [], "condition": "good", "improvised": false}],
 "crew": 5, "hazards": [], "sure": ["gear[0].rating", "gear[1].rating", "gear[4].rating"],
 "site": {"clear": true, "under": false, "between": false, "aboard": false, "driver_shielded": true, "sober": true, "briefed": true, "plan_seen": true,
  "signals": true, "public": false, "leader_seen": true, "hands_off": true, "line_free": true, "light": true, "chocks": 2, "hold_stays": true, "running_start": false,
  "lifting": false, "tries": 0, "anchor_marked": true, "consent": true, "aid": true, "edges_padded": true, "ends_joined": true, "holding_slack": "0.05 m"}
}`

// tree stands in place of the base's standing anchor.
const (
	tree   = "anchors[0].rating=; anchors[0].rating_kind=; anchors[0].kind=tree; anchors[0].diameter=60 cm; anchors[0].alive=true; anchors[0].lean=false; anchors[0].tied_back=true; anchors[0].strap_held=true; site.clear="
	buried = "anchors[0].rating=; anchors[0].rating_kind=; anchors[0].kind=deadman; anchors[0].diameter=60 cm; anchors[0].length=3 m; anchors[0].depth=1.6 m; anchors[0].soil=loam"
	stump  = "anchors[0].rating=; anchors[0].rating_kind=; anchors[0].kind=stump; anchors[0].diameter=60 cm; anchors[0].alive=true; anchors[0].lean=false; anchors[0].strap_held=true"
	stakes = "anchors[0].rating=; anchors[0].rating_kind=; anchors[0].kind=picket; anchors[0].pattern=3-2-1; anchors[0].soil=loam"
	lorry  = "anchors[0].kind=vehicle; anchors[0].mass=12 t; anchors[0].chocked=true; anchors[0].braked=true; anchors[0].in_line=true; " +
		"anchors[0].ground=gravel; anchors[0].slope=1 deg; anchors[0].slope_from=level"
	// Two blocks and two ropes: where two parts won't do, one tackle hauls the other.
	compound = "tackle.parts=; tackle.haul_from=; gear[0].length=150 m; gear[4].kind=block; gear[4].use=spare; gear[4].rating=8 t; gear[4].rating_kind=working; gear[4].condition=good; gear[4].improvised=false; gear[4].diameter=25 cm; " +
		"gear[5].kind=shackle; gear[5].use=spare; gear[5].rating=8 t; gear[5].rating_kind=working; gear[5].condition=good; gear[5].improvised=false; gear[5].count=8; " +
		"gear[6].kind=rope; gear[6].use=spare; gear[6].rating=6 t; gear[6].rating_kind=working; gear[6].material=polyester; gear[6].diameter=20 mm; gear[6].length=150 m; gear[6].knots=none; gear[6].condition=good; gear[6].improvised=false; lead=30 m; "
	winch = "puller=; puller.kind=winch; puller.rating=3 t; puller.rating_kind=working; puller.winch_layer=1; puller.mass=6 t; puller.ground=gravel; puller.slope=0 deg; puller.slope_from=level; puller.side_slope=1 deg; " +
		"puller.hitch=rated-point; puller.hitch_rating=5 t; puller.hitch_rating_kind=working; puller.hitch_height=40 cm; puller.axle_height=60 cm"
	gang      = "puller=; puller.kind=people; puller.people=12; puller.ground=gravel; puller.slope=0 deg; puller.run=40 m; load.mass=400 kg; crew=20"
	downLead  = "load.pull=downhill; load.slope=12 deg; tackle.parts=1; tackle.haul_from=; tackle.lead_blocks=1; distance=15 m; "
	pair      = "anchors[0].equalised=true; anchors[2].kind=rated; anchors[2].use=standing; anchors[2].rating=8 t; anchors[2].rating_kind=working; anchors[2].equalised=true; "
	treeSling = "; gear[4].kind=sling; gear[4].name=tree sling; gear[4].use=anchor; gear[4].rating=8 t; gear[4].rating_kind=working; gear[4].sling_angle=0 deg; gear[4].sling_hitch=choked; " +
		"gear[4].knots=none; gear[4].condition=good; gear[4].improvised=false"
	block2 = "gear[3].kind=sling; gear[4].kind=block; gear[4].use=standing-block; gear[4].rating=8 t; gear[4].rating_kind=working; gear[4].condition=good; gear[4].improvised=false; gear[4].diameter=25 cm; " +
		"gear[5].kind=shackle; gear[5].use=anchor; gear[5].rating=8 t; gear[5].rating_kind=working; gear[5].condition=good; gear[5].improvised=false; tackle.parts=3"
)

// checkRows shows each check failing, asking and passing. Each is the plain go
// with one thing changed, on top of with where the check needs another rig;
// empty is no such outcome.
var checkRows = map[string]struct{ with, fail, unknown string }{
	"P1/inside":  {"", "hazards=people-inside", "hazards="},
	"P1/under":   {"", "site.under=true", "site.under="},
	"H1":         {"", "hazards=overhead-line", "hazards="},
	"H2":         {"", "hazards=traffic", "hazards="},
	"H3":         {"", "hazards=water", "hazards="},
	"H4/fuel":    {"", "hazards=fuel", "hazards="},
	"H4/battery": {"", "hazards=battery", "hazards="},
	"H5":         {"", "hazards=hazmat", "hazards="},
	"H6":         {"", "hazards=edge", "hazards="},
	"H5/surge":   {"", "hazards=surge", "hazards="},
	"H6/hollow":  {"", "hazards=hollow", "hazards="},
	"L2/broken":  {"", "hazards=broken", "hazards="},
	"L2":         {"", "hazards=overturned", "hazards="},
	"X1":         {"", "site.lifting=true", "site.lifting="},
	"X2":         {"", "site.tries=2", "site.tries="},
	"X3":         {"", "site.consent=false", "site.consent="},
	"X5":         {"", "site.aid=false; site.light=false; site.anchor_marked=false", ""},
	"L10/refer":  {"", "load.mass=31 t", ""},
	"L4/refer":   {"", "load.slope=36 deg", ""},
	"L11/refer":  {"", "load.mass=25 t; load.slope=34 deg; load.sunk=cab", ""},
	"X4":         {"", "site.running_start=true", "site.running_start="},
	"U2/kind":    {"", "puller.hitch=top-link", "puller.hitch="},
	"U2/height":  {"", "puller.hitch_height=70 cm", "puller.hitch_height="},
	"L9/kind":    {"", "load.tow_point.kind=hitch-ball", "load.tow_point.kind="},
	"L9/damaged": {"", "load.tow_point.condition=damaged", "load.tow_point.condition="},
	"L9/rating":  {"", "load.tow_point.rating=0.2 t", "load.tow_point.rating="},
	"A5":         {"", "anchors[0].kind=post", ""},
	"R7":         {"", "gear[3].improvised=true", "gear[3].improvised="},
	"R2":         {"", "gear[3].rating_kind=unmarked", "gear[3].rating_kind="},
	"R11":        {"", "gear[3].condition=damaged", "gear[3].condition="},
	"R6":         {"", "gear[0].knots=reef", "gear[0].knots="},
	"R6/chain":   {"", "gear[3].kind=chain; gear[3].knots=clove hitch", ""},
	"R6/sling":   {"", "gear[3].knots=overhand", ""},
	"R3/choked":  {"", "gear[3].rating=0.6 t; gear[3].sling_hitch=choked", "gear[3].rating=0.6 t; gear[3].sling_hitch="},
	"A2/dead":    {tree, "anchors[0].alive=false", "anchors[0].alive="},
	"A2/lean":    {tree, "anchors[0].lean=true", "anchors[0].lean="},
	"A2/rotten":  {stump, "anchors[0].alive=false", "anchors[0].alive="},
	"A2/lifts":   {stump, "anchors[0].lean=true", "anchors[0].lean="},
	"A2/small":   {stump, "anchors[0].diameter=15 cm", "anchors[0].diameter="},
	"A1/shallow": {buried, "anchors[0].depth=60 cm", ""},
	"A1/slender": {buried, "anchors[0].length=9 m; anchors[0].diameter=12 cm", ""},
	"A2/thin":    {tree, "anchors[0].diameter=15 cm", "anchors[0].diameter="},
	"A2/free":    {tree, "anchors[0].tied_back=false", "anchors[0].tied_back="},
	"A1/slip":    {tree, "anchors[0].strap_held=false", "anchors[0].strap_held="},
	"A3":         {stakes, "anchors[0].pattern=1; anchors[0].soil=wet", "anchors[0].soil="},
	"A4/chocks":  {lorry, "anchors[0].chocked=false", "anchors[0].chocked="},
	"A4/brake":   {lorry, "anchors[0].braked=false", "anchors[0].braked="},
	"A4/line":    {lorry, "anchors[0].in_line=false", "anchors[0].in_line="},
	"A4/pulls":   {"puller.name=red tractor", "anchors[0].name=Red tractor", ""},
	"A4":         {lorry, "anchors[0].ground=ice", "anchors[0].ground="},
	"L3/block":   {"", "load.side_slope=20 deg", "load.side_slope="},
	"L8/block":   {"", "load.off_line=30 deg", "load.off_line="},
	"L7":         {"", "load.lip.height=30 cm; load.lip.wheel_radius=35 cm", "load.lip="},
	"L7/jams":    {"load.ground=gravel; load.lip.height=17 cm; load.lip.wheel_radius=35 cm; load.locked=0", "load.locked=1", "load.locked="},
	"E1":         {"seen[0].what=move; seen[0].parts=2; seen[0].haul_from=moving", "seen[0].what=reading; seen[0].at=haul; seen[0].force=1 N; seen[0].moved=30 cm", "seen[0].what=slip; seen[0].by.kind=wheeled; seen[0].by.ground=gravel"},
	"E2":         {"seen[0].what=slip; seen[0].parts=1", "seen[0].parts=2; seen[0].haul_from=moving", ""},
	"V1":         {"", "", "load.mass=2.1 kg"},
	"U1/worst":   {"", "puller.mass=0.4 t", "puller.ground="},
	"U1/best":    {"", "puller.mass=0.3 t", ""},
	"U2/carries": {winch, "puller.hitch=bumper", "puller.hitch="},
	"U2/high":    {winch, "puller.hitch_height=1 m", "puller.hitch_height="},
	"U7":         {"", "puller.front_share=0.01", "puller.front_share="},
	"U7/most":    {"", "puller.front_share=0.25; puller.wheelbase=1.5 m; puller.hitch_height=55 cm", ""},
	"U6":         {winch, "puller.rating_kind=unmarked", "puller.rating="},
	"U6/drum":    {winch, "puller.winch_layer=5; puller.rating=0.7 t; puller.drum=17 cm; gear[0].diameter=28 mm", "puller.winch_layer=5; puller.rating=0.7 t"},
	"U6/fills":   {winch, "distance=19 m; puller.rating=0.5 t", ""},
	"U9":         {winch, "puller.mass=0.1 t", "puller.mass="},
	"R10":        {block2, "gear[5].rating=0.2 t", ""},
	"R8":         {"", "gear[3].rating=0.3 t; gear[3].count=4", ""},
	"R3":         {"", "gear[0].rating=0.1 t", "gear[3].sling_angle="},
	"R5":         {"gear[3].rating_kind=breaking", "gear[3].rating=2 t", ""},
	"R5/thin":    {"", "gear[0].diameter=5 mm", "gear[0].diameter="},
	"R3/bend":    {"gear[0].rating=0.5 t", "gear[2].diameter=3 cm; gear[0].rating=0.3 t", "gear[2].diameter=; gear[0].rating=0.3 t"},
	"R3/aside":   {block2 + "; gear[5].side_angle=0 deg", "gear[5].side_angle=90 deg; gear[5].rating=0.5 t", "gear[5].side_angle=; gear[5].rating=0.5 t"},
	"A1/legs":    {pair + "anchors[0].sling_angle=10 deg; anchors[2].sling_angle=10 deg", "anchors[2].sling_angle=60 deg", "anchors[0].sling_angle=; anchors[0].rating=1.5 t; anchors[2].rating=1.5 t"},
	"A1":         {"", "anchors[0].rating=0.1 t", "anchors[0].rating="},
	"R4/break":   {"", "gear[0].rating=0.8 t; puller.mass=12 t", "gear[0].rating="},
	"R4/damage":  {"", "gear[0].rating=2.6 t; gear[0].rating_kind=breaking", ""},
	"R4/half":    {"", "gear[0].rating=1.9 t", "puller.mass="},
	"T1/own":     {"", "anchors[0].name=ring; anchors[1].name=ring", ""},
	"T1/load":    {"", "gear[1].rating=0.2 t", "gear[1].material="},
	"T1/apart":   {"", "holding_reach=7 m", "holding_reach="},
	"T1/none":    {"", "gear[1].use=spare; gear[1].kind=strap", ""},
	"T1/stays":   {"", "site.hold_stays=false", "site.hold_stays="},
	"T3":         {"", "gear[0].length=30 m", "gear[0].length="},
	"T3/holding": {"", "gear[1].length=10 m", "gear[1].length=20 m; holding_reach="},
	"T5":         {"", "distance=60 m", ""},
	"T5/second":  {gang + "; " + compound + "puller.people=6", "lead=16.9 m", ""},
	"T5/turned":  {downLead + "lead=30 m; tackle.lead_angle=90 deg", "tackle.lead_angle=175 deg; distance=18 m; reach=16 m; lead=1 m", "tackle.lead_angle="},
	"T5/below":   {"load.pull=downhill; load.slope=12 deg; tackle.parts=1; tackle.haul_from=; distance=15 m", "reach=1 m; lead=1 m", ""},
	"U4":         {"", "puller.run=4 m", "puller.run="},
	"R1":         {"", "", "gear[3].use=spare; gear[3].kind=rope"},
	"R1/ends":    {"", "site.ends_joined=false", "site.ends_joined="},
	"R1/weak":    {block2, "gear[5].rating=0.3 t", "gear[5].rating=0.3 t; site.ends_joined="},
	"P3/alone":   {"", "crew=1", "crew="},
	"P3/few":     {"", "crew=3", ""},
	"P3/nobody":  {"", "crew=0", ""},
	"P3/led":     {gang, "crew=12", ""},
	"P3/two":     {"", "crew=2", ""},
	"P3/road":    {"", "site.public=true", "site.public="},
	"P3/split":   {"", "site.leader_seen=false", "site.leader_seen="},
	"L3/sign":    {"", "load.side_slope=12 deg; load.side_slope_from=level", ""},
	"L4/sign":    {"", "load.slope=26 deg", ""},
	"L10/sign":   {"", "load.mass=12 t", ""},
	"L11/sign":   {"", "load.mass=12 t; load.slope=25 deg", ""},
	"L6":         {"", "load.belly=true", "load.belly="},
	"L8/sign":    {"", "load.off_line=12 to 18 deg", ""},
	"R12":        {"", "gear[0].material=nylon", "gear[0].material="},
	"U5":         {"", "puller.slope=15 deg", "puller.slope=; load.slope=15 deg"},
	"U5/feet":    {gang, "puller.slope=25 deg", ""},
	"U5/block":   {"", "puller.slope=33 deg", ""},
	"U8/block":   {"", "puller.side_slope=60 deg", ""},
	"U8":         {"", "puller.side_slope=8 deg", "puller.side_slope="},
	"U3":         {"", "puller.rollover_frame=false", "puller.rollover_frame="},
	"P5":         {"", "site.clear=false", "site.clear="},
	"P4":         {"", "site.sober=false", "site.briefed="},
	"C1":         {"", "site.hands_off=false", "site.signals="},
	"T2":         {"", "site.chocks=1", "site.chocks="},
	"T2/low":     {"load.wheel_radius=40 cm; site.chock_height=20 cm", "site.chock_height=19 cm", ""},
	"R13/led":    {"", "site.line_free=false", "site.line_free="},
	"P2":         {"", "site.aboard=true", "site.aboard="},
	"P6":         {"", "site.driver_shielded=false", "site.driver_shielded="},
	"H7":         {"", "site.light=false", "site.light="},
	"A6":         {"", "site.anchor_marked=false", "site.anchor_marked="},
	"C2":         {"", "site.aid=false", "site.aid="},
	"C3":         {"", "site.plan_seen=false", "site.plan_seen="},
	"R13/padded": {"", "site.edges_padded=false", "site.edges_padded="},
	"L1":         {"", "load.mass_from=", ""},
	"L5":         {"", "load.locked=0.5", "load.locked="},
	"R14":        {"", "load.tow_point.rating=0.55 t", ""},
	"R15":        {"", "gear[4].kind=block; gear[4].rating=4 t; gear[4].rating_kind=working; gear[4].condition=damaged; gear[4].improvised=false", ""},
	"R9":         {"", "gear[2].diameter=5 cm", "gear[2].diameter="},
	"T4":         {"", "load.holding_point=; load.holding_point.shared=true", "load.holding_point="},
}

// changed is the plain go with some of its fields set; empty takes one back.
func changed(t *testing.T, sets ...string) job.Sheet {
	t.Helper()
	s, err := job.Decode([]byte(plainJob))
	if err != nil {
		t.Fatal(err)
	}
	for _, set := range strings.Split(strings.Join(sets, ";"), ";") {
		if set = strings.TrimSpace(set); set == "" {
			continue
		}
		path, text, _ := strings.Cut(set, "=")
		if path == "puller" && text == "" {
			s.Puller = nil
			continue
		}
		if path == "load.holding_point" {
			s.Load.HoldingPoint = nil
			continue
		}
		if err := s.Set(path, text); err != nil {
			t.Fatalf("%s: %v", set, err)
		}
	}
	for i := range s.Gear {
		if !job.Slung(s.Gear[i].Kind) {
			s.Gear[i].SlingHitch, s.Gear[i].SlingAngle = "", ""
		}
	}
	return s
}

func weighedBest(t *testing.T, s job.Sheet) weighed {
	t.Helper()
	return newSearch(read(t, s), view{}).run()[0]
}

// outcomes are the results that a check came to, with their texts.
func outcomes(o weighed, k string) map[Result]string {
	out := map[Result]string{}
	for _, f := range o.fs.list {
		if key(f.rule.id, f.rule.variant) == k {
			out[f.result] = f.text()
		}
	}
	return out
}

func TestThePlainGoIsAGo(t *testing.T) {
	p := Reckon(read(t, changed(t)))
	if p.Decision != Go || p.Conditional || len(p.SignOffs) > 0 {
		t.Fatalf("%s, conditional %v, sign-offs %v: %v", p.Decision, p.Conditional, p.SignOffs, p.Why)
	}
	for _, c := range p.Checks {
		if c.Result != Pass {
			t.Errorf("%s is %s: %s", c.ID, c.Result, c.Text)
		}
	}
}

// A check that can't fail guards nothing, one that can't pass says nothing,
// and one that asks without words can't be answered.
func TestEveryCheckFailsAsksAndPasses(t *testing.T) {
	for _, k := range slices.Sorted(maps.Keys(rules)) {
		r, row := rules[k], checkRows[k]
		t.Run(strings.ReplaceAll(k, "/", "-"), func(t *testing.T) {
			if (r.fail == "") != (row.fail == "") || r.fail == "" && k != "R1" && k != "V1" {
				t.Errorf("its failing has text %q and is shown by %q", r.fail, row.fail)
			}
			if r.unknown != "" && row.unknown == "" {
				t.Errorf("its question %q is never put", r.unknown)
			}
			is := func(want Result, sets string) {
				t.Helper()
				o := weighedBest(t, changed(t, row.with, sets))
				got := outcomes(o, k)
				text, ok := got[want]
				if !ok {
					t.Errorf("%q: it comes out %v, want %s", sets, got, want)
					return
				}
				if text == "" || strings.Contains(text, "{") {
					t.Errorf("%q: the text reads %q", sets, text)
				}
				if want != Fail {
					return
				}
				switch s := r.severity; {
				case s == severityRefer && o.v.decision != Refer, s == string(Block) && o.v.decision != NoGo && o.v.decision != Refer:
					t.Errorf("%q: fails, and the decision is %s", sets, o.v.decision)
				case s == string(SignOff) && !slices.Contains(o.v.signOffs, r.id):
					t.Errorf("%q: fails, and no signature is asked for", sets)
				}
			}
			is(Pass, "")
			if row.fail != "" {
				is(Fail, row.fail)
			}
			if row.unknown != "" {
				is(Unknown, row.unknown)
				for _, f := range weighedBest(t, changed(t, row.with, row.unknown)).fs.list {
					if key(f.rule.id, f.rule.variant) == k && f.result == Unknown && !f.onSite && f.rule.severity != string(Advice) && !f.opens() {
						t.Error("it is not known, and does not keep the plan open")
					}
				}
			}
		})
	}
	for k := range checkRows {
		if rules[k] == nil {
			t.Errorf("%s is no check", k)
		}
	}
}

// No signature covers a block, and none is needed for an advice.
func TestSignaturesCoverSignOffsOnly(t *testing.T) {
	for k, row := range checkRows {
		if row.fail == "" || k == "X5" {
			continue
		}
		s := changed(t, row.with, row.fail)
		before := weighedBest(t, s)
		seen := map[string]bool{}
		for _, f := range before.fs.list {
			if id := f.rule.id; f.result == Fail && !seen[id] {
				seen[id] = true
				var pieces []string // one check of the id may be a block, which has none
				for _, g := range before.fs.list {
					if g.rule.id == id {
						pieces = append(pieces, g.pieces...)
					}
				}
				s.Signed = append(s.Signed, job.SignatureSheet{Check: id, By: "A. Rigger", Second: "B. Holder", Reason: "seen", Pieces: pieces})
			}
		}
		after := weighedBest(t, s)
		if before.v.decision != after.v.decision {
			t.Errorf("%s: signatures turned %s into %s", k, before.v.decision, after.v.decision)
		}
		if len(after.v.unsigned) > 0 {
			t.Errorf("%s: signed, and still asked for: %v", k, after.v.unsigned)
		}
	}
}

// Whatever fails, a refer says no force and a plan says why in one to three
// sentences; what it would measure is a field that can be set, or a list.
func TestWhatEveryPlanHolds(t *testing.T) {
	lone(t)
	for k, row := range checkRows {
		for _, sets := range []string{row.fail, row.unknown} {
			s := changed(t, row.with, sets)
			p := Reckon(read(t, s))
			if len(p.Why) < 1 || len(p.Why) > 3 {
				t.Errorf("%s %q: %d reasons", k, sets, len(p.Why))
			}
			if p.Conditional != (p.Decision == Go && len(p.SignOffs) > 0) {
				t.Errorf("%s %q: conditional is %v with %s and sign-offs %v", k, sets, p.Conditional, p.Decision, p.SignOffs)
			}
			if p.Decision == Refer {
				noFigures(t, k, p)
			}
			for _, m := range p.Measure {
				c, err := s.Clone()
				if err != nil {
					t.Fatal(err)
				}
				if !slices.Contains([]string{"gear", "anchors", "puller", "load.lip"}, m.Field) && c.Set(m.Field, "") != nil {
					t.Errorf("%s %q: no such field as %s", k, sets, m.Field)
				}
			}
		}
	}
}

// What may be signed for is what a plan names, no more and no less.
func TestSignedNamesAreTheChecks(t *testing.T) {
	ids := map[string]bool{}
	for _, r := range rules {
		ids[r.id] = true
	}
	for _, id := range job.CheckIDs {
		if !ids[id] {
			t.Errorf("%s is no check", id)
		}
		delete(ids, id)
	}
	if len(ids) > 0 {
		t.Errorf("%v can't be signed for", slices.Sorted(maps.Keys(ids)))
	}
	for wrong, near := range map[string]string{"r4": `write "R4"`, "ZZZZZZ": "write one of", "L99": "the nearest is"} {
		s := changed(t)
		s.Signed = []job.SignatureSheet{{Check: wrong, By: "A. Rigger", Second: "B. Holder", Reason: "seen"}}
		if _, err := s.Case(); err == nil || !strings.Contains(err.Error(), "signed[0].check") || !strings.Contains(err.Error(), near) {
			t.Errorf("signed for %q: %v, want it refused with %q", wrong, err, near)
		}
	}
}

// A guess is one whether it is told as such or nothing is.
func TestAGuessedWeightIsSaid(t *testing.T) {
	for sets, want := range map[string]Result{
		"load.mass_from=weighed": Pass, "load.mass_from=plate": Pass, "load.mass_from=guess": Fail, "load.mass_from=": Fail,
		"load.mass_from=guess; load.mass=2 to 2.4 t": Fail,
	} {
		if _, ok := outcomes(weighedBest(t, changed(t, sets)), "L1")[want]; !ok {
			t.Errorf("%q: not %s", sets, want)
		}
	}
}
