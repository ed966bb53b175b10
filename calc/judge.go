package calc

import (
	"fmt"
	"slices"

	"linetender/calc/handbook"
	"linetender/calc/job"
)

// judgeJob makes the findings that no choice of tackle changes.
func judgeJob(fs *findings, c job.Case, n need) {
	judgeHazards(fs, c)
	for _, o := range c.Odd {
		fs.ask("V1", []string{o.Field}, o.Text)
	}
	if len(c.Odd) == 0 {
		fs.add("V1", Pass)
	}
	judgeLoad(fs, c, n)
	judgeSite(fs, c, n)
	good := len(c.Anchors) > 0
	for i := range c.Anchors {
		if k := c.Anchors[i].Kind; k == "person" || k == "post" {
			fs.add("A5", Fail, k)
			good = false
		}
	}
	if good {
		fs.add("A5", Pass)
	}
}

func judgeHazards(fs *findings, c job.Case) {
	for _, h := range []struct{ check, kind string }{
		{"P1/inside", "people-inside"}, {"H1", "overhead-line"}, {"H2", "traffic"}, {"H3", "water"},
		{"H4/fuel", "fuel"}, {"H4/battery", "battery"}, {"H5", "hazmat"}, {"H6", "edge"}, {"L2", "overturned"},
		{"H5/surge", "surge"}, {"H6/hollow", "hollow"}, {"L2/broken", "broken"},
	} {
		if !c.Asked {
			fs.ask(h.check, []string{"hazards"})
			continue
		}
		fs.judge(h.check, !slices.Contains(c.Hazards, h.kind))
	}
	s := c.Site
	fs.site("X1", s.Lifting, false, "site.lifting")
	var fresh *bool
	tries, failed := triesFailed(c), ""
	if most, _ := handbook.TriesMost(); s.Tries != nil || tries > most {
		few := tries <= most
		fresh, failed = &few, fmt.Sprint(tries)
	}
	fs.site("X2", fresh, true, "site.tries", failed)
	fs.site("X4", s.RunningStart, false, "site.running_start")
	fs.site("X3", s.Consent, true, "site.consent")
}

// triesFailed is how many pulls have failed: as told, and no fewer than slipped or
// stuck by what was seen. Who tells it on the spot counts those as well, so the two
// are not added. All that was seen in one pull is one try, however many tell it and with
// whatever words; a new release is another, and so is what nobody says the pull of.
func triesFailed(c job.Case) int {
	n := 0
	for i, w := range c.Seen {
		if w.What != "slip" && w.What != "stuck" {
			continue
		}
		if w.Try == nil || !slices.ContainsFunc(c.Seen[:i], func(o job.Seen) bool {
			return (o.What == "slip" || o.What == "stuck") && o.Try != nil && *o.Try == *w.Try
		}) {
			n++
		}
	}
	if c.Site.Tries != nil {
		n = max(n, *c.Site.Tries)
	}
	return n
}

// above judges a limit with a sign-off below a harder one.
func above[Q ~float64](fs *findings, got, sign, hard Q, signKey, hardKey string, say func(Q) said) {
	fs.judge(hardKey, within(got, hard), say(got), say(hard))
	if !within(got, hard) {
		return
	}
	fs.judge(signKey, within(got, sign), say(got), say(sign))
}

func judgeLoad(fs *findings, c job.Case, n need) {
	l := c.Load
	signed, _ := handbook.MassSigned()
	refer, _ := handbook.MassReferred()
	above(fs, l.Mass.High, signed, refer, "L10/sign", "L10/refer", heavy)
	slopeSigned, _ := handbook.SlopeSigned()
	slopeRefer, _ := handbook.SlopeReferred()
	above(fs, l.Slope.High, slopeSigned, slopeRefer, "L4/sign", "L4/refer", degrees)
	forceSigned, _ := handbook.ForceSigned()
	forceRefer, _ := handbook.ForceReferred()
	above(fs, n.force.High, forceSigned, forceRefer, "L11/sign", "L11/refer", needed)
	if l.SideSlope == nil {
		fs.ask("L3/block", []string{"load.side_slope"})
	} else {
		free, _ := handbook.SideSlopeFree()
		blocked, _ := handbook.SideSlopeBlocked()
		side := l.SideSlope.High
		if l.Pull == "level" { // it goes across the slope that was told, or off it
			side = max(side, l.Slope.High)
		}
		above(fs, side, free, blocked, "L3/sign", "L3/block", degrees)
	}
	offFree, _ := handbook.OffLineFree()
	offBlocked, _ := handbook.OffLineBlocked()
	if l.OffLine == nil {
		// The span that stands in for it is in the force; a line that leads
		// farther off is a block, so nothing goes before it is told.
		fs.ask("L8/block", []string{"load.off_line"})
	} else {
		above(fs, n.off.High, offFree, offBlocked, "L8/sign", "L8/block", degrees)
	}

	fs.judge("L1", !l.Guessed)
	switch {
	case l.Locked == nil:
		fs.ask("L5", []string{"load.locked"})
	default:
		fs.judge("L5", l.Locked.High == 0)
	}
	switch {
	case l.Belly == nil || l.Sunk == "":
		var ask []string
		if l.Sunk == "" {
			ask = append(ask, "load.sunk")
		}
		if l.Belly == nil {
			ask = append(ask, "load.belly")
		}
		fs.ask("L6", ask)
	default:
		fs.judge("L6", !*l.Belly || l.Sunk != "none")
	}
	judgeLip(fs, l, n.jams)
	judgeTowPoint(fs, l.TowPoint)
}

