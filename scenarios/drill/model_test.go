package drill

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/assembly"
	"shimwright/sim/checkstest"
	"shimwright/sim/explore"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/longtest"
	"shimwright/sim/pinion"
	"shimwright/sim/quantity"
	"shimwright/sim/rng"
	"shimwright/sim/setup"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

// These tests take the figures that a question tells, build each answer into the model,
// and see the reading come right with the right one and wrong with the others.

// A question is what a text tells: its figures in their base units and the names in it, by
// the name of the blank that each stands in, and the codes of all its parts.
type question struct {
	of    map[string]float64
	names map[string]string
	codes map[string]bool
}

// told reads a text as another program would, from its JSON.
func told(t *testing.T, m text.Message) question {
	t.Helper()
	data, err := json.Marshal(m)
	require.NoError(t, err)
	var v any
	require.NoError(t, json.Unmarshal(data, &v))
	q := question{map[string]float64{}, map[string]string{}, map[string]bool{}}
	q.add("", v)
	return q
}

func (q question) add(name string, v any) {
	switch v := v.(type) {
	case float64:
		q.of[name] = v
	case string:
		q.names[name] = v
		q.codes[v] = true
	case map[string]any:
		values, isText := v["values"].(map[string]any)
		if !isText {
			for _, x := range v {
				q.add(name, x)
			}
			return
		}
		q.codes[v["code"].(string)] = true
		for name, x := range values {
			q.add(name, x)
		}
	}
}

func printed(m text.Message) string { return text.NewPrinter(quantity.Inch, text.Overlay{}).Print(m) }

// hits asks whether each answer of a drill brings a reading to where it belongs.
func hits(t *testing.T, d Drill, comesRight func(value float64) bool) {
	t.Helper()
	assert.True(t, comesRight(d.Answer.Figure.Exact()), "%s: %s", printed(d.Asks), printed(d.Answer.Says()))
	for _, w := range d.Wrongs {
		assert.False(t, comesRight(w.Value), "%s: %s brings it right too", printed(d.Asks), w.Misconception)
	}
}

// onShim returns an axle whose pinion is at its place on a depth shim.
func onShim(fam family.Family, idealMM float64) *assembly.Axle {
	x := assembly.Nominal(fam)
	x.IdealShimMM = idealMM
	return assembly.New(fam, x)
}

// The old pinion stood where its mark wants it on the old shim; the new one has to stand
// further out by the difference of what the marks ask.
func TestDepthMarkOnTheModel(t *testing.T) {
	inch, metric := markUnits()
	each(t, DepthMark, func(t *testing.T, fam family.Family, d Drill) {
		q := told(t, d.Asks)
		unit := inch.mm
		if q.codes[metric.name.Code()] {
			unit = metric.mm
		} else {
			require.True(t, q.codes[inch.name.Code()])
		}
		o, n := q.of["old"]*unit, q.of["new"]*unit
		wants := n - o // further out
		if fam.Sheet.Marks == setup.PlusAddsShim {
			wants = o - n // a plus asks for shim, and more of it is deeper
		}
		a := onShim(fam, q.of["shim"])
		hits(t, d, func(mm float64) bool { return abs(a.ShimErrorMM(mm)-wants) <= d.Answer.Tolerance+1e-9 })
	})
}

func TestCheckingDistanceOnTheModel(t *testing.T) {
	inch, _ := markUnits()
	each(t, CheckingDistance, func(t *testing.T, fam family.Family, d Drill) {
		q := told(t, d.Asks)
		wanted := q.of["nominal"]
		assert.Equal(t, fam.Sheet.Marks.Known(), q.of["mark"] != 0)
		if fam.Sheet.Marks.Known() {
			mark := q.of["mark"] * inch.mm
			if fam.Sheet.Marks == setup.PlusAddsShim {
				mark = -mark
			}
			wanted += mark
		}
		a := onShim(fam, q.of["shim"])
		hits(t, d, func(mm float64) bool {
			return abs(q.of["reads"]+a.ShimErrorMM(mm)-wanted) <= d.Answer.Tolerance+1e-9
		})
	})
}

