package inference

import (
	"maps"
	"math"
	"slices"

	"shimwright/grading/belief"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// An Outcome is one way an act could have turned out on what was believed before it.
type Outcome struct {
	Chance float64
	Step   history.Step
}

// Outcomes lists how an act that was done could have turned out, on what is believed: its
// step with other readings in the place of those it gave. The chances add up to one. A
// reading of an amount stands as a row of amounts whose chances are those that make the mean
// of any function, straight between them, that of the whole law. Where nothing could have
// been read that tells of the axle it is the step alone.
func (t *Tracker) Outcomes(o history.Step) []Outcome {
	out := t.outcomes(o)
	for _, f := range beside()[o.Act.Form] {
		if p := t.risk[f.ID]; p > 0 {
			n := len(out)
			for i := range n {
				s := out[i].Step
				s.Readings = append(slices.Clone(s.Readings), gauge.Reading{Kind: f.Beside, Finding: f.Found})
				out = append(out, Outcome{out[i].Chance * p, s})
				out[i].Chance *= 1 - p
			}
			out = likely(out...)
		}
	}
	return out
}

func (t *Tracker) outcomes(o history.Step) []Outcome {
	switch o.Act.Form {
	case act.InspectCups:
		return t.gaps(o, gauge.CupSeats, gauge.CupGap, gauge.CupsSeated, fault.InnerCupHigh, fault.OuterCupHigh)
	case act.InspectCones:
		return t.gaps(o, gauge.ConeSeats, gauge.ConeGap, gauge.ConesSeated, fault.RingGearConeHigh, fault.OppositeConeHigh)
	case act.InspectBearings:
		return t.bearings(o)
	case act.InspectSpacer:
		if t.solid() {
			break
		}
		return each(o, func(combine func(...finding)) {
			combine(finding{gauge.SpacerCondition, gauge.SpacerCrushed, t.risk[fault.SpacerCrushed]}, finding{gauge.SpacerCondition, gauge.SpacerShort, t.risk[fault.SpacerShort]},
				finding{gauge.SpacerCondition, gauge.SpacerNew, 0})
			combine(finding{gauge.NutCondition, gauge.NutSpins, t.risk[fault.NutUsed]}, finding{gauge.NutCondition, gauge.NutGrips, 0})
		})
	case act.InspectCaps:
		return each(o, func(combine func(...finding)) {
			combine(finding{gauge.CapMarks, gauge.CapsSwapped, t.risk[fault.CapsSwapped]}, finding{gauge.CapMarks, gauge.CapReversed, t.risk[fault.CapTurned]},
				finding{gauge.CapMarks, gauge.MarksMeet, 0})
		})
	case act.InspectSeal:
		return t.yesNo(o, gauge.SealLip, gauge.SealLipTurned, gauge.SealSound, fault.SealTight)
	case act.InspectShimSeat:
		return each(o, func(combine func(...finding)) {
			combine(finding{gauge.ShimSeat, gauge.SeatDirty, t.risk[fault.DirtUnderShim]}, finding{gauge.ShimSeat, gauge.SeatClean, 0})
			combine(finding{gauge.SlingerPlace, gauge.SlingerMissing, t.risk[fault.SlingerOut]}, finding{})
		})
	case act.InspectBolts:
		return each(o, func(combine func(...finding)) {
			combine(finding{gauge.RingGearBolts, gauge.BoltsUneven, t.risk[fault.BoltsUneven]}, finding{gauge.RingGearBolts, gauge.BoltsEven, 0})
			combine(finding{gauge.RingGearBolts, gauge.BoltsBottomed, t.risk[fault.BoltsLong]}, finding{})
		})
	case act.InspectGears:
		return each(o, func(combine func(...finding)) {
			combine(finding{gauge.MatchNumbers, gauge.NumbersDiffer, t.risk[fault.SetMixed]}, finding{gauge.MatchNumbers, gauge.NumbersMatch, 0})
			combine(finding{gauge.RingGearTag, gauge.TagOfOtherCase, t.risk[fault.GearForOther]}, finding{gauge.RingGearTag, gauge.TagFits, 0})
		})
	case act.InspectShafts:
		return t.yesNo(o, gauge.AxleShafts, gauge.ShaftDrags, gauge.ShaftsClear, fault.BrakesOn)
	case act.TestIndicator:
		return t.yesNo(o, gauge.IndicatorArm, gauge.IndicatorWasLoose, gauge.IndicatorReturns, fault.IndicatorLoose)
	case act.TestString:
		return t.yesNo(o, gauge.StringRadius, gauge.StringWasOff, gauge.StringOnRadius, fault.StringOff)
	case act.TestGauge:
		return t.yesNo(o, gauge.GaugeBlock, gauge.GaugeWasOff, gauge.GaugeAgrees, fault.GaugeOff)
	case act.MeasurePinionRunout:
		return t.highOrLow(o, gauge.PinionRunout, fault.PinionRunoutLimitMM(t.sheet), t.risk[fault.PinionBent], 1)
	case act.MeasureRadialRunout:
		return t.highOrLow(o, gauge.RadialRunout, t.sheet.RunoutMM, t.risk[fault.GearOffCenter], 1)
	case act.MeasureRunout:
		return t.highOrLow(o, gauge.Runout, t.sheet.RunoutMM, t.Swings(), runoutSure)
	case act.MeasureCaseRunout:
		return t.caseRunout(o)
	case act.MeasureBearings:
		return t.amounts(o, belief.Look{tallRow: 1, micRow: 1}, 0, ownNoiseOf(gauge.Micrometer), setLength(gauge.BearingHeights, false))
	case act.MeasureDepthShim:
		return t.amounts(o, belief.Look{lotRow: 1, inHandRow: 1, micRow: 1}, t.depthShim, ownNoiseOf(gauge.Micrometer), setLength(gauge.DepthShimSize, false))
	case act.MeasureDepth:
		h, c, noise := t.depthLook(ownNoiseOf(gauge.DepthGauge))
		return t.amounts(o, h, c, math.Hypot(noise, t.pinionWanderSD()), setLength(gauge.Depth, false))
	case act.MeasurePinionEndPlay:
		h, c := t.torqueLook()
		per := t.perMM()
		none := t.noPlay()
		return t.amounts(o, h.Times(-1/per), (none-c-t.unseated())/per, math.Hypot(ownNoiseOf(gauge.DialIndicator), endPlayMM), setLength(gauge.PinionEndPlay, true))
	case act.MeasureEndPlay:
		return t.caseEndPlay(o)
	case act.MeasureSpread:
		fit, c := t.fitLook(t.back, t.tooth)
		h := fit.Times(t.gains.SpreadPerFit)
		mean, _ := t.b.Of(fit)
		h[shareRow], h[dialRow] = math.Max(t.gains.SpreadPerFit*(mean+c), 0), 1
		return t.amounts(o, h, t.gains.SpreadPerFit*c, ownNoiseOf(gauge.DialIndicator), setLength(gauge.HousingSpread, true))
	case act.FitCase:
		return t.caseEntry(o)
	case act.MeasureBacklash:
		return t.backlash(o)
	case act.RollGears:
		return t.pattern(o)
	case act.MeasureTorque:
		return t.torqueReading(o)
	case act.TightenNutAngle, act.TightenNutTorque, act.LoosenNut:
		return t.nutFeels(o)
	case act.TurnPinion:
		return t.turnFeels(o)
	}
	return []Outcome{{1, o}}
}

// endPlayMM is how closely the push and pull at the yoke tells the end play, beside the
// indicator, mm.
const endPlayMM = 0.012

func ownNoiseOf(t gauge.Tool) float64 {
	c, _ := gauge.ClassOf(t)
	return ownNoise(c)
}

// perMM is what a millimeter of end play is worth in torque, N·mm.
func (t *Tracker) perMM() float64 {
	if t.solid() {
		return t.gains.TorquePerPreloadShimNmmPerMM
	}
	return t.gains.TorquePerDegreeNmm / t.threadMMPerDegree()
}

// with returns a step with other readings of a kind.
func with(o history.Step, k gauge.Kind, change func(*gauge.Reading)) history.Step {
	o.Readings = slices.Clone(o.Readings)
	for i := range o.Readings {
		if o.Readings[i].Kind == k {
			change(&o.Readings[i])
		}
	}
	return o
}

func setLength(k gauge.Kind, atLeastZero bool) func(history.Step, float64) history.Step {
	return func(o history.Step, mm float64) history.Step {
		if atLeastZero {
			mm = math.Max(mm, 0)
		}
		return with(o, k, func(r *gauge.Reading) {
			r.Lengths = slices.Clone(r.Lengths)
			r.Lengths[0] = quantity.Millimetres(mm)
		})
	}
}

// A finding is what an inspection may come to, and the chance; a chance of 0 stands for what
// is left of one.
type finding struct {
	kind    gauge.Kind
	finding gauge.Finding
	chance  float64
}

// each combines the findings of groups that do not depend on each other.
func each(o history.Step, groups func(combine func(...finding))) []Outcome {
	bare := o
	bare.Readings = nil
	out := []Outcome{{1, bare}}
	groups(func(among ...finding) {
		var next []Outcome
		left := 1.0
		for _, f := range among {
			left -= f.chance
		}
		for _, had := range out {
			for i, f := range among {
				p := f.chance
				if i == len(among)-1 {
					p = max(left, 0)
				}
				if p <= 0 {
					continue
				}
				s := had.Step
				if f.finding != gauge.NoFinding {
					s.Readings = append(slices.Clone(s.Readings), gauge.Reading{Kind: f.kind, Finding: f.finding})
				}
				next = append(next, Outcome{had.Chance * p, s})
			}
		}
		out = next
	})
	return out
}

func (t *Tracker) yesNo(o history.Step, k gauge.Kind, yes, no gauge.Finding, id fault.ID) []Outcome {
	return each(o, func(combine func(...finding)) {
		combine(finding{k, yes, t.risk[id]}, finding{k, no, 0})
	})
}

// gaps is how a feeler gauge behind two cups or cones may turn out. A gap is read at the
// middle of its sizes.
func (t *Tracker) gaps(o history.Step, k gauge.Kind, gap, seated gauge.Finding, ids ...fault.ID) []Outcome {
	var mm [2]float64
	std := 0.0
	for i, id := range ids {
		if f, err := fault.Find(id); err == nil {
			low, high := f.Size.Of(t.sheet)
			mm[i] = (low + high) / 2
		}
	}
	if c, ok := gauge.ClassOf(gauge.Feeler); ok {
		std = c.StandardUncertainty(0, 1)
	}
	p, q := t.risk[ids[0]], t.risk[ids[1]]
	read := func(chance, first, second float64) Outcome {
		s := o
		r := gauge.Reading{Kind: k, Finding: seated}
		if first+second > 0 {
			r = gauge.Reading{Kind: k, Finding: gap, Tool: gauge.Feeler, StdMM: std, Lengths: []quantity.Length{quantity.Millimetres(first), quantity.Millimetres(second)}}
		}
		s.Readings = []gauge.Reading{r}
		return Outcome{chance, s}
	}
	return likely(read((1-p)*(1-q), 0, 0), read(p*(1-q), mm[0], 0), read((1-p)*q, 0, mm[1]), read(p*q, mm[0], mm[1]))
}

// likely keeps what may be, with chances that add up to one.
func likely(all ...Outcome) []Outcome {
	const least = 1e-5
	out := slices.DeleteFunc(all, func(x Outcome) bool { return !(x.Chance > least) })
	sum := 0.0
	for _, x := range out {
		sum += x.Chance
	}
	for i := range out {
		out[i].Chance /= sum
	}
	return out
}

// bearings: grease hides grit, and both hide a dent.
func (t *Tracker) bearings(o history.Step) []Outcome {
	g, r, n := t.risk[fault.PackingGrease], t.risk[fault.BearingGritty], t.risk[fault.BearingNotched]
	read := func(chance float64, f ...gauge.Finding) Outcome {
		s := o
		s.Readings = nil
		for _, x := range f {
			s.Readings = append(s.Readings, gauge.Reading{Kind: gauge.BearingCondition, Finding: x})
		}
		return Outcome{chance, s}
	}
	return likely(read(g, gauge.BearingsGreased), read((1-g)*r, gauge.RollersGritty),
		read((1-g)*(1-r)*n, gauge.BearingsOiled, gauge.RaceDented), read((1-g)*(1-r)*(1-n), gauge.BearingsSound))
}

// highOrLow is a runout past its limit or well inside; sure is how often it tells right.
func (t *Tracker) highOrLow(o history.Step, k gauge.Kind, limitMM, chance, sure float64) []Outcome {
	set := setLength(k, true)
	p := chance*sure + (1-chance)*(1-sure)
	return likely(Outcome{p, set(o, 2*limitMM)}, Outcome{1 - p, set(o, limitMM/4)})
}

func (t *Tracker) caseRunout(o history.Step) []Outcome {
	flange, warped := t.risk[fault.BentFlange], t.risk[fault.GearWarped]
	read := func(chance float64, bent, rocks bool) Outcome {
		mm, f := t.sheet.CaseFlangeRunoutMM/4, gauge.GearFlat
		if bent {
			mm = 4 * t.sheet.CaseFlangeRunoutMM
		}
		if rocks {
			f = gauge.GearRocks
		}
		s := setLength(gauge.CaseRunout, true)(o, mm)
		return Outcome{chance, with(s, gauge.GearFlatness, func(r *gauge.Reading) { r.Finding = f })}
	}
	return likely(read((1-flange)*(1-warped), false, false), read(flange*(1-warped), true, false), read((1-flange)*warped, false, true), read(flange*warped, true, true))
}

// amounts lays a row of amounts over the law of a reading.
func (t *Tracker) amounts(o history.Step, h belief.Look, c, noise float64, set func(history.Step, float64) history.Step) []Outcome {
	laws := t.b.Chances(h, noise)
	for i := range laws {
		laws[i].Mean += c
	}
	at, mass := grid(laws)
	out := make([]Outcome, len(at))
	for i, y := range at {
		out[i] = Outcome{mass[i], set(o, y)}
	}
	return likely(out...)
}

// grid lays points over normal laws: about the likeliest law evenly, and beside it where
// others lie. The mass of a point is the mean of the hat function over it, so that any
// function that is straight between points has its right mean.
func grid(laws []belief.Chance) (at, mass []float64) { return gridOf(laws, 0.75) }

// gridOf is grid with points so many standard deviations apart.
func gridOf(laws []belief.Chance, apart float64) (at, mass []float64) {
	const reach, most = 3.0, 23
	main := laws[0]
	for i := -reach; i <= reach+1e-9; i += apart {
		at = append(at, main.Mean+i*main.SD)
	}
	for _, l := range laws[1:] {
		if l.Weight < 2e-3 || len(at) > most {
			continue
		}
		for i := -2.0; i <= 2; i++ {
			y := l.Mean + i*l.SD
			if !slices.ContainsFunc(at, func(x float64) bool { return math.Abs(x-y) < apart*min(main.SD, l.SD) }) {
				at = append(at, y)
			}
		}
	}
	slices.Sort(at)
	// Whatever lies beyond the last point counts there.
	mass = make([]float64, len(at))
	n := len(at)
	if n == 1 {
		return at, []float64{1}
	}
	for _, l := range laws {
		if l.SD <= 0 {
			l.SD = 1e-9
		}
		below := func(x float64) float64 { return belief.Cumulative((x - l.Mean) / l.SD) }
		density := func(x float64) float64 { z := (x - l.Mean) / l.SD; return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) }
		mass[0] += l.Weight * below(at[0])
		mass[n-1] += l.Weight * (1 - below(at[n-1]))
		for i := range n - 1 {
			a, b := at[i], at[i+1]
			p := below(b) - below(a)
			if p < 1e-12 {
				continue
			}
			mean := l.Mean*p - l.SD*(density(b)-density(a)) // of y there, times p
			up := (mean - a*p) / (b - a)
			up = min(max(up, 0), p)
			mass[i+1] += l.Weight * up
			mass[i] += l.Weight * (p - up)
		}
	}
	return at, mass
}

