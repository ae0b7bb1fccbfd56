package peopletest

import (
	"math"
	"slices"

	"shimwright/scenarios"
	"shimwright/scenarios/technician"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// Schools are legitimate ways of work beside the reference technician's.
func Schools() []Person {
	school := func(name string, work func(technician.Bench, scenarios.Job) error) Person {
		return Person{Name: name, Sort: School, work: work}
	}
	plain := technician.Competent()
	return []Person{
		school("pattern after the crush", by(technician.Habits{PatternLast: true})),
		school("side preload first, with the pinion out", by(technician.Habits{SidesFirst: true})),
		school("depth measured once more in a mock-up", by(plain, technician.Policy{Do: gaugeAgain})),
		school("nut steps of 5 degrees", by(plain, nutSteps(5))),
		school("nut steps of 3 degrees", by(plain, nutSteps(3))),
		school("string and scale only", by(plain, technician.Policy{Do: technician.Choose(act.MeasureTorque, 1, act.String)})),
		school("backlash at eight places", by(plain, places(8))),
		school("backlash at three places", by(plain, places(3))),
		school("inspections just before parts are built in", late),
		school("stops anywhere inside the specification", stopsInside),
		school("adjusters run up again", by(plain, technician.Policy{Do: runUpAgain})),
		school("seven tenths of the travel", by(plain, technician.Policy{Know: func(k *technician.Known) { k.BacklashPerTravel = technician.UsualPerTravel }})),
		school("indicator tested each time", otherwise(testsEachTime)),
		{Name: "reads everything twice", Sort: Slow, work: otherwise(reads(2))},
		{Name: "reads everything four times", Sort: Slow, work: otherwise(reads(4))},
	}
}

// gaugeAgain measures the depth in a mock-up once more before the final assembly.
func gaugeAgain(m technician.Mind, a act.Act) []act.Act {
	byGauge := m.Known.Design.Preload == family.CollapsibleSpacer && m.Known.Design.DepthShim != family.UnderCageFlange && m.Did(act.MeasureDepth)
	if a.Form != act.FitPinion || a.Choices[0] != act.Final || !byGauge {
		return technician.Instead(a)
	}
	return technician.Instead(act.Act{Form: act.FitPinion, Choices: []act.Option{act.MockUp}}, act.Act{Form: act.MeasureDepth}, act.Act{Form: act.RemovePinion}, a)
}

// nutSteps tightens the nut by no more than some degrees at a time.
func nutSteps(most float64) technician.Policy {
	return technician.Policy{Do: func(_ technician.Mind, a act.Act) []act.Act {
		if a.Form != act.TightenNutAngle {
			return technician.Instead(a)
		}
		var out []act.Act
		for left := a.Amounts[0].Number; left > 0; left -= most {
			out = append(out, act.Act{Form: act.TightenNutAngle, Amounts: []quantity.Entered{{Number: math.Min(left, most), Unit: quantity.UnitDegree}}})
		}
		return out
	}}
}

func places(n float64) technician.Policy {
	return technician.Policy{Do: func(_ technician.Mind, a act.Act) []act.Act {
		if a.Form == act.MeasureBacklash {
			a.Amounts = []quantity.Entered{technician.Count(n)}
		}
		return technician.Instead(a)
	}}
}

// late inspects what goes into an assembly when that is put together.
func late(b technician.Bench, j scenarios.Job) error {
	cures := []struct{ inspect, cure, before act.Form }{
		{act.InspectSpacer, act.ReplaceSpacer, act.FitPinion}, {act.InspectSeal, act.ReplaceSeal, act.FitPinion},
		{act.InspectCaps, act.MatchCaps, act.FitCase}, {act.InspectBolts, act.CleanRingGear, act.FitCase},
	}
	done := map[act.Form]bool{}
	return technician.Work(turned{b, func(b technician.Bench, a act.Act) (history.Step, error) {
		for _, c := range cures {
			if a.Form == c.inspect && !done[c.inspect] {
				return history.Step{Act: a}, nil
			}
			final := a.Form == act.FitPinion && a.Choices[0] == act.Final
			if done[c.inspect] || a.Form != c.before || c.before == act.FitPinion && !final {
				continue
			}
			done[c.inspect] = true
			if o, err := b.Do(act.Act{Form: c.inspect}); err == nil && o.Wrong() {
				if _, err := b.Do(act.Act{Form: c.cure}); err != nil {
					return o, err
				}
			}
		}
		return b.Do(a)
	}}, j.Card.Known, technician.Competent())
}

// stopsInside takes what is inside the specification for right, and writes down what was read.
func stopsInside(b technician.Bench, j scenarios.Job) error {
	k := j.Card.Known
	lash, torque := 0.0, 0.0 // as read, mm and N·mm
	return otherwise(func(b technician.Bench, a act.Act) (history.Step, error) {
		if a.Form == act.RecordValue {
			a.Amounts = slices.Clone(a.Amounts)
			switch a.Choices[0] {
			case act.BacklashLine:
				a.Amounts[0] = quantity.Entered{Number: lash, Unit: quantity.UnitMM}
			case act.PinionTorqueLine:
				a.Amounts[0] = quantity.Entered{Number: quantity.Torque(torque).InchPounds(), Unit: quantity.UnitInchLb}
			}
		}
		o, err := b.Do(a)
		o.Readings = slices.Clone(o.Readings)
		for i := range o.Readings {
			r := &o.Readings[i]
			switch r.Kind {
			case gauge.Backlash:
				mean, least, most := r.Summary()
				lash = mean.MM()
				if w := k.Sheet.Backlash; w.Holds(least.MM()) && w.Holds(most.MM()) {
					r.Lengths = []quantity.Length{quantity.Millimetres(w.Mid())}
				}
			case gauge.PinionTorque:
				w := k.PinionTorqueSpec()
				torque = r.Torques[len(r.Torques)-1].Nmm()
				if torque >= w.LowNmm && torque <= w.HighNmm {
					r.Torques = []quantity.Torque{quantity.Torque(w.Mid())}
				}
			}
		}
		return o, err
	})(b, j)
}

// runUpAgain backs an adjuster out and runs it up again whenever the case has gone in.
func runUpAgain(m technician.Mind, a act.Act) []act.Act {
	if a.Form != act.FitCase || m.Known.Design.SideAdjust != family.BearingAdjusters || m.Status.CaseFits == 0 {
		return technician.Instead(a)
	}
	turn := func(way act.Option) act.Act {
		const notches = 2
		return act.Act{Form: act.TurnOppositeAdjuster, Choices: []act.Option{way}, Amounts: []quantity.Entered{technician.Count(notches)}}
	}
	return technician.Instead(a, turn(act.Out), turn(act.In))
}

func testsEachTime(b technician.Bench, a act.Act) (history.Step, error) {
	o, err := b.Do(a)
	if err == nil && a.Form == act.MountIndicator {
		_, _ = b.Do(act.Act{Form: act.TestIndicator})
	}
	return o, err
}

// reads takes every reading some times over.
func reads(times int) func(technician.Bench, act.Act) (history.Step, error) {
	return func(b technician.Bench, a act.Act) (history.Step, error) {
		o, err := b.Do(a)
		switch a.Form {
		case act.MeasureDepth, act.MeasureTorque, act.MeasureBacklash, act.MeasureRunout, act.MeasureBearings, act.MeasureEndPlay, act.InspectCups, act.InspectBearings, act.InspectCaps:
			for range times - 1 {
				_, _ = b.Do(a)
			}
		}
		return o, err
	}
}
