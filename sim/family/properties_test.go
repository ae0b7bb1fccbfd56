package family_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"shimwright/scenarios/scenariostest"
	"shimwright/sim/act"
	"shimwright/sim/carrier"
	"shimwright/sim/family"
	"shimwright/sim/mesh"
	"shimwright/sim/pinion"
	"shimwright/sim/quantity"
	"shimwright/sim/rng"
)

// anyAxle draws a family of the shelf and an axle of it, rollers and cups not yet home.
func anyAxle(t *rapid.T, shelf []family.Family) (family.Family, pinion.Params, carrier.Params, mesh.Position, bool) {
	f := rapid.SampledFrom(shelf).Draw(t, "family")
	used := rapid.Bool().Draw(t, "used")
	r := rng.Stream(rapid.Uint64().Draw(t, "seed"), "properties")
	p, c, _ := drawAxle(r, f, used)
	p.UnseatedRollersMM = f.Model.UnseatedRollersMM
	p.InnerGapMM = rapid.SampledFrom([]float64{0, 0.03, 0.12}).Draw(t, "head gap")
	p.OuterGapMM = rapid.SampledFrom([]float64{0, 0.03, 0.12}).Draw(t, "tail gap")
	within := func(what string, mm float64) float64 { return rapid.Float64Range(-mm, mm).Draw(t, what) }
	at := mesh.Position{PinionOutMM: within("pinion out", 4*f.Sheet.DepthToleranceMM), RingAwayMM: within("ring away", f.Sheet.Backlash.Mid()),
		OffsetMM: within("offset", 0.05), ShaftAngleRad: within("shaft angle", 0.0005)}
	return f, p, c, at, used
}

// Whatever is done to the nut, the cups and the pinion of any axle of any family, in any
// order: the spacer's set never falls, cups never rise again, preload and end play are
// never both there, and every figure is a number.
func TestAnyAxleUnderAnyMoves(t *testing.T) {
	shelf := family.Shelf()
	rapid.Check(t, func(t *rapid.T) {
		f, p, _, _, used := anyAxle(t, shelf)
		b, err := pinion.New(p)
		require.NoError(t, err, f.Code)
		film := f.Model.Film
		film.BoundaryFriction = f.Model.NewFriction.Mid()
		if used {
			film.BoundaryFriction = f.Model.UsedFriction.Mid()
		}
		for range rapid.IntRange(1, 10).Draw(t, "moves") {
			set, head, outer := b.SpacerSetMM(), b.InnerGapMM(), b.OuterGapMM()
			switch rapid.IntRange(0, 4).Draw(t, "kind") {
			case 0:
				b.TurnNut(rapid.Float64Range(0, 250).Draw(t, "forward"))
			case 1:
				b.TurnNut(rapid.Float64Range(-250, 0).Draw(t, "backward"))
			case 2:
				b.TurnNutToTorque(f.Sheet.NutHigh.Nmm()*rapid.Float64Range(0.1, 1.3).Draw(t, "torque"), 360)
			case 3:
				b.TapCups()
			case 4:
				b.RollPinion(rapid.Float64Range(0.1, 20).Draw(t, "turns"))
			}
			require.GreaterOrEqual(t, b.SpacerSetMM(), set, f.Code)
			require.LessOrEqual(t, b.InnerGapMM(), head, f.Code)
			require.LessOrEqual(t, b.OuterGapMM(), outer, f.Code)
			x := b.Forces()
			require.Zero(t, x.PreloadN*x.EndPlayMM, "%s: preload and end play together: %+v", f.Code, x)
			for _, v := range []float64{x.StemN, x.SpacerN, x.PreloadN, x.EndPlayMM, b.ForwardTorqueNmm(), b.RunningTorqueNmm(film), b.StartingTorqueNmm(film.BoundaryFriction)} {
				require.True(t, v >= 0 && !math.IsInf(v, 0), "%s: %+v", f.Code, x)
			}
		}
	})
}