// caseEndPlay: between its bearings the case does not move.
func (t *Tracker) caseEndPlay(o history.Step) []Outcome {
	fit, c := t.fitLook(t.back, t.tooth)
	laws := t.b.Chances(fit, 0)
	for i := range laws {
		laws[i].Mean += c
	}
	bare := o
	bare.Feels = slices.DeleteFunc(slices.Clone(o.Feels), func(f history.Feel) bool { return f == history.CaseFast })
	fast := bare
	fast.Feels = append(slices.Clone(bare.Feels), history.CaseFast)
	set := setLength(gauge.CaseEndPlay, true)
	held := 1 - belief.Below(laws, 0)
	out := []Outcome{{held, set(fast, 0)}}
	if held > 0.999 {
		return []Outcome{{1, set(fast, 0)}}
	}
	at, mass := grid(cut(laws, 0))
	for i, y := range at {
		out = append(out, Outcome{(1 - held) * mass[i], set(bare, math.Max(-y, 0.0005))})
	}
	return likely(out...)
}

// cut keeps of normal laws what lies below a limit, each as the normal law of the same mean
// and spread.
func cut(laws []belief.Chance, limit float64) []belief.Chance {
	var out []belief.Chance
	sum := 0.0
	for _, l := range laws {
		g := belief.New([]float64{l.Mean}, []float64{l.SD})
		z := belief.Cumulative((limit - l.Mean) / l.SD)
		if z < 1e-9 || g.Below(belief.Look{0: 1}, limit, 0) != nil {
			continue
		}
		out = append(out, belief.Chance{Weight: l.Weight * z, Mean: g.Mean(0), SD: math.Max(g.SD(0), 1e-6)})
		sum += l.Weight * z
	}
	slices.SortStableFunc(out, func(a, b belief.Chance) int {
		switch {
		case a.Weight > b.Weight:
			return -1
		case a.Weight < b.Weight:
			return 1
		}
		return 0
	})
	for i := range out {
		out[i].Weight /= sum
	}
	return out
}

