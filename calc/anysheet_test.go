package calc

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"linetender/calc/handbook"
	"linetender/calc/job"
)

// answers are what a sheet's fields may be told, the ends of what is taken
// among them. A star stands for each of the places in a list.
var answers = func() map[string][]string {
	masses := []string{"", "0.001 kg", "1 kg", "400 kg", "3 t", "12 t", "2 tons", "1 to 200 t", "200 t"}
	forces := []string{"", "1 N", "1 kg", "2 t", "60 kN", "2 to 9 kN", "900000000 kN", "900000000 t"}
	lengths := []string{"", "0.001 mm", "20 mm", "40 cm", "3 m", "2 to 40 m", "90 m", "9000 km"}
	slopes := []string{"", "0 deg", "6 deg", "20 deg", "1 in 4", "level 48 in, gap 9 in", "0 to 60 deg", "89.9 deg"}
	angles := []string{"", "0 deg", "10 deg", "25 deg", "0 to 79 deg", "79.9 deg"}
	shares := []string{"", "0", "0.000001", "0.5", "1"}
	counts := []string{"", "1", "2", "7", "1000"}
	yesno := []string{"", "true", "false"}
	with := func(words []string) []string { return append([]string{""}, words...) }
	var grounds []string
	for _, g := range handbook.Grounds() {
		grounds = append(grounds, string(g))
	}
	out := map[string][]string{
		"load.mass": masses[1:], "load.mass_from": with(job.MassFroms), "load.slope": slopes[1:], "load.slope_from": with(job.SlopeFroms),
		"load.pull": job.Pulls, "load.ground": grounds, "load.locked": shares, "load.sunk": with(job.Depths), "load.lip": {"", "none"},
		"load.off_line": angles, "load.belly": yesno, "load.side_slope": slopes, "distance": lengths, "lead": lengths, "reach": lengths,
		"tackle.parts": {"", "1", "2", "3", "4", "9", "30"}, "tackle.haul_from": with(job.HaulFroms), "tackle.sheave": with(job.Sheaves),
		"tackle.lead_blocks": {"", "0", "1", "2", "30"}, "tackle.lead_angle": {"", "0 deg", "90 deg", "180 deg"},
		"gear_more": yesno, "crew": {"", "0", "1", "3", "5", "1000"}, "hazards": append(with(job.HazardKinds), "none"),
		"site.chock_height": lengths, "site.holding_slack": {"", "0 m", "0.1 m", "3 m", "9000 km"}, "site.chocks": {"", "0", "2"}, "site.tries": {"", "0", "2"},
	}
	for _, f := range []string{"clear", "under", "between", "aboard", "sober", "plan_seen", "lifting", "running_start", "hold_stays", "line_free", "ends_joined", "public", "leader_seen"} {
		out["site."+f] = yesno
	}
	for _, point := range []string{"load.tow_point.", "load.holding_point."} {
		maps.Copy(out, map[string][]string{point + "kind": with(job.TowPoints), point + "rating": forces, point + "rating_kind": with(job.RatingKinds),
			point + "condition": with(job.Conditions), point + "count": counts, point + "equalised": yesno, point + "sling_angle": angles})
	}
	maps.Copy(out, map[string][]string{
		"puller.kind": with(job.PullerKinds), "puller.mass": masses, "puller.driven": shares, "puller.slope": slopes, "puller.slope_from": with(job.SlopeFroms),
		"puller.pull": with(job.Pulls), "puller.ground": with(grounds), "puller.side_slope": slopes, "puller.rating": forces,
		"puller.rating_kind": with(job.RatingKinds), "puller.winch_layer": {"", "1", "3", "5", "9", "1000"}, "puller.drum": lengths, "puller.capstan": yesno, "puller.hitch_rating": forces,
		"puller.people": counts, "puller.run": lengths, "puller.hitch": with(job.Hitches), "puller.hitch_height": lengths, "puller.axle_height": lengths,
		"puller.front_share": shares, "puller.wheelbase": lengths, "puller.cg_height": lengths, "puller.rollover_frame": yesno,
		"anchors[*].kind": job.AnchorKinds, "anchors[*].use": with(job.AnchorUses), "anchors[*].diameter": lengths, "anchors[*].alive": yesno,
		"anchors[*].lean": yesno, "anchors[*].tied_back": yesno, "anchors[*].strap_held": yesno, "anchors[*].pattern": with(job.Patterns),
		"anchors[*].soil": with(job.Soils), "anchors[*].mass": masses, "anchors[*].rating": forces, "anchors[*].rating_kind": with(job.RatingKinds),
		"anchors[*].chocked": yesno, "anchors[*].braked": yesno, "anchors[*].in_line": yesno, "anchors[*].ground": with(grounds),
		"anchors[*].slope": slopes, "anchors[*].slope_from": with(job.SlopeFroms), "anchors[*].length": lengths, "anchors[*].depth": lengths, "anchors[*].equalised": yesno, "anchors[*].sling_angle": {"", "0 deg", "45 deg", "60 deg", "90 deg"},
		"gear[*].kind": job.GearKinds, "gear[*].use": with(job.GearUses), "gear[*].count": counts, "gear[*].rating": forces,
		"gear[*].rating_kind": with(job.RatingKinds), "gear[*].material": with(job.Materials), "gear[*].diameter": lengths, "gear[*].length": lengths,
		"gear[*].sheaves": {"", "1", "2", "3", "1000"}, "gear[*].equalised": yesno, "gear[*].knots": {"", "none", "bowline", "reef", "sheepshank of no kind"},
		"gear[*].side_angle": {"", "0 deg", "40 deg", "90 deg"}, "gear[*].sling_angle": {"", "0 deg", "45 deg", "60 deg", "90 deg"}, "gear[*].condition": with(job.Conditions), "gear[*].improvised": yesno,
	})
	maps.Copy(out, map[string][]string{
		"load.wheel_radius": lengths, "seen[0].what": job.SeenWhats, "seen[0].parts": counts[1:3], "seen[0].haul_from": job.HaulFroms,
		"seen[0].hauled_by": {"", "2", "30"}, "seen[0].lead_blocks": {"", "0", "30"}, "seen[0].puller": {"", "0"}, "seen[0].force": forces,
		"seen[0].at": with(job.SeenAts), "seen[0].took_in": lengths, "seen[0].moved": lengths, "seen[0].alike": yesno, "seen[0].reloaded": yesno,
		"seen[0].sheave": with(job.Sheaves), "seen[0].by.kind": with(job.PullerKinds), "seen[0].by.mass": {"", "1 kg", "4 t", "150 t"}, "seen[0].by.people": counts[1:3],
	})
	return out
}()

