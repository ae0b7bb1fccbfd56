package bench

import (
	"math"
	"slices"

	"shimwright/grading/acceptance"
	"shimwright/scenarios"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/text"
)

// A State says whether a reading still tells of the axle.
type State int

// The states.
const (
	NotRead State = iota
	Fresh
	Stale // something it depends on has been changed since
)

// An Item is a line of the paper beside the bench: what is read, its specification and the
// latest reading. Amounts are in the unit of Of.
type Item struct {
	ID        string // of the acceptance line it decides, "" for a reading without a specification
	Name      text.Message
	Stage     Stage
	Of        acceptance.Dimension
	Spec      bool
	Low, High float64 // Low 0 with AtMost
	AtMost    bool
	State     State
	Read      float64
	Unsure    float64        // expanded uncertainty; 0 not known
	Step      int            // act that read it, from 1; 0 before this job began or not at all
	Since     int            // act that made it stale
	Why       acceptance.Why // why a reading that is fresh does not count, NoWhy where it does
}

// Side tells on which side of its specification the reading lies: -1 below, 0 inside, 1 above.
func (i Item) Side() int {
	const hair = 1e-6
	slack := hair * math.Max(1, math.Abs(i.Read))
	switch {
	case i.State == NotRead || !i.Spec:
		return 0
	case !i.AtMost && i.Read < i.Low-slack:
		return -1
	case i.Read > i.High+slack:
		return 1
	}
	return 0
}

// paper makes the items of a job.
func (b *Bench) paper(lines []acceptance.Line) []Item {
	card := b.Card()
	p := &paper{card: card, all: slices.Concat(card.Before, b.outs), own: len(card.Before), lines: lines, stages: stagesOf(card.Kind)}
	sheet := card.Family.Sheet
	if card.Kind != scenarios.PreloadJob {
		wanted := card.Known.WantedDistance().MM()
		p.add(Item{ID: "depth", Name: text.Say("paper.depth", "pinion depth"), Of: acceptance.Length, Low: wanted - sheet.DepthToleranceMM, High: wanted + sheet.DepthToleranceMM}, gauge.Depth, firstLength)
	}
	torque := sheet.PinionTorque(card.UsedBearings).Plus(sheet.SealDrag)
	p.add(Item{ID: "pinion-torque", Name: text.Say("paper.pinion-torque", "pinion torque"), Of: acceptance.Rotating, Low: torque.LowNmm, High: torque.HighNmm}, gauge.PinionTorque, meanTorque)
	p.add(Item{ID: "nut-torque", Name: text.Say("paper.nut-torque", "nut torque"), Of: acceptance.Fastener, Low: sheet.NutLow.Nmm(), High: sheet.NutHigh.Nmm()}, gauge.NutTorque, meanTorque)
	p.add(Item{ID: "backlash", Name: text.Say("paper.backlash", "backlash"), Of: acceptance.Length, Low: sheet.Backlash.LowMM, High: sheet.Backlash.HighMM}, gauge.Backlash, meanLength)
	p.add(Item{ID: "backlash-variation", Name: text.Say("paper.variation", "its variation"), Of: acceptance.Length, High: sheet.BacklashSpreadMM, AtMost: true}, gauge.Backlash, variation)
	p.add(Item{ID: "runout", Name: text.Say("paper.runout", "runout"), Of: acceptance.Length, High: sheet.RunoutMM, AtMost: true}, gauge.Runout, firstLength)
	total := torque.Plus(sheet.SideRise(card.UsedBearings))
	p.add(Item{ID: "total-torque", Name: text.Say("paper.total-torque", "total torque"), Of: acceptance.Rotating, Low: total.LowNmm, High: total.HighNmm}, gauge.TotalTorque, meanTorque)
	height := sheet.PatternHeight
	for i, name := range []text.Message{text.Say("paper.pattern-drive", "pattern, drive"), text.Say("paper.pattern-coast", "pattern, coast")} {
		p.add(Item{ID: "pattern", Name: name, Of: acceptance.Share, Low: height.LowMM, High: height.HighMM}, gauge.Pattern, func(r gauge.Reading) (float64, float64, bool) {
			if i >= len(r.Patterns) {
				return 0, 0, false
			}
			return r.Patterns[i].CenterT, 2 * sim.EyeStd(r.Method), true
		})
	}
	for _, k := range []gauge.Kind{gauge.PinionEndPlay, gauge.CaseEndPlay, gauge.HousingSpread, gauge.RadialRunout} {
		name := k.Name()
		if k == gauge.CaseEndPlay { // short enough to stand beside a reading
			name = text.Say("paper.case-end-play", "case end play")
		}
		p.add(Item{Name: name, Of: acceptance.Length}, k, firstLength)
	}
	return p.items
}