// caseEntry is how the case may go in between side shims, or not.
func (t *Tracker) caseEntry(o history.Step) []Outcome {
	if t.rings() {
		return []Outcome{{1, o}}
	}
	h, c := t.fitLook(t.back, t.tooth)
	laws := t.b.Chances(h, 0)
	for i := range laws {
		laws[i].Mean += c - t.spread
		laws[i].SD = math.Max(laws[i].SD, 1e-9)
	}
	var out []Outcome
	for _, f := range sim.CaseFitsOf(t.card.Family) {
		p := belief.Below(laws, f.HighMM) - belief.Below(laws, f.LowMM)
		s := o
		s.Readings = []gauge.Reading{{Kind: gauge.CaseEntry, Finding: f.Finding}}
		in := !f.Finding.Wrong()
		if in != o.After.CaseIn {
			s.After.CaseIn, s.After.CapsTight = in, false
			if in {
				s.After.CaseFits, s.After.Spread = o.Before.CaseFits+1, 0
			} else {
				s.After.CaseFits, s.After.Spread = o.Before.CaseFits, o.Before.Spread
			}
		}
		out = append(out, Outcome{p, s})
	}
	return likely(out...)
}

// backlash is a reading at some places: their mean, and from three places on whether they
// swing by more than they may.
func (t *Tracker) backlash(o history.Step) []Outcome {
	rd, ok := o.Reading(gauge.Backlash)
	if !ok {
		return []Outcome{{1, o}}
	}
	n := len(rd.Lengths)
	factor, offset, sd := t.lashMount(rd)
	h, c := t.lashLook()
	h[dialRow] = 1 / factor
	laws := t.b.Chances(h, sd)
	for i := range laws {
		laws[i].Mean += c
	}
	high := 0.0
	if n >= 3 {
		p := min(t.anyOf(lashSwingers()), 1)
		high = p*variationSure + (1-p)*(1-variationSure)
	}
	bare := o
	bare.Feels = slices.DeleteFunc(slices.Clone(o.Feels), func(f history.Feel) bool { return f == history.GearsBind })
	at, mass := grid(laws)
	var out []Outcome
	for i, y := range at {
		shown := factor * (y + offset)
		for _, swings := range []bool{false, true} {
			p := mass[i] * (1 - high)
			half := sd * factor / 2
			if swings {
				p, half = mass[i]*high, t.sheet.BacklashSpreadMM
			}
			if p < 1e-4 && swings {
				continue
			}
			s := bare
			if shown <= half/4 {
				s.Feels = append(slices.Clone(bare.Feels), history.GearsBind)
			}
			s = with(s, gauge.Backlash, func(r *gauge.Reading) {
				r.Lengths = make([]quantity.Length, n)
				for k := range r.Lengths {
					// Half the places high, half low, in pairs: nothing of it looks like scatter.
					d := half
					if k%4 >= 2 {
						d = -half
					}
					if n%2 == 1 && k == n-1 {
						d = 0
					}
					r.Lengths[k] = quantity.Millimetres(math.Max(shown+d, 0))
				}
			})
			out = append(out, Outcome{p, s})
		}
	}
	return likely(out...)
}