// Whatever a sheet says that is taken, it gets a plan that can be written,
// says why, and is never a go where a block fails.
func TestAnySheetGetsAPlan(t *testing.T) {
	fields := slices.Sorted(maps.Keys(answers))
	base := changed(t)
	seen, refused := map[Decision]int{}, 0
	rapid.Check(t, func(t *rapid.T) {
		s, err := base.Clone()
		if err != nil {
			t.Fatal(err)
		}
		for range rapid.IntRange(0, 12).Draw(t, "changes") {
			field := rapid.SampledFrom(fields).Draw(t, "field")
			answer := rapid.SampledFrom(answers[field]).Draw(t, "answer")
			if list, _, ok := strings.Cut(field, "[*]"); ok {
				places := len(s.Gear)
				if list == "anchors" {
					places = len(s.Anchors)
				}
				field = strings.Replace(field, "*", rapid.SampledFrom([]string{"0", "1", "2", "3"}[:min(4, places)]).Draw(t, "place"), 1)
			}
			if strings.HasPrefix(field, "seen[") && len(s.Seen) == 0 { // most of what may be told of it needs a whole one
				s.Seen = []job.SeenSheet{saw("reading", 2, "force=3 kN", "at=haul")}
			}
			if err := s.Set(field, answer); err != nil {
				t.Fatalf("%s = %q: %v", field, answer, err)
			}
		}
		c, err := s.Case()
		if err != nil {
			refused++
			if line := err.Error(); line == "" || strings.Contains(line, "\n") {
				t.Fatalf("refused by %q", line)
			}
			return
		}
		p := Reckon(c)
		seen[p.Decision]++
		if _, err := json.Marshal(p); err != nil {
			t.Fatalf("write: %v", err)
		}
		if len(p.Why) < 1 || len(p.Why) > 3 {
			t.Fatalf("%s for %d reasons: %q", p.Decision, len(p.Why), p.Why)
		}
		for _, k := range p.Checks {
			if p.Decision == Go && k.Severity != Advice && (k.Result == Fail && !(k.Severity == SignOff && p.Conditional) || k.Result == Unknown && !k.OnSite) {
				t.Fatalf("a go with %s %s: %s", k.ID, k.Result, k.Text)
			}
			if strings.Contains(k.Text, "{") || strings.Contains(k.Text, "NaN") || strings.Contains(k.Text, "Inf") {
				t.Fatalf("%s reads %q", k.ID, k.Text)
			}
		}
	})
	t.Logf("%v, refused %d", seen, refused)
	planned := 0
	for _, n := range seen {
		planned += n
	}
	if len(seen) < 3 || refused > planned {
		t.Errorf("the sheets come to %v, and %d are refused", seen, refused)
	}
}
