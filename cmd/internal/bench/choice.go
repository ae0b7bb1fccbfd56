package bench

import (
	"math"
	"slices"

	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/shop"
	"shimwright/sim/text"
)

// A Group is acts of one sort, as they are offered together.
type Group int

// The groups.
const (
	Inspecting Group = iota
	Measuring
	Fitting
	Turning
	Mending
	Removing
	Writing
)

// Name is what the group is called.
func (g Group) Name() text.Message {
	switch g {
	case Inspecting:
		return text.Say("group.inspect", "inspect, test")
	case Measuring:
		return text.Say("group.measure", "measure, read")
	case Fitting:
		return text.Say("group.fit", "fit")
	case Turning:
		return text.Say("group.turn", "turn, tighten")
	case Mending:
		return text.Say("group.mend", "put right")
	case Removing:
		return text.Say("group.remove", "remove")
	}
	return text.Say("group.write", "write, sign")
}

// groupOf is the group of an act.
func groupOf(f act.Form) Group {
	switch f {
	case act.MountIndicator, act.PaintTeeth, act.RollGears:
		return Measuring
	case act.TurnPinion, act.TightenNutAngle, act.TightenNutTorque, act.LoosenNut, act.TurnRingGearAdjuster, act.TurnOppositeAdjuster, act.TorqueCaps, act.LoosenCaps:
		return Turning
	case act.RecordValue, act.ExpectValue, act.SignOff:
		return Writing
	}
	switch f.Verb() {
	case "inspect", "test":
		return Inspecting
	case "measure":
		return Measuring
	case "fit", "spread":
		return Fitting
	case "remove":
		return Removing
	}
	return Mending
}

// A Choice is an act as it can be chosen now.
type Choice struct {
	Form    act.Form
	Group   Group
	Minutes shop.Minutes     // with one place, for what reads at places
	Why     *history.Refusal // what stands in the way; nil for nothing
	Left    bool             // an inspection that the procedure still asks for
	Slots   []Slot
}

// A Slot is what an act asks for, with what can be given.
type Slot struct {
	act.Slot
	Low, High, Step float64            // limits of a length, mm: the shelf; zeros for none
	Around          float64            // size of the shelf in hand, or else the old one, mm
	Usual           []quantity.Entered // amounts worth offering, the likeliest first
}

// Unit is the unit of a bare number in the slot of an act of which so much has been chosen.
func (s Slot) Unit(chosen []act.Option, units quantity.System) quantity.Unit {
	by := func(inch, metric quantity.Unit) quantity.Unit {
		if units == quantity.Metric {
			return metric
		}
		return inch
	}
	switch s.Amount {
	case act.TorqueAmount:
		return by(quantity.UnitFootLb, quantity.UnitNm)
	case act.AngleAmount:
		return quantity.UnitDegree
	case act.TurnsAmount, act.PlacesAmount, act.NotchesAmount:
		return quantity.UnitTurn
	case act.AnyAmount:
		if len(chosen) == 0 {
			break
		}
		switch chosen[0] {
		case act.PinionTorqueLine, act.TotalTorqueLine:
			return by(quantity.UnitInchLb, quantity.UnitNm)
		case act.PatternHeightLine:
			return quantity.UnitShare
		}
	}
	return by(quantity.UnitInch, quantity.UnitMM)
}

// choices lists every act that has a place on this axle, at this bench.
func (b *Bench) choices(units quantity.System) []Choice {
	left := b.uninspected()
	d := b.Card().Family.Design
	var out []Choice
	for _, u := range act.Usages() {
		f := u.Form
		if !b.HasNoPlace(f).IsZero() {
			continue
		}
		c := Choice{Form: f, Group: groupOf(f), Minutes: shop.TimeOf(d, f, 1), Why: b.WhyNot(f), Left: slices.Contains(left, f)}
		for i, s := range f.Slots() {
			c.Slots = append(c.Slots, b.slot(f, i, s, units))
		}
		out = append(out, c)
	}
	return out
}