// pattern is where the contact patterns may stand up and down the tooth, and whether those of
// both sides stand apart as those of two sets do.
func (t *Tracker) pattern(o history.Step) []Outcome {
	rd, ok := o.Reading(gauge.Pattern)
	if !ok || len(rd.Patterns) == 0 {
		return []Outcome{{1, o}}
	}
	h, c, sd := t.patternLook(rd.Method, len(rd.Patterns))
	laws := t.b.Chances(h, sd)
	for i := range laws {
		laws[i].Mean += c
	}
	mixed := t.risk[fault.SetMixed]
	own := math.Sqrt2 * math.Hypot(sim.EyeStd(rd.Method), patternSetSD)
	const apart = 0.5 // what a depth costs is far from straight, and much hangs on a pattern
	at, mass := gridOf(laws, apart)
	var out []Outcome
	for i, y := range at {
		for _, two := range []bool{false, true} {
			p, apart := mass[i]*(1-mixed), 0.6*own
			if two {
				p, apart = mass[i]*mixed, patternApart
			}
			if p < 1e-4 && two {
				continue
			}
			out = append(out, Outcome{p, with(o, gauge.Pattern, func(r *gauge.Reading) {
				r.Patterns = slices.Clone(r.Patterns)
				for k := range r.Patterns {
					r.Patterns[k].CenterT = y + apart*(0.5-float64(k))
				}
				if len(r.Patterns) == 1 {
					r.Patterns[0].CenterT = y
				}
			})})
		}
	}
	return likely(out...)
}

