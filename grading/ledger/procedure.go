package ledger

import (
	"sync"

	"maps"

	"shimwright/grading/inference"
	"shimwright/scenarios"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
)

// A reach is how far an axle may be together for an item to be possible.
type reach int

const (
	pinionOut reach = iota // neither pinion nor case is in
	caseOut
	atHand // whenever its reading is still to come
	caseIn
)

// An Item is one thing that the procedure of a job asks for once, for the axle as it stands.
type Item struct {
	Form   act.Form
	reach  reach
	on     func(scenarios.Card) bool
	Source string
	// after picks the changes that make it stale; nil where nothing does.
	after  func(history.Changes) int
	option bool // nobody is asked for it; see options
}

const commonPractice = "common practice, no source"

// items is the procedure by the acts that do it, in the order of the job, made once. Teardown
// and assembly are no items: they are in the value of where the axle stands.
var items = sync.OnceValue(func() []Item {
	gear := func(c history.Changes) int { return c.Parts + c.Depth }
	placed := func(c history.Changes) int { return c.Parts + c.Depth + c.Sides }
	preload := func(c history.Changes) int { return c.Preload }
	total := func(c history.Changes) int { return c.Preload + c.Sides }
	collapsible := func(c scenarios.Card) bool {
		return c.Family.Design.Preload == family.CollapsibleSpacer && pinionIsSet(c)
	}
	return []Item{
		{Form: act.InspectCups, reach: pinionOut, Source: commonPractice, on: pinionIsBuilt},
		{Form: act.InspectShimSeat, reach: pinionOut, Source: commonPractice, on: depthIsChosen},
		{Form: act.InspectGears, reach: pinionOut, Source: commonPractice, on: newGears},
		{Form: act.MeasurePinionRunout, reach: pinionOut, Source: commonPractice, on: newGears},
		{Form: act.InspectBearings, reach: pinionOut, Source: commonPractice, on: pinionIsSet},
		{Form: act.InspectSpacer, reach: pinionOut, Source: "TM 9-2320-280-34, para 19-3, p 19-21", on: collapsible},
		{Form: act.InspectSeal, reach: pinionOut, Source: commonPractice, on: pinionIsSet},
		{Form: act.MeasureBearings, reach: pinionOut, Source: commonPractice, on: depthIsChosen},
		{Form: act.InspectCones, reach: caseOut, Source: commonPractice, on: sidesAreSet},
		{Form: act.InspectCaps, reach: caseOut, Source: "TM 9-2320-289-34, para 6-5", on: sidesAreSet},
		{Form: act.InspectBolts, reach: caseOut, Source: commonPractice, on: sidesAreSet},
		{Form: act.TestIndicator, reach: atHand, Source: commonPractice, on: wholeAxle},
		{Form: act.MeasureRunout, reach: caseIn, Source: "TM 9-2320-289-34, para 6-5, p 6-21", on: wholeAxle, after: gear},
		{Form: act.MeasureRadialRunout, reach: caseIn, Source: commonPractice, on: wholeAxle, after: gear},
		{Form: act.MeasureBacklash, reach: caseIn, Source: "TM 9-2320-289-34, para 6-5, p 6-21", on: wholeAxle, after: placed},
		{Form: act.RollGears, reach: caseIn, Source: "TM 9-2320-289-34, para 6-5, p 6-22", on: wholeAxle, after: placed},
		{Form: act.MeasureTorque, reach: caseIn, Source: "TM 5-3805-260-24, pp 3-243 to 3-245", on: wholeAxle, after: total},

		{Form: act.MeasureSideShims, reach: caseOut, Source: commonPractice, option: true, after: func(c history.Changes) int { return c.Sides }},
		{Form: act.MeasureSpread, reach: caseIn, Source: "TM 5-3810-306-34, pp 8-34 and 8-42", option: true, after: func(c history.Changes) int { return c.Sides }},
		{Form: act.MeasurePinionEndPlay, reach: caseOut, Source: commonPractice, option: true, after: preload},
		{Form: act.TestGauge, reach: atHand, Source: commonPractice, on: depthIsChosen},
		{Form: act.TestString, reach: atHand, Source: commonPractice, option: true},
		{Form: act.InspectShafts, reach: caseIn, Source: commonPractice, option: true},
	}
})