// With the set-up bearing the pinion is at its place on the old shim; with the bearing that
// stays it has to be so on the new one.
func TestSetUpBearingOnTheModel(t *testing.T) {
	each(t, SetUpBearing, func(t *testing.T, fam family.Family, d Drill) {
		q := told(t, d.Asks)
		x := assembly.Nominal(fam)
		x.SetUpTallMM = q.of["set_up"] - q.of["stays"]
		a := assembly.New(fam, x)
		out := func(shim float64) float64 {
			b := assembly.Pinion{MockUp: true, DepthShimMM: shim}
			build, err := pinion.New(a.Params(b))
			require.NoError(t, err)
			return a.PinionOutMM(build, b)
		}
		was := out(q.of["shim"])
		a.SetUpTallMM = 0
		hits(t, d, func(mm float64) bool { return abs(out(mm)-was) <= d.Answer.Tolerance+1e-9 })
	})
}

// On the shim of the answer the model's pattern is in the middle of the spec, as near as the
// eye could tell it on the two trials.
func TestPatternDepthOnTheModel(t *testing.T) {
	each(t, PatternDepth, func(t *testing.T, fam family.Family, d Drill) {
		q := told(t, d.Asks)
		b, err := explore.NewBench(fam)
		require.NoError(t, err)
		g := nominalGains(t, fam, false)
		height := func(outMM float64) float64 {
			r, err := b.At(explore.Settings{FilmMM: sim.ThinFilmMM, SideFitMM: fam.Sheet.SidePreload.Mid(), PinionOutMM: outMM, RingAwayMM: -outMM * g.BacklashPerPinion / g.BacklashPerRing})
			require.NoError(t, err)
			return (r.Gears.Drive.CenterT + r.Gears.Coast.CenterT) / 2
		}
		place := func(h float64) float64 { // where the pinion stands that gives a height
			low, high := -0.6, 0.6
			for range 30 {
				if mid := (low + high) / 2; height(mid) < h {
					low = mid
				} else {
					high = mid
				}
			}
			return low
		}
		atA, atB := place(q.of["height_a"]), place(q.of["height_b"])
		const eye = 0.01 // of the tooth
		shims := q.of["shim_b"] - q.of["shim_a"]
		out := -shims // thicker is deeper
		if fam.Design.DepthShim == family.UnderCageFlange {
			out = shims
		}
		assert.InDelta(t, out, atB-atA, eye/g.PatternHeightPerPinion+0.1*abs(shims), "the patterns are those of the shims")
		middle := (q.of["lowest"] + q.of["highest"]) / 2
		assert.Negative(t, (q.of["height_a"]-middle)*(q.of["height_b"]-middle), "one shim is too thick and the other too thin")
		hits(t, d, func(mm float64) bool {
			h := height(atA + (atB-atA)*(mm-q.of["shim_a"])/shims)
			return abs(h-middle) <= g.PatternHeightPerPinion*d.Answer.Tolerance*1.1
		})
	})
}

// The nut of the middle axle, turned on from where the torque is as told.
func TestNutStepOnTheModel(t *testing.T) {
	states := map[bool]int{}
	each(t, NutStep, func(t *testing.T, fam family.Family, d Drill) {
		q := told(t, d.Asks)
		used := q.codes["drill.bearings.used"]
		states[used]++
		film, spec := fam.Film(used), fam.Sheet.PinionTorque(used)
		b, err := pinion.New(fam.Params())
		require.NoError(t, err)
		b.RollPinion(30)
		const fine = 0.2 // degrees
		for b.RunningTorqueNmm(film) < q.of["reads"] {
			b.TurnNut(fine)
		}
		hits(t, d, func(deg float64) bool {
			c := b.Clone()
			c.TurnNut(deg)
			return abs(c.RunningTorqueNmm(film)-spec.Mid()) <= spec.Half()
		})
		c := b.Clone()
		c.TurnNut(d.Answer.Figure.Exact())
		assert.InDelta(t, spec.Mid(), c.RunningTorqueNmm(film), spec.Half()/2, "the answer lies in the middle half")
	})
	assert.Len(t, states, 2)
}

// A torque is the same in whatever unit.
func TestTorqueUnitsByTheTorque(t *testing.T) {
	asked := map[string]bool{}
	each(t, TorqueUnits, func(t *testing.T, _ family.Family, d Drill) {
		q := told(t, d.Asks)
		asked[d.Shows.Code()] = true
		hits(t, d, func(nmm float64) bool { return abs(nmm-q.of["torque"]) <= d.Answer.Tolerance })
	})
	assert.Len(t, asked, 3)
}

