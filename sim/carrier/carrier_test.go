package carrier_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"shimwright/sim/bearing"
	"shimwright/sim/carrier"
	ax "shimwright/sim/carrier/axletest"
	"shimwright/sim/pinion"
	"shimwright/sim/text"
)

const (
	sameN  = 1e-6 // N; the force is solved to 1e-13 of its value
	sameMM = 1e-9 // mm
)

func solveFor(t require.TestingT, p carrier.Params, back, tooth float64) carrier.State {
	s, err := carrier.Solve(p, back, tooth)
	require.NoError(t, err)
	return s
}

// addedNmm is what case and mesh add at the pinion, mesh with normal backlash.
func addedNmm(p carrier.Params, forceN float64, f bearing.Film) float64 {
	return carrier.AtPinionNmm(p.TorqueNmm(forceN, ax.AtCase(f)), ax.Ratio, ax.Efficiency) + carrier.MeshDragNmm(0.2)
}

// Every row's source and strength stand in the file, testdata/checks/mechanics.csv.
func TestCheckValues(t *testing.T) {
	type in = func(string) float64
	unequal := func(v in) float64 {
		p := ax.Carrier()
		p.RingGearPedestalNPerMM, p.OppositePedestalNPerMM = v("back"), v("tooth")
		return solveFor(t, p, v("shim"), v("shim")).ShiftToPinionMM
	}
	answers := map[string]func(in) float64{
		"H1-force":            func(v in) float64 { return solveFor(t, ax.Carrier(), v("back"), v("tooth")).ForceN },
		"H1-spread":           func(v in) float64 { return solveFor(t, ax.Carrier(), v("back"), v("tooth")).SpreadMM },
		"DC-unequal-shift":    unequal,
		"DC-unequal-backlash": func(v in) float64 { return -v("gain") * unequal(v) },
	}
	for _, c := range ax.Checks(t, "DC-force", "DC-spread", "DC-added") {
		answers[c.ID] = func(v in) float64 {
			s := solveFor(t, ax.Carrier(), v("total")/2, v("total")/2)
			switch {
			case strings.HasPrefix(c.ID, "DC-force"):
				return s.ForceN
			case strings.HasPrefix(c.ID, "DC-spread"):
				return s.SpreadMM
			}
			return addedNmm(ax.Carrier(), s.ForceN, ax.NewFilm()) / ax.LbInNmm
		}
	}
	ax.Compare(t, answers, "H", "DC")
}

// Every row of the file belongs to the tests of exactly one package.
func TestNoCheckIsLeftOut(t *testing.T) {
	homes := []string{"B", "F", "P", "L", "E", "DB-", "T", "C", "DP-", "H", "DC-", "DM-"}
	for _, c := range ax.Checks(t, "") {
		n := 0
		for _, h := range homes {
			if strings.HasPrefix(c.ID, h) {
				n++
			}
		}
		assert.Equal(t, 1, n, "check %s", c.ID)
	}
}

func anyParams(t *rapid.T) carrier.Params {
	p := ax.Carrier()
	p.RingGearPedestalNPerMM = rapid.Float64Range(60e3, 130e3).Draw(t, "back pedestal")
	p.OppositePedestalNPerMM = p.RingGearPedestalNPerMM * rapid.Float64Range(0.8, 1.25).Draw(t, "pedestal ratio")
	p.CapsTight = rapid.Bool().Draw(t, "caps tight")
	return p
}

// The balance written out again from what Solve reports: the interference is taken
// up by bearings and pedestals, and each side by its own.
func TestBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyParams(t)
		back := rapid.Float64Range(-0.5, 0.5).Draw(t, "back")
		tooth := rapid.Float64Range(-0.5, 0.5).Draw(t, "tooth")
		s := solveFor(t, p, back, tooth)
		for _, v := range []float64{s.ForceN, s.EndPlayMM, s.SpreadMM} {
			require.False(t, math.IsNaN(v) || math.IsInf(v, 0) || v < 0, "%+v", s)
		}
		assert.Zero(t, s.ForceN*s.EndPlayMM, "force and end play together: %+v", s)
		caps := 1.0
		if !p.CapsTight {
			caps = 0.6
		}
		f := s.ForceN
		ringGearGive := p.Back.DeflectionMM(f) + f/(caps*p.RingGearPedestalNPerMM)
		oppositeGive := p.Tooth.DeflectionMM(f) + f/(caps*p.OppositePedestalNPerMM)
		assert.InDelta(t, back+tooth, ringGearGive+oppositeGive-s.EndPlayMM, sameMM)
		assert.InDelta(t, f/(caps*p.RingGearPedestalNPerMM)+f/(caps*p.OppositePedestalNPerMM), s.SpreadMM, sameMM)
		assert.InDelta(t, back-ringGearGive, s.ShiftToPinionMM, sameMM)
		if s.EndPlayMM == 0 {
			assert.InDelta(t, oppositeGive-tooth, s.ShiftToPinionMM, sameMM, "seen from the other side the case stands in the same place")
		}
	})
}

// Moving shim from one side to the other at a constant total (TM 9-2320-289-34
// p. 6-22) leaves the force alone and moves the case by what was moved.
func TestConstantTotalKeepsTheForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyParams(t)
		total := rapid.Float64Range(0.01, 0.6).Draw(t, "total")
		moved := rapid.Float64Range(-0.3, 0.3).Draw(t, "moved")
		before := solveFor(t, p, total/2, total/2)
		after := solveFor(t, p, total/2+moved, total/2-moved)
		assert.InDelta(t, before.ForceN, after.ForceN, sameN)
		assert.InDelta(t, before.SpreadMM, after.SpreadMM, sameMM)
		assert.InDelta(t, moved, after.ShiftToPinionMM-before.ShiftToPinionMM, sameMM)
	})
}

func TestMoreShimMoreForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyParams(t)
		total := rapid.Float64Range(0, 0.6).Draw(t, "total")
		a := solveFor(t, p, total/2, total/2)
		b := solveFor(t, p, total/2, total/2+0.01)
		assert.Greater(t, b.ForceN, a.ForceN)
		assert.Less(t, b.ShiftToPinionMM, a.ShiftToPinionMM, "shim on the tooth side pushes the gear away from the pinion")
	})
}

func TestEndPlay(t *testing.T) {
	s := solveFor(t, ax.Carrier(), 0.10, -0.25)
	assert.InDelta(t, 0.15, s.EndPlayMM, sameMM)
	assert.Zero(t, s.ForceN)
	assert.Zero(t, s.SpreadMM)
	assert.InDelta(t, 0.10, s.ShiftToPinionMM, sameMM)
	// Just preloaded, the case stands where it stood with the last of the end play.
	assert.InDelta(t, solveFor(t, ax.Carrier(), 0.1, -0.1).ShiftToPinionMM,
		solveFor(t, ax.Carrier(), 0.1, -0.1+1e-7).ShiftToPinionMM, 1e-6)
}

func TestStifferRingGearPedestalMovesTheGearToThePinion(t *testing.T) {
	p := ax.Carrier()
	assert.InDelta(t, 0, solveFor(t, p, 0.1, 0.1).ShiftToPinionMM, sameMM, "equal sides, equal shims: no shift")
	p.RingGearPedestalNPerMM *= 1.2
	assert.Positive(t, solveFor(t, p, 0.1, 0.1).ShiftToPinionMM)
	p.RingGearPedestalNPerMM = ax.Carrier().RingGearPedestalNPerMM / 1.2
	assert.Negative(t, solveFor(t, p, 0.1, 0.1).ShiftToPinionMM)
}

func TestLooseCapsAreSofter(t *testing.T) {
	p := ax.Carrier()
	tight := solveFor(t, p, 0.1, 0.1)
	p.CapsTight = false
	loose := solveFor(t, p, 0.1, 0.1)
	assert.Less(t, loose.ForceN, tight.ForceN)
	assert.Greater(t, loose.SpreadMM, tight.SpreadMM)
}

func TestTorque(t *testing.T) {
	p := ax.Carrier()
	p.Tooth = ax.Inner() // unlike sides, so that each must be counted once
	film := ax.AtCase(ax.NewFilm())
	assert.InDelta(t, p.Back.RunningTorqueNmm(5000, film)+p.Tooth.RunningTorqueNmm(5000, film), p.TorqueNmm(5000, film), 1e-9)
	assert.Zero(t, p.TorqueNmm(0, film))
	assert.InDelta(t, 1000/(4*0.9), carrier.AtPinionNmm(1000, 4, 0.9), 1e-9)
}

// The mesh drag's constants are engineering choices with no source.
func TestMeshDrag(t *testing.T) {
	lbin := func(backlash float64) float64 { return carrier.MeshDragNmm(backlash) / ax.LbInNmm }
	assert.InDelta(t, 1, lbin(0.2), 1e-9)
	assert.InDelta(t, 1, lbin(0.0254), 1e-9)
	assert.InDelta(t, 6, lbin(0), 1e-9)
	assert.InDelta(t, 11, lbin(-0.0254), 1e-9)
	assert.InDelta(t, lbin(0.0254), lbin(0.0254-1e-9), 1e-6, "no step")
}

func TestSolveSaysWhatIsWrong(t *testing.T) {
	cases := map[string]func(p *carrier.Params){
		"side bearing on the ring-gear side":     func(p *carrier.Params) { p.Back.Rollers = 0 },
		"side bearing on the opposite side":      func(p *carrier.Params) { p.Tooth.Y = math.NaN() },
		"bearing pedestal on the ring-gear side": func(p *carrier.Params) { p.RingGearPedestalNPerMM = 0 },
		"bearing pedestal on the opposite side":  func(p *carrier.Params) { p.OppositePedestalNPerMM = math.Inf(1) },
	}
	for words, spoil := range cases {
		p := ax.Carrier()
		spoil(&p)
		_, err := carrier.Solve(p, 0.1, 0.1)
		assert.Contains(t, text.Printer{}.Error(err), words)
	}
	_, err := carrier.Solve(ax.Carrier(), math.NaN(), 0)
	assert.Contains(t, text.Printer{}.Error(err), "ring-gear side shim")
	_, err = carrier.Solve(ax.Carrier(), 0, 6)
	assert.Contains(t, text.Printer{}.Error(err), "opposite side shim")
	assert.Contains(t, text.Printer{}.Error(err), "between -")
	_, err = carrier.Solve(ax.Carrier(), -6, 0)
	assert.Error(t, err, "as much the other way")
}

// One full set of readings: nut turned to the target, forces, drag, side bearings.
func BenchmarkReadings(b *testing.B) {
	side := ax.Carrier()
	b.ReportAllocs()
	for b.Loop() {
		p, err := pinion.New(ax.Pinion())
		if err != nil {
			b.Fatal(err)
		}
		p.TurnNut(178.5)
		s, err := carrier.Solve(side, 0.1, 0.1)
		if err != nil {
			b.Fatal(err)
		}
		if p.RunningTorqueNmm(ax.NewFilm())+addedNmm(side, s.ForceN, ax.NewFilm()) <= 0 {
			b.Fatal("no drag")
		}
	}
}
