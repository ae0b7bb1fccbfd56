package acceptance_test

import (
	"math"

	"shimwright/grading/acceptance"
	"shimwright/scenarios"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// A checker follows an attempt act by act and keeps, like somebody with a notebook beside the
// bench, what is still worth something. It knows the acts, what they showed and the sheet; it
// takes nothing from the code it checks and nothing of the status of the axle but how a job
// was found. Where the acts alone cannot decide, it says so.
type checker struct {
	card scenarios.Card
	sh   family.Sheet

	in, tight, signed bool
	pinion            history.PinionBuild
	shim, pack        float64 // in hand, mm
	ringGear, other   float64
	rebuilt           bool    // the pinion has been put in by the trainee
	turns             float64 // since the nut moved
	oil               string  // "", "oil", "grease"
	setUp             []float64

	patterns          [][2]float64 // that count, by side
	oldPatterns       [][2]float64 // the last that does not
	oldEye            float64      // how surely an eye placed it
	backlash, anyLash []note
	runout, anyRunout []note
	pull, anyPull     []note // pinion torque
	total, anyTotal   []note
	depth             []note
	nut               *note
	loosened, contact bool
	back              float64

	marks    string // "", "meet", "wrong"
	overwide bool
	wrong    map[gauge.Finding]bool
	found    bool // something was found wrong, put right or not
	sheet    map[act.Option]quantity.Entered
}

// A note is a reading: its figures, how sure they are, its tool, and how the pinion stood.
type note struct {
	of     []float64
	std    float64
	tool   gauge.Tool
	mockUp bool
	shim   float64
}

func (n note) mean() float64 {
	s := 0.0
	for _, x := range n.of {
		s += x / float64(len(n.of))
	}
	return s
}

// unknown is said where the acts do not tell.
const unknown acceptance.Outcome = -1

func check(card scenarios.Card, steps []history.Step) map[string]acceptance.Outcome {
	st := card.Start
	c := &checker{card: card, sh: card.Family.Sheet, wrong: map[gauge.Finding]bool{}, sheet: map[act.Option]quantity.Entered{}, pinion: history.PinionOut}
	follow := func(ss []history.Step) {
		for _, s := range ss {
			c.do(s)
		}
	}
	follow(card.Before)
	c.in, c.tight, c.pinion, c.rebuilt = st.CaseIn, st.CapsTight, st.Pinion, false
	if c.pinion == "" {
		c.pinion = history.PinionOut
	}
	c.shim, c.pack, c.ringGear, c.other = st.DepthShim.MM(), st.PreloadShims.MM(), st.RingGearShim.MM(), st.OppositeShim.MM()
	for _, e := range st.Sheet {
		c.sheet[e.Item] = e.Value
	}
	if card.Kind == scenarios.PreviousWork && card.UsedBearings {
		c.oil = "oil"
	}
	follow(steps)
	return c.verdicts()
}

// Which acts disturb what.
func disturbs(f act.Form) (parts, depth, preload, sides bool) {
	switch f {
	case act.SeatCups, act.SeatCones, act.ReplaceBearings, act.ReplaceGears, act.ReplaceCase, act.CleanRingGear, act.MeasureCaseRunout:
		parts = true
	case act.FitDepthShim, act.CleanShimSeat, act.ReplaceSlinger:
		depth = true
	case act.FitPinion, act.RemovePinion:
		depth, preload = true, true
	case act.TightenNutAngle, act.TightenNutTorque, act.LoosenNut, act.WashBearings, act.GreaseBearings, act.ReplaceSeal, act.ReplaceSpacer, act.FitPreloadShims:
		preload = true
	case act.FitCase, act.RemoveCase, act.TorqueCaps, act.LoosenCaps, act.TurnRingGearAdjuster, act.TurnOppositeAdjuster, act.FitSideShims, act.SpreadHousing, act.MatchCaps:
		sides = true
	}
	return parts, depth, preload, sides
}

func mmOf(e quantity.Entered) float64 {
	l, _ := e.Length()
	return l.MM()
}

func (c *checker) do(s history.Step) {
	a := s.Act
	wasTight, wasPinion := c.tight, c.pinion
	var found []gauge.Finding
	for _, r := range s.Readings {
		found = append(found, r.Finding)
	}
	entered := true
	for _, f := range found {
		entered = entered && f != gauge.NeedsSpreader && f != gauge.WillNotEnter
	}
	parts, depth, preload, sides := disturbs(a.Form)
	if parts || depth || sides {
		if len(c.patterns) > 0 {
			c.oldPatterns, c.oldEye = c.patterns[len(c.patterns)-1:], eye
		}
		c.patterns, c.backlash = nil, nil
	}
	if parts || depth || sides || preload {
		c.total = nil
	}
	if a.Form == act.RemoveShafts { // the brake that went out was part of the torque
		c.total = nil
	}
	if preload {
		c.pull = nil
	}
	if parts {
		c.runout = nil
	}
	switch a.Form {
	case act.CleanShimSeat, act.ReplaceSlinger, act.SeatCups, act.ReplaceBearings, act.ReplaceGears:
		c.depth = nil
	}
	// What an instrument that is found off has shown before is worth nothing.
	for _, f := range found {
		switch f {
		case gauge.IndicatorWasLoose:
			c.backlash, c.runout = nil, nil
		case gauge.GaugeWasOff:
			c.depth = nil
		case gauge.StringWasOff:
			c.pull, c.total = without(c.pull, gauge.StringAndScale), without(c.total, gauge.StringAndScale)
		}
	}
	switch a.Form {
	case act.FitCase:
		if entered {
			c.in, c.tight = true, false
		}
	case act.RemoveCase:
		c.in, c.tight = false, false
	case act.TorqueCaps:
		c.tight = true
	case act.LoosenCaps:
		c.tight = false
	case act.FitPinion:
		c.pinion, c.rebuilt, c.turns, c.loosened, c.contact, c.back, c.nut = history.PinionFinal, true, 0, false, false, 0, nil
		if a.Choices[0] == act.MockUp {
			c.pinion = history.PinionMockUp
		}
		if a.Choices[0] == act.MockUp {
			c.turns = 0
		}
	case act.RemovePinion:
		if c.pinion == history.PinionFinal { // spacer and nut of it are scrap
			for _, f := range []gauge.Finding{gauge.SpacerCrushed, gauge.SpacerShort, gauge.NutSpins} {
				if c.card.Family.Design.Preload == family.CollapsibleSpacer {
					delete(c.wrong, f)
				}
			}
		}
		c.pinion, c.nut, c.loosened, c.back = history.PinionOut, nil, false, 0
	case act.FitDepthShim:
		c.shim = nearest(c.sh.DepthShims, mmOf(a.Amounts[0]))
	case act.FitPreloadShims:
		c.pack = nearest(c.card.Family.Design.Solid.PreloadShims, mmOf(a.Amounts[0]))
	case act.FitSideShims:
		c.ringGear, c.other = nearest(c.sh.SideShims, mmOf(a.Amounts[0])), nearest(c.sh.SideShims, mmOf(a.Amounts[1]))
	case act.TurnPinion:
		c.turns += a.Amounts[0].Number
	case act.TightenNutAngle, act.TightenNutTorque, act.LoosenNut:
		c.turns = 0
		deg := 0.0
		if len(a.Amounts) > 0 && a.Form != act.TightenNutTorque {
			deg = a.Amounts[0].Number
		}
		for _, r := range s.Readings {
			deg += r.Degrees
		}
		if a.Form == act.LoosenNut {
			c.loosened, c.back, c.nut = true, c.back+deg, nil
		} else {
			c.back = math.Max(0, c.back-deg)
		}
		for _, f := range s.Feels {
			c.contact = c.contact || f == history.NoEndPlay
		}
	case act.WashBearings, act.ReplaceBearings:
		c.oil = "oil"
	case act.GreaseBearings:
		c.oil = "grease"
	case act.MatchCaps:
		c.marks = "meet"
	case act.SpreadHousing:
		c.overwide = c.overwide || mmOf(a.Amounts[0]) > c.sh.SpreadLimitMM+1e-9
	case act.RecordValue:
		c.sheet[a.Choices[0]] = a.Amounts[0]
	case act.SignOff:
		c.signed = true
	}
	c.cured(a.Form)
	for _, r := range s.Readings {
		c.read(r, a, wasTight, wasPinion)
	}
	if a.Form == act.MeasureTorque && a.Choices[0] == act.Rotating {
		c.turns += 2 // turned while it was read
	}
}

func without(ns []note, t gauge.Tool) []note {
	var out []note
	for _, n := range ns {
		if n.tool != t {
			out = append(out, n)
		}
	}
	return out
}

func nearest(s family.Stock, mm float64) float64 {
	n := math.Round((mm - s.LowMM) / s.StepMM)
	return s.LowMM + n*s.StepMM
}

// cured crosses out what an act puts right.
func (c *checker) cured(f act.Form) {
	for _, x := range []struct {
		by   act.Form
		what []gauge.Finding
	}{
		{act.SeatCups, []gauge.Finding{gauge.CupGap}},
		{act.WashBearings, []gauge.Finding{gauge.BearingsGreased, gauge.RollersGritty}},
		{act.ReplaceBearings, []gauge.Finding{gauge.CupGap, gauge.BearingsGreased, gauge.RollersGritty, gauge.RaceDented}},
		{act.ReplaceSpacer, []gauge.Finding{gauge.SpacerCrushed, gauge.SpacerShort, gauge.NutSpins}},
		{act.SeatCones, []gauge.Finding{gauge.ConeGap}},
		{act.ReplaceCase, []gauge.Finding{gauge.ConeGap, gauge.BoltsUneven, gauge.BoltsBottomed}},
		{act.ReplaceSeal, []gauge.Finding{gauge.SealLipTurned}},
		{act.CleanShimSeat, []gauge.Finding{gauge.SeatDirty}},
		{act.ReplaceSlinger, []gauge.Finding{gauge.SlingerMissing}},
		{act.CleanRingGear, []gauge.Finding{gauge.BoltsUneven, gauge.BoltsBottomed}},
		{act.MeasureCaseRunout, []gauge.Finding{gauge.BoltsUneven, gauge.BoltsBottomed}},
		{act.ReplaceGears, []gauge.Finding{gauge.BoltsUneven, gauge.BoltsBottomed, gauge.NumbersDiffer, gauge.TagOfOtherCase, gauge.GearRocks}},
		{act.RemoveShafts, []gauge.Finding{gauge.ShaftDrags}},
		{act.RemoveCase, []gauge.Finding{gauge.ShaftDrags}},
	} {
		if x.by != f {
			continue
		}
		for _, w := range x.what {
			delete(c.wrong, w)
		}
	}
}

func (c *checker) read(r gauge.Reading, a act.Act, wasTight bool, wasPinion history.PinionBuild) {
	n := note{std: r.StdMM, tool: r.Tool, mockUp: wasPinion == history.PinionMockUp, shim: c.shim}
	for _, l := range r.Lengths {
		n.of = append(n.of, l.MM())
	}
	if len(r.Torques) > 0 {
		n.std = r.StdNmm
		for _, t := range r.Torques {
			n.of = append(n.of, t.Nmm())
		}
	}
	switch r.Kind {
	case gauge.BearingHeights:
		c.setUp = []float64{n.of[0], n.std}
	case gauge.BearingCondition:
		switch r.Finding {
		case gauge.BearingsGreased:
			c.oil = "grease"
		case gauge.BearingsSound, gauge.BearingsOiled, gauge.RollersGritty:
			c.oil = "oil"
		}
	case gauge.CapMarks:
		c.marks = map[bool]string{true: "meet", false: "wrong"}[r.Finding == gauge.MarksMeet]
		return // a line of its own
	case gauge.Depth:
		c.depth = append(c.depth, n)
	case gauge.NutTorque:
		c.nut = &n
	case gauge.Runout:
		c.runout, c.anyRunout = append(c.runout, n), append(c.anyRunout, n)
	case gauge.Backlash:
		how := r.Method
		c.anyLash = append(c.anyLash, n)
		if wasTight && len(n.of) >= 3 && how.Place == act.Heel && how.Plunger == act.Square && how.Pinion == act.PinionHeld {
			c.backlash = append(c.backlash, n)
		}
	case gauge.Pattern:
		p := [2]float64{r.Patterns[0].CenterT, r.Patterns[1].CenterT}
		if wasTight && r.Method.Coat == act.Thin && a.Choices[0] == act.Braked {
			c.patterns = append(c.patterns, p)
		} else {
			c.oldPatterns = [][2]float64{p}
			// A thick coat blurs a pattern to twice, gears that roll free to two and a half times.
			c.oldEye = 0.020
			if r.Method.Coat == act.Thick {
				c.oldEye *= 2
			}
			if a.Choices[0] == act.Free {
				c.oldEye *= 2.5
			}
			c.oldEye = math.Hypot(c.oldEye, 0.01/math.Sqrt(12))
		}
	case gauge.PinionTorque:
		c.anyPull = append(c.anyPull, n)
		if wasPinion == history.PinionFinal && a.Choices[0] == act.Rotating && c.turns >= 1 && c.oil == "oil" {
			c.pull = append(c.pull, n)
		}
	case gauge.TotalTorque:
		c.anyTotal = append(c.anyTotal, n)
		if wasTight && a.Choices[0] == act.Rotating {
			c.total = append(c.total, n)
		}
	}
	if c.card.Kind == scenarios.DepthJob {
		switch r.Finding {
		case gauge.CupGap, gauge.SeatDirty, gauge.SlingerMissing, gauge.NumbersDiffer, gauge.TagOfOtherCase:
		default:
			return
		}
	}
	switch r.Finding {
	case gauge.CupGap, gauge.BearingsGreased, gauge.RollersGritty, gauge.RaceDented, gauge.SpacerCrushed, gauge.SpacerShort, gauge.NutSpins, gauge.ConeGap, gauge.SealLipTurned,
		gauge.SeatDirty, gauge.SlingerMissing, gauge.BoltsUneven, gauge.BoltsBottomed, gauge.NumbersDiffer, gauge.TagOfOtherCase, gauge.GearRocks, gauge.ShaftDrags:
		c.wrong[r.Finding], c.found = true, true
	}
}

// within says where a figure lies: in, out by no more than u, or out.
func within(x, low, high, u float64) acceptance.Outcome {
	eps := 1e-6 * math.Max(1, math.Abs(x))
	switch {
	case x >= low-eps && x <= high+eps:
		return acceptance.Proved
	case x >= low-u-eps && x <= high+u+eps:
		return acceptance.Open
	}
	return acceptance.Contradicted
}

func (c *checker) lacks(f act.Form) bool {
	for _, l := range c.card.Known.Off {
		if l.Form == f && l.Word == "" {
			return true
		}
	}
	return false
}

// no is a condition that is not met: false of what is signed, and still to do before.
func (c *checker) no() acceptance.Outcome {
	if c.signed {
		return acceptance.Contradicted
	}
	return acceptance.Open
}

const eye = 0.02020725942163690 // square root of 0.020^2 + 0.01^2/12, share of the tooth

func (c *checker) pattern() acceptance.Outcome {
	if len(c.patterns) == 0 {
		return acceptance.Open
	}
	n := float64(len(c.patterns))
	var side [2]float64
	for _, p := range c.patterns {
		side[0], side[1] = side[0]+p[0]/n, side[1]+p[1]/n
	}
	w := c.sh.PatternHeight
	worst := within((side[0]+side[1])/2, w.LowMM, w.HighMM, 2*eye/math.Sqrt(2*n))
	if worst == acceptance.Open && n > 1 {
		worst = acceptance.Proved // made again: as closely as they tell
	}
	const one = 2 * eye
	for _, s := range side {
		worst = max(worst, within(s, w.LowMM-one, w.HighMM+one, one))
	}
	return worst
}

func (c *checker) depthLine() acceptance.Outcome {
	toTheShim := c.card.Kind == scenarios.DepthJob
	if len(c.depth) == 0 {
		if toTheShim && !c.lacks(act.MeasureDepth) {
			return acceptance.Open
		}
		return acceptance.NotApplicable
	}
	n := c.depth[len(c.depth)-1]
	// A refit puts a part back to 0.002 mm, shims scatter by 0.003 mm, set-up bearings by 0.004 mm.
	square := n.std*n.std + 0.002*0.002
	is := n.of[0]
	if n.mockUp {
		if c.setUp != nil {
			is, square = is+c.setUp[0], square+c.setUp[1]*c.setUp[1]
		} else {
			square += 0.004 * 0.004
		}
	}
	if d := c.shim - n.shim; math.Abs(d) > 1e-9 {
		square += 2 * 0.003 * 0.003
		if c.card.Family.Design.DepthShim == family.UnderCageFlange {
			is += d
		} else {
			is -= d
		}
	}
	k := c.card.Known
	wanted := k.Sheet.CheckingDistanceMM + k.Sheet.Marks.OutForMarkMM(k.NewMark.MM())
	o := within(is, wanted-c.sh.DepthToleranceMM, wanted+c.sh.DepthToleranceMM, 2*math.Sqrt(square))
	if !toTheShim && o != acceptance.Proved && c.pattern() == acceptance.Proved {
		return acceptance.Proved
	}
	return o
}

// wanted lists what has to stand on the build sheet.
func (c *checker) wanted() []act.Option {
	d := c.card.Family.Design
	out := []act.Option{act.DepthShimLine}
	if c.card.Kind != scenarios.DepthJob {
		if d.Preload == family.SolidSpacer {
			out = append(out, act.PreloadShimsLine)
		}
		out = append(out, act.PinionTorqueLine)
	}
	if c.card.Kind != scenarios.DepthJob && c.card.Kind != scenarios.PreloadJob {
		out = append(out, act.TotalTorqueLine, act.BacklashLine, act.PatternHeightLine)
		if d.SideAdjust != family.BearingAdjusters {
			out = append(out, act.RingGearShimLine, act.OppositeShimLine)
		}
		if !c.lacks(act.MeasureRunout) {
			out = append(out, act.RunoutLine)
		}
	}
	return out
}

// honest tells whether what is written is what was fitted or read.
func (c *checker) honest() bool {
	for item, e := range c.sheet {
		switch item {
		case act.DepthShimLine:
			if math.Abs(mmOf(e)-c.shim) > c.sh.DepthShims.StepMM/4+1e-9 {
				return false
			}
		case act.PreloadShimsLine:
			if math.Abs(mmOf(e)-c.pack) > c.card.Family.Design.Solid.PreloadShims.StepMM/4+1e-9 {
				return false
			}
		case act.RingGearShimLine:
			if math.Abs(mmOf(e)-c.ringGear) > c.sh.SideShims.StepMM/4+1e-9 {
				return false
			}
		case act.OppositeShimLine:
			if math.Abs(mmOf(e)-c.other) > c.sh.SideShims.StepMM/4+1e-9 {
				return false
			}
		case act.PatternHeightLine:
			ps, sure := c.patterns, eye
			if len(ps) == 0 {
				ps, sure = c.oldPatterns, c.oldEye
			}
			ok := len(ps) == 0 && c.asFound(item, e)
			for _, p := range ps {
				m := (p[0] + p[1]) / 2
				ok = ok || math.Abs(e.Number-m) <= 2*sure/math.Sqrt2+1e-12
			}
			if len(ps) > 1 { // anything between two readings will do
				low, high := math.Inf(1), math.Inf(-1)
				for _, p := range ps {
					m := (p[0] + p[1]) / 2
					low, high = min(low, m), max(high, m)
				}
				ok = ok || e.Number >= low && e.Number <= high
			}
			if !ok {
				return false
			}
		default:
			if !c.readAs(item, e) {
				return false
			}
		}
	}
	return true
}

func (c *checker) asFound(item act.Option, e quantity.Entered) bool {
	was, ok := c.card.Start.Written(item)
	return ok && was == e
}

func (c *checker) readAs(item act.Option, e quantity.Entered) bool {
	good, any := c.pull, c.anyPull
	switch item {
	case act.TotalTorqueLine:
		good, any = c.total, c.anyTotal
	case act.BacklashLine:
		good, any = c.backlash, c.anyLash
	case act.RunoutLine:
		good, any = c.anyRunout, c.anyRunout
	}
	if len(any) == 0 {
		return c.asFound(item, e)
	}
	if len(good) == 0 {
		good = any[len(any)-1:]
	}
	v := mmOf(e)
	if t, ok := e.Torque(); ok {
		v = t.Nmm()
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, n := range good {
		u := 2 * n.std
		if n.tool == gauge.DialIndicator {
			u = math.Max(u, quantity.Inches(0.0005).MM())
		}
		for _, x := range n.of {
			low, high = min(low, x-u), max(high, x+u)
		}
	}
	return v >= low-1e-9 && v <= high+1e-9
}

func (c *checker) verdicts() map[string]acceptance.Outcome {
	is := map[bool]acceptance.Outcome{true: acceptance.Proved, false: acceptance.Open}
	out := map[string]acceptance.Outcome{"sheet-complete": acceptance.Proved, "sheet-true": acceptance.Proved, "found-wrong": acceptance.NotApplicable}
	unwritten := 0
	for _, item := range c.wanted() {
		if _, ok := c.sheet[item]; !ok {
			out["sheet-complete"] = acceptance.Open
			unwritten++
		}
	}
	if unwritten > len(c.wanted())/2 {
		out["sheet-true"] = acceptance.Open
	}
	if !c.honest() {
		out["sheet-true"] = c.no()
	}
	switch {
	case len(c.wrong) > 0:
		out["found-wrong"] = c.no()
	case c.found:
		out["found-wrong"] = acceptance.Proved
	}
	others := c.card.Kind == scenarios.PreviousWork && !c.rebuilt // nobody here has built it
	used := c.card.UsedBearings
	spec := c.sh.PinionTorqueNew
	rise := c.sh.SideRiseNew
	if used {
		spec, rise = c.sh.PinionTorqueUsed, c.sh.SideRiseUsed
	}
	low, high := spec.LowNmm+c.sh.SealDrag.LowNmm, spec.HighNmm+c.sh.SealDrag.HighNmm
	if c.card.Kind != scenarios.DepthJob {
		switch {
		case len(c.pull) > 0:
			n := c.pull[len(c.pull)-1]
			out["pinion-torque"] = within(n.mean(), low, high, 2*n.std)
		case !others:
			out["pinion-torque"] = acceptance.Open
		}
		if c.card.Family.Design.Preload == family.SolidSpacer {
			switch {
			case others:
			case c.pinion != history.PinionFinal || c.nut == nil:
				out["nut-torque"] = acceptance.Open
			default:
				out["nut-torque"] = within(c.nut.mean(), c.sh.NutLow.Nmm(), c.sh.NutHigh.Nmm(), 2*c.nut.std)
			}
		} else {
			switch {
			case c.pinion != history.PinionFinal:
				out["nut"] = acceptance.Open
			case !c.loosened:
				out["nut"] = acceptance.Proved
			case c.contact && c.back > 3:
				out["nut"] = c.no()
			default:
				out["nut"] = unknown
			}
		}
	}
	if c.card.Kind == scenarios.DepthJob {
		out["depth"] = c.depthLine()
		return out
	}
	if c.card.Kind == scenarios.PreloadJob {
		return out
	}
	out["depth"], out["pattern"] = c.depthLine(), c.pattern()
	out["total-torque"], out["backlash"], out["backlash-variation"], out["runout"] = acceptance.Open, acceptance.Open, acceptance.Open, acceptance.Open
	out["side-rise"] = acceptance.Open
	if len(c.total) > 0 {
		n := c.total[len(c.total)-1]
		out["total-torque"] = within(n.mean(), low+rise.LowNmm, high+rise.HighNmm, 2*n.std)
		switch {
		case len(c.pull) > 0:
			p := c.pull[len(c.pull)-1]
			u := 2 * math.Hypot(n.std, p.std)
			out["side-rise"] = within(n.mean()-p.mean(), rise.LowNmm-u, rise.HighNmm+u, 0)
		case others:
			out["side-rise"] = acceptance.NotApplicable
		}
	}
	if len(c.backlash) > 0 {
		n := c.backlash[len(c.backlash)-1]
		grad := quantity.Inches(0.0005).MM()
		fixed, noise := quantity.Inches(0.0003).MM()/math.Sqrt(3), quantity.Inches(0.00015).MM()
		u := 2 * math.Sqrt(fixed*fixed+grad*grad/12+noise*noise/float64(len(n.of)))
		shown := math.Floor(n.mean()/grad+0.5+1e-9) * grad
		out["backlash"] = within(shown, c.sh.Backlash.LowMM, c.sh.Backlash.HighMM, u)
		least, most := math.Inf(1), 0.0
		for _, x := range n.of {
			least, most = min(least, x), max(most, x)
		}
		out["backlash-variation"] = within(most-least, 0, c.sh.BacklashSpreadMM, 2*math.Sqrt(2*(noise*noise+grad*grad/12)))
	}
	switch {
	case len(c.runout) > 0:
		n := c.runout[len(c.runout)-1]
		out["runout"] = within(n.of[0], 0, c.sh.RunoutMM, 2*n.std)
	case c.lacks(act.MeasureRunout):
		out["runout"] = acceptance.NotApplicable
	}
	switch {
	case c.tight:
		out["caps"] = acceptance.Proved
	case !c.in:
		out["caps"] = acceptance.Open
	default:
		out["caps"] = c.no()
	}
	switch {
	case c.marks == "meet":
		out["match-marks"] = acceptance.Proved
	case c.marks == "wrong":
		out["match-marks"] = c.no()
	case c.lacks(act.InspectCaps):
		out["match-marks"] = acceptance.NotApplicable
	default:
		out["match-marks"] = acceptance.Open
	}
	if c.card.Family.Design.Entry == family.Spreader {
		out["housing-spread"] = is[!c.overwide]
		if c.overwide {
			out["housing-spread"] = acceptance.Contradicted
		}
	}
	return out
}
