package technician

import (
	"fmt"
	"slices"
	"strings"

	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// A Slip is one thing a hand does wrong without noticing: what an axle that another hand
// has signed for can carry. Everything else that hand does well.
type Mistake struct {
	ID, Name string
	Shows    string // what it leaves behind for whoever reads
	Told     string // the reading that tells it
	Remedy   string
	Missed   string
	Lesson   string
	Stage    string // of the job
	// How hard it is to find, and how well it is known; as in the fault catalogue.
	Difficulty int
	Strength   fault.Strength
	Source     string
	Has        func(Known) bool                     // nil: on any axle
	know       func(*Known)                         // what the hand takes for true
	do         func(*mistakenly, act.Act) []act.Act // what it does in the place of an act
	see        func(*mistakenly, *history.Step)     // what it takes an outcome for
}

// FindSlip returns the slip with an id.
func FindMistake(id string) (Mistake, error) {
	var ids []string
	for _, s := range slices.Concat(Mistakes(), []Mistake{notGauged}, Misconceptions()) {
		if s.ID == id {
			return s, nil
		}
		ids = append(ids, s.ID)
	}
	return Mistake{}, fmt.Errorf("slip %q is not known: there are %s", id, strings.Join(ids, ", "))
}

// SlipsOn lists the slips that can be made on an axle.
func MistakesOn(k Known) []Mistake {
	var out []Mistake
	for _, s := range Mistakes() {
		if s.Has == nil || s.Has(k) {
			out = append(out, s)
		}
	}
	return out
}

func instead(acts ...act.Act) []act.Act { return acts }

// leftOut lists forms a hand never does.
func leftOut(forms ...act.Form) func(*mistakenly, act.Act) []act.Act {
	return func(_ *mistakenly, a act.Act) []act.Act {
		for _, f := range forms {
			if a.Form == f {
				return nil
			}
		}
		return instead(a)
	}
}

// chosen puts another word in the place of one an act offers.
func chosen(f act.Form, i int, word act.Option) func(*mistakenly, act.Act) []act.Act {
	return func(_ *mistakenly, a act.Act) []act.Act {
		if a.Form == f {
			a.Choices = slices.Clone(a.Choices)
			a.Choices[i] = word
		}
		return instead(a)
	}
}

func collapsible(k Known) bool { return k.Design.Preload == family.CollapsibleSpacer }
func marked(k Known) bool      { return k.Sheet.Marks.Known() && k.OldMark != k.NewMark }
func shims(k Known) bool       { return k.Design.SideAdjust != family.BearingAdjusters }

// ungauged is the hand that takes the starter shim for right: no gauge, no print.
func ungauged(s *mistakenly, a act.Act) []act.Act {
	switch a.Form {
	case act.MeasureDepth, act.PaintTeeth, act.RollGears, act.MeasureBearings:
		return nil
	}
	return instead(a)
}

// shifted moves a torque window by a share of its middle.
func shifted(w family.TorqueSpec, share float64) family.TorqueSpec {
	by := share * w.Mid()
	return family.TorqueSpec{LowNmm: w.LowNmm + by, HighNmm: w.HighNmm + by}
}

// notGauged is no slip by itself: the hand that puts an axle together for somebody else to
// read its print.
var notGauged = Mistake{ID: "nothing-gauged", Name: "depth neither gauged nor read from the print", Lesson: "depth-gauge", do: ungauged}

// Slips lists every slip, in the order of the job.
func Mistakes() []Mistake {
	return []Mistake{
		{ID: "mark-turned", Name: "depth mark applied the wrong way round", Lesson: "depth-mark", Has: marked,
			Shows: "depth off by twice the difference of the marks; the print is high or low on both flanks", Told: "the print, and the sheet's own arithmetic",
			Remedy: "the right shim by the marks, then the gauge", Missed: "noise, and one flank worn at its edge",
			Stage: "pinion depth", Difficulty: 3, Strength: fault.Manual, Source: "TM 9-2320-280-34, para 19-3, p 19-12, table 9-1",
			know: func(k *Known) { k.OldMark, k.NewMark = k.NewMark, k.OldMark }, do: ungauged},
		{ID: "mark-forgotten", Name: "old depth shim put back under a new pinion", Lesson: "depth-mark", Has: marked,
			Shows: "depth off by the difference of the marks", Told: "the print, and the shim written on the build sheet",
			Remedy: "allow for both marks", Missed: "noise, and one flank worn at its edge",
			Stage: "pinion depth", Difficulty: 2, Strength: fault.Manual, Source: "TM 9-2320-280-34, para 19-3, p 19-12, table 9-1",
			know: func(k *Known) { k.NewMark = k.OldMark }, do: ungauged},
		{ID: "mark-in-other-units", Name: "depth mark read in the other unit", Lesson: "depth-mark", Has: marked,
			Shows: "depth off by about one and a half times the new mark, or six tenths of it", Told: "the print; the error fits a factor of 2.54",
			Remedy: "ask what unit the marks are in", Missed: "noise, and one flank worn at its edge",
			Stage: "pinion depth", Difficulty: 3, Strength: fault.Manual, Source: "TM 9-2320-366-34-4, para 24-2: marks in either unit",
			know: func(k *Known) {
				factor := quantity.Length(2.54)
				if unit := k.Sheet.DepthShims.StepMM; unit/quantity.Thou(1).MM() > 0.9 && unit/quantity.Thou(1).MM() < 1.1 {
					factor = 1 / factor
				}
				k.OldMark, k.NewMark = k.OldMark*factor, k.NewMark*factor
			}, do: ungauged},
		{ID: "overshot", Name: "spacer crushed past its window and left", Lesson: "crush-spacer", Has: collapsible,
			Shows: "rotating torque above its window, steady and smooth", Told: "rotating torque with the case out",
			Remedy: "a new spacer and nut", Missed: "a hot tail bearing and an early failure",
			Stage: "pinion preload", Difficulty: 2, Strength: fault.Manual, Source: "TM 9-2320-280-34, para 19-3, p 19-21",
			know: func(k *Known) {
				k.Sheet.PinionTorqueNew, k.Sheet.PinionTorqueUsed = shifted(k.Sheet.PinionTorqueNew, 0.6), shifted(k.Sheet.PinionTorqueUsed, 0.6)
			}},
		{ID: "backed-off", Name: "overshot, and the nut backed off", Lesson: "crush-spacer", Has: collapsible,
			Shows: "rotating torque in its window, but the nut turns on long before its torque", Told: "nut torque far below what a spacer takes to crush",
			Remedy: "a new spacer and nut", Missed: "the nut works loose and the pinion with it",
			Stage: "pinion preload", Difficulty: 4, Strength: fault.Manual, Source: "TM 9-2320-280-34, para 19-3, p 19-21: the nut is never loosened to bring preload down",
			know: func(k *Known) {
				k.Sheet.PinionTorqueNew, k.Sheet.PinionTorqueUsed = shifted(k.Sheet.PinionTorqueNew, 0.6), shifted(k.Sheet.PinionTorqueUsed, 0.6)
			},
			do: func(s *mistakenly, a act.Act) []act.Act {
				if s.backed || a.Form != act.FitSideShims && a.Form != act.FitCase {
					return instead(a)
				}
				s.backed = true
				back := act.Act{Form: act.LoosenNut, Amounts: []quantity.Entered{{Number: 8, Unit: quantity.UnitDegree}}}
				return instead(back, a)
			}},
		{ID: "wrong-range", Name: "new-bearing range used for run-in bearings, or the reverse", Lesson: "rotating-torque",
			Shows: "rotating torque in the window of the other kind of bearing", Told: "the sheet has two windows; the card says which bearings these are",
			Remedy: "preload to the right window", Missed: "bearings that run hot, or loose after bedding in",
			Stage: "pinion preload", Difficulty: 2, Strength: fault.Manual, Source: "TM 9-2320-289-34, para 6-17, p 6-119: a window each for new and used",
			know: func(k *Known) { k.UsedBearings = !k.UsedBearings }},
		{ID: "breakaway", Name: "rotating torque read at the first pull", Lesson: "rotating-torque",
			Shows: "true rotating torque low by a quarter and more", Told: "read it while it turns",
			Remedy: "more preload, read in motion", Missed: "a loose pinion after bedding in",
			Stage: "pinion preload", Difficulty: 1, Strength: fault.Manual, Source: "TM 5-3805-262-34, para 4-4: read while turning",
			do: chosen(act.MeasureTorque, 0, act.Breakaway)},
		{ID: "not-turned-in", Name: "pinion not turned before its torque was read", Lesson: "rotating-torque",
			Shows: "rotating torque low once the rollers are home, perhaps end play", Told: "turn it and read again",
			Remedy: "preload with the rollers home", Missed: "a loose pinion",
			Stage: "pinion preload", Difficulty: 1, Strength: fault.Practice,
			do: leftOut(act.TurnPinion)},
		{ID: "seal-counted", Name: "seal drag taken for bearing preload", Lesson: "rotating-torque",
			Shows: "rotating torque low by what the seal drags", Told: "sheet window plus seal drag against the reading",
			Remedy: "preload to the window with the seal's drag on top", Missed: "preload a fifth too low",
			Stage: "pinion preload", Difficulty: 2, Strength: fault.Practice,
			know: func(k *Known) { k.Sheet.SealDrag = family.TorqueSpec{} }},
		{ID: "plunger-tilted", Name: "indicator stem out of square", Lesson: "backlash-reading",
			Shows: "true backlash less than was written down", Told: "read it with the stem square to the tooth",
			Remedy: "set the backlash by a square stem", Missed: "gears set too close run hot and howl",
			Stage: "backlash", Difficulty: 2, Strength: fault.Manual, Source: "TM 9-2320-289-34, para 6-5, p 6-21; TM 10-3930-638-24&P, p 4-246",
			do: chosen(act.MountIndicator, 1, act.Along)},
		{ID: "plunger-at-toe", Name: "indicator at the toe", Lesson: "backlash-reading",
			Shows: "true backlash more than was written down", Told: "read it at the heel",
			Remedy: "set the backlash at the heel", Missed: "backlash too large",
			Stage: "backlash", Difficulty: 2, Strength: fault.Manual, Source: "TM 9-2320-289-34, para 6-5, p 6-21; TM 10-3930-638-24&P, p 4-246",
			do: chosen(act.MountIndicator, 0, act.Toe)},
		{ID: "pinion-free", Name: "pinion not held while the ring gear was rocked", Lesson: "backlash-reading",
			Shows: "true backlash well below what was written down", Told: "hold the pinion and read again",
			Remedy: "set the backlash with the pinion held", Missed: "gears that bind when warm",
			Stage: "backlash", Difficulty: 1, Strength: fault.Practice,
			do: chosen(act.MountIndicator, 2, act.PinionFree)},
		{ID: "one-side-only", Name: "backlash corrected on one side only", Lesson: "side-shims", Has: shims,
			Shows: "backlash in its window, side preload far off", Told: "total rotating torque, end play, or the spread of the housing",
			Remedy: "keep the total: out of one side, into the other", Missed: "side bearings that wear, or a case that floats",
			Stage: "side shims", Difficulty: 2, Strength: fault.Manual, Source: "TM 9-2320-289-34, para 6-5, p 6-22, steps 17 to 20",
			do: func(s *mistakenly, a act.Act) []act.Act {
				if a.Form == act.FitSideShims && s.lashRead {
					st := s.Bench.Status()
					moved := a.Amounts[0]
					a.Amounts = []quantity.Entered{moved, {Number: st.OppositeShim.MM(), Unit: quantity.UnitMM}}
				}
				return instead(a)
			}},
		{ID: "no-side-preload", Name: "side bearings left without preload", Lesson: "side-shims",
			Shows: "end play or no rise of the total torque; backlash that will not repeat", Told: "total rotating torque against the pinion's own",
			Remedy: "add to both sides alike", Missed: "the ring gear climbs and the teeth hammer",
			Stage: "side shims", Difficulty: 2, Strength: fault.Practice,
			know: func(k *Known) { k.Sheet.SidePreload = family.Spec{LowMM: -0.08, HighMM: 0.02} }},
		{ID: "side-preload-high", Name: "too much side preload", Lesson: "total-torque",
			Shows: "the total torque rises too far above the pinion's; smooth", Told: "total rotating torque; the spread of the housing",
			Remedy: "take from both sides alike", Missed: "side bearings fail early",
			Stage: "side shims", Difficulty: 2, Strength: fault.Practice,
			know: func(k *Known) {
				w, limit := k.Sheet.SidePreload, k.Sheet.SpreadLimitMM
				at := w.HighMM + 0.75*(limit-w.HighMM)
				k.Sheet.SidePreload = family.Spec{LowMM: at - w.Half()/2, HighMM: at + w.Half()/2}
			}},
		{ID: "caps-snug", Name: "side-bearing caps never torqued", Lesson: "check-again",
			Shows: "readings that will not repeat; the caps are only snug", Told: "a wrench on the cap bolts",
			Remedy: "torque the caps and read everything again", Missed: "caps that walk and cups that fret",
			Stage: "side shims", Difficulty: 1, Strength: fault.Manual, Source: "TM 10-3930-638-24&P, p 4-243",
			do: leftOut(act.TorqueCaps, act.LoosenCaps)},
		{ID: "nothing-inspected", Name: "parts not looked at before they were fitted", Lesson: "inspect-first",
			Shows: "whatever was wrong with the parts is still in the axle", Told: "looking, with the axle apart",
			Remedy: "strip, look, put right", Missed: "what was there comes out on the road",
			Stage: "inspection", Difficulty: 3, Strength: fault.Practice,
			do: leftOut(act.InspectCups, act.InspectBearings, act.InspectSpacer, act.InspectSeal, act.InspectCones, act.InspectCaps, act.InspectShimSeat, act.InspectBolts, act.InspectGears,
				act.MeasureBearings, act.MeasurePinionRunout, act.MeasureRadialRunout, act.TestIndicator, act.TestGauge, act.MeasureDepthShim)},
		{ID: "used-set-as-new", Name: "used gears set to a new set's backlash", Lesson: "used-gears", Has: func(k Known) bool { return k.UsedGears },
			Shows: "backlash a new set's, not what these gears ran with", Told: "the teardown reading on the card",
			Remedy: "back to the teardown backlash", Missed: "a quiet set made noisy",
			Stage: "backlash", Difficulty: 3, Strength: fault.Manual, Source: "TM 5-3895-369-14, p 5-412",
			know: func(k *Known) {
				by := 2.4 * k.Sheet.Backlash.Half()
				k.Sheet.Backlash = family.Spec{LowMM: k.Sheet.Backlash.LowMM - by, HighMM: k.Sheet.Backlash.HighMM - by}
			}},
	}
}

// slipping is a bench at which a hand makes its slip.
type mistakenly struct {
	Bench
	mistake  Mistake
	known    Known
	backed   bool
	lashRead bool
	misconceptionMemory
}

// Slipping returns the bench and the knowledge of a hand that makes a slip.
func Mistaken(b Bench, k Known, s Mistake) (Bench, Known) {
	if s.know != nil {
		s.know(&k)
	}
	return &mistakenly{Bench: b, mistake: s, known: k}, k
}

// Do does what the hand does in the place of an act. An act left out shows the hand what
// it would like to see.
func (s *mistakenly) Do(a act.Act) (history.Step, error) {
	acts := instead(a)
	if s.mistake.do != nil {
		acts = s.mistake.do(s, a)
	}
	out := s.imagined(a)
	for _, x := range acts {
		var err error
		if out, err = s.Bench.Do(x); err != nil {
			return out, err
		}
	}
	if a.Form == act.MeasureBacklash {
		s.lashRead = true
	}
	if s.mistake.see != nil {
		out.Readings = slices.Clone(out.Readings) // whoever keeps them keeps what was read
		s.mistake.see(s, &out)
	}
	return out, nil
}

// imagined is what a hand that leaves a reading out takes for read.
func (s *mistakenly) imagined(a act.Act) history.Step {
	out := history.Step{Act: a}
	switch a.Form {
	case act.MeasureDepth:
		out.Readings = []gauge.Reading{{Kind: gauge.Depth, Lengths: []quantity.Length{s.known.WantedDistance()}}}
	case act.MeasureDepthShim:
		out.Readings = []gauge.Reading{{Kind: gauge.DepthShimSize, Lengths: []quantity.Length{s.Bench.Status().DepthShim}}}
	case act.TightenNutAngle:
		out.Feels = []history.Feel{history.NoEndPlay}
	case act.MeasureTorque:
		kind, right := gauge.PinionTorque, s.known.PinionTorqueSpec().Mid()
		if s.Bench.Status().CaseIn {
			kind = gauge.TotalTorque
		}
		out.Readings = []gauge.Reading{{Kind: kind, Torques: []quantity.Torque{quantity.Torque(right)}}}
	}
	return out
}