// slot says what can be given for a slot of an act.
func (b *Bench) slot(f act.Form, i int, s act.Slot, units quantity.System) Slot {
	out := Slot{Slot: s}
	st, sheet := b.Status(), b.Card().Family.Sheet
	out.Options = slices.DeleteFunc(out.Options, func(o act.Option) bool {
		return !b.HasNoPlace(f, o).IsZero() || f == act.RecordValue && !slices.ContainsFunc(b.sheetLines(), func(l SheetLine) bool { return l.Item == o })
	})
	shelf := func(stock family.Stock, around quantity.Length) {
		out.Low, out.High, out.Step, out.Around = stock.LowMM, stock.HighMM, stock.StepMM, around.MM()
		out.Usual = sizes(stock, around.MM(), units)
	}
	known := b.Card().Known
	old := func(inHand, old quantity.Length) quantity.Length {
		if inHand > 0 {
			return inHand
		}
		return old
	}
	switch f {
	case act.FitDepthShim:
		shelf(sheet.DepthShims, old(st.DepthShim, known.OldDepthShim))
	case act.FitPreloadShims:
		shelf(b.Card().Family.Design.Solid.PreloadShims, old(st.PreloadShims, known.OldPreloadShims))
	case act.FitSideShims:
		if i == 0 {
			shelf(sheet.SideShims, old(st.RingGearShim, known.OldRingGearShim))
		} else {
			shelf(sheet.SideShims, old(st.OppositeShim, known.OldOppositeShim))
		}
	case act.SpreadHousing:
		out.High = sheet.SpreadLimitMM
		for _, part := range []float64{usualSpread, 0.5, 1} {
			out.Usual = append(out.Usual, length(part*sheet.SpreadLimitMM, units))
		}
	case act.TightenNutAngle:
		out.Usual = entered(quantity.UnitDegree, 5, 10, 15, 20, 30, 45, 90)
	case act.LoosenNut:
		out.Usual = entered(quantity.UnitDegree, 5, 10, 20, 45, 90)
	case act.TurnPinion:
		out.Usual = entered(quantity.UnitTurn, 5, 10, 1, 3, 20)
		if first := b.turning().Amounts[0]; first != out.Usual[0] {
			out.Usual = append([]quantity.Entered{first}, out.Usual...)
		}
	case act.TightenNutTorque:
		low, mid, high := sheet.NutLow, sheet.NutMid(), sheet.NutHigh
		if collapsible(b.Card()) {
			low, mid, high = sheet.NutLow, untouched*sheet.NutLow, sheet.NutMid()
		}
		for _, t := range []quantity.Torque{mid, low, high} {
			out.Usual = append(out.Usual, fastener(t, units))
		}
	case act.TurnRingGearAdjuster, act.TurnOppositeAdjuster:
		out.Usual = entered(quantity.UnitTurn, 1, 0.5, 2, 3, 4, 6, 8)
	case act.MeasureBacklash:
		out.Usual = entered(quantity.UnitTurn, 4, 3, 8, 1)
	}
	return out
}

// Shelf lists every size that a slot offers, as it would be typed, and which of them is the
// nearest to the one in hand; none for what does not come from a shelf.
func (s Slot) Shelf(units quantity.System) (sizes []quantity.Entered, nearest int) {
	if s.Step <= 0 {
		return nil, 0
	}
	stock := family.Stock{LowMM: s.Low, HighMM: s.High, StepMM: s.Step}
	for i, mm := range stock.Sizes() {
		sizes = append(sizes, length(mm, units))
		if math.Abs(mm-s.Around) < math.Abs(s.Low+float64(nearest)*s.Step-s.Around) {
			nearest = i
		}
	}
	return sizes, nearest
}

func entered(u quantity.Unit, n ...float64) []quantity.Entered {
	var out []quantity.Entered
	for _, x := range n {
		out = append(out, quantity.Entered{Number: x, Unit: u})
	}
	return out
}

// untouched is the part of a nut's torque up to which a collapsible spacer does not crush.
const untouched = 0.75

// sizes lists shelf sizes around one, nearest first and the thicker before the thinner.
func sizes(s family.Stock, aroundMM float64, units quantity.System) []quantity.Entered {
	all := s.Sizes()
	slices.SortStableFunc(all, func(a, b float64) int {
		da, db := math.Abs(a-aroundMM), math.Abs(b-aroundMM)
		switch {
		case math.Abs(da-db) < s.StepMM/4:
			if a > b {
				return -1
			}
			return 1
		case da < db:
			return -1
		}
		return 1
	})
	const most = 17
	all = all[:min(most, len(all))]
	slices.Sort(all)
	var out []quantity.Entered
	for _, mm := range all {
		out = append(out, length(mm, units))
	}
	return out
}

// round keeps what is offered as short as it is printed.
func round(x float64, decimals int) float64 {
	p := math.Pow10(decimals)
	return math.Round(x*p) / p
}