func depthIsChosen(c scenarios.Card) bool {
	return c.Kind == scenarios.WholeJob || c.Kind == scenarios.DepthJob || c.Kind == scenarios.PatternJob || c.Kind == scenarios.PreviousWork
}
func pinionIsBuilt(c scenarios.Card) bool { return c.Kind != scenarios.SidesJob }
func pinionIsSet(c scenarios.Card) bool {
	return c.Kind != scenarios.DepthJob && c.Kind != scenarios.SidesJob
}
func wholeAxle(c scenarios.Card) bool {
	return c.Kind != scenarios.DepthJob && c.Kind != scenarios.PreloadJob
}
func sidesAreSet(c scenarios.Card) bool { return wholeAxle(c) }
func newGears(c scenarios.Card) bool    { return depthIsChosen(c) && !c.UsedGears }

// A Progress is what of the procedure has been done, and of which state of the axle.
type Progress struct {
	done   map[act.Form]int // the count that the item goes by, when it was last done
	gauged bool             // the depth, for these parts
	line   bool             // where zero end play lies is known, for these parts
	mic    bool             // the depth shim in hand has been measured
	wrench bool             // torque has been read with the wrench
	string bool             // and with string and scale

	used     map[act.Form]int             // options that have been taken
	at       map[act.Form]history.Changes // the state in which an act was done last
	rolled   map[float64]bool             // depth shims, mm, on which a mock-up has been gauged or its pattern read
	handed   map[act.Form]bool            // acts that were done last by who had the axle before
	gaugedAt int                          // the build whose depth was gauged last
	read     map[act.Option]int           // by tool, the state of nut and sides that the torque was last read in
}

func newProgress() Progress {
	return Progress{done: map[act.Form]int{}, used: map[act.Form]int{}, at: map[act.Form]history.Changes{}, rolled: map[float64]bool{}, handed: map[act.Form]bool{}, read: map[act.Option]int{}}
}

func (p Progress) clone() Progress {
	p.done, p.used, p.at, p.rolled, p.handed, p.read = maps.Clone(p.done), maps.Clone(p.used), maps.Clone(p.at), maps.Clone(p.rolled), maps.Clone(p.handed), maps.Clone(p.read)
	return p
}

// note takes in what of the procedure a step has done.
func (p *Progress) note(o history.Step, d family.Design) {
	switch o.Act.Form {
	case act.ReplaceBearings, act.ReplaceGears, act.SeatCups:
		p.gauged = false
		if o.Act.Form == act.ReplaceBearings {
			delete(p.done, act.MeasureBearings) // another bearing stays now
		}
	case act.SeatCones:
		p.line = p.line && o.Felt(history.ConesSolid)
	case act.MeasureTorque:
		p.wrench = p.wrench || o.Act.Choices[1] == act.Wrench
		p.string = p.string || o.Act.Choices[1] == act.String
		p.read[o.Act.Choices[1]] = torqueState(o.After)
	case act.RollGears:
		if o.Before.Pinion == history.PinionMockUp && has(o, gauge.Pattern) {
			p.rolled[o.Before.DepthShim.MM()] = true
		}
	case act.FitDepthShim:
		p.mic = false
	case act.MeasureDepthShim:
		p.mic = true
	case act.MeasureDepth:
		p.gauged, p.gaugedAt = true, o.Before.Builds
	case act.MeasureEndPlay:
		p.line = p.line || d.SideAdjust == family.BearingAdjusters || !o.Felt(history.CaseFast)
	case act.MeasureSpread:
		p.line = true
	}
	p.at[o.Act.Form] = o.After.Changes
	delete(p.handed, o.Act.Form)
	for _, it := range items() {
		switch {
		case it.Form != o.Act.Form:
			continue
		case it.Form == act.RollGears && !has(o, gauge.Pattern), it.Form == act.MeasureTorque && !has(o, gauge.TotalTorque):
			continue
		}
		p.done[it.Form] = it.count(o.After.Changes)
	}
	if o.Act.Form == act.RemoveShafts {
		// Nothing has moved but what drags.
		for f, n := range p.done {
			if f != act.MeasureTorque && n != 0 {
				if it, ok := itemOf(f); ok && n == it.count(o.Before.Changes) {
					p.done[f] = it.count(o.After.Changes)
				}
			}
		}
	}
}

func has(o history.Step, k gauge.Kind) bool {
	_, ok := o.Reading(k)
	return ok
}

func (it Item) count(c history.Changes) int {
	if it.after == nil {
		return 0
	}
	return it.after(c)
}

func itemOf(f act.Form) (Item, bool) {
	it, ok := itemsByForm()[f]
	return it, ok
}

var itemsByForm = sync.OnceValue(func() map[act.Form]Item {
	out := map[act.Form]Item{}
	for _, it := range items() {
		out[it.Form] = it
	}
	return out
})

// A State is an axle as it stands on what is believed, and what has been done on it.
type State struct {
	*inference.Tracker
	Progress
}