// The case of the middle axle on shims of a total: just free of play on that for zero end
// play, and with the preload of the middle of the spec on the answer.
func TestSideTotalOnTheModel(t *testing.T) {
	each(t, SideTotal, func(t *testing.T, fam family.Family, d Drill) {
		q := told(t, d.Asks)
		b, err := explore.NewBench(fam)
		require.NoError(t, err)
		sides := func(fitMM float64) explore.SideState {
			r, err := b.At(explore.Settings{SideFitMM: fitMM})
			require.NoError(t, err)
			return r.Sides
		}
		now := q.of["ring_gear_side"] + q.of["opposite_side"]
		assert.InDelta(t, q.of["play"], sides(-q.of["play"]).CaseEndPlayMM, 1e-9)
		goal := sides((q.of["low"] + q.of["high"]) / 2)
		slope := (goal.SidePreloadN - sides((q.of["low"]+q.of["high"])/2-0.02).SidePreloadN) / 0.02
		hits(t, d, func(total float64) bool {
			s := sides(total - now - q.of["play"])
			return s.CaseEndPlayMM == 0 && abs(s.SidePreloadN-goal.SidePreloadN) <= 1.05*slope*d.Answer.Tolerance
		})
	})
}

// Turning a set tooth by tooth until it stands as it did shows which teeth meet.
func TestHuntingByTurning(t *testing.T) {
	met := map[string]int{}
	each(t, Hunting, func(t *testing.T, _ family.Family, d Drill) {
		q := told(t, d.Asks)
		ring, pinion := int(q.of["ring_teeth"]), int(q.of["pinion_teeth"])
		partners := map[int]bool{} // ring gear teeth that pinion tooth 0 meets
		for n := range ring * pinion {
			if n%pinion == 0 {
				partners[n%ring] = true
			}
		}
		word := d.Answer.Options[d.Answer.Right].Word
		met[word]++
		says := "partly-hunting"
		switch {
		case len(partners) == ring:
			says = "hunting"
		case len(partners)*pinion == ring:
			says = "non-hunting"
		}
		assert.Equal(t, says, word, printed(d.Asks))
		if word != "hunting" {
			assert.InDelta(t, len(partners), d.Working[0].Figure.Exact(), 1e-9)
		}
	})
	assert.Len(t, met, 3)
}

// ringAt is a bench whose backlash reads so much, by where its ring gear stands.
func ringAt(t *testing.T, fam family.Family, reads float64) (*explore.Bench, explore.Settings) {
	t.Helper()
	b, err := explore.NewBench(fam)
	require.NoError(t, err)
	s := explore.Settings{SideFitMM: fam.Sheet.SidePreload.Mid()}
	for range 6 {
		r, err := b.At(s)
		require.NoError(t, err)
		s.RingAwayMM += reads - r.Gears.BacklashMeanMM
	}
	return b, s
}

func lashOf(t *testing.T, b *explore.Bench, s explore.Settings) float64 {
	t.Helper()
	r, err := b.At(s)
	require.NoError(t, err)
	return r.Gears.BacklashMeanMM
}

// bent is how far the backlash may go off the straight line over the longest move, mm.
const bent = 0.004

func TestSideShimsOnTheModel(t *testing.T) {
	asked := map[string]int{}
	each(t, SideShims, func(t *testing.T, fam family.Family, d Drill) {
		q := told(t, d.Asks)
		middle, gain := (q.of["low"]+q.of["high"])/2, q.of["worth"]/q.of["moved"]
		old := setup.SideShims{RingGearMM: q.of["ring_gear_side"], OppositeMM: q.of["opposite_side"]}
		b, s := ringAt(t, fam, q.of["reads"])
		asked[d.Asks.Code()]++
		if !d.Answer.IsChoice() {
			sign, was := 1.0, old.RingGearMM
			if d.Asks.Code() == "drill.side-shims.asks-opposite-side" {
				sign, was = -1, old.OppositeMM
			}
			hits(t, d, func(mm float64) bool {
				s := s
				s.ShimToRingGearMM = sign * (mm - was)
				return abs(lashOf(t, b, s)-middle) <= gain*d.Answer.Tolerance+bent
			})
			return
		}
		step := fam.Sheet.SideShims.StepMM
		for i, o := range d.Answer.Options {
			p := told(t, o.Text)
			ring, opposite := p.of["ring_gear_side"]-old.RingGearMM, p.of["opposite_side"]-old.OppositeMM
			s := s
			s.ShimToRingGearMM, s.SideFitMM = (ring-opposite)/2, s.SideFitMM+ring+opposite
			good := abs(lashOf(t, b, s)-middle) <= gain*step/2+bent && abs(ring+opposite) <= step+1e-9
			assert.Equal(t, i == d.Answer.Right, good, "%s: %s", printed(d.Asks), printed(o.Text))
		}
	})
	assert.Len(t, asked, 3, "all forms of the question were met")
}

