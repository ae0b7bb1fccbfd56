package inference

import (
	"maps"
	"math"

	"shimwright/grading/belief"
	"shimwright/grading/cost"
	"shimwright/scenarios"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
)

// A Law is what is believed of a quantity: mean and standard deviation, and where it was
// asked for the normal laws that it is made of. mm, or N·mm for a torque.
type Law struct {
	Mean, SD float64
	laws     []belief.Chance
}

// Outside is the chance that the quantity lies outside of two limits.
func (l Law) Outside(low, high float64) float64 {
	if l.laws == nil {
		return Outside(l.Mean, l.SD, low, high)
	}
	return max(belief.Below(l.laws, low)+1-belief.Below(l.laws, high), 0)
}

// ComesBack is the mean chance that an axle comes back for the quantity, by cost.ComesBack.
func (l Law) ComesBack(low, high float64) float64 {
	mid, half := (low+high)/2, (high-low)/2
	if l.laws == nil {
		return ComesBack(l.Mean-mid, l.SD, half)
	}
	sum := 0.0
	for _, n := range l.laws {
		sum += float64(n.Weight * ComesBack(n.Mean-mid, n.SD, half))
	}
	return sum
}

// ComesBack is the mean of cost.ComesBack over a normal distance from the middle of a spec.
func ComesBack(mean, sd, half float64) float64 {
	if sd <= 0 {
		return cost.ComesBack(mean, half)
	}
	width := cost.SureBeyond * half
	return (beyond(mean-half, sd) - beyond(mean-half-width, sd) + beyond(-mean-half, sd) - beyond(-mean-half-width, sd)) / width
}

// beyond is the mean of what a normal quantity is above zero.
func beyond(mean, sd float64) float64 {
	const far = 5.0
	z := mean / sd
	switch {
	case z < -far:
		return 0
	case z > far:
		return mean
	}
	return sd * (math.Exp(float64(-z*z/2))/math.Sqrt(2*math.Pi) + float64(z*belief.Cumulative(z)))
}

// Below is the chance that the quantity is below x.
func (l Law) Below(x float64) float64 {
	if l.laws == nil {
		return Outside(l.Mean, l.SD, x, math.Inf(1))
	}
	return belief.Below(l.laws, x)
}

// Outside is the chance that a normal quantity lies outside of two limits.
func Outside(mean, sd, low, high float64) float64 {
	if sd <= 0 {
		if mean < low || mean > high {
			return 1
		}
		return 0
	}
	return tail((low-mean)/sd) + tail((mean-high)/sd)
}

// tail is the chance of a normal quantity below z standard deviations, without working out
// what is less than 1e-12 away from none or all.
func tail(z float64) float64 {
	const far = 7.1
	switch {
	case z < -far:
		return 0
	case z > far:
		return 1
	}
	return belief.Cumulative(z)
}

// A Learned is what one more reading would leave unknown of a quantity, and how far it is
// expected to move what is believed, both as standard deviations.
type Learned struct{ Left, Shift float64 }

func (t *Tracker) gaussian(h belief.Look, c float64) Law {
	mean, sd := t.b.Of(h)
	return Law{Mean: mean + c, SD: sd}
}

func (t *Tracker) whole(h belief.Look, c float64) Law {
	l := t.gaussian(h, c)
	l.laws = t.b.Chances(h, 0)
	for i := range l.laws {
		l.laws[i].Mean += c
		l.laws[i].SD = math.Max(l.laws[i].SD, 1e-9)
	}
	return l
}

func (t *Tracker) learned(want, reading belief.Look, noise float64) Learned {
	left, shift := t.b.Narrowed(want, reading, noise)
	return Learned{left, shift}
}

// Risk is the chance that a fault is still in the axle.
func (t *Tracker) Risk(id fault.ID) float64 { return t.risk[id] }

// Swings is the chance that something swings the ring gear's back face.
func (t *Tracker) Swings() float64 { return min(t.anyOf(swingers()), 1) }

// LoosenedBefore is the chance that the previous technician backed the pinion nut off.
func (t *Tracker) LoosenedBefore() float64 { return t.loosened }

