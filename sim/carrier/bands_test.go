package carrier_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"shimwright/sim/bearing"
	"shimwright/sim/carrier"
	ax "shimwright/sim/carrier/axletest"
	"shimwright/sim/pinion"
	"shimwright/sim/rng"
	"shimwright/sim/solve"
)

// drawn is one randomised axle: a set pinion and its carrier.
type drawn struct {
	preloadKN, torqueLbFt, perThou, stemKN, addedLbIn float64
	sideKN, spreadThou, backlashThou                  float64
}

// drawAxle draws an axle over the ranges a shop would meet, bearings and thread as
// the default, and sets its pinion to 25 lb-in new or 12 used with the seal fitted.
// It also returns how many draws broke the spacer's slope rule.
func drawAxle(t *testing.T, r rng.Source, used bool) (d drawn, redraws int) {
	t.Helper()
	uniform := r.Uniform
	film, target := ax.NewFilm(), 25.0
	film.BoundaryFriction = uniform(0.12, 0.18)
	if used {
		film.BoundaryFriction, target = uniform(0.05, 0.10), 12
	}
	for {
		p := ax.Pinion()
		p.HouseStiffnessNPerMM = uniform(200e3, 900e3) // aluminium and iron
		p.NutStiffnessNPerMM = uniform(500e3, 900e3)
		p.Thread.PrevailingNmm = uniform(10, 40) * ax.LbFtNmm
		// Half the time the nut face is as slippery as the thread, so that the two
		// are correlated by about a half.
		p.Thread.ThreadFriction = uniform(0.10, 0.18)
		p.Thread.FaceFriction = p.Thread.ThreadFriction
		if uniform(0, 1) < 0.5 {
			p.Thread.FaceFriction = uniform(0.10, 0.18)
		}
		y := uniform(60e3, 130e3)
		p.Spacer = &pinion.Spacer{
			StiffnessNPerMM: uniform(350e3, 900e3), YieldN: y, PeakN: y * uniform(1, 1.15),
			PeakDecayMM: uniform(0.05, 0.2), HardeningNPerMM: uniform(0, 20000), UsableCrushMM: 2.5,
		}
		p.EndPlayAtContactMM = uniform(0.2, 1.3)
		torque := func(n float64) float64 {
			return (p.Inner.RunningTorqueNmm(n, film) + p.Outer.RunningTorqueNmm(n, film) + ax.SealNmm) / ax.LbInNmm
		}
		preload, err := solve.Bracketed(func(n float64) float64 { return torque(n) - target }, 1, 60000, 0.01)
		require.NoError(t, err)
		s, err := p.AtPreload(preload.X)
		if errors.Is(err, pinion.ErrSpacerSnaps) {
			redraws++
			continue
		}
		require.NoError(t, err)

		c := ax.Carrier()
		c.RingGearPedestalNPerMM = uniform(60e3, 130e3)
		c.OppositePedestalNPerMM = c.RingGearPedestalNPerMM * uniform(0.8, 1.25)
		total := uniform(0.10, 0.30)
		side, err := carrier.Solve(c, total/2, total/2)
		require.NoError(t, err)

		pair := bearing.InSeries(p.Inner, p.Outer).With(p.HouseStiffnessNPerMM)
		const half = 10.0 // N
		perN := (torque(preload.X+half) - torque(preload.X-half)) / (2 * half)
		return drawn{
			preloadKN: s.PreloadN / 1000, torqueLbFt: s.TorqueNmm / ax.LbFtNmm, stemKN: s.StemN / 1000,
			perThou:      perN * pair.StiffnessNPerMM(preload.X) * ax.InchMM / 1000,
			sideKN:       side.ForceN / 1000,
			spreadThou:   side.SpreadMM / ax.InchMM * 1000,
			addedLbIn:    addedNmm(c, side.ForceN, film) / ax.LbInNmm,
			backlashThou: math.Abs(side.ShiftToPinionMM) * uniform(0.5, 0.8) / ax.InchMM * 1000,
		}, redraws
	}
}

// The spread of a random fleet, 5th, 50th and 95th percentile, against another
// program's (testdata/checks/mechanics.csv, rows DM). Tolerances allow for 2000
// draws and for different random numbers.
func TestBands(t *testing.T) {
	const draws = 2000
	fleet := map[string][]drawn{}
	redrawn := 0
	for k := range uint64(draws) {
		d, n := drawAxle(t, rng.Stream(k, "bands/new"), false)
		fleet["new"] = append(fleet["new"], d)
		redrawn += n
		d, _ = drawAxle(t, rng.Stream(k, "bands/used"), true)
		fleet["used"] = append(fleet["used"], d)
	}
	pick := map[string]func(d drawn) float64{
		"preload":  func(d drawn) float64 { return d.preloadKN },
		"torque":   func(d drawn) float64 { return d.torqueLbFt },
		"perthou":  func(d drawn) float64 { return d.perThou },
		"stem":     func(d drawn) float64 { return d.stemKN },
		"added":    func(d drawn) float64 { return d.addedLbIn },
		"side":     func(d drawn) float64 { return d.sideKN },
		"spread":   func(d drawn) float64 { return d.spreadThou },
		"backlash": func(d drawn) float64 { return d.backlashThou },
	}
	answers := map[string]func(func(string) float64) float64{
		"DM-redrawn": func(in func(string) float64) float64 {
			return 100 * float64(redrawn) / (in("draws") + float64(redrawn))
		},
	}
	for _, c := range ax.Checks(t, "DM-") {
		if answers[c.ID] != nil {
			continue
		}
		parts := strings.Split(c.ID, "-") // DM-what-condition-percentile or DM-what-percentile
		value, condition := pick[parts[1]], "new"
		require.NotNil(t, value, "check %s", c.ID)
		if len(parts) == 4 {
			condition = parts[2]
		}
		answers[c.ID] = func(in func(string) float64) float64 {
			all := make([]float64, 0, draws)
			for _, d := range fleet[condition] {
				all = append(all, value(d))
			}
			slices.Sort(all)
			return all[int(in("percentile")/100*draws)]
		}
	}
	ax.Compare(t, answers, "DM-")
}