// torqueReading is what a wrench or string may show, and whether the torque varies within a
// turn.
func (t *Tracker) torqueReading(o history.Step) []Outcome {
	i := slices.IndexFunc(o.Readings, func(r gauge.Reading) bool { return r.Kind == gauge.PinionTorque || r.Kind == gauge.TotalTorque })
	if i < 0 {
		return []Outcome{{1, o}}
	}
	rd := o.Readings[i]
	mean, _ := t.Foresee(rd)
	class, _ := gauge.ClassOf(rd.Tool)
	v := math.Max(t.turning(rd, mean), 0)
	rd.StdNmm = class.StandardUncertainty(mean, 1)
	h, c, noise := t.torqueReadLook(rd, v)
	free := t.endPlay()
	if free {
		d, dc := t.torqueLook()
		h, c = h.Plus(-1, d), c-dc-t.unseated()
	}
	laws := t.b.Chances(h, noise)
	for k := range laws {
		laws[k].Mean += c
	}
	rough := 0.0
	if !free {
		rough = min(t.anyOf(rougheners()), 1)
	}
	bare := o
	bare.Feels = slices.DeleteFunc(slices.Clone(o.Feels), func(f history.Feel) bool { return len(feelers()[f]) > 0 })
	felt := 0.0
	at, mass := grid(laws)
	var out []Outcome
	if rd.Kind == gauge.TotalTorque {
		for _, feel := range slices.Sorted(maps.Keys(feelers())) {
			if p := min(t.anyOf(feelers()[feel]), 1); p > 0 {
				s := bare
				s.Feels = append(slices.Clone(bare.Feels), feel)
				felt += p
				out = append(out, Outcome{p, s})
			}
		}
	}
	for k, y := range at {
		for _, twice := range []bool{false, true} {
			p := mass[k] * (1 - rough) * (1 - min(felt, 1))
			if twice {
				p = mass[k] * rough * (1 - min(felt, 1))
			}
			if p < 1e-4 && twice {
				continue
			}
			shown := math.Max(t.breaking(rd, y), 0)
			out = append(out, Outcome{p, with(bare, rd.Kind, func(r *gauge.Reading) {
				r.StdNmm = class.StandardUncertainty(shown, 1)
				r.Torques = []quantity.Torque{quantity.Torque(shown)}
				if twice {
					r.Torques = []quantity.Torque{quantity.Torque(math.Max(shown-roughNmm/2, 0)), quantity.Torque(shown + roughNmm/2)}
				}
			})})
		}
	}
	return likely(out...)
}