func TestAdjustersOnTheModel(t *testing.T) {
	each(t, Adjusters, func(t *testing.T, fam family.Family, d Drill) {
		q := told(t, d.Asks)
		middle, gain, notch := (q.of["low"]+q.of["high"])/2, q.of["worth"]/q.of["moved"], q.of["pitch"]/q.of["notches"]
		b, s := ringAt(t, fam, q.of["reads"])
		sign := 1.0 // the ring-gear side adjuster in is toward the pinion
		if d.Asks.Code() == "drill.adjusters.asks-opposite-side" {
			sign = -1
		}
		hits(t, d, func(n float64) bool {
			s := s
			s.ShimToRingGearMM = sign * n * notch
			lash := lashOf(t, b, s)
			return abs(lash-middle) <= gain*d.Answer.Tolerance*notch+bent
		})
	})
}

// Readings by hand again, from the figures that the question tells.
func TestBacklashByItsFigures(t *testing.T) {
	met := map[int]bool{}
	each(t, Backlash, func(t *testing.T, _ family.Family, d Drill) {
		q := told(t, d.Asks)
		low, high, most := q.of["low"], q.of["high"], q.of["allowed"]
		least, widest := math.Inf(1), math.Inf(-1)
		for _, place := range []string{"a", "b", "c", "d"} {
			least, widest = math.Min(least, q.of[place]), math.Max(widest, q.of[place])
		}
		allInside := func(move float64) bool { return least+move >= low && widest+move <= high && widest-least <= most }
		some := func(sign float64) bool {
			for mm := 0.001; mm < 0.5; mm += 0.001 {
				if allInside(sign * mm) {
					return true
				}
			}
			return false
		}
		met[d.Answer.Right] = true
		switch d.Answer.Right {
		case accept:
			assert.True(t, allInside(0))
		case openUp:
			assert.True(t, !allInside(0) && some(1) && !some(-1))
		case closeUp:
			assert.True(t, !allInside(0) && some(-1) && !some(1))
		default:
			assert.False(t, allInside(0) || some(1) || some(-1), "no move of the ring gear cures a swing")
		}
	})
	assert.Len(t, met, 4)
}

// packed is a pinion on preload shims, its nut at the middle of its spec, run in.
func packed(t *testing.T, a *assembly.Axle, b assembly.Pinion) *pinion.Build {
	t.Helper()
	p, err := pinion.New(a.Params(b))
	require.NoError(t, err)
	p.RollPinion(30)
	p.TurnNutToTorque(a.Fam.Sheet.NutMid().Nmm(), 3600)
	return p
}

func TestPreloadShimsOnTheModel(t *testing.T) {
	const slack = 1.1 // the torque is no straight line over half a step
	torques, shims := 0, 0
	each(t, PreloadShims, func(t *testing.T, fam family.Family, d Drill) {
		q := told(t, d.Asks)
		a := assembly.New(fam, assembly.Nominal(fam))
		params := a.Params(assembly.Pinion{PreloadShimMM: a.ZeroPlayPreloadShimMM})
		nut := fam.Sheet.NutMid().Nmm()
		if d.Asks.Code() == "drill.cup-shim.asks" {
			shims++
			a.IdealShimMM = q.of["old"]
			film := a.Film()
			target := fam.Sheet.PinionTorqueNew.Mid()
			base, err := fam.PreloadShimsForTorque(params, nut, target, film)
			require.NoError(t, err)
			steepest := 2 * nominalGains(t, fam, false).TorquePerPreloadShimNmmPerMM
			hits(t, d, func(mm float64) bool {
				b := packed(t, a, assembly.Pinion{DepthShimMM: q.of["new"], PreloadShimMM: base + mm - q.of["shims"]})
				return abs(b.RunningTorqueNmm(film)-target) <= steepest*d.Answer.Tolerance
			})
			return
		}
		torques++
		used := q.codes["drill.bearings.used"]
		film := fam.Film(used)
		perMM := q.of["worth"] / q.of["step"]
		goal := fam.Sheet.PinionTorque(used).Mid()
		from, err := fam.PreloadShimsForTorque(params, nut, q.of["reads"], film)
		require.NoError(t, err)
		hits(t, d, func(mm float64) bool {
			p := params
			p.PreloadShimMM = from + mm - q.of["shims"]
			b, err := pinion.New(p)
			require.NoError(t, err)
			b.RollPinion(30)
			b.TurnNutToTorque(nut, 3600)
			return abs(b.RunningTorqueNmm(film)-goal) <= slack*perMM*d.Answer.Tolerance
		})
	})
	assert.Positive(t, torques)
	assert.Positive(t, shims)
}