type paper struct {
	card   scenarios.Card
	all    []history.Step
	own    int // index of the first step of this job
	lines  []acceptance.Line
	stages []Stage
	items  []Item
}

// add fills in the latest reading of an item. One with a specification is there where its
// line applies to the job; another only once it has been read.
func (p *paper) add(it Item, k gauge.Kind, value func(gauge.Reading) (read, unsure float64, ok bool)) {
	it.Spec = it.ID != ""
	line, has := acceptance.Find(p.lines, it.ID)
	onIt := slices.ContainsFunc(acceptance.Rows(), func(r acceptance.Row) bool { return r.ID == it.ID && r.On(p.card) })
	if it.Spec && !onIt {
		return
	}
	it.Stage = stageOf(it.ID)
	if !it.Spec {
		it.Stage = Sides
		if k == gauge.PinionEndPlay {
			it.Stage = PinionPreload
		}
	}
	for i := len(p.all) - 1; i >= 0; i-- {
		r, ok := p.all[i].Reading(k)
		if !ok {
			continue
		}
		read, unsure, ok := value(r)
		if !ok {
			continue
		}
		it.State, it.Read, it.Unsure, it.Step = Fresh, read, unsure, max(0, i+1-p.own)
		if s := p.since(i, k); s >= 0 {
			it.State, it.Since = Stale, max(0, s+1-p.own)
		} else if has && line.Outcome == acceptance.Open && line.Evidence.Step == it.Step {
			it.Why = line.Evidence.Why
		}
		break
	}
	if it.Spec || it.State != NotRead {
		p.items = append(p.items, it)
	}
}

// since is the index of the step that made a reading stale; -1 for none.
func (p *paper) since(i int, k gauge.Kind) int {
	was := p.all[i]
	for j := i + 1; j < len(p.all); j++ {
		if changed(k, was, p.all[j]) {
			return j
		}
	}
	return -1
}

// changed tells whether a later step changed what a reading depends on.
func changed(k gauge.Kind, was, later history.Step) bool {
	c, now := was.After.Changes, later.After.Changes
	switch k {
	case gauge.Depth:
		switch later.Act.Form {
		case act.CleanShimSeat, act.ReplaceSlinger, act.SeatCups, act.ReplaceBearings, act.ReplaceGears:
			return true
		}
		return later.After.DepthShim != was.Before.DepthShim
	case gauge.PinionTorque, gauge.PinionEndPlay:
		return now.Preload != c.Preload
	case gauge.NutTorque:
		return now.Preload != c.Preload && later.Act.Form != act.TightenNutTorque
	case gauge.TotalTorque:
		return now != c
	case gauge.Runout, gauge.RadialRunout:
		return now.Parts != c.Parts
	}
	return now.Parts != c.Parts || now.Depth != c.Depth || now.Sides != c.Sides
}

func firstLength(r gauge.Reading) (read, unsure float64, ok bool) {
	if len(r.Lengths) == 0 {
		return 0, 0, false
	}
	return r.Lengths[0].MM(), 2 * r.StdMM, true
}

func meanLength(r gauge.Reading) (read, unsure float64, ok bool) {
	mean, _, _ := r.Summary()
	return mean.MM(), 2 * r.StdMM / math.Sqrt(float64(max(1, len(r.Lengths)))), len(r.Lengths) > 0
}

func variation(r gauge.Reading) (read, unsure float64, ok bool) {
	_, least, most := r.Summary()
	return (most - least).MM(), 2 * math.Sqrt2 * r.StdMM, len(r.Lengths) > 1
}

func meanTorque(r gauge.Reading) (read, unsure float64, ok bool) {
	return r.MeanTorque().Nmm(), 2 * r.StdNmm, len(r.Torques) > 0
}

// A SheetLine is a line of the build sheet: what has been written, or that nothing has.
type SheetLine struct {
	Item    act.Option
	Entry   history.Entry
	Written bool
}

func (b *Bench) sheetLines() []SheetLine {
	st := b.Status()
	var out []SheetLine
	for _, item := range acceptance.SheetLines(b.Card()) {
		v, ok := st.Written(item)
		out = append(out, SheetLine{item, history.Entry{Item: item, Value: v}, ok})
	}
	return out
}