// Opened tells whether the pinion of the previous technician has been out.
func (t *Tracker) Opened() bool { return t.opened }

// WantedShim is the depth shim that would be right by its marking, with the pinion in its
// finished preload: on a job that ends with a contact pattern the one that puts the pattern in
// the middle of its spec, which outranks the depth.
func (t *Tracker) WantedShim() Law { return t.gaussian(t.goalShim(), 0) }

// goalShim is WantedShim as a look.
func (t *Tracker) goalShim() belief.Look {
	if !t.card.Kind.WholeAxle() {
		return t.wantedShim()
	}
	return t.wantedShim().Plus(t.deeper()/t.gains.PatternHeightPerPinion, belief.Look{patternRow: 1})
}

// DepthHalfMM is how far the depth shim may be from the wanted one: half of the pattern's spec
// as depth, or the tolerance of the depth on a job without a pattern.
func (t *Tracker) DepthHalfMM() float64 {
	if !t.card.Kind.WholeAxle() {
		return t.sheet.DepthToleranceMM
	}
	return t.sheet.PatternHeight.Half() / t.gains.PatternHeightPerPinion
}

// finishedMM is what the finished preload lets the pinion out, as depth shim.
func (t *Tracker) finishedMM() float64 {
	was := t.Status.Pinion
	t.Status.Pinion = history.PinionOut
	defer func() { t.Status.Pinion = was }()
	return t.deeper() * t.givenMM()
}

// DepthError is how much thicker the depth shim in the axle, or in hand, ought to be, once
// the pinion has its preload.
func (t *Tracker) DepthError() Law {
	given := t.deeper() * t.givenMM()
	if m, _ := t.torque(); t.Pinion != history.PinionFinal || !t.CaseIn && (m < t.spec().LowNmm || m > t.spec().HighNmm) {
		given = t.finishedMM() // its preload is still to come
	}
	return t.whole(t.goalShim(), given-t.depthShim)
}

// ByGauge is what one reading of the depth gauge in a mock-up, or in a final assembly, would
// leave unknown of the right depth shim; ByPattern one contact pattern, read braked.
func (t *Tracker) ByGauge(mockUp bool) Learned {
	c, _ := gauge.ClassOf(gauge.DepthGauge)
	h, _, noise := t.depthLookIn(mockUp, ownNoise(c))
	return t.learned(t.goalShim(), h, noise)
}

// ByPattern is what one contact pattern of both sides, thin and braked, would leave unknown
// of the right depth shim.
func (t *Tracker) ByPattern() Learned {
	h, _, eye := t.patternLook(gauge.Method{Coat: act.Thin, Load: act.Braked}, 2)
	return t.learned(t.goalShim(), h, eye)
}

// Torque is the rotating torque of the pinion bearings alone, N·mm; below none it is how far
// the nut has to go to the end of the play.
func (t *Tracker) Torque() Law {
	h, c := t.torqueLook()
	return t.whole(h, c)
}

// TorqueWith is what preload shims of a marked size would give in a final assembly.
func (t *Tracker) TorqueWith(shimsMM float64) Law {
	was, in := t.shims, t.Status.Pinion
	t.shims, t.Status.Pinion = shimsMM, history.PinionFinal
	defer func() { t.shims, t.Status.Pinion = was, in }()
	h, c := t.torqueLook()
	return t.gaussian(h, c)
}

// NoPlay is the torque at which the pinion is believed to lose its end play, N·mm.
func (t *Tracker) NoPlay() float64 { return t.noPlay() }

// ByWrench is what one reading of the low-range wrench would leave unknown of the torque.
func (t *Tracker) ByWrench(torqueNmm float64) Learned {
	if t.Pinion != history.PinionFinal && t.solid() {
		in := *t
		in.Status.Pinion = history.PinionFinal
		t = &in
	}
	class, _ := gauge.ClassOf(gauge.LowRangeWrench)
	rd := gauge.Reading{Kind: gauge.PinionTorque, Tool: gauge.LowRangeWrench, Method: gauge.Method{Pull: act.Rotating},
		StdNmm: class.StandardUncertainty(math.Max(torqueNmm, 0), 1)}
	h, _, noise := t.torqueReadLook(rd, math.Max(torqueNmm, 0))
	want, _ := t.torqueLook()
	return t.learned(want, h, noise)
}