func nominalGains(t *testing.T, fam family.Family, used bool) sim.Gains {
	t.Helper()
	g, err := sim.NominalGains(fam, used)
	require.NoError(t, err)
	return g
}

// A string does the work of its pull over the circumference in each turn.
func TestStringByWork(t *testing.T) {
	each(t, StringScale, func(t *testing.T, _ family.Family, d Drill) {
		q := told(t, d.Asks)
		assert.True(t, q.of["diameter"] >= 50 && q.of["diameter"] <= 130, "a yoke or a socket, 2 to 5 in: %v mm", q.of["diameter"])
		work := q.of["pull"] * math.Pi * q.of["diameter"]
		hits(t, d, func(nmm float64) bool { return abs(2*math.Pi*nmm-work) <= 2*math.Pi*d.Answer.Tolerance })
	})
}

// A person pulls with the torque set over the wrench's length; the bolt feels that pull
// over the distance from the grip, across the pull, to itself. Nobody has to pull more than
// 100 lb (445 N) for it.
func TestAdapterByMoments(t *testing.T) {
	const mostN = 444.83
	some(t, Adapter, longtest.Pick[uint64](20, 300), func(t *testing.T, _ family.Family, d Drill) {
		q := told(t, d.Asks)
		torque, wrench, reach := q.of["spec"], q.of["wrench"], q.of["reach"]
		if d.Asks.Code() == "drill.adapter.asks-square" {
			reach = 0
		}
		hits(t, d, func(set float64) bool {
			pull := set / wrench
			return abs(pull*(wrench+reach)-torque) <= d.Answer.Tolerance*(wrench+reach)/wrench+1e-6
		})
		assert.LessOrEqual(t, d.Answer.Figure.Exact()/wrench, mostN, "%s takes more than a person's strength", printed(d.Asks))
	})
}

// One turn of the ring gear: what is put in at the pinion, which turns ratio times, is what
// pinion and side bearings take.
func TestTotalTorqueByWork(t *testing.T) {
	asked := map[string]int{}
	each(t, TotalTorque, func(t *testing.T, _ family.Family, d Drill) {
		q := told(t, d.Asks)
		ratio, pinion := q.of["ring_teeth"]/q.of["pinion_teeth"], q.of["pinion"]
		asked[d.Asks.Code()]++
		if d.Asks.Code() == "drill.total-torque.asks-total" {
			hits(t, d, func(total float64) bool {
				return abs(total*ratio-pinion*ratio-q.of["sides"]) <= d.Answer.Tolerance*ratio
			})
			return
		}
		hits(t, d, func(sides float64) bool {
			return abs(q.of["total"]*ratio-pinion*ratio-sides) <= d.Answer.Tolerance
		})
	})
	assert.Len(t, asked, 2)
}

