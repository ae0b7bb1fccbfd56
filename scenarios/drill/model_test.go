package drill

import (
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
	"shimwright/sim/pinion"
	"shimwright/sim/quantity"
	"shimwright/sim/rng"
	"shimwright/sim/setup"
	"shimwright/sim/truth"
)

// These tests take the figures that a question tells, build each answer into the model,
// and see the reading come right with the right one and wrong with the others.

// told returns the amounts and whole numbers of a text in the order of reading.
func told(x Text) (figures []float64) {
	for _, w := range x.with {
		switch w := w.(type) {
		case amount:
			figures = append(figures, w.of)
		case int:
			figures = append(figures, float64(w))
		case Text:
			figures = append(figures, told(w)...)
		}
	}
	return figures
}

// hits asks whether each answer of a drill brings a reading to where it belongs.
func hits(t *testing.T, d Drill, comesRight func(value float64) bool) {
	t.Helper()
	assert.True(t, comesRight(d.Answer.Value), "%s: %s", d.Asks.In(quantity.Inch), d.Answer.In(quantity.Inch))
	for _, w := range d.Wrongs {
		assert.False(t, comesRight(w.Value), "%s: %s brings it right too", d.Asks.In(quantity.Inch), w.Misconception)
	}
}

// shimmed returns an axle whose pinion is at its place on a depth shim.
func shimmed(fam family.Family, idealMM float64) *assembly.Axle {
	x := assembly.Nominal(fam)
	x.IdealShimMM = idealMM
	return assembly.New(fam, x)
}

// The old pinion stood where its mark wants it on the old shim; the new one has to stand
// further out by the difference of what the marks ask.
func TestMarkOnTheModel(t *testing.T) {
	inch, metric := markUnits()
	each(t, Mark, func(t *testing.T, fam family.Family, d Drill) {
		f := told(d.Asks)
		unit := inch.mm
		if strings.Contains(d.Asks.In(quantity.Inch), metric.name) {
			unit = metric.mm
		}
		shim, o, n := f[0], f[1]*unit, f[2]*unit
		wants := n - o // further out
		if fam.Sheet.Marks == setup.PlusAddsShim {
			wants = o - n // a plus asks for shim, and more of it is deeper
		}
		a := shimmed(fam, shim)
		hits(t, d, func(mm float64) bool { return abs(a.ShimErrorMM(mm)-wants) <= d.Answer.Tolerance+1e-9 })
	})
}