// roughNmm is about how far a torque that varies within a turn does so, N·mm (estimate).
const roughNmm = 600

// feels lists what is felt of the end play and where it lies, before an act that is felt.
func (t *Tracker) feelsAfter(o history.Step, limits []float64, feels [][]history.Feel, all []history.Feel, moved float64, sd float64) []Outcome {
	h, c := t.torqueLook()
	laws := t.b.Chances(h, sd)
	for i := range laws {
		laws[i].Mean += c + moved
		laws[i].SD = math.Max(laws[i].SD, 1e-6)
	}
	var out []Outcome
	low := 0.0
	for i, f := range feels {
		p := 1 - low
		if i < len(limits) {
			p = belief.Below(laws, limits[i]) - low
			low += p
		}
		s := o
		s.Feels = slices.DeleteFunc(slices.Clone(o.Feels), func(x history.Feel) bool { return slices.Contains(all, x) })
		s.Feels = append(s.Feels, f...)
		none := slices.Contains(f, history.NoEndPlay)
		if slices.ContainsFunc(f, func(x history.Feel) bool {
			return x == history.NoEndPlay || x == history.TraceOfEndPlay || x == history.PlentyOfEndPlay
		}) {
			s.After.Nut.Contact = o.Before.Nut.Contact || none
		}
		out = append(out, Outcome{p, s})
	}
	return likely(out...)
}