// The verdict on a torque, from the figures of the question: with the seal that it tells of
// taken off, the bearings alone are in their spec, below it or above it. There is no other
// seal that the question would allow.
func TestPinionTorqueByItsFigures(t *testing.T) {
	met := map[int]bool{}
	sealed := 0
	some(t, PinionTorque, longtest.Pick[uint64](20, 300), func(t *testing.T, fam family.Family, d Drill) {
		q := told(t, d.Asks)
		low, high := q.of["new_low"], q.of["new_high"]
		if q.codes["drill.bearings.used"] {
			low, high = q.of["used_low"], q.of["used_high"]
		}
		if q.codes["drill.pinion-torque.seal-in"] {
			sealed++
			assert.True(t, fam.Sheet.SealDrag.Holds(q.of["seal_drag"]), "a seal of this axle")
		}
		bearings := q.of["reads"] - q.of["seal_drag"]
		met[d.Answer.Right] = true
		switch d.Answer.Right {
		case leaveIt:
			assert.True(t, bearings >= low && bearings <= high, printed(d.Asks))
		case tighten:
			assert.Less(t, bearings, low, printed(d.Asks))
		case startAgain:
			assert.Greater(t, bearings, high, printed(d.Asks))
		default:
			assert.Fail(t, "loosening the nut is never right", printed(d.Asks))
		}
	})
	assert.Len(t, met, 3)
	assert.Positive(t, sealed)
}

// The picture and the indicator say by themselves what is out; the words of the answer agree
// with where the model's pattern goes.
func TestPatternByItsPicture(t *testing.T) {
	met := map[string]bool{}
	some(t, Pattern, 3*seeds, func(t *testing.T, fam family.Family, d Drill) {
		word := d.Answer.Options[d.Answer.Right].Word
		q := told(t, d.Asks)
		if len(d.Patterns) == 1 {
			// Depth takes the two apart along the tooth and together up and down.
			height, end, _ := strings.Cut(word, "-")
			shown := placed{face: height == "face", heel: end != "heel"}
			assert.True(t, q.codes[shown.say().Code()], "%s: %s", printed(d.Asks), word)
			now, was := d.Patterns[0], home(t, fam)
			flank := was.Drive
			if now.Flank == "coast" {
				flank = was.Coast
			}
			assert.Equal(t, now.Flank == "coast", d.Asks.Code() == "drill.pattern.asks-drive", "the other side is asked for")
			assert.Equal(t, shown, placed{face: now.CenterT > flank.CenterT, heel: now.CenterS > flank.CenterS})
			return
		}
		met[word] = true
		w := fam.Sheet.PatternHeight
		up := (d.Patterns[0].CenterT + d.Patterns[1].CenterT) / 2
		says := "good"
		switch {
		case up < w.LowMM:
			says = "deep"
		case up > w.HighMM:
			says = "shallow"
		case q.of["reads"] < q.of["low"]:
			says = "close"
		case q.of["reads"] > q.of["high"]:
			says = "far"
		}
		assert.Equal(t, says, word, printed(d.Asks))
		// The mean as the key prints it lies on the same side of the spec.
		shown := d.Working[0].Figure.Number(quantity.Inch)
		assert.Equal(t, up < w.LowMM, shown < rounded(w.LowMM, 2))
		assert.Equal(t, up > w.HighMM, shown > rounded(w.HighMM, 2))
	})
	assert.Len(t, met, 5)

	for _, fam := range family.Shelf() {
		b, err := explore.NewBench(fam)
		require.NoError(t, err)
		at := func(outMM, awayMM float64) (up, lash float64) {
			r, err := b.At(explore.Settings{FilmMM: sim.ThinFilmMM, PinionOutMM: outMM, RingAwayMM: awayMM})
			require.NoError(t, err)
			return (r.Gears.Drive.CenterT + r.Gears.Coast.CenterT) / 2, r.Gears.BacklashMeanMM
		}
		const moved = 0.1
		deep, _ := at(-moved, 0)
		shallow, _ := at(moved, 0)
		_, near := at(0, -moved)
		_, far := at(0, moved)
		assert.Less(t, deep, shallow, fam.Code)
		assert.Less(t, near, far, fam.Code)
	}
}

// home is the axle of a family with everything at its place.
func home(t *testing.T, fam family.Family) explore.GearState {
	t.Helper()
	r, err := explore.Show(fam, explore.Settings{FilmMM: sim.ThinFilmMM, SideFitMM: fam.Sheet.SidePreload.Mid()})
	require.NoError(t, err)
	return r.Gears
}