func judgeLip(fs *findings, l job.Load, jams bool) {
	lip := l.Lip
	switch {
	case lip == nil:
		fs.ask("L7", []string{"load.lip"})
	case lip.None:
		fs.add("L7", Pass)
		fs.add("L7/jams", Pass)
	default:
		free, _ := handbook.LipFree()
		fs.judge("L7", lip.Height.High < lip.Radius.Low.Scale(float64(free)), long(lip.Height.High), short(lip.Radius.Low))
		if jams && l.Locked == nil {
			fs.ask("L7/jams", []string{"load.locked"})
		} else {
			fs.judge("L7/jams", !jams, long(lip.Height.High), short(lip.Radius.Low))
		}
	}
}

func judgeTowPoint(fs *findings, t *job.TowPoint) {
	if t == nil || t.Kind == "" {
		fs.ask("L9/kind", []string{"load.tow_point.kind"})
	} else {
		why := towPointRefused(t.Kind)
		fs.judge("L9/kind", why == "", spoken(t.Kind), why)
	}
	if t == nil || !looked(t.Condition) {
		fs.ask("L9/damaged", []string{"load.tow_point.condition"})
		return
	}
	fs.judge("L9/damaged", t.Condition == "good").onSite = true
}

// looked reports whether somebody has said how sound a thing is. Unknown is what
// they say who were asked, and no answer.
func looked(condition string) bool { return condition != "" && condition != "unknown" }

func judgeSite(fs *findings, c job.Case, n need) {
	s := c.Site
	ask := "site.under"
	if s.Under != nil {
		ask = "site.between"
	}
	fs.site("P1/under", both(not(s.Under), not(s.Between)), true, ask)
	fs.site("P2", s.Aboard, false, "site.aboard")
	fs.site("P4", both(s.Sober, s.Briefed), true, "site.briefed")
	fs.site("P5", s.Clear, true, "site.clear")
	fs.site("P6", s.DriverShielded, true, "site.driver_shielded")
	fs.site("H7", s.Light, true, "site.light")
	fs.site("C1", both(s.Signals, s.HandsOff), true, "site.signals")
	fs.site("C2", s.Aid, true, "site.aid")
	fs.site("C3", s.PlanSeen, true, "site.plan_seen")
	fs.site("A6", s.Marked, true, "site.anchor_marked")
	fs.site("R13/led", s.LineFree, true, "site.line_free")
	fs.site("R13/padded", s.DampedOrPadded, true, "site.edges_padded")
	fs.site("T1/stays", s.HoldStays, true, "site.hold_stays")
	var chocked *bool
	count := ""
	if s.Chocks != nil {
		least, _ := handbook.ChocksLeast()
		enough := *s.Chocks >= least
		chocked, count = &enough, fmt.Sprint(*s.Chocks)
	}
	fs.site("T2", chocked, true, "site.chocks", count)
	// How high they are is told by some; then the wheel decides whether it climbs them.
	if r := c.Load.WheelRadius; r != nil && s.Chock != nil {
		share, _ := handbook.ChockHeight()
		least := r.High.Scale(2 * float64(share))
		fs.judge("T2/low", within(least, s.Chock.Low), short(s.Chock.Low), long(least)).onSite = true
	}
}

// not turns an answer round; nobody's answer stays nobody's.
func not(p *bool) *bool {
	if p == nil {
		return nil
	}
	n := !*p
	return &n
}

// both is true when a and b are, false when either is, and not known else.
func both(a, b *bool) *bool {
	for _, p := range []*bool{a, b} {
		if p != nil && !*p {
			return p
		}
	}
	if a == nil || b == nil {
		return nil
	}
	return a
}
