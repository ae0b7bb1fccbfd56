package lessons_test

import (
	"errors"
	"fmt"
	"math"

	"shimwright/scenarios"
	"shimwright/scenarios/technician"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// A reader is a technician who has read the course and knows nothing else of the trade. It
// works a whole axle from its job card. Each thing that it does stands under a sentence of a
// lesson, which it quotes with by; the tests ask that the sentence is there. A figure that it
// uses is in the sentence, on the card, or was read on the axle. Lengths are in mm, torques in
// lb-in.
type reader struct {
	bench  technician.Bench
	card   scenarios.Card
	k      technician.Known
	sh     family.Sheet
	err    error
	why    string          // the sentence that is followed
	quotes map[string]bool // sentences followed so far
	said   []string        // acts with their sentences

	taller     float64 // the set-up bearing above the one that stays
	sealLbIn   float64
	byString   bool // the wrench is put aside
	compared   bool
	last       bool // reading of the pinion alone
	pinionLbIn float64
	totalLbIn  float64
	zeroMM     float64 // side total at zero end play, in shims or in notches of both adjusters
	zeroKnown  bool
	split      float64 // half of what the ring-gear side had more than the opposite side
	ringGear   float64 // side shims
	opposite   float64
	perTravel  float64
	lash       []float64
	runoutMM   float64
	patternAt  float64

	patternGood bool
	perThou     float64 // lb-in for a thousandth of preload shims
	gearsTrue   bool
	moved       float64 // of the ring gear since the last reading, + away
	packedFor   float64 // depth shim that the preload shims in hand go with
}

var errGivesUp = errors.New("the lessons do not say how to go on")

// by quotes the sentence of a lesson that is followed from here on.
func (r *reader) by(lesson, sentence string) {
	r.why = lesson + ": " + sentence
	r.quotes[r.why] = true
}

// do types a line at the bench.
func (r *reader) do(line string, args ...any) history.Step {
	if r.err != nil {
		return history.Step{}
	}
	line = fmt.Sprintf(line, args...)
	a, err := act.Parse(line, quantity.Inch)
	if err != nil {
		r.err = fmt.Errorf("%s (%s): %w", line, r.why, err)
		return history.Step{}
	}
	s, err := r.bench.Do(a)
	if err != nil {
		r.err = fmt.Errorf("%s (%s): %w", line, r.why, err)
		return history.Step{}
	}
	var shown string
	for _, rd := range s.Readings {
		shown += " | " + rd.Code()
	}
	for _, f := range s.Feels {
		shown += " ~ " + f.String()
	}
	r.said = append(r.said, line+shown+"  <- "+r.why)
	return s
}

func newReader(b technician.Bench, card scenarios.Card) *reader {
	return &reader{bench: b, card: card, k: card.Known, sh: card.Known.Sheet, quotes: map[string]bool{}, perTravel: 0.7}
}

func (r *reader) status() history.Status { return r.bench.Status() }
func (r *reader) design() family.Design  { return r.card.Family.Design }
func (r *reader) solid() bool            { return r.design().Preload == family.SolidSpacer }
func (r *reader) adjusters() bool        { return r.design().SideAdjust == family.BearingAdjusters }
func (r *reader) cage() bool             { return r.design().DepthShim == family.UnderCageFlange }

const thou = 0.0254

// size writes a shim as its shelf does.
func size(s family.Stock, mm float64) string {
	mm = s.Nearest(mm)
	if n := s.StepMM / thou; math.Abs(n-math.Round(n)) < 1e-6 {
		return fmt.Sprintf("%.4fin", mm/25.4)
	}
	return fmt.Sprintf("%.3fmm", mm)
}

// work does the whole job in the order of the course.
func (r *reader) work() error {
	r.by("check-again", "depth, mock-up with pattern and backlash, then the spacer. Pinion preload, side preload with backlash, runout, total torque, pattern.")
	r.inspect()
	r.depth()
	for range 3 {
		r.preload()
		r.sides(false)
		r.totalTorque()
		again := r.pattern()
		if r.err != nil || !again {
			break
		}
	}
	r.writeDown()
	return r.err
}

// inspect goes through the parts before they are built in.
func (r *reader) inspect() {
	r.by("inspect-first", "both carry the same match number, and the ring gear fits this case.")
	switch gears := r.do("inspect gears"); {
	case gears.Found(gauge.NumbersDiffer):
		r.by("matched-set", "Two different match numbers: stop. replace gears.")
		r.do("replace gears")
	case gears.Found(gauge.TagOfOtherCase):
		r.by("matched-set", "A ring gear for the other case height goes back with its pinion: replace gears.")
		r.do("replace gears")
	}
	r.by("inspect-first", "Roll the pinion in V-blocks: measure pinion-runout.")
	if r.do("measure pinion-runout").FirstMM() > r.sh.BacklashSpreadMM {
		r.by("runout", "A pinion that runs out by more than the spec lets backlash vary counts as bent")
		r.do("replace gears")
	}
	r.by("inspect-first", "each on its own side, right way up, witness marks in line.")
	r.caps(r.do("inspect caps"))
	r.by("inspect-first", "then inspect bearings")
	r.bearings()
	r.by("inspect-first", "The feeler must not enter, in three places.")
	switch cups := r.do("inspect cups"); {
	case cups.Found(gauge.CupTurns):
		r.by("reuse-or-replace", "A cup that has turned in its bore leaves a polished track. It gets a new pair of bearings")
		r.do("replace bearings")
	case cups.Found(gauge.CupGap):
		r.by("inspect-first", "If it does: seat cups or seat cones.")
		r.do("seat cups")
	}
	r.by("inspect-first", "The feeler must not enter, in three places.")
	if r.do("inspect cones").Found(gauge.ConeGap) {
		r.by("inspect-first", "If it does: seat cups or seat cones.")
		r.do("seat cones")
	}
	r.by("inspect-first", "inspect shim-seat and clean shim-seat.")
	seat := r.do("inspect shim-seat")
	r.do("clean shim-seat")
	if seat.Found(gauge.SlingerMissing) {
		r.by("seal-and-nut", "A missing slinger changes the depth as well: replace slinger.")
		r.do("replace slinger")
	}
	r.by("inspect-first", "inspect spacer, inspect seal and inspect bolts before they go in.")
	if !r.solid() && r.do("inspect spacer").Wrong() {
		r.by("crush-spacer", "new, full length, the one for this axle. If not: replace spacer, and the nut with it.")
		r.do("replace spacer")
	}
	if r.do("inspect seal").Wrong() {
		r.by("seal-and-nut", "A dry lip, or one turned under: replace seal.")
		r.do("replace seal")
	}
	if r.do("inspect bolts").Wrong() {
		r.by("ring-gear-bolts", "Bolts that fail either: clean ring-gear, which takes the gear off and ends with new bolts.")
		r.do("clean ring-gear")
	}
}

// caps puts right what is found under the bearing caps.
func (r *reader) caps(found history.Step) {
	if found.Found(gauge.CapsSwapped, gauge.CapReversed) {
		r.by("spread-and-caps", "If they do not meet: match caps.")
		r.do("match caps")
	}
	if found.Found(gauge.AdjusterCrooked) {
		r.by("bearing-adjusters", "An adjuster that stands crooked is started anew: match caps.")
		r.do("match caps")
	}
	if found.Found(gauge.SideCupCracked) {
		r.by("reuse-or-replace", "A cracked cup goes, whatever it reads. On the case that is replace side-bearings")
		r.do("replace side-bearings")
	}
}

func (r *reader) bearings() {
	for range 3 {
		switch s := r.do("inspect bearings"); {
		case s.Found(gauge.BearingsGreased):
			r.by("rotating-torque", "Do not grease bearings before you read.")
			r.do("wash bearings")
		case s.Found(gauge.RollersGritty):
			r.by("inspect-first", "Bearings that grate are washed again.")
			r.do("wash bearings")
		case s.Found(gauge.RaceDented):
			r.by("reuse-or-replace", "Replace both: replace bearings.")
			r.do("replace bearings")
		default:
			return
		}
	}
}

// deeperByThicker is the sense of the depth shim.
func (r *reader) deeperByThicker() float64 {
	if r.cage() {
		r.by("depth-gauge", "Under a cage flange it takes a thinner one.")
		return -1
	}
	r.by("depth-gauge", "A pinion that stands too far out must go deeper. Under a cone or behind a cup that takes a thicker shim.")
	return 1
}

// firstShim is the depth shim that the marks lead to.
func (r *reader) firstShim() float64 {
	shim, old, now := r.k.OldDepthShim.MM(), r.k.OldMark.MM(), r.k.NewMark.MM()
	switch r.card.Family.Code {
	case "JUNIPER":
		r.by("depth-mark", "JUNIPER has no marks: start from its old shim.")
	case "BEECH":
		r.by("depth-mark", "| adds shim | BEECH | shim - old + new |")
		shim += now - old
	case "DOGWOOD", "ELM", "IRONBARK":
		r.by("depth-mark", "| means thicker cage shim | DOGWOOD, ELM, IRONBARK | shim - old + new |")
		shim += now - old
	default:
		r.by("depth-mark", "| takes shim away | ALDER, CEDAR, FIR, GORSE, HAZEL | shim + old - new |")
		shim += old - now
	}
	return shim
}

// takeShim takes a depth shim that measures as wanted.
func (r *reader) takeShim(wanted float64) {
	stock := r.sh.DepthShims
	r.do("fit depth-shim %s", size(stock, wanted))
	r.by("depth-mark", "measure depth-shim with the micrometer: a stamp on a shim can be off.")
	if off := r.do("measure depth-shim").FirstMM() - stock.Nearest(wanted); math.Abs(off) > stock.StepMM/2 {
		r.by("depth-mark", "What the micrometer says is the shim: take one that measures right.")
		r.do("fit depth-shim %s", size(stock, wanted-off))
	}
}

// wantedDistance is what the gauge should show.
func (r *reader) wantedDistance() float64 {
	mark := r.k.NewMark.MM()
	switch r.card.Family.Code {
	case "BEECH":
		r.by("depth-gauge", "Plus adds shim here, so a plus asks for that much less distance.")
		return r.sh.CheckingDistanceMM - mark
	case "JUNIPER":
		return r.sh.CheckingDistanceMM
	}
	r.by("depth-gauge", "Where a plus takes shim away, or means a thicker cage shim, it asks for that much more distance.")
	return r.sh.CheckingDistanceMM + mark
}

// depth finds the depth shim in mock-ups, with gauge and pattern. It leaves the pinion out.
func (r *reader) depth() {
	r.by("depth-gauge", "the set-up bearing against the one that stays.")
	r.taller = r.do("measure bearings").FirstMM()
	r.by("depth-gauge", "test gauge on its block.")
	r.do("test gauge")
	r.takeShim(r.firstShim())
	const mockUps = 6
	for range mockUps {
		r.by("mock-up", "fit pinion mock-up, turn pinion 5, measure depth.")
		r.do("fit pinion mock-up")
		r.do("turn pinion 5")
		tooFarOut := r.do("measure depth").FirstMM() + r.taller - r.wantedDistance()
		sense := r.deeperByThicker()
		r.by("depth-gauge", "Reading minus wanted distance, corrected for the bearing. Change the shim by all of it, to the nearest size.")
		if next := r.sh.DepthShims.Nearest(r.status().DepthShim.MM() + sense*tooFarOut); r.sh.Marks.Known() && math.Abs(tooFarOut) > r.sh.DepthToleranceMM/2 && math.Abs(next-r.status().DepthShim.MM()) > 1e-6 {
			r.do("remove pinion")
			r.fitShim(next)
			continue
		}
		r.by("depth-gauge", "Off by no more than 50 % of what the sheet allows? Leave it: two builds on one shim differ by nearly as much. Then make a pattern: it must agree.")
		r.sides(true)
		if !r.gearsStay() {
			continue
		}
		tooHigh := r.readPattern() + r.taller/thou*r.climb()
		r.by("mock-up", "remove case, remove pinion, new shim, and once through again.")
		r.do("remove case")
		r.do("remove pinion")
		if r.err != nil || math.Abs(tooHigh) <= r.allowed() {
			return
		}
		r.fitShim(r.status().DepthShim.MM() + sense*r.byPattern(tooHigh))
	}
}

// fitShim fits another depth shim; preload shims follow a shim behind the cup later.
func (r *reader) fitShim(mm float64) {
	r.by("depth-gauge", "Change all of it in one go.")
	r.do("fit depth-shim %s", size(r.sh.DepthShims, mm))
}

// gearsStay tells whether the pinion of the mock-up is still in: a gear set that is rejected
// takes it out.
func (r *reader) gearsStay() bool { return r.status().Pinion != history.PinionOut }

// climb is how far the pattern climbs for a thousandth that the pinion stands too far out,
// share of the tooth.
func (r *reader) climb() float64 {
	switch r.card.Family.Code {
	case "ALDER", "JUNIPER":
		r.by("depth-height", "| ALDER, JUNIPER | 0.018 |")
		return 0.018
	case "BEECH", "CEDAR", "FIR", "GORSE":
		r.by("depth-height", "| BEECH, CEDAR, FIR, GORSE | 0.014 |")
		return 0.014
	case "ELM", "IRONBARK":
		r.by("depth-height", "| ELM, IRONBARK | 0.009 |")
		return 0.009
	}
	r.by("depth-height", "| DOGWOOD, HAZEL | 0.011 |")
	return 0.011
}

// allowed is how far from its middle a pattern may stand, share of the tooth.
func (r *reader) allowed() float64 {
	if r.sh.Marks.Known() {
		return r.sh.PatternHeight.Half()
	}
	r.by("depth-mark", "The gauge cannot know a pinion that carries no mark, so there the pattern decides, and it should lie well inside its spec.")
	return 0.6 * r.sh.PatternHeight.Half()
}

// byPattern is how far the pinion goes in for a pattern that stands too high by a share of the
// tooth, on an axle whose gauge finds the depth right.
func (r *reader) byPattern(tooHigh float64) float64 {
	all := tooHigh / r.climb() * thou
	if !r.sh.Marks.Known() {
		r.by("depth-mark", "The gauge cannot know a pinion that carries no mark, so there the pattern decides, and it should lie well inside its spec.")
		return all
	}
	r.by("mock-up", "Both proved and still apart? Move the pinion by 50 % of what the pattern asks.")
	return all / 2
}

// preload sets the pinion bearing preload in the final assembly.
func (r *reader) preload() {
	if r.solid() {
		r.preloadShims()
	} else {
		r.crush()
	}
}

// spec is the pinion's rotating torque as the sheet has it for these bearings, without seal.
func (r *reader) spec() (low, high float64) {
	s := r.sh.PinionTorque(r.card.UsedBearings)
	r.by("reuse-or-replace", "So the spec follows the part.")
	return lbIn(s.LowNmm), lbIn(s.HighNmm)
}

// readSeal reads what the seal takes while the bearings are loose.
func (r *reader) readSeal() {
	r.by("rotating-torque", "turn pinion 5, some turns each way.")
	r.do("turn pinion 5")
	r.by("seal-and-nut", "Nut still loose: measure torque rotating wrench. That is the seal.")
	r.sealLbIn = r.readTorque()
	low, high := lbIn(r.sh.SealDrag.LowNmm), lbIn(r.sh.SealDrag.HighNmm)
	if r.sealLbIn > 1.5*high {
		r.by("seal-and-nut", "If the bearings are not loose, take the middle of the sheet's figure for the seal.")
		r.sealLbIn = (low + high) / 2
	}
	r.by("seal-and-nut", "A reading a little outside the sheet's range counts as the end of that range.")
	r.sealLbIn = math.Max(low, math.Min(high, r.sealLbIn))
}

// crush brings a pinion on a collapsible spacer into its specification.
func (r *reader) crush() {
	low, high := r.spec()
	for range 3 {
		r.by("crush-spacer", "75 % of the low figure on the sheet is a safe start: nothing is crushed yet.")
		r.do("fit pinion final")
		start := 0.75 * r.sh.NutLow.FootPounds()
		r.readSeal()
		r.by("crush-spacer", "75 % of the low figure on the sheet is a safe start: nothing is crushed yet.")
		r.do("tighten nut to %.0f lb-ft", start)
		aim := (low+high)/2 + r.sealLbIn
		last, perDegree, step := 0.0, 0.0, 15.0
		for range 60 {
			if r.err != nil {
				return
			}
			s := r.do("tighten nut %.1f deg", step)
			if s.Felt(history.PlentyOfEndPlay) {
				r.by("crush-spacer", "tighten nut 15 deg, and again.")
				step = 15
				continue
			}
			if s.Felt(history.TraceOfEndPlay) {
				r.by("crush-spacer", "From the last trace of play on, small steps.")
				step = 5
				continue
			}
			r.by("crush-spacer", "turn pinion 5, measure torque rotating wrench, after every step.")
			r.do("turn pinion 5")
			r.pinionLbIn = r.readTorque()
			r.by("crush-spacer", "Aim at the middle. If the seal is in, add what the seal takes")
			if r.pinionLbIn >= aim-(high-low)/8 {
				if r.readAfresh(); r.pinionLbIn >= low+r.sealLbIn {
					break
				}
			}
			r.by("crush-spacer", "tighten nut 5 deg or less. Work out what a degree gave and shrink the next step to suit.")
			if last > 0 && r.pinionLbIn > last {
				perDegree = (r.pinionLbIn - last) / step
			}
			last, step = r.pinionLbIn, 5
			if perDegree > 0 {
				step = math.Max(1, math.Min(step, (aim-r.pinionLbIn)/perDegree))
			}
		}
		if r.err != nil || r.pinionLbIn <= high+r.sealLbIn {
			return
		}
		r.by("crush-spacer", "Past the spec: remove pinion, replace spacer, new nut, start again.")
		r.do("remove pinion")
		r.do("replace spacer")
	}
}

// preloadShims finds the preload shims on a solid spacer.
func (r *reader) preloadShims() {
	stock := r.design().Solid.PreloadShims
	low, high := r.spec()
	r.by("solid-spacer", "Start from the old preload shims, rather thick than thin.")
	shims := r.k.OldPreloadShims.MM()
	from := r.k.OldDepthShim.MM()
	if st := r.status(); st.PreloadShims > 0 {
		shims, from = st.PreloadShims.MM(), r.packedFor
	}
	if r.design().DepthShim == family.BehindInnerCup {
		r.by("cup-shim", "New depth shim minus old depth shim, with its sign. Add that to the preload shims.")
		shims += r.status().DepthShim.MM() - from
	}
	r.packedFor = r.status().DepthShim.MM()
	lastShims, last := 0.0, 0.0
	tight, loose, best, bestOff := math.Inf(-1), math.Inf(1), 0.0, math.Inf(1)
	for i := range 9 {
		if r.err != nil {
			return
		}
		r.by("solid-spacer", "The nut goes to its torque and stays there.")
		r.do("fit preload-shims %s", size(stock, shims))
		shims = stock.Nearest(shims)
		r.do("fit pinion final")
		if i == 0 {
			r.readSeal()
		}
		r.by("solid-spacer", "The nut goes to its torque and stays there.")
		r.do("tighten nut to %.0f lb-ft", r.sh.NutMid().FootPounds())
		aim := (low+high)/2 + r.sealLbIn
		r.by("solid-spacer", "turn pinion 5. Does it rock? measure pinion-end-play.")
		next := 0.0
		if r.do("turn pinion 5").Felt(history.PinionRocks) {
			play := r.do("measure pinion-end-play").FirstMM()
			r.by("solid-spacer", "First step: take out the play of 0.003, and 0.002 more for a start on the preload")
			next = shims - play - 2*thou
			last, loose = 0, math.Min(loose, shims)
		} else {
			r.by("solid-spacer", "Without play, measure torque rotating wrench.")
			r.pinionLbIn = r.readTorque()
			if last > 0 && math.Abs(r.pinionLbIn-last) > 2 && lastShims != shims {
				r.by("solid-spacer", "Two torques on two shims give you that figure for this axle.")
				r.perThou = math.Abs((r.pinionLbIn - last) / (shims - lastShims) * thou)
			}
			lastShims, last = shims, r.pinionLbIn
			if r.perThou == 0 {
				r.perThou = r.usualPerThou()
			}
			r.by("solid-spacer", "The change you want, divided by what a thousandth is worth, is the change of the shims.")
			next = shims - (aim-r.pinionLbIn)/r.perThou*thou
			off := math.Abs(r.pinionLbIn - aim)
			r.by("solid-spacer", "In the middle 50 % of the spec, stop.")
			if off <= (high-low)/4 || off <= (high-low)/2 && (shims == best || math.Abs(stock.Nearest(next)-shims) < 1e-6) {
				if r.readAfresh(); math.Abs(r.pinionLbIn-aim) <= (high-low)/2 {
					return
				}
				next = shims - (aim-r.pinionLbIn)/r.perThou*thou
			}
			if off <= (high-low)/2 && off < bestOff {
				best, bestOff = shims, off
			}
			if r.pinionLbIn > aim {
				tight = math.Max(tight, shims)
			} else {
				loose = math.Min(loose, shims)
			}
		}
		if i == 8 {
			return
		}
		if next = stock.Nearest(next); next <= tight || next >= loose {
			r.by("solid-spacer", "One that rocks and one that is too tight: the right one lies between.")
			if next = (tight + loose) / 2; loose-tight < 1.5*stock.StepMM && best > 0 {
				next = best
			}
		}
		if math.Abs(stock.Nearest(next)-shims) < 1e-6 {
			next = shims + math.Copysign(stock.StepMM, r.pinionLbIn-aim)
		}
		shims = next
		r.do("remove pinion")
	}
}

// usualPerThou is what a thousandth of preload shims is worth before the axle has told.
func (r *reader) usualPerThou() float64 {
	share := 1.0
	if r.card.UsedBearings {
		r.by("solid-spacer", "Used bearings show around 50-60 % of that.")
		share = 0.55
	}
	r.by("solid-spacer", "0.001 in (0.03 mm) changes the torque by 8-10 lb-in (0.9-1.1 N·m) on CEDAR, FIR and HAZEL, by about 17 lb-in (1.9 N·m) on ELM, and by about 26 lb-in (2.9 N·m) on IRONBARK.")
	switch r.card.Family.Code {
	case "ELM":
		return 17 * share
	case "IRONBARK":
		return 26 * share
	}
	return 9 * share
}

// readTorque reads a rotating torque, and once compares two ways of reading it.
func (r *reader) readTorque() float64 {
	read := func(tool string) float64 {
		s := r.do("measure torque rotating %s", tool)
		for _, rd := range s.Readings {
			if rd.Kind == gauge.PinionTorque || rd.Kind == gauge.TotalTorque {
				return rd.MeanTorque().InchPounds()
			}
		}
		return math.NaN()
	}
	if r.byString {
		return read("string")
	}
	r.by("rotating-torque", "measure torque rotating wrench. Pull slowly through a full turn, and read while it moves.")
	wrench := read("wrench")
	r.by("trust-instruments", "Use it near the middle of its scale. At the bottom the errors are worst.")
	const tooLow = 9 // lb-in
	if r.compared || wrench < tooLow && !r.last {
		return wrench
	}
	r.by("trust-instruments", "test indicator, test string, test gauge.")
	r.do("test string")
	r.by("trust-instruments", "Early in the job, read one thing two ways: measure torque rotating wrench, then measure torque rotating string.")
	pull := read("string")
	r.by("trust-instruments", "Two sound ones may stand 12 % apart.")
	if math.Abs(wrench-pull) <= 0.12*(wrench+pull)/2 {
		r.compared = true
		return wrench
	}
	r.by("trust-instruments", "With no third at hand, believe the string once its radius is proved.")
	r.byString, r.compared = true, true
	return read("string")
}

// readAfresh takes the reading that goes on the build sheet.
func (r *reader) readAfresh() {
	r.by("rotating-torque", "The last reading is taken afresh: the one that made you stop is apt to be high.")
	low, high := r.spec()
	r.last = true
	for range 3 {
		if r.pinionLbIn = r.readTorque(); r.pinionLbIn >= low+r.sealLbIn && r.pinionLbIn <= high+r.sealLbIn {
			return
		}
	}
}

// sides puts the case in, finds the side total and moves the ring gear; rough is for a
// mock-up.
func (r *reader) sides(rough bool) {
	r.by("backlash-reading", "test indicator: tap the base. The needle must come back.")
	r.do("test indicator")
	if r.adjusters() {
		r.byAdjusters(rough)
	} else {
		r.bySideShims(rough)
	}
}

// fitCase puts the case in and torques the caps.
func (r *reader) fitCase() {
	if r.design().Entry == family.Spreader {
		r.by("spread-and-caps", "To drop in with a little room it takes the preload and 0.002 in (0.05 mm) more.")
		r.do("spread housing %.4fin", math.Min(r.sh.SidePreload.Mid()+2*thou, r.sh.SpreadLimitMM)/25.4)
	}
	r.do("fit case")
	r.by("spread-and-caps", "torque caps before any reading.")
	r.do("torque caps")
}

// findZero finds the side total at zero end play with loose shims.
func (r *reader) findZero() {
	r.by("teardown", "The old shims are your best starting point, but only if you know which side each came from.")
	stock := r.sh.SideShims
	ringGear, opposite := r.k.OldRingGearShim.MM(), r.k.OldOppositeShim.MM()
	r.split = (ringGear - opposite) / 2
	for range 4 {
		r.by("side-total", "For a first fit take shims that are surely loose: some 0.007 in (0.18 mm) thinner on each side than those that came out.")
		ringGear, opposite = stock.Nearest(ringGear-7*thou), stock.Nearest(opposite-7*thou)
		r.do("fit side-shims ring-gear %s opposite %s", size(stock, ringGear), size(stock, opposite))
		r.fitCase()
		r.by("side-total", "measure end-play. Rock the case sideways and read.")
		s := r.do("measure end-play")
		r.do("remove case")
		if r.err != nil {
			return
		}
		if play := s.FirstMM(); !s.Felt(history.CaseFast) && play > 0.5*thou {
			r.by("side-total", "Shims + end play = zero end play.")
			r.zeroMM, r.zeroKnown = ringGear+opposite+play, true
			return
		}
		r.by("side-total", "Use thinner shims until it shows play.")
	}
	r.err = errGivesUp
}

// bySideShims sets side preload and backlash with side shims.
func (r *reader) bySideShims(rough bool) {
	stock := r.sh.SideShims
	for range 9 {
		if !r.zeroKnown {
			r.findZero()
			r.by("side-total", "Add the preload. remove case, fit side-shims with the new total, fit case.")
			total := r.zeroMM + r.sh.SidePreload.Mid()
			r.ringGear = stock.Nearest(total/2 + r.split)
			r.opposite = stock.Nearest(total - r.ringGear)
		}
		if r.err != nil {
			return
		}
		r.by("side-total", "Add the preload. remove case, fit side-shims with the new total, fit case.")
		if r.status().CaseIn {
			r.do("remove case")
		}
		ringGear, opposite := r.ringGear, r.opposite
		r.do("fit side-shims ring-gear %s opposite %s", size(stock, ringGear), size(stock, opposite))
		r.fitCase()
		if !r.ringGearTrue() {
			if !r.gearsStay() {
				return
			}
			continue
		}
		away, done := r.readBacklash(rough)
		if done {
			return
		}
		r.by("side-shims", "Closer: thicker on the ring-gear side. Farther: thicker on the opposite side.")
		r.ringGear = stock.Nearest(ringGear - away)
		r.by("side-shims", "So what goes on one side comes off the other, and the total stays.")
		if r.opposite = stock.Nearest(ringGear + opposite - r.ringGear); math.Abs(r.ringGear-ringGear) < 1e-6 {
			return // no size on the shelf is nearer
		}
	}
}

// byAdjusters sets side preload and backlash by counting notches.
func (r *reader) byAdjusters(rough bool) {
	notch := r.design().Rings.NotchTravelMM()
	turn := func(which, way string, n float64) {
		if n = math.Round(2*n) / 2; n > 0 {
			r.do("turn %s-adjuster %s %g", which, way, n)
		}
	}
	for range 9 {
		if r.err != nil {
			return
		}
		r.by("bearing-adjusters", "fit case: both are run up until they just touch, with backlash left.")
		if !r.status().CaseIn {
			r.do("fit case")
		}
		sum := func() float64 { return (r.status().RingGearNotches + r.status().OppositeNotches) * notch }
		if !r.zeroKnown {
			r.by("bearing-adjusters", "measure end-play. Count from where the play ends.")
			for r.err == nil {
				s := r.do("measure end-play")
				if !s.Felt(history.CaseFast) && s.FirstMM() > 0.5*thou {
					r.zeroMM, r.zeroKnown = sum()+s.FirstMM(), true
					break
				}
				r.by("bearing-adjusters", "No play at all? Turn the opposite adjuster out until there is some.")
				turn("opposite", "out", 2)
			}
		}
		if in := math.Round(2*(r.zeroMM+r.sh.SidePreload.Mid()-sum())/notch) / 2; in > 0 {
			if r.status().CapsTight {
				r.by("bearing-adjusters", "To correct, loosen caps back to snug first.")
				r.do("loosen caps")
			}
			r.by("bearing-adjusters", "take out the play and go on for the preload. Turn the gear as you go.")
			gear := math.Ceil(in / 2)
			turn("ring-gear", "in", gear)
			turn("opposite", "in", in-gear)
		}
		r.by("bearing-adjusters", "torque caps. measure backlash 4 and measure torque rotating wrench again.")
		r.do("torque caps")
		if !r.ringGearTrue() {
			if !r.gearsStay() {
				return
			}
			continue
		}
		away, done := r.readBacklash(rough)
		n := math.Round(2*math.Abs(away)/notch) / 2
		if done || n == 0 {
			return
		}
		r.by("bearing-adjusters", "To correct, loosen caps back to snug first.")
		r.do("loosen caps")
		r.by("bearing-adjusters", "first one adjuster out, then the other in, the same count. End each move inward.")
		if away < 0 {
			turn("opposite", "out", n)
			turn("ring-gear", "in", n)
		} else {
			turn("ring-gear", "out", n)
			turn("opposite", "in", n)
		}
	}
}

// readBacklash reads backlash at four places and says how far the ring gear has to go away
// from the pinion. It is done when all four lie in the specification, or near it in a mock-up.
func (r *reader) readBacklash(rough bool) (away float64, done bool) {
	r.by("backlash-reading", "mount indicator heel square pinion-held.")
	if r.status().Indicator == nil {
		r.do("mount indicator heel square pinion-held")
	}
	r.by("backlash-reading", "measure backlash 4: 90 degrees apart")
	s := r.do("measure backlash 4")
	if r.err != nil {
		return 0, true
	}
	rd, _ := s.Reading(gauge.Backlash)
	mean, least, most := rd.Summary()
	if (most - least).MM() > r.sh.BacklashSpreadMM {
		r.by("backlash-reading", "Variation beyond its limit? Read the four once more.")
		rd, _ = r.do("measure backlash 4").Reading(gauge.Backlash)
		mean, least, most = rd.Summary()
	}
	if n := len(r.lash); n > 0 && math.Abs(r.moved) > 2*thou {
		r.by("side-shims", "After the first move you know your own axle.")
		if gave := (mean.MM() - r.lash[n-1]) / r.moved; gave > 0.5 && gave < 1 {
			r.perTravel = gave
		}
	}
	spec, slack := r.sh.Backlash, 0.0
	if rough {
		r.by("mock-up", "It need only be near the spec, within 0.003 in (0.08 mm)")
		slack = 3 * thou
	}
	r.lash = append(r.lash, mean.MM())
	r.by("backlash-reading", "The tightest must be above the low limit, the widest below the high one")
	if least.MM() >= spec.LowMM-slack && most.MM() <= spec.HighMM+slack {
		return 0, true
	}
	r.by("side-shims", "Aim so that the middle of your readings comes to the middle of the spec.")
	change := spec.Mid() - (least+most).MM()/2
	r.by("side-shims", "Divide the change by 0.7. That is the travel.")
	r.moved = change / r.perTravel
	return r.moved, false
}

// ringGearTrue reads the ring gear's runout and puts it right. It reports false where the
// case came out for that.
func (r *reader) ringGearTrue() bool {
	if r.gearsTrue || r.err != nil {
		return true
	}
	r.by("runout", "measure runout on the back face near the rim, no end play, one slow turn.")
	face := r.do("measure runout").FirstMM()
	r.by("runout", "measure radial-runout, indicator on the rim: a gear that sits off center.")
	rim := r.do("measure radial-runout").FirstMM()
	limit := r.sh.RunoutMM
	r.by("runout", "The limit of the back face serves for the rim as well")
	if face <= limit && rim <= limit {
		r.runoutMM, r.gearsTrue = face, true
		return true
	}
	r.do("remove case")
	r.lash = nil
	if face <= limit {
		r.by("runout", "Only the rim runs out: clean ring-gear, and draw the gear down evenly on its register.")
		r.do("clean ring-gear")
		return false
	}
	r.by("runout", "Back face not true: remove case, ring gear off, measure case-runout. The gear goes on a flat plate.")
	s := r.do("measure case-runout")
	switch bent, warped := s.FirstMM() > r.sh.CaseFlangeRunoutMM, s.Found(gauge.GearRocks); {
	case bent:
		r.by("runout", "The bare case flange is over its limit: replace case, and find the side total anew.")
		r.do("replace case")
		r.zeroKnown = false
		if !warped {
			break
		}
		fallthrough
	case warped:
		r.by("runout", "The gear rocks on the plate: replace gears. The pinion comes out with it, so begin again with its depth.")
		r.do("remove pinion")
		r.do("replace gears")
	default:
		r.by("runout", "Both true: clean ring-gear and bolt up.")
		r.do("clean ring-gear")
	}
	return false
}

// totalTorque reads the total and holds the rise against the sheet.
func (r *reader) totalTorque() {
	if r.err != nil {
		return
	}
	r.by("total-torque", "remove axle-shafts, brakes off, same oil, same seal state.")
	r.do("remove axle-shafts")
	r.by("total-torque", "measure torque rotating wrench again, for at least one full turn of the ring gear.")
	r.totalLbIn = r.readTorque()
	r.by("total-torque", "Rise = total minus pinion alone.")
	spec := r.sh.SideRise(r.card.UsedBearings)
	rise := r.totalLbIn - r.pinionLbIn
	for n := 0; n < 2 && (rise < lbIn(spec.LowNmm) || rise > lbIn(spec.HighNmm)); n++ {
		r.by("total-torque", "A rise just outside is read again, twice at most, pinion and all as they are.")
		r.totalLbIn = r.readTorque()
		rise = r.totalLbIn - r.pinionLbIn
	}
}

// readPattern makes a contact pattern and returns how far it stands too high, share of the
// tooth: the mean of drive and coast.
func (r *reader) readPattern() float64 {
	read := func() (drive, coast float64) {
		r.by("make-a-pattern", "Brush a thin even coat on both sides of about twelve teeth: paint teeth thin.")
		r.do("paint teeth thin")
		r.by("make-a-pattern", "roll gears braked: the painted teeth go through under load, one way and then the other.")
		rd, ok := r.do("roll gears braked").Reading(gauge.Pattern)
		if !ok {
			if r.err == nil {
				r.err = errGivesUp
			}
			return 0, 0
		}
		return rd.Patterns[0].CenterT, rd.Patterns[1].CenterT
	}
	mid, allowed := r.sh.PatternHeight.Mid(), r.allowed()
	const oneSide = 0.02 // that one side may lie farther out
	var drive, coast, at float64
	for n := 1.0; n <= 3; n++ {
		d, c := read()
		drive, coast = drive+(d-drive)/n, coast+(c-coast)/n
		at = (drive + coast) / 2
		if r.patternGood = math.Abs(at-mid) <= allowed && math.Max(math.Abs(drive-mid), math.Abs(coast-mid)) <= r.sh.PatternHeight.Half()+oneSide; r.patternGood {
			break
		}
		r.by("make-a-pattern", "A pattern just outside its spec, or with one side well outside, is made again, up to three times, and the mean of all counts.")
	}
	r.patternAt = at
	return at - mid
}

// pattern makes the last contact pattern. It reports true where the pinion had to come out
// again.
func (r *reader) pattern() (again bool) {
	if r.err != nil {
		return false
	}
	for n := range 4 {
		r.by("check-again", "Last of all the pattern, on drive and coast.")
		off := r.readPattern()
		if r.err != nil || r.patternGood || n == 3 {
			return false
		}
		was := r.status().DepthShim.MM()
		r.by("pattern-table", "Height first. Change depth, and set the backlash again.")
		next := was + r.deeperByThicker()*r.byPattern(off)
		r.do("remove case")
		if !r.cage() {
			r.do("remove pinion")
			r.fitShim(next)
			return true
		}
		r.by("cage-shim", "Bearings, cups and spacer all ride in the cage. A new shim moves none of them against each other, so the preload stays.")
		r.fitShim(next)
		r.sides(false)
		r.totalTorque()
	}
	return false
}

// writeDown fills in the build sheet and signs.
func (r *reader) writeDown() {
	if r.err != nil {
		return
	}
	r.by("check-again", "record each line")
	st := r.status()
	r.do("record depth-shim %s", size(r.sh.DepthShims, st.DepthShim.MM()))
	if r.solid() {
		r.do("record preload-shims %s", size(r.design().Solid.PreloadShims, st.PreloadShims.MM()))
	}
	if !r.adjusters() {
		r.do("record ring-gear-shim %s", size(r.sh.SideShims, st.RingGearShim.MM()))
		r.do("record opposite-shim %s", size(r.sh.SideShims, st.OppositeShim.MM()))
	}
	r.do("record pinion-torque %.1flb-in", r.pinionLbIn)
	r.do("record total-torque %.1flb-in", r.totalLbIn)
	r.by("check-again", "record backlash 0.0065in is the mean of the four, record pattern 0.50 the mean height of drive and coast.")
	if len(r.lash) > 0 {
		r.do("record backlash %.4fin", r.lash[len(r.lash)-1]/25.4)
	}
	r.do("record runout %.4fin", r.runoutMM/25.4)
	r.do("record pattern %.2f", r.patternAt)
	r.by("check-again", "sign off when no line is blank and each lies in its spec.")
	r.do("sign off")
}
