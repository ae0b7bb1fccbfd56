package acceptance

import (
	"math"
	"slices"

	"shimwright/scenarios"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
)

// A record is a job as the list goes through it: what was done before the trainee came to it,
// where that is known, and the trainee's own steps.
type record struct {
	card  scenarios.Card
	sheet family.Sheet
	steps []history.Step
	own   int // index of the trainee's first step
	end   history.Status
}

func newRecord(card scenarios.Card, steps []history.Step) *record {
	r := &record{card: card, sheet: card.Family.Sheet, steps: slices.Concat(card.Before, steps), own: len(card.Before), end: card.Start}
	if len(steps) > 0 {
		r.end = steps[len(steps)-1].After
	}
	return r
}

// without tells whether the bench of the job lacks the tool for an act.
func (r *record) without(f act.Form) bool {
	for _, l := range r.card.Known.Off {
		if l.Form == f && l.Word == "" {
			return true
		}
	}
	return false
}

// at puts into evidence which step it is from.
func (r *record) at(i int, e Evidence) Evidence {
	e.Step, e.Before = i+1, true
	if i >= r.own {
		e.Step, e.Before = i+1-r.own, false
	}
	return e
}

// A taking is a reading, the step it was taken in, and why it does not count; NoWhy for one
// that does.
type taking struct {
	step    int
	reading gauge.Reading
	flaw    Why
}

// takings lists the readings of a kind in their order, each with the first flaw that judge
// finds. A reading whose instrument was found to be off afterwards has that flaw.
func (r *record) takings(k gauge.Kind, judge func(i int, rd gauge.Reading) Why) []taking {
	var out []taking
	for i, s := range r.steps {
		for _, rd := range s.Readings {
			if toolFound(rd) != gauge.NoTool {
				for j := range out {
					if out[j].reading.Tool == toolFound(rd) && out[j].flaw == NoWhy {
						out[j].flaw = ToolWasOff
					}
				}
			}
			if rd.Kind == k {
				out = append(out, taking{i, rd, judge(i, rd)})
			}
		}
	}
	return out
}

// toolFound is the tool that a reading found to be off.
func toolFound(rd gauge.Reading) gauge.Tool {
	switch rd.Finding {
	case gauge.StringWasOff:
		return gauge.StringAndScale
	case gauge.GaugeWasOff:
		return gauge.DepthGauge
	case gauge.IndicatorWasLoose:
		return gauge.DialIndicator
	}
	return gauge.NoTool
}

// last is the last taking that counts, or, with ok false, the last there is.
func last(all []taking) (t taking, ok bool) {
	for _, t := range slices.Backward(all) {
		if t.flaw == NoWhy {
			return t, true
		}
	}
	if len(all) == 0 {
		return taking{step: -1, flaw: NeverRead}, false
	}
	return all[len(all)-1], false
}

// lacking is the result of a line whose readings do not count.
func (r *record) lacking(k gauge.Kind, t taking) Result {
	e := Evidence{Why: t.flaw, Kind: k}
	if t.step >= 0 {
		e = r.at(t.step, e)
	}
	return Result{Open, e}
}

// hold holds a figure against its specification. unsure is its expanded uncertainty.
func hold(d Dimension, read, low, high, unsure float64) Result {
	e := Evidence{Of: d, Read: read, Low: low, High: high, Unsure: unsure}
	const hair = 1e-6 // units of what is read are not whole in millimeters and newton millimeters
	slack := hair * math.Max(1, math.Abs(read))
	out := Proved
	switch off := math.Max(low-read, read-high); {
	case off <= slack:
		e.Why = Inside
	case off <= unsure+slack:
		out, e.Why = Open, Unsure
	default:
		out, e.Why = Contradicted, Outside
	}
	return Result{out, e}
}

// of adds to a result which reading it is about.
func (r *record) of(t taking, res Result) Result {
	res.Evidence.Kind = t.reading.Kind
	res.Evidence = r.at(t.step, res.Evidence)
	return res
}

// gearsStill tells whether pinion and ring gear stand at the end where they stood after a
// step. Axle shafts that are drawn leave them there.
func (r *record) gearsStill(i int) bool {
	was, is := r.steps[i].After.Changes, r.end.Changes
	for _, s := range r.steps[i+1:] {
		if s.Act.Form == act.RemoveShafts {
			was.Sides += s.After.Changes.Sides - s.Before.Changes.Sides
		}
	}
	return was.Parts == is.Parts && was.Depth == is.Depth && was.Sides == is.Sides
}

// unchanged tells whether of some counts nothing has moved between a step and the end.
func (r *record) unchanged(i int, of ...func(history.Changes) int) bool {
	was, is := r.steps[i].After.Changes, r.end.Changes
	for _, f := range of {
		if f(was) != f(is) {
			return false
		}
	}
	return true
}

func parts(c history.Changes) int   { return c.Parts }
func depth(c history.Changes) int   { return c.Depth }
func preload(c history.Changes) int { return c.Preload }
func sides(c history.Changes) int   { return c.Sides }

// expanded is the expanded uncertainty (k = 2) of a standard one.
func expanded(std float64) float64 { return 2 * std }