// Sides is what is believed of backlash and side preload, mm, as the side shims or adjusters
// stand and for any others: a shim thicker by 1 mm on the ring-gear side takes PerTravel/2 of
// backlash away, one on the opposite side adds as much, and either adds 1 mm of preload.
type Sides struct {
	Lash, Fit       Law // as they stand
	ByIndicator     Learned
	ByTotal         Learned
	PerTravel       float64
	RingGear, Other float64 // as they stand, mm
	BothSD          float64 // of the backlash where the fit is known
}

// BySpread is what one reading of the housing's spread would leave unknown of the side
// preload, were its spread as given, mm.
func (t *Tracker) BySpread(fitSD float64) Learned {
	mid := t.sheet.SidePreload.Mid()
	noise := math.Hypot(ownNoiseOf(gauge.DialIndicator), mid*t.gains.SpreadPerFitSD) / t.gains.SpreadPerFit
	shift := fitSD * fitSD / math.Hypot(fitSD, noise)
	return Learned{math.Sqrt(math.Max(sq(fitSD)-shift*shift, 0)), shift}
}

// Assuming returns the tracker were some faults known not to be there: only to be asked.
func (t *Tracker) Assuming(absent ...fault.ID) *Tracker {
	c := *t
	c.risk = maps.Clone(t.risk)
	var off []belief.Switch
	for _, id := range absent {
		c.risk[id] = 0
		if s, may := t.may[id]; may && t.risk[id] < 0.5 { // what is known to be there stays in what it shifts
			off = append(off, s)
		}
	}
	if m, ok := t.b.(*belief.Mixture); ok && len(off) > 0 {
		c.b = m.Without(off...)
	}
	return &c
}

// HeightsRead returns the tracker were the set-up bearing measured against the bearing that
// stays: only to be asked. It is the tracker itself where a reading would hardly tell more.
func (t *Tracker) HeightsRead() *Tracker {
	noise := ownNoiseOf(gauge.Micrometer)
	if t.b.SD(tallRow) < 3*noise {
		return t
	}
	c := t.Clone()
	c.b.Set(tallRow, 0, noise)
	return c
}

// usualPlaces are the places round the ring gear of a good backlash reading.
const usualPlaces = 4

// Sides returns what is believed of backlash and side preload.
func (t *Tracker) Sides() Sides {
	lash, lc := t.lashLook()
	fit, fc := t.fitLook(t.back, t.tooth)
	s := Sides{Lash: t.whole(lash, lc), Fit: t.whole(fit, fc), PerTravel: t.gains.BacklashPerRing, RingGear: t.back, Other: t.tooth}
	// As it will be read: the caps at torque, the case held.
	tight := *t
	tight.CapsTight = true
	tight.back -= min(s.Fit.Mean, 0)
	_, _, noise := tight.lashMount(gauge.Reading{Method: gauge.Method{Place: act.Heel, Plunger: act.Square, Pinion: act.PinionHeld}, Lengths: make([]quantity.Length, usualPlaces)})
	s.ByIndicator = t.learned(lash, lash.Plus(1, belief.Look{dialRow: 1}), noise)
	rise := 0.25 * t.gains.ReferenceRiseNmm / math.Max(t.gains.SideRisePerMM, 1)
	shift := s.Fit.SD * s.Fit.SD / math.Hypot(s.Fit.SD, rise)
	s.ByTotal = Learned{math.Sqrt(math.Max(sq(s.Fit.SD)-shift*shift, 0)), shift}
	return s
}

// Spec is the printed spec of the pinion's rotating torque, bearings alone.
func (t *Tracker) Spec() family.TorqueSpec { return t.spec() }

// Previous tells whether the axle was finished by another technician.
func (t *Tracker) Previous() bool { return t.card.Kind == scenarios.PreviousWork }
