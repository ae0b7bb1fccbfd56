package grading

import (
	"cmp"
	"math"
	"slices"

	"shimwright/grading/cost"
	"shimwright/grading/inference"
	"shimwright/grading/ledger"
	"shimwright/scenarios"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// A Line is one act in the book of a job, in minutes. Before is what was still to be expected
// before it, Expected what was to be expected after it on what was known, After what it was
// after what the act really showed. The charges of all lines add up to what was spent and is
// still to be expected, less what the job was expected to take and less all luck.
type Line struct {
	Act      int     `json:"act"` // number of the act in the attempt
	Area     Area    `json:"area"`
	Spent    float64 `json:"spent"`
	Before   float64 `json:"before"`
	Expected float64 `json:"expected"`
	After    float64 `json:"after"`
	Charge   float64 `json:"charge"`
	Luck     float64 `json:"luck"`
}

// A Decision is an act that builds something or that cost more than it had to, with what was
// known when it was done.
type Decision struct {
	Act   int          `json:"act"` // number of the act in the attempt
	Did   string       `json:"did"` // as it is typed
	Form  act.Form     `json:"-"`
	Area  Area         `json:"area"`
	Knew  []Known      `json:"knew"`
	Means text.Message `json:"-"`
	Best  text.Message `json:"-"` // the cheapest act there; the zero Message where none is cheaper
	Lost  float64      `json:"minutes_lost"`
	Luck  float64      `json:"luck"`
	Score float64      `json:"score"`
	// Lesson is that on what it was about.
	Lesson string `json:"lesson"`

	advice string      // the cheapest act there, as it is typed
	about  ledger.Part // the part of the axle that its reason is about
	// inspected tells whether anything had been inspected by then.
	inspected bool
	// What it was weighed against, the cheapest first; none where nothing was cheaper.
	Alternatives []Alternative `json:"alternatives,omitempty"`
}

// An Alternative is one way that a decision could have gone, with the minutes that were still
// to be expected of it on what was known.
type Alternative struct {
	What    string  `json:"what"` // as it is typed
	Minutes float64 `json:"minutes"`
	Chosen  bool    `json:"chosen,omitempty"`
}

// Band names how much a decision lost.
func (d Decision) Band() string {
	switch {
	case d.Score >= 0.90:
		return "sound"
	case d.Score >= 0.60:
		return "small loss"
	case d.Score >= 0.30:
		return "large loss"
	}
	return "costly"
}

// BandOf names how much the dearest decision of an act lost; "" for an act without one.
func (r Report) BandOf(act int) string {
	band, lost := "", -1.0
	for _, d := range r.Decisions {
		if d.Act == act && d.Lost > lost {
			band, lost = d.Band(), d.Lost
		}
	}
	return band
}

// A Known is a reading that had been taken when a decision was made: the figure that counts,
// and the specification it stands against, where it has one. mm, or N·mm for a torque; a
// contact pattern's height is a share of the tooth.
type Known struct {
	Act     int        `json:"act"` // that gave it; 0: before the job was handed out
	Kind    gauge.Kind `json:"kind"`
	Read    float64    `json:"read"`
	Low     float64    `json:"low,omitempty"`
	High    float64    `json:"high,omitempty"`
	HasSpec bool       `json:"has_spec"`
	// Held says that the case did not move: what the dial showed is no end play.
	Held bool `json:"held,omitempty"`
	// Varies is by how much backlash differed between places, mm, where it was read at
	// several; Most is what it may.
	Varies float64 `json:"varies,omitempty"`
	Most   float64 `json:"varies_at_most,omitempty"`
	// Finding is what an inspection found wrong; there is no figure then.
	Finding gauge.Finding `json:"finding,omitempty"`
}

// arg is a figure of the reading as a value of a text.
func (k Known) arg(name string, v float64) text.Arg {
	switch k.Kind {
	case gauge.PinionTorque, gauge.TotalTorque:
		return text.Torque(name, quantity.Torque(v))
	case gauge.NutTorque, gauge.NutLoosening:
		return text.Fastener(name, quantity.Torque(v))
	case gauge.Pattern:
		return text.Number(name, v, 2)
	}
	return text.Length(name, quantity.Millimetres(v))
}

// Message says the reading.
func (k Known) Message() text.Message {
	read := text.Say("known.read", "{what} {read}", text.Of("what", k.Kind.Name()), k.arg("read", k.Read))
	switch {
	case k.Finding != gauge.NoFinding:
		read = k.Finding.Message()
	case k.Kind == gauge.SideShimSizes:
		read = text.Say("known.side-shims", "both side shims together measure {read}", k.arg("read", k.Read))
	case k.Kind == gauge.BearingHeights && k.Read < 0:
		read = text.Say("known.set-up-shorter", "the set-up bearing is {read} shorter than the bearing that stays", k.arg("read", -k.Read))
	case k.Kind == gauge.BearingHeights:
		read = text.Say("known.set-up-taller", "the set-up bearing is {read} taller than the bearing that stays", k.arg("read", k.Read))
	case k.Held:
		read = text.Say("known.held", "{what} none: the case did not move", text.Of("what", k.Kind.Name()))
	case k.Varies > 0:
		read = text.Say("known.varies", "{what} {read}, specification {low} to {high}, with {varies} between places ({most} at most)",
			text.Of("what", k.Kind.Name()), k.arg("read", k.Read), k.arg("low", k.Low), k.arg("high", k.High), k.arg("varies", k.Varies), k.arg("most", k.Most))
	case k.HasSpec:
		read = text.Say("known.against", "{what} {read}, specification {low} to {high}", text.Of("what", k.Kind.Name()), k.arg("read", k.Read), k.arg("low", k.Low), k.arg("high", k.High))
	}
	if k.Act == 0 {
		return text.Say("known.before", "{read} (before this job began)", text.Of("read", read))
	}
	return text.Say("known.at", "{read} (act {n})", text.Of("read", read), text.Count("n", k.Act))
}

// KnewMessage says all that was read of what a decision is about.
func (d Decision) KnewMessage() text.Message {
	switch {
	case len(d.Knew) > 0:
	case d.about != ledger.Looking:
		return text.Say("decision.nothing-read", "nothing had been read of it: only the job card")
	case d.inspected:
		return text.Say("decision.nothing-wrong", "what had been inspected was in order")
	default:
		return text.Say("decision.nothing-inspected", "nothing had been inspected yet: only the job card")
	}
	var all []text.Message
	for _, k := range d.Knew {
		all = append(all, k.Message())
	}
	return text.Say("decision.read", "{all}", text.All("all", all...))
}

// Since says what of that was read after an act.
func (d Decision) Since(act int) []text.Message {
	var out []text.Message
	for _, k := range d.Knew {
		if k.Act > act {
			out = append(out, k.Message())
		}
	}
	return out
}

// bookkeeper keeps the book of a job and picks its decisions.
type bookkeeper struct {
	*ledger.Ledger
	costs     cost.Table
	card      scenarios.Card
	state     *ledger.State
	value     ledger.Worth
	last      map[gauge.Kind]Known
	lines     []Line
	decisions []Decision
	areas     map[Area]float64
	found     map[fault.ID]Known // by the inspection that is for it
	wrong     []Known            // all that inspections found wrong
	inspected bool               // anything
	faults    []fault.Fault      // that an axle of the design can carry
	builtOn   quantity.Length    // depth shim of the last final assembly
}

func newBookkeeper(l *ledger.Ledger, costs cost.Table, card scenarios.Card) *bookkeeper {
	b := &bookkeeper{Ledger: l, costs: costs, card: card, state: l.Begin(), last: map[gauge.Kind]Known{}, areas: map[Area]float64{}, found: map[fault.ID]Known{}, faults: fault.For(card.Family.Design), builtOn: card.Known.OldDepthShim}
	b.value = l.Value(b.state)
	for _, o := range card.Before {
		b.know(0, o)
	}
	return b
}

// take enters a step.
func (b *bookkeeper) take(n int, o history.Step) {
	before := b.state.Clone()
	x := b.Enter(b.state, n, o, b.value)
	b.value = x.After
	var left fault.Fault
	var seen Known
	found := false
	if x.Charge() > smallMin {
		if left, found = b.Left(before, b.state); found {
			seen, found = b.found[left.ID] // what is only likely has not been found
		}
	}
	shares := b.shares(o, x)
	if found {
		shares = []share{{Looking, ledger.Looking, true, x.Charge()}}
	}
	b.lines = append(b.lines, Line{n, shares[0].area, hundredths(x.Spent), hundredths(x.Before.Min()), hundredths(x.Expected.Min()), hundredths(x.After.Min()),
		hundredths(x.Charge()), hundredths(x.Luck())})
	for i, share := range shares {
		b.areas[share.area] += share.min
		if !(builds(o.Act.Form) && i == 0 || share.min > smallMin) {
			continue
		}
		d := Decision{Act: n, Did: o.Act.String(), Form: o.Act.Form, Area: share.area, Knew: b.knew(share.part), Lost: hundredths(math.Max(share.min, 0)), about: share.part, inspected: b.inspected}
		d.Score = hundredths(scoreOf(b.costs, d.Lost))
		if i == 0 {
			d.Luck = hundredths(x.Luck())
		}
		if share.min > smallMin {
			if found {
				d.Knew = []Known{seen}
				d.Means = text.Say("decision.left", "{fault} had been found, and is out of reach from here on", text.Of("fault", left.Name))
				d.Best = text.Say("decision.first", "{acts} before this act", text.Of("acts", text.Verbatim(left.Cure.String())))
				d.weigh(left.Cure.String(), x, share)
			} else if share.part = b.explain(&d, before, o, x, share); b.toldAlready(d, share) {
				continue
			}
		}
		d.Lesson = b.lesson(before, o, share)
		if found && share.min > smallMin {
			d.Lesson = b.lessonOf(left)
		}
		b.decisions = append(b.decisions, d)
	}
	b.know(n, o)
	if o.Act.Form == act.FitPinion && o.After.Pinion == history.PinionFinal {
		b.builtOn = o.After.DepthShim
	}
}

// toldAlready adds a share of an act to one that has been told of it before, where the same is
// known and advised: nothing is told twice.
func (b *bookkeeper) toldAlready(d Decision, s share) bool {
	for i := len(b.decisions) - 1; i >= 0 && b.decisions[i].Act == d.Act; i-- {
		was := &b.decisions[i]
		if was.advice != d.advice || was.about != d.about || was.advice == "" {
			continue
		}
		was.Lost = hundredths(was.Lost + math.Max(s.min, 0))
		was.Score = hundredths(scoreOf(b.costs, was.Lost))
		for k := range was.Alternatives {
			if was.Alternatives[k].Chosen {
				was.Alternatives[k].Minutes = hundredths(was.Alternatives[k].Minutes + s.min)
			}
		}
		return true
	}
	return false
}

// A share is what of an act's charge belongs to a part of the axle.
type share struct {
	area Area
	part ledger.Part
	dear bool // that part of the value grew: it is not the act's own time alone
	min  float64
}

// shares divides what an act cost among what it made dear, the dearest first. What it took by
// itself belongs to its own part. Taking apart and signing are weighed as a whole.
func (b *bookkeeper) shares(o history.Step, x ledger.Line) []share {
	area, own := areaOf(o)
	charge := x.Charge()
	var parts []share
	sum := 0.0
	for p := range ledger.Part(ledger.Parts) {
		grew := x.Expected[p] - x.Before[p]
		s := share{[...]Area{ledger.Looking: Looking, ledger.Depth: Depth, ledger.Preload: Preload, ledger.Sides: Sides}[p], p, grew > smallMin, grew}
		if p == own {
			s.min += x.Spent
			if grew <= smallMin {
				s.area = area
			}
		}
		if s.min > smallMin/2 {
			parts, sum = append(parts, s), sum+s.min
		}
	}
	slices.SortStableFunc(parts, func(a, b share) int { return cmp.Compare(b.min, a.min) })
	if charge <= smallMin || len(parts) == 0 || area == Stopping {
		whole := share{area, own, false, charge}
		if len(parts) > 0 && area == Stopping {
			whole.part, whole.dear = parts[0].part, parts[0].dear
		}
		return []share{whole}
	}
	for i := range parts {
		parts[i].min *= charge / sum
	}
	return parts
}

// smallMin is the loss, in minutes, above which an act is looked into: a hair more than one, so
// that an act that takes one minute falls on the same side on every machine.
const smallMin = 1.0 + 1e-6

func scoreOf(costs cost.Table, lost float64) float64 {
	return math.Exp(-math.Max(0, lost-costs.AllowanceMin) / costs.FadeMin)
}

// builds tells whether an act settles something, so that it is a decision whatever it cost.
func builds(f act.Form) bool {
	switch f {
	case act.FitDepthShim, act.FitPreloadShims, act.FitPinion, act.TightenNutAngle, act.TightenNutTorque, act.FitSideShims, act.FitCase,
		act.TurnRingGearAdjuster, act.TurnOppositeAdjuster, act.SignOff:
		return true
	}
	return false
}

// areaOf is where an act belongs by itself.
func areaOf(o history.Step) (Area, ledger.Part) {
	switch o.Act.Form {
	case act.FitDepthShim, act.CleanShimSeat, act.SeatCups, act.ReplaceSlinger, act.ReplaceGears:
		return Depth, ledger.Depth
	case act.FitPinion:
		if o.After.Pinion == history.PinionMockUp {
			return Depth, ledger.Depth
		}
		return Preload, ledger.Preload
	case act.FitPreloadShims, act.TightenNutAngle, act.TightenNutTorque, act.LoosenNut, act.TurnPinion, act.WashBearings, act.GreaseBearings,
		act.ReplaceBearings, act.ReplaceSeal, act.ReplaceSpacer:
		return Preload, ledger.Preload
	case act.FitSideShims, act.SpreadHousing, act.FitCase, act.TurnRingGearAdjuster, act.TurnOppositeAdjuster, act.TorqueCaps, act.LoosenCaps,
		act.SeatCones, act.MatchCaps, act.CleanRingGear, act.ReplaceCase, act.ReplaceSideBearings:
		return Sides, ledger.Sides
	case act.SignOff:
		return Stopping, ledger.Looking
	case act.RemoveCase:
		return Stopping, ledger.Sides
	case act.RemovePinion:
		return Stopping, ledger.Preload
	case act.MeasureDepth, act.RollGears, act.MeasureDepthShim, act.MeasureBearings:
		return Looking, ledger.Depth
	case act.MeasureTorque, act.MeasurePinionEndPlay:
		return Looking, ledger.Preload
	case act.MeasureBacklash, act.MeasureEndPlay, act.MeasureSpread, act.MeasureRunout, act.MeasureRadialRunout, act.MountIndicator:
		return Looking, ledger.Sides
	}
	return Looking, ledger.Looking
}

// explain says what was known, what it meant, and what would have been cheaper: of the part
// of the axle that the cheaper act is about, which it returns.
func (b *bookkeeper) explain(d *Decision, before *ledger.State, o history.Step, x ledger.Line, s share) ledger.Part {
	next := b.Next(before)
	d.about = s.part
	missed := b.missed(before, o)
	apart := func(a act.Act) bool { return a.Form == act.RemoveCase || a.Form == act.RemovePinion }
	switch {
	case apart(next) && !apart(o.Act) && o.Act.Form != act.SignOff:
		if why := b.wrongest(before); !why.means.IsZero() {
			d.about, d.Knew = why.part, why.knew
			d.Means = text.Say("decision.on-top", "{why}; that is better put right first, and what is done on top of it will have to be done again", text.Of("why", why.means))
		}
	case s.part == ledger.Looking && len(missed) > 0:
		d.Means = text.Say("decision.passed-over", "not done yet, and out of reach from here on: {acts}", text.AllTyped("acts", typed(missed)...))
		d.Best = text.Say("decision.first", "{acts} before this act", text.AllTyped("acts", typed(missed)...))
		next = act.Act{Form: missed[0]}
	case s.area == Looking && !s.dear:
		d.Means = text.Say("decision.told-nothing", "it had been read or inspected already, and nothing had changed since that it could tell of")
	default:
		part := s.part
		if part != ledger.Looking {
			next = b.NextBuilding(before)
			part = aboutPart(next, part)
		}
		if swing(next.Form) {
			part = ledger.Sides
		}
		d.Knew, d.Means, d.about = b.knew(part), b.means(before, part), part
		if swing(next.Form) {
			d.Means = swings(before)
		}
	}
	if next.String() == o.Act.String() {
		return d.about
	}
	d.advice = next.String()
	if d.Best.IsZero() {
		d.Best = text.Verbatim(next.String())
	}
	d.weigh(next.String(), x, s)
	return d.about
}

// aboutPart is the part of the axle that an act is about; otherwise where it is about none.
func aboutPart(a act.Act, otherwise ledger.Part) ledger.Part {
	o := history.Step{Act: a}
	if slices.Contains(a.Choices, act.MockUp) {
		o.After.Pinion = history.PinionMockUp
	}
	area, part := areaOf(o)
	if area == Stopping || part == ledger.Looking {
		return otherwise
	}
	return part
}

// swing tells whether an act looks for, or puts right, what swings the ring gear.
func swing(f act.Form) bool {
	return f == act.MeasureCaseRunout || f == act.CleanRingGear || f == act.ReplaceCase
}

func swings(s *ledger.State) text.Message {
	return text.Say("means.runout", "the ring gear has too much runout, {chance} % sure", text.Number("chance", 100*s.Swings(), 0))
}

// A reason is what of an axle would rather be put right than left, and what it was read by.
type reason struct {
	part  ledger.Part
	knew  []Known
	means text.Message
	cost  float64 // expected to be lost were it left, minutes
}

// tieMin is how many minutes dearer a reason must be to be named before an earlier one. Where an
// axle is sure to come back for two reasons their costs differ in the last bit alone, and which
// one is greater there depends on the machine.
const tieMin = 0.1

// wrongest is what is likeliest to cost most were an axle left as it stands. It says nothing
// where nothing is worth putting right.
func (b *bookkeeper) wrongest(s *ledger.State) reason {
	sh := b.card.Family.Sheet
	var most reason
	offer := func(cost float64, part ledger.Part, knew []Known, means text.Message) {
		if cost > max(most.cost+tieMin, smallMin) {
			most = reason{part, knew, means, cost}
		}
	}
	if s.DepthShim > 0 && b.card.Kind != scenarios.PreloadJob {
		offer(b.costs.ComebackMin*s.DepthError().ComesBack(-s.DepthHalfMM(), s.DepthHalfMM()), ledger.Depth, b.knew(ledger.Depth), means(s, ledger.Depth))
	}
	if s.Status.Pinion == history.PinionFinal {
		spec := s.Spec()
		offer(b.costs.ComebackMin*s.Torque().ComesBack(spec.LowNmm, spec.HighNmm), ledger.Preload, b.knew(ledger.Preload), means(s, ledger.Preload))
	}
	if s.CaseIn {
		sides := s.Sides()
		offer(b.costs.ComebackMin*sides.Lash.ComesBack(sh.Backlash.LowMM, sh.Backlash.HighMM)+b.costs.SideComebackMin*sides.Fit.ComesBack(sh.SidePreload.LowMM, sh.SidePreload.HighMM),
			ledger.Sides, b.knew(ledger.Sides), means(s, ledger.Sides))
	}
	offer(b.costs.RunoutComebackMin*s.Swings(), ledger.Sides, b.knew(ledger.Sides), swings(s))
	for _, f := range b.faults {
		if k, ok := b.found[f.ID]; ok {
			offer(b.costs.LateMin(f.ID)*s.Risk(f.ID), ledger.Looking, []Known{k}, f.Name)
		}
	}
	return most
}

// weigh sets an act beside the cheapest one there.
func (d *Decision) weigh(best string, x ledger.Line, s share) {
	d.Alternatives = []Alternative{{best, hundredths(x.Before.Min()), false}, {d.Did, hundredths(x.Before.Min() + s.min), true}}
}

func typed(forms []act.Form) []string {
	out := make([]string, len(forms))
	for i, f := range forms {
		out[i] = f.String()
	}
	return out
}

// missed lists the inspections that an act has put out of reach.
func (b *bookkeeper) missed(before *ledger.State, o history.Step) []act.Form {
	after := b.Pending(b.state)
	var out []act.Form
	for _, f := range b.Pending(before) {
		if f != o.Act.Form && !slices.Contains(after, f) {
			out = append(out, f)
		}
	}
	return out
}

// means is what the readings meant for a part of the axle, and of faults whether any has been
// found.
func (b *bookkeeper) means(s *ledger.State, part ledger.Part) text.Message {
	if part != ledger.Looking {
		return means(s, part)
	}
	if len(b.wrong) == 0 {
		return text.Say("means.rates", "nothing had been found wrong; how often each fault is met stands on the job card")
	}
	return text.Say("means.faults", "what had been found wrong, and the fault rates on the job card")
}

// means is what the readings meant for depth, preload or sides.
func means(s *ledger.State, part ledger.Part) text.Message {
	mm := quantity.Millimetres
	switch part {
	case ledger.Depth:
		e := s.DepthError()
		if s.DepthShim == 0 {
			w := s.WantedShim()
			return text.Say("means.depth-wanted", "the right depth shim is about {want}, give or take {sd}", text.Length("want", mm(w.Mean)), text.Length("sd", mm(2*w.SD)))
		}
		return text.Say("means.depth", "the right depth shim is about {want}, give or take {sd}; {now} is in hand or in the axle",
			text.Length("want", mm(s.DepthShim.MM()+e.Mean)), text.Length("sd", mm(2*e.SD)), text.Length("now", s.DepthShim))
	case ledger.Preload:
		spec, law := s.Spec(), s.Torque()
		low, high := text.Torque("low", quantity.Torque(spec.LowNmm)), text.Torque("high", quantity.Torque(spec.HighNmm))
		if s.Status.Pinion != history.PinionFinal {
			return text.Say("means.preload-ahead", "the pinion's preload was still to be set: {low} to {high} for the bearings alone", low, high)
		}
		if law.Mean <= 0 {
			return text.Say("means.end-play", "the pinion still had end play; the specification is {low} to {high} for the bearings alone", low, high)
		}
		return text.Say("means.preload", "the pinion bearings alone take about {torque} to turn, give or take {sd}; their specification is {low} to {high}",
			text.Torque("torque", quantity.Torque(law.Mean)), text.Torque("sd", quantity.Torque(2*law.SD)), low, high)
	case ledger.Sides:
		return sidesMean(s.Sides())
	}
	return text.Message{}
}

func sidesMean(s inference.Sides) text.Message {
	mm := quantity.Millimetres
	fit := text.Say("means.side-preload", "{fit} of side bearing preload", text.Length("fit", mm(s.Fit.Mean)))
	if s.Fit.Mean < 0 {
		fit = text.Say("means.side-play", "{fit} of side bearing end play", text.Length("fit", mm(-s.Fit.Mean)))
	}
	return text.Say("means.sides", "about {lash} of backlash, give or take {lashsd}, and {fit}, give or take {fitsd}",
		text.Length("lash", mm(math.Max(s.Lash.Mean, 0))), text.Length("lashsd", mm(2*s.Lash.SD)), text.Of("fit", fit), text.Length("fitsd", mm(2*s.Fit.SD)))
}

// know keeps the last reading of each kind.
func (b *bookkeeper) know(n int, o history.Step) {
	const sure = 0.9
	for _, f := range b.faults {
		if f.Test != o.Act.Form || b.state.Risk(f.ID) < sure {
			continue
		}
		for _, r := range o.Readings {
			if r.Wrong() {
				b.found[f.ID] = Known{Act: n, Kind: r.Kind, Finding: r.Finding}
			}
		}
	}
	sh, torque := b.card.Family.Sheet, b.card.Known.PinionTorqueSpec()
	for _, r := range o.Readings {
		if r.Finding != gauge.NoFinding && r.Kind <= gauge.GearFlatness {
			b.inspected = true
			if r.Wrong() {
				b.wrong = append(b.wrong, Known{Act: n, Kind: r.Kind, Finding: r.Finding})
			}
		}
		k := Known{Act: n, Kind: r.Kind}
		spec := func(read, low, high float64) { k.Read, k.Low, k.High, k.HasSpec = read, low, high, true }
		first := func() float64 {
			if len(r.Lengths) == 0 {
				return 0
			}
			return r.Lengths[0].MM()
		}
		switch r.Kind {
		case gauge.Depth:
			want := b.card.Known.WantedDistance().MM()
			spec(first(), want-sh.DepthToleranceMM, want+sh.DepthToleranceMM)
		case gauge.Pattern:
			sum := 0.0
			for _, p := range r.Patterns {
				sum += p.CenterT / float64(len(r.Patterns))
			}
			spec(sum, sh.PatternHeight.LowMM, sh.PatternHeight.HighMM)
		case gauge.PinionTorque:
			spec(r.MeanTorque().Nmm(), torque.LowNmm, torque.HighNmm)
		case gauge.TotalTorque:
			k.Read = r.MeanTorque().Nmm()
		case gauge.NutTorque:
			k.Read = r.MeanTorque().Nmm()
			if b.card.Family.Design.Preload == family.SolidSpacer {
				spec(k.Read, sh.NutLow.Nmm(), sh.NutHigh.Nmm())
			}
		case gauge.Backlash:
			mean, least, most := r.Summary()
			spec(mean.MM(), sh.Backlash.LowMM, sh.Backlash.HighMM)
			if len(r.Lengths) > 1 {
				k.Varies, k.Most = (most - least).MM(), sh.BacklashSpreadMM
			}
		case gauge.Runout, gauge.RadialRunout:
			spec(first(), 0, sh.RunoutMM)
		case gauge.SideShimSizes:
			for _, l := range r.Lengths {
				k.Read += l.MM()
			}
		case gauge.NutLoosening:
			k.Read = r.MeanTorque().Nmm()
		case gauge.CaseEndPlay:
			k.Read, k.Held = first(), o.Felt(history.CaseFast)
		case gauge.HousingSpread, gauge.PinionEndPlay, gauge.DepthShimSize, gauge.BearingHeights, gauge.CaseRunout:
			k.Read = first()
		default:
			continue
		}
		b.last[r.Kind] = k
	}
}

// knew lists what had been read of a part, in the order of the acts.
func (b *bookkeeper) knew(part ledger.Part) []Known {
	var kinds []gauge.Kind
	switch part {
	case ledger.Looking:
		return append([]Known{}, b.wrong...)
	case ledger.Depth:
		kinds = []gauge.Kind{gauge.BearingHeights, gauge.DepthShimSize, gauge.Depth, gauge.Pattern}
	case ledger.Preload:
		kinds = []gauge.Kind{gauge.NutTorque, gauge.NutLoosening, gauge.PinionEndPlay, gauge.PinionTorque}
	case ledger.Sides:
		kinds = []gauge.Kind{gauge.SideShimSizes, gauge.CaseEndPlay, gauge.HousingSpread, gauge.CaseRunout, gauge.Runout, gauge.RadialRunout, gauge.Backlash, gauge.TotalTorque}
	}
	out := []Known{}
	for _, k := range kinds {
		if r, ok := b.last[k]; ok {
			out = append(out, r)
		}
	}
	slices.SortStableFunc(out, func(x, y Known) int { return x.Act - y.Act })
	return out
}

// lesson is the lesson on what a decision was about.
func (b *bookkeeper) lesson(before *ledger.State, o history.Step, s share) string {
	d := b.card.Family.Design
	sides := "side-shims"
	if d.SideAdjust == family.BearingAdjusters {
		sides = "bearing-adjusters"
	}
	preload := "crush-spacer"
	if d.Preload == family.SolidSpacer {
		preload = "solid-spacer"
	}
	switch o.Act.Form {
	case act.TestIndicator, act.TestString, act.TestGauge, act.MeasureDepthShim, act.MeasureBearings, act.MeasureSideShims:
		return "trust-instruments"
	case act.MeasureDepth:
		return "depth-gauge"
	case act.RollGears, act.PaintTeeth:
		return "depth-height"
	case act.MeasureBacklash, act.MountIndicator:
		return "backlash-reading"
	case act.MeasureTorque, act.TurnPinion:
		return "rotating-torque"
	case act.MeasureEndPlay, act.MeasureSpread:
		return sides
	case act.MeasureRunout, act.MeasureRadialRunout, act.MeasureCaseRunout, act.CleanRingGear, act.ReplaceCase:
		return "runout"
	case act.SpreadHousing, act.MatchCaps:
		return "spread-and-caps"
	case act.RemoveCase, act.RemovePinion:
		return "check-again"
	}
	if s.area == Looking || s.dear && s.part == ledger.Looking {
		if o.Act.Form == act.SignOff {
			return "check-again"
		}
		return "inspect-first"
	}
	if d.DepthShim == family.BehindInnerCup && (o.Act.Form == act.FitPreloadShims || o.Act.Form == act.FitPinion) &&
		(s.part == ledger.Preload || s.part == ledger.Depth) && b.followedWrong(before) {
		return "cup-shim"
	}
	switch s.part {
	case ledger.Depth:
		_, gauged := b.last[gauge.Depth]
		_, rolled := b.last[gauge.Pattern]
		switch {
		case d.DepthShim == family.UnderCageFlange && before.Status.Pinion != history.PinionOut:
			return "cage-shim"
		case rolled:
			return "depth-height"
		case !gauged && b.card.Family.Sheet.Marks.Known() && o.Act.Form != act.FitPinion:
			return "depth-mark"
		}
		return "depth-gauge"
	case ledger.Preload:
		if o.Act.Form == act.TightenNutAngle && d.Preload == family.SolidSpacer {
			return "preload-design"
		}
		return preload
	}
	lash, read := b.last[gauge.Backlash]
	switch {
	case !before.CapsTight && o.Act.Form == act.SignOff:
		return "spread-and-caps"
	case before.Swings() > 0.5:
		return "runout"
	case read && b.card.UsedGears && b.card.NewBacklash.Holds(lash.Read) && !b.card.Family.Sheet.Backlash.Holds(lash.Read):
		return "used-gears"
	case o.Act.Form == act.SignOff && !read:
		return "backlash-reading"
	case o.Act.Form == act.SignOff:
		return "total-torque"
	}
	return sides
}

// followedWrong tells preload shims that did not follow their depth shim behind the cup, or
// followed it the wrong way, from those that are wrong by themselves: they would have been
// nearer right with the depth shim that was in before.
func (b *bookkeeper) followedWrong(s *ledger.State) bool {
	const nearer = 0.6 // a wrong way leaves one part in two, and sizes come in steps
	off := s.PreloadShims.MM() - b.BestPreloadShims(s)
	moved := (s.DepthShim - b.builtOn).MM()
	return math.Abs(off+moved) < nearer*math.Abs(off)
}

// lessonOf is a fault's lesson on this axle.
func (b *bookkeeper) lessonOf(f fault.Fault) string {
	if f.Lesson == "side-shims" && b.card.Family.Design.SideAdjust == family.BearingAdjusters {
		return "bearing-adjusters"
	}
	return f.Lesson
}