func (t *Tracker) nutFeels(o history.Step) []Outcome {
	if t.solid() || t.Pinion != history.PinionFinal {
		return []Outcome{{1, o}}
	}
	degrees := 0.0
	switch o.Act.Form {
	case act.TightenNutAngle:
		degrees = o.Act.Amounts[0].Number
	case act.LoosenNut:
		degrees = -o.Act.Amounts[0].Number
	default:
		for _, rd := range o.Readings {
			if rd.Kind == gauge.NutAngle {
				degrees = rd.Degrees
			}
		}
	}
	slope := t.gains.TorquePerDegreeNmm
	felt := t.noPlay() - t.unseated()
	trace := sim.EndPlayTraceMM / t.threadMMPerDegree() * slope
	all := []history.Feel{history.PlentyOfEndPlay, history.TraceOfEndPlay, history.NoEndPlay}
	return t.feelsAfter(o, []float64{felt - trace, felt}, [][]history.Feel{{all[0]}, {all[1]}, {all[2]}}, all,
		slope*degrees, slope*math.Hypot(sim.ChalkDeg, 0.02*degrees))
}

func (t *Tracker) turnFeels(o history.Step) []Outcome {
	if t.Pinion != history.PinionFinal {
		return []Outcome{{1, o}}
	}
	after := *t
	after.Turns = o.After.Turns
	none := after.noPlay() - after.unseated()
	all := []history.Feel{history.PinionRocks, history.PinionSmooth, history.PinionBound}
	return t.feelsAfter(o, []float64{none}, [][]history.Feel{{history.PinionRocks}, {history.PinionSmooth}}, all, 0, 0)
}