// The right check shows one of the two faults and not the other, or differs in what it
// reads; one offered beside it reads the same with either, within what the instruments
// scatter. The work is that of one family, on which most pairs can stand.
func TestTellApartOnTheStand(t *testing.T) {
	fam := family.Beech()
	byName := map[string]fault.Fault{}
	for _, f := range fault.All() {
		byName[f.Name.Code()] = f
	}
	differ := func(one, other, check string) bool {
		a, b := checkedOn(t, fam, byName[one], check), checkedOn(t, fam, byName[other], check)
		for i := range min(len(a), len(b)) {
			if abs(a[i].value-b[i].value) > a[i].scatters {
				return true
			}
		}
		return len(a) != len(b)
	}
	tried := map[[3]string]bool{}
	for seed := range uint64(longtest.Pick(60, 300)) {
		d, err := Draw(Item{Kind: TellApart, Family: fam, Seed: seed, N: 1})
		require.NoError(t, err)
		q := told(t, d.Asks)
		for i, o := range d.Answer.Options {
			check := printed(o.Text)
			key := [3]string{q.names["one"], q.names["other"], check}
			if o.Text.Code() != "" || tried[key] {
				continue // to correct it is no check
			}
			tried[key] = true
			assert.Equal(t, i == d.Answer.Right, differ(key[0], key[1], check), "%v", key)
		}
	}
	assert.Greater(t, len(tried), 20)
}

// A shown is something that a check shows, and how much it may scatter: the finding by its
// number, lengths in mm and torques in lb-in.
type shown struct{ value, scatters float64 }

// checkedOn does a check on an axle with a fault, as early in the work as it can be done.
func checkedOn(t *testing.T, fam family.Family, f fault.Fault, check string) (shows []shown) {
	t.Helper()
	x := assembly.Nominal(fam)
	x.IdealShimMM = quantity.Inches(0.030).MM()
	x.RingGearZeroMM, x.OppositeZeroMM = quantity.Inches(0.070).MM(), quantity.Inches(0.070).MM()
	_, size := f.Size.Of(fam.Sheet)
	f.Apply(&x, size, rng.Stream(1, "apart"))
	s, err := sim.New(fam, truth.Seal(x, truth.Finish{}), 1)
	require.NoError(t, err)
	for _, work := range []string{"", "fit depth-shim 0.030in", "fit pinion mock-up", "turn pinion 20", "remove pinion", "fit pinion final", "tighten nut 155deg", "turn pinion 30", "fit side-shims ring-gear 0.074in opposite 0.074in", "fit case", "torque caps", "mount indicator heel square pinion-held", "remove case"} {
		if work != "" {
			a, err := act.Parse(work, quantity.Inch)
			require.NoError(t, err)
			_, err = s.Do(a)
			require.NoError(t, err, "%s: %s", f.ID, work)
		}
		a, err := act.Parse(check, quantity.Inch)
		require.NoError(t, err, check)
		out, err := s.Do(a)
		if err != nil {
			continue
		}
		for _, r := range out.Readings {
			const half, lengthMM, part, lbIn = 0.5, 0.04, 0.15, 1
			shows = append(shows, shown{float64(r.Finding), half})
			for _, l := range r.Lengths {
				shows = append(shows, shown{l.MM(), lengthMM})
			}
			for _, torque := range r.Torques {
				shows = append(shows, shown{torque.InchPounds(), lbIn + part*torque.InchPounds()})
			}
		}
		return shows
	}
	require.Fail(t, "no time for it in the work", "%s: %s", f.ID, check)
	return nil
}

