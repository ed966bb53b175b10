package flow

import "linetender/calc/job"

// What a rig has decides which eyes it needs: nobody marks an anchor that nothing
// hangs on, or looks after blocks where the rope runs straight. While there is no
// plan to go by, or something must hold, all that was told of counts.

// rigParts is what a rig has of what people look after.
type rigParts struct {
	anchors, blocks, holds bool
	carded                 bool // each of the crew has the plan on a phone of their own
}

func (t *turn) rigParts() rigParts {
	told, carded := len(t.s.Sheet.Anchors) > 0, t.people() > 0 && len(t.s.present(AsLead, AsCrew)) >= t.people()
	p := t.plan()
	if p == nil || p.Tackle == nil {
		return rigParts{carded: carded, anchors: told, blocks: true, holds: p != nil && p.Holding != nil && p.Holding.Needed}
	}
	holds := p.Holding != nil && p.Holding.Needed
	return rigParts{
		carded:  carded,
		anchors: told && (len(p.Anchors) > 0 || holds),
		blocks:  p.Tackle.Sheaves > 0 || p.Tackle.LeadBlocks > 0 || p.Tackle.Compound != nil,
		holds:   holds,
	}
}

func anchored(t *turn) bool { return t.rigParts().anchors }

func blocked(t *turn) bool { return t.rigParts().blocks }

func straight(t *turn) bool { return !blocked(t) }

func hasAnchor(_ job.Sheet, r rigParts) bool { return r.anchors }