// Moving shim, or turning rings, from one side to the other at a constant total leaves
// the side force of any axle alone, and moves the gear by what was moved
// (TM 9-2320-289-34, p 6-22: equal and opposite).
func TestAnyAxleKeepsItsSideForce(t *testing.T) {
	const sameN, sameMM = 1e-6, 1e-9
	shelf := family.Shelf()
	rapid.Check(t, func(t *rapid.T) {
		f, _, c, _, _ := anyAxle(t, shelf)
		if rapid.Bool().Draw(t, "equal pedestals") {
			c.OppositePedestalNPerMM = c.RingGearPedestalNPerMM
		}
		total := rapid.Float64Range(0, 2*f.Sheet.SidePreload.HighMM).Draw(t, "total")
		moved := rapid.Float64Range(-0.3, 0.3).Draw(t, "moved")
		before, err := carrier.Solve(c, total/2, total/2)
		require.NoError(t, err)
		after, err := carrier.Solve(c, total/2+moved, total/2-moved)
		require.NoError(t, err)
		assert.InDelta(t, before.ForceN, after.ForceN, sameN, f.Code)
		assert.InDelta(t, before.SpreadMM, after.SpreadMM, sameMM, f.Code)
		assert.InDelta(t, moved, after.ShiftToPinionMM-before.ShiftToPinionMM, sameMM, f.Code)
		assert.Zero(t, after.ForceN*after.EndPlayMM, f.Code)
	})
}

// With a solid spacer, the next thicker pack on the shelf gives less preload at the same
// nut torque (TM 10-3930-660-34 p 9-16 and others: too tight, thicker spacer), for any
// axle of any such family that has preload to lose.
func TestThickerPreloadShimsLowersAnyPreload(t *testing.T) {
	var solid []family.Family
	for _, f := range family.Shelf() {
		if f.Design.Preload == family.SolidSpacer {
			solid = append(solid, f)
		}
	}
	require.Len(t, solid, 5)
	rapid.Check(t, func(t *rapid.T) {
		f, p, _, _, _ := anyAxle(t, solid)
		torque := rapid.Float64Range(f.Sheet.NutLow.Nmm(), f.Sheet.NutHigh.Nmm()).Draw(t, "torque")
		p.InnerGapMM, p.OuterGapMM = 0, 0
		preload := func(preloadShimMM float64) float64 {
			p.PreloadShimMM = preloadShimMM
			b, err := pinion.New(p)
			require.NoError(t, err, f.Code)
			b.RollPinion(30)
			require.True(t, b.TurnNutToTorque(torque, 720).Reached, f.Code)
			return b.Forces().PreloadN
		}
		thin := p.ZeroPlayPreloadShimMM + rapid.Float64Range(-0.06, 0.02).Draw(t, "over line-to-line")
		at := preload(thin)
		next := preload(thin + f.Design.Solid.PreloadShims.StepMM)
		if at > 0 {
			assert.Less(t, next, at, f.Code)
		} else {
			assert.Zero(t, next, f.Code)
		}
	})
}

// Every axle of every family that its spreads can give can be read: backlash, prints on
// both flanks, drag, rise and spread are numbers, wherever pinion and ring stand near
// their place.
func TestAnyAxleCanBeRead(t *testing.T) {
	const filmMM = 0.009 // a thin coat under a braked gear
	shelf := family.Shelf()
	contacts := map[string]*mesh.Contact{}
	for _, f := range shelf {
		s, err := mesh.NewSet(f.Model.Gears, f.Model.EaseOff, f.Model.EaseOff, f.Sheet.Backlash.Mid())
		require.NoError(t, err, f.Code)
		contacts[f.Code] = s.NewContact()
	}
	rapid.Check(t, func(t *rapid.T) {
		f, p, c, at, _ := anyAxle(t, shelf)
		k := contacts[f.Code]
		require.NoError(t, k.Move(at), f.Code)
		lash := k.Backlash()
		for _, v := range []float64{lash.MinMM, lash.MeanMM, lash.MaxMM} {
			require.Less(t, math.Abs(v), 2.0, "%s: %+v", f.Code, lash)
		}
		for _, flank := range []mesh.Flank{mesh.Drive, mesh.Coast} {
			print := k.Pattern(flank, filmMM)
			require.False(t, print.Empty, f.Code)
			require.True(t, print.CenterS >= 0 && print.CenterS <= 1 && print.CenterT >= 0 && print.CenterT <= 1, "%s: %+v", f.Code, print)
		}
		total := rapid.Float64Range(-0.1, 2*f.Sheet.SidePreload.HighMM).Draw(t, "side fit")
		st, err := carrier.Solve(c, total/2, total/2)
		require.NoError(t, err, f.Code)
		film := f.Model.Film
		film.BoundaryFriction = f.Model.NewFriction.High
		b, err := pinion.New(p)
		require.NoError(t, err, f.Code)
		require.True(t, b.TurnNutToTorque(f.Sheet.NutLow.Nmm(), 1440).Reached, f.Code)
		drag := b.RunningTorqueNmm(film) + carrier.AtPinionNmm(c.TorqueNmm(st.ForceN, film), f.Sheet.Ratio(), f.Model.MeshEfficiency) + carrier.MeshDragNmm(lash.MinMM)
		require.True(t, drag > 0 && drag < 1e6, "%s: %v N·mm", f.Code, drag)
		require.True(t, st.SpreadMM >= 0 && st.SpreadMM <= max(total, 0), "%s: %+v", f.Code, st)
	})
}