// Worked examples of manuals, put as drills. Source and strength of each stand in the
// table's own columns.
func TestWorkedExamples(t *testing.T) {
	number := func(row checkstest.Row, key string) float64 {
		t.Helper()
		for _, part := range strings.Split(row.Input, "; ") {
			if v, ok := strings.CutPrefix(part, key+"="); ok {
				e, err := quantity.ParseEntered(strings.Replace(v, "lbf", "", 1), quantity.UnitInch)
				require.NoError(t, err, row.ID)
				return e.Number
			}
		}
		require.Fail(t, "no such amount", "%s has no %s", row.ID, key)
		return 0
	}
	of := func(code string) *draft {
		fam, err := family.Shipped(code)
		require.NoError(t, err)
		return &draft{Family: fam}
	}
	wrong := func(d Drill, m Misconception) float64 {
		for _, w := range d.Wrongs {
			if w.Misconception == m {
				return w.Value
			}
		}
		require.Fail(t, "the misconception is not there", m)
		return 0
	}
	const sameMM, shimMM = 1e-9, 0.762
	inch, metric := markUnits()
	for id, code := range map[string]string{"9-change": "ALDER", "10-change": "ALDER", "11-change": "ALDER", "12-change": "DOGWOOD", "13-change": "DOGWOOD"} {
		row := checkstest.Find(t, "trade-practice", id)
		p := of(code)
		require.Contains(t, row.Input, "convention="+p.Sheet.Marks.String(), id)
		thou := func(key string) int { return int(math.Round(1000 * number(row, key))) }
		d := p.marksOf(shimMM, thou("old"), thou("new"), inch, metric)
		want := quantity.Inches(row.Expected).MM()
		assert.InDelta(t, want, d.Answer.Figure.Exact()-shimMM, sameMM, id)
		assert.InDelta(t, -want, wrong(d, SignTurned)-shimMM, sameMM, id)
	}

	row := checkstest.Find(t, "trade-practice", "17-cord")
	pulls, radius := number(row, "pull"), number(row, "radius")
	var err error
	d := of("BEECH").stringOf(quantity.Inches(2*radius).MM(), quantity.PoundsForce(pulls).N())
	want := quantity.InchPounds(row.Expected).Nmm()
	assert.InDelta(t, want, d.Answer.Figure.Exact(), 1e-6)
	assert.InDelta(t, 2*want, wrong(d, Diameter), 1e-6)

	// The side shims of a table that closes the backlash, with what it adds for preload.
	ringRow, oppositeRow := checkstest.Find(t, "trade-practice", "1-back"), checkstest.Find(t, "trade-practice", "1-tooth")
	p := of("BEECH")
	each := quantity.Inches(number(ringRow, "preload")).MM()
	p.Sheet.SidePreload = family.Spec{LowMM: 2 * each, HighMM: 2 * each}
	d = p.totalOf(length(quantity.Inches(number(ringRow, "back")).MM()), length(quantity.Inches(number(ringRow, "tooth")).MM()), length(0))
	assert.InDelta(t, quantity.Inches(ringRow.Expected+oppositeRow.Expected).MM(), d.Answer.Figure.Exact(), sameMM)

	for _, c := range conversions() {
		if c.from == PoundInches && c.to == NewtonMeters {
			for _, id := range []string{"16-metric-new-least", "16-metric-new-most", "16-metric-used-least", "16-metric-used-most"} {
				row := checkstest.Find(t, "trade-practice", id)
				d := of("ELM").unitsOf(c, quantity.InchPounds(number(row, "torque")).Nmm(), false)
				assert.InDelta(t, row.Expected, d.Answer.Figure.Number(quantity.Inch), row.Tolerance, id)
			}
		}
	}

	row = checkstest.Find(t, "measurement", "A2-set")
	d, err = of("BEECH").adapterOf(text.Verbatim("a bolt"), quantity.FootPounds(number(row, "wanted")).Nmm(),
		quantity.Inches(number(row, "wrench")).MM(), quantity.Inches(number(row, "adapter")).MM(), false)
	require.NoError(t, err)
	assert.InDelta(t, row.Expected, quantity.Torque(d.Answer.Figure.Exact()).FootPounds(), row.Tolerance, row.ID)
}

// What warmth takes is what the model's side bearings lose: with the preload that is left and
// cold they are squeezed as much as with the whole of it and warm.
func TestHeatOnTheModel(t *testing.T) {
	each(t, Heat, func(t *testing.T, fam family.Family, d Drill) {
		q := told(t, d.Asks)
		b, err := explore.NewBench(fam)
		require.NoError(t, err)
		force := func(fitMM, warmK float64) float64 {
			r, err := b.At(explore.Settings{SideFitMM: fitMM, WarmK: warmK})
			require.NoError(t, err)
			return r.Sides.SidePreloadN
		}
		warm := force(q.of["preload"], stepK*q.of["steps"])
		slope := (force(q.of["preload"], 0) - force(q.of["preload"]-0.01, 0)) / 0.01
		hits(t, d, func(left float64) bool { return abs(force(left, 0)-warm) <= 1.1*slope*d.Answer.Tolerance })
	})
}

// A carrier drill has both answers on every design.
func TestCarriersBothWays(t *testing.T) {
	asked := map[string]int{}
	some(t, Carrier, 2*seeds, func(t *testing.T, _ family.Family, d Drill) {
		asked[d.Answer.Options[d.Answer.Right].Word]++
	})
	assert.Len(t, asked, 2)
}