func length(mm float64, units quantity.System) quantity.Entered {
	if units == quantity.Metric {
		return quantity.Entered{Number: round(mm, 3), Unit: quantity.UnitMM}
	}
	return quantity.Entered{Number: round(quantity.Millimetres(mm).Inches(), 4), Unit: quantity.UnitInch}
}

func rotating(t quantity.Torque, units quantity.System) quantity.Entered {
	if units == quantity.Metric {
		return quantity.Entered{Number: round(t.NewtonMetres(), 2), Unit: quantity.UnitNm}
	}
	return quantity.Entered{Number: round(t.InchPounds(), 1), Unit: quantity.UnitInchLb}
}

func fastener(t quantity.Torque, units quantity.System) quantity.Entered {
	const fives = 5
	if units == quantity.Metric {
		return quantity.Entered{Number: fives * round(t.NewtonMetres()/fives, 0), Unit: quantity.UnitNm}
	}
	return quantity.Entered{Number: fives * round(t.FootPounds()/fives, 0), Unit: quantity.UnitFootLb}
}

// Latest is what was last fitted or read of a line of the build sheet, as it would be
// written; ok is false where there is nothing to write.
func (b *Bench) Latest(item act.Option, units quantity.System) (e quantity.Entered, ok bool) {
	st := b.Status()
	marked := func(l quantity.Length) (quantity.Entered, bool) { return length(l.MM(), units), l > 0 }
	switch item {
	case act.DepthShimLine:
		return marked(st.DepthShim)
	case act.PreloadShimsLine:
		return marked(st.PreloadShims)
	case act.RingGearShimLine:
		return marked(st.RingGearShim)
	case act.OppositeShimLine:
		return marked(st.OppositeShim)
	case act.PinionTorqueLine:
		r, ok := b.lastReading(gauge.PinionTorque)
		return rotating(r.MeanTorque(), units), ok
	case act.TotalTorqueLine:
		r, ok := b.lastReading(gauge.TotalTorque)
		return rotating(r.MeanTorque(), units), ok
	case act.BacklashLine:
		r, ok := b.lastReading(gauge.Backlash)
		mean, _, _ := r.Summary()
		return length(mean.MM(), units), ok
	case act.RunoutLine:
		r, ok := b.lastReading(gauge.Runout)
		mean, _, _ := r.Summary()
		return length(mean.MM(), units), ok
	case act.PatternHeightLine:
		r, ok := b.lastReading(gauge.Pattern)
		ok = ok && len(r.Patterns) > 1
		if !ok {
			return quantity.Entered{}, false
		}
		const two = 2
		return quantity.Entered{Number: round((r.Patterns[0].CenterT+r.Patterns[1].CenterT)/two, two), Unit: quantity.UnitShare}, true
	}
	return quantity.Entered{}, false
}

// lastReading is the last reading of a kind, also one that was taken before this job began.
func (b *Bench) lastReading(k gauge.Kind) (gauge.Reading, bool) {
	for _, o := range slices.Backward(slices.Concat(b.Card().Before, b.outs)) {
		if r, ok := o.Reading(k); ok {
			return r, true
		}
	}
	return gauge.Reading{}, false
}

// Repeat lists the acts of the last round: those from after the reading before the last one
// up to it, such as tighten nut, turn pinion, measure torque; where something has been turned
// or tightened and not read since, that act alone. It is empty where they cannot be done
// again as they stand.
func (b *Bench) Repeat() []act.Act {
	if n := len(b.outs); n > 0 {
		if last := b.outs[n-1].Act; groupOf(last.Form) == Turning {
			if b.WhyNot(last.Form) != nil {
				return nil
			}
			return []act.Act{last}
		}
	}
	measured := func(o history.Step) bool { return groupOf(o.Act.Form) == Measuring && len(o.Readings) > 0 }
	end := len(b.outs) - 1
	for end >= 0 && !measured(b.outs[end]) {
		end--
	}
	begin := max(end, 0) - 1
	for begin >= 0 && !measured(b.outs[begin]) && groupOf(b.outs[begin].Act.Form) != Fitting && groupOf(b.outs[begin].Act.Form) != Removing {
		begin--
	}
	var out []act.Act
	turned := false
	for i := begin + 1; i <= end; i++ {
		a := b.outs[i].Act
		switch groupOf(a.Form) {
		case Turning:
			turned = true
		case Measuring:
		default:
			continue
		}
		if b.WhyNot(a.Form) != nil {
			return nil
		}
		out = append(out, a)
	}
	const most = 6
	if !turned || len(out) > most {
		return nil
	}
	return out
}