// A shim of the shelf is the same shim whichever unit it is asked for in: to the last
// bit, at the number of decimals a person would write, in every family's drawers.
func TestSizesDoNotDependOnTheUnit(t *testing.T) {
	for _, f := range family.Shelf() {
		for what, stock := range map[string]family.Stock{"depth": f.Sheet.DepthShims, "side": f.Sheet.SideShims, "pack": f.Design.Solid.PreloadShims} {
			if stock == (family.Stock{}) {
				continue // threaded rings, or no pack
			}
			for _, size := range stock.Sizes() {
				for _, system := range []quantity.System{quantity.Inch, quantity.Metric} {
					e, err := quantity.ParseEntered(quantity.Millimetres(size).Show(system), quantity.UnitMM)
					require.NoError(t, err)
					l, ok := e.Length()
					require.True(t, ok)
					assert.True(t, stock.Nearest(l.MM()) == stock.Nearest(size), "%s %s shim, %v", f.Code, what, e)
				}
			}
		}
	}
}

// The same job worked in inches and in millimetres reads the same, to the bit: on the
// bench a unit is only a way of asking for a shim.
func TestReadingsDoNotDependOnTheUnit(t *testing.T) {
	for _, seed := range []uint64{3, 11, 250} {
		read := func(system quantity.System) (out []string) {
			job, err := scenariostest.Generate(family.Beech(), seed)
			require.NoError(t, err)
			s, err := job.Stand()
			require.NoError(t, err)
			k := job.Card.Known
			size := func(l quantity.Length) string {
				e, err := quantity.ParseEntered(l.Show(system), quantity.UnitMM)
				require.NoError(t, err)
				return e.String()
			}
			for _, line := range []string{
				"fit depth-shim " + size(k.OldDepthShim), "fit pinion mock-up", "measure depth", "remove pinion",
				"fit pinion final", "tighten nut to 150 lb-ft", "tighten nut 60 deg", "turn pinion 5", "measure torque rotating wrench",
				"measure depth-shim", "fit side-shims ring-gear " + size(k.OldRingGearShim) + " opposite " + size(k.OldOppositeShim), "measure side-shims", "fit case", "torque caps", "mount indicator heel square pinion-held", "measure backlash 4",
			} {
				a, err := act.Parse(line, system)
				require.NoError(t, err, line)
				o, err := s.Do(a)
				if err != nil {
					out = append(out, err.Error())
					continue
				}
				for _, r := range o.Readings {
					out = append(out, fmt.Sprintf("%s %x %x %x %x", r.Kind, r.Lengths, r.Torques, r.StdMM, r.StdNmm))
				}
			}
			return out
		}
		inch := read(quantity.Inch)
		assert.Equal(t, inch, read(quantity.Metric), "job %d", seed)
		assert.GreaterOrEqual(t, len(inch), 4, "job %d: %v", seed, inch)
	}
}