func TestHeightOnTheModel(t *testing.T) {
	inch, _ := markUnits()
	each(t, Height, func(t *testing.T, fam family.Family, d Drill) {
		f := told(d.Asks)
		wanted := f[0]
		if fam.Sheet.Marks.Known() {
			mark := f[1] * inch.mm
			if fam.Sheet.Marks == setup.PlusAddsShim {
				mark = -mark
			}
			wanted += mark
			f = f[1:]
		}
		mockUp, measured := f[1], f[2]
		a := shimmed(fam, mockUp)
		hits(t, d, func(mm float64) bool {
			return abs(measured+a.ShimErrorMM(mm)-wanted) <= d.Answer.Tolerance+1e-9
		})
	})
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

func TestSplitOnTheModel(t *testing.T) {
	pairs, sizes := 0, 0
	each(t, Split, func(t *testing.T, fam family.Family, d Drill) {
		f := told(d.Asks)
		reads, middle, gain := f[0], f[3], f[5]/f[4]
		old := setup.SideShims{RingGearMM: f[6], OppositeMM: f[7]}
		b, s := ringAt(t, fam, reads)
		if d.Answer.Form == Length {
			sizes++
			sign, was := 1.0, old.RingGearMM
			if d.Asks.with[1] == "tooth" {
				sign, was = -1, old.OppositeMM
			}
			hits(t, d, func(mm float64) bool {
				s := s
				s.ShimToRingGearMM = sign * (mm - was)
				return abs(lashOf(t, b, s)-middle) <= gain*d.Answer.Tolerance+bent
			})
			return
		}
		pairs++
		step := fam.Sheet.SideShims.StepMM
		for i, o := range d.Answer.Options {
			p := told(o.Text)
			back, tooth := p[0]-old.RingGearMM, p[1]-old.OppositeMM
			s := s
			s.ShimToRingGearMM, s.SideFitMM = (back-tooth)/2, s.SideFitMM+back+tooth
			good := abs(lashOf(t, b, s)-middle) <= gain*step/2+bent && abs(back+tooth) <= step+1e-9
			assert.Equal(t, i == d.Answer.Right, good, "%s: %s", d.Asks.In(quantity.Inch), o.Text.In(quantity.Inch))
		}
	})
	assert.Positive(t, pairs, "both forms of the question were met")
	assert.Positive(t, sizes)
}

func TestNotchesOnTheModel(t *testing.T) {
	each(t, Notches, func(t *testing.T, fam family.Family, d Drill) {
		f := told(d.Asks)
		reads, middle, gain, notch := f[0], f[3], f[5]/f[4], f[7]/f[6]
		b, s := ringAt(t, fam, reads)
		sign := 1.0 // the back side ring in is toward the pinion
		if strings.Contains(d.Asks.In(quantity.Inch), "turn the tooth side ring") {
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
		f := told(d.Asks)
		low, high, most := f[4], f[5], f[6]
		least, widest := math.Inf(1), math.Inf(-1)
		for _, x := range f[:4] {
			least, widest = math.Min(least, x), math.Max(widest, x)
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

// packed is a pinion on a pack, its nut at the middle of its window, run in.
func packed(t *testing.T, a *assembly.Axle, b assembly.Pinion) *pinion.Build {
	t.Helper()
	p, err := pinion.New(a.Params(b))
	require.NoError(t, err)
	p.RollPinion(30)
	p.TurnNutToTorque(a.Fam.Sheet.NutMid().Nmm(), 3600)
	return p
}

func TestPreloadShimsOnTheModel(t *testing.T) {
	const slack = 1.1 // the drag is no straight line over half a step
	torques, shims := 0, 0
	each(t, PreloadShims, func(t *testing.T, fam family.Family, d Drill) {
		f := told(d.Asks)
		a := assembly.New(fam, assembly.Nominal(fam))
		params := a.Params(assembly.Pinion{PreloadShimMM: a.ZeroPlayPreloadShimMM})
		nut := fam.Sheet.NutMid().Nmm()
		if strings.Contains(d.Asks.In(quantity.Inch), "For depth") {
			shims++
			oldShim, now, newShim := f[0], f[1], f[2]
			a.IdealShimMM = oldShim
			film := a.Film()
			target := fam.Sheet.PinionTorqueNew.Mid()
			base, err := fam.PreloadShimsForTorque(params, nut, target, film)
			require.NoError(t, err)
			steepest := 2 * nominalGains(t, fam).TorquePerPreloadShimNmmPerMM
			hits(t, d, func(mm float64) bool {
				b := packed(t, a, assembly.Pinion{DepthShimMM: newShim, PreloadShimMM: base + mm - now})
				return abs(b.RunningTorqueNmm(film)-target) <= steepest*d.Answer.Tolerance
			})
			return
		}
		torques++
		used := strings.Contains(d.Asks.In(quantity.Inch), "used pinion bearings")
		film := fam.Film(used)
		now, reads, perMM := f[0], f[1], f[7]/f[6]
		goal := fam.Sheet.PinionTorque(used).Mid()
		from, err := fam.PreloadShimsForTorque(params, nut, reads, film)
		require.NoError(t, err)
		hits(t, d, func(mm float64) bool {
			p := params
			p.PreloadShimMM = from + mm - now
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

func nominalGains(t *testing.T, fam family.Family) sim.Gains {
	t.Helper()
	g, err := sim.NominalGains(fam, false)
	require.NoError(t, err)
	return g
}

// A cord does the work of its pull over the drum's girth in each turn.
func TestStringByWork(t *testing.T) {
	each(t, StringScale, func(t *testing.T, _ family.Family, d Drill) {
		f := told(d.Asks)
		work := f[1] * math.Pi * f[0]
		hits(t, d, func(nmm float64) bool { return abs(2*math.Pi*nmm-work) <= 2*math.Pi*d.Answer.Tolerance })
	})
}

// The hand pulls with the torque set over the wrench's length; the fastener feels that
// pull over the distance from the hand, across the pull, to itself.
func TestAdapterByMoments(t *testing.T) {
	each(t, Adapter, func(t *testing.T, _ family.Family, d Drill) {
		f := told(d.Asks)
		torque, wrench, reach := f[0], f[1], f[2]
		if strings.Contains(d.Asks.In(quantity.Inch), "square to the wrench") {
			reach = 0
		}
		hits(t, d, func(set float64) bool {
			tech := set / wrench
			return abs(tech*(wrench+reach)-torque) <= d.Answer.Tolerance*(wrench+reach)/wrench+1e-6
		})
	})
}

// One turn of the ring gear: what the hand puts in at the pinion, which turns ratio times,
// is what pinion and sides take.
func TestTotalByWork(t *testing.T) {
	each(t, Total, func(t *testing.T, _ family.Family, d Drill) {
		f := told(d.Asks)
		ratio, pinion := f[0]/f[1], f[2]
		if strings.Contains(d.Asks.In(quantity.Inch), "what total") {
			sides := f[3]
			hits(t, d, func(total float64) bool { return abs(total*ratio-pinion*ratio-sides) <= d.Answer.Tolerance*ratio })
			return
		}
		total := f[3]
		hits(t, d, func(sides float64) bool { return abs(total*ratio-pinion*ratio-sides) <= d.Answer.Tolerance })
	})
}

// The verdict on a drag, from the figures of the question.
func TestDragByItsFigures(t *testing.T) {
	met := map[int]bool{}
	each(t, Drag, func(t *testing.T, _ family.Family, d Drill) {
		f, text := told(d.Asks), d.Asks.In(quantity.Inch)
		low, high := f[1], f[2]
		if strings.Contains(text, "used bearings") {
			low, high = f[3], f[4]
		}
		if strings.Contains(text, "seal in.") {
			low, high = low+f[5], high+f[6]
		}
		met[d.Answer.Right] = true
		switch d.Answer.Right {
		case leaveIt:
			assert.True(t, f[0] >= low && f[0] <= high, text)
		case tighten:
			assert.Less(t, f[0], low, text)
		case startAgain:
			assert.Greater(t, f[0], high, text)
		default:
			assert.Fail(t, "letting the nut back is never right", text)
		}
	})
	assert.Len(t, met, 3)
}

// The picture and the dial say by themselves what is out; the words of the answer agree
// with where the model's print goes.
func TestPatternByItsPicture(t *testing.T) {
	met := map[string]bool{}
	each(t, Print, func(t *testing.T, fam family.Family, d Drill) {
		word := d.Answer.Options[d.Answer.Right].Word
		if len(d.Patterns) == 1 {
			// Depth takes the flanks apart along the tooth and together up and down.
			text := d.Asks.In(quantity.Inch)
			height, end, _ := strings.Cut(word, "-")
			assert.Contains(t, text, "flank stands "+height+", and")
			assert.NotContains(t, text, "nearer the "+end)
			assert.Equal(t, height == "low", d.Patterns[0].CenterT < fam.Sheet.PatternHeight.Mid())
			home, err := explore.Show(fam, explore.Settings{FilmMM: sim.ThinFilmMM, SideFitMM: fam.Sheet.SidePreload.Mid()})
			require.NoError(t, err)
			was := home.Gears.Drive
			if d.Patterns[0].Flank == "coast" {
				was = home.Gears.Coast
			}
			assert.Equal(t, strings.Contains(text, "nearer the heel"), d.Patterns[0].CenterS > was.CenterS)
			return
		}
		met[word] = true
		f, w := told(d.Asks), fam.Sheet.PatternHeight
		up := (d.Patterns[0].CenterT + d.Patterns[1].CenterT) / 2
		says := "right"
		switch {
		case up < w.LowMM:
			says = "deep"
		case up > w.HighMM:
			says = "shallow"
		case f[0] < f[1]:
			says = "near"
		case f[0] > f[2]:
			says = "far"
		}
		assert.Equal(t, says, word, d.Asks.In(quantity.Inch))
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

// Looks that can be taken at a bare housing find the fault that the question is about,
// and those offered beside the right one find nothing on the same axle.
func TestApartOnTheStand(t *testing.T) {
	looks := map[act.Form]bool{act.InspectCups: true, act.InspectBearings: true, act.InspectSpacer: true, act.InspectCones: true, act.InspectCaps: true, act.InspectSeal: true}
	byName, byTold := map[string]fault.Fault{}, map[string]fault.Fault{}
	for _, f := range fault.All() {
		byName[print(f.Shows)] = f
		byTold[print(f.Told)] = f
	}
	found := 0
	each(t, Apart, func(t *testing.T, fam family.Family, d Drill) {
		text := d.Asks.In(quantity.Inch)
		for shows, f := range byName {
			if !strings.Contains(text, shows) {
				continue
			}
			x := assembly.Nominal(fam)
			_, size := f.Size.Of(fam.Sheet)
			f.Apply(&x, size, rng.Stream(1, "apart"))
			s, err := sim.New(fam, truth.Seal(x, truth.Finish{}), 1)
			require.NoError(t, err)
			for i, o := range d.Answer.Options {
				of, ok := byTold[o.Text.In(quantity.Inch)]
				if !ok || !looks[of.Test] || i == d.Answer.Right && !looks[f.Test] {
					continue
				}
				out, err := s.Do(act.Act{Form: of.Test})
				require.NoError(t, err)
				sees := false
				for _, r := range out.Readings {
					sees = sees || r.Wrong()
				}
				assert.Equal(t, i == d.Answer.Right, sees, "%s: %s", text, o.Text.In(quantity.Inch))
				found++
			}
		}
	})
	assert.Positive(t, found)
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
	idea := func(d Drill, i Misconception) float64 {
		for _, w := range d.Wrongs {
			if w.Misconception == i {
				return w.Value
			}
		}
		require.Fail(t, "the idea is not there", i)
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
		assert.InDelta(t, want, d.Answer.Value-shimMM, sameMM, id)
		assert.InDelta(t, -want, idea(d, SignTurned)-shimMM, sameMM, id)
	}

	row := checkstest.Find(t, "trade-practice", "17-cord")
	pulls, radius := number(row, "pull"), number(row, "radius")
	d, err := of("BEECH").stringOf(quantity.Inches(2*radius).MM(), quantity.PoundsForce(pulls).N())
	require.NoError(t, err)
	want := quantity.InchPounds(row.Expected).Nmm()
	assert.InDelta(t, want, d.Answer.Value, 1e-6)
	assert.InDelta(t, 2*want, idea(d, Diameter), 1e-6)

	row = checkstest.Find(t, "measurement", "A2-set")
	d, err = of("BEECH").adapterOf("a bolt", quantity.FootPounds(number(row, "wanted")).Nmm(),
		quantity.Inches(number(row, "wrench")).MM(), quantity.Inches(number(row, "adapter")).MM(), false)
	require.NoError(t, err)
	assert.InDelta(t, row.Expected, quantity.Torque(d.Answer.Value).FootPounds(), row.Tolerance, row.ID)
}
