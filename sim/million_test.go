package sim_test

import (
	"errors"
	"flag"
	"math"
	"math/rand/v2"
	"runtime"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"

	"shimwright/scenarios/scenariostest"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/longtest"
	"shimwright/sim/quantity"
)

var (
	randomActs = flag.Int("acts", 0, "so many random acts over all families; 0: a sample")
	firstWalk  = flag.Int("walk", 0, "the first of the walks of 300 acts")
)

// randomAmount is mostly one that makes sense for a blank of an act.
func randomAmount(r *rand.Rand, kind string, stock family.Stock) quantity.Entered {
	pick := func(of ...float64) float64 { return of[r.IntN(len(of))] }
	if r.IntN(20) == 0 {
		units := []quantity.Unit{quantity.UnitInch, quantity.UnitMM, quantity.UnitFootLb, quantity.UnitDegree, quantity.UnitTurn, "", "ell"}
		return quantity.Entered{Number: pick(0, -1, 1e-9, 1e6, 1e300, math.NaN(), math.Inf(1), math.Inf(-1)), Unit: units[r.IntN(len(units))]}
	}
	switch kind {
	case "length":
		sizes := stock.Sizes()
		return quantity.Entered{Number: sizes[r.IntN(len(sizes))], Unit: quantity.UnitMM}
	case "torque":
		return quantity.Entered{Number: pick(1, 50, 150, 250, 400, 700), Unit: quantity.UnitFootLb}
	case "angle":
		return quantity.Entered{Number: pick(0.01, 2, 5, 15, 60, 200, 720), Unit: quantity.UnitDegree}
	case "turns":
		return quantity.Entered{Number: pick(0.1, 1, 3, 5, 100), Unit: quantity.UnitTurn}
	case "places", "notches":
		return quantity.Entered{Number: float64(1 + r.IntN(8)), Unit: quantity.UnitTurn}
	}
	return quantity.Entered{Number: 50 * r.Float64(), Unit: quantity.UnitInchLb}
}

func randomAct(r *rand.Rand, f act.Form, sheet family.Sheet) act.Act {
	a := act.Act{Form: f}
	stock := sheet.DepthShims
	switch f {
	case act.FitSideShims:
		stock = sheet.SideShims
	}
	if !(stock.StepMM > 0) {
		stock = sheet.DepthShims // an axle without such shims
	}
	for word := range strings.FieldsSeq(f.String()) {
		inner, blank := strings.CutPrefix(word, "{")
		inner = strings.TrimSuffix(inner, "}")
		switch {
		case !blank:
		case strings.Contains(inner, "|"):
			choices := strings.Split(inner, "|")
			if r.IntN(40) == 0 {
				choices = []string{"", "sideways"}
			}
			a.Choices = append(a.Choices, act.Option(choices[r.IntN(len(choices))]))
		default:
			a.Amounts = append(a.Amounts, randomAmount(r, inner, stock))
		}
	}
	return a
}

// unphysical says what of a reading no instrument on any axle could show; "" where all could be.
func unphysical(o history.Step) string {
	// The longest travel of a dial indicator and the widest of the other instruments, with room.
	const indicatorMM, anyMM, wrenchNmm = 25.4 + 1e-9, 400.0, 1.36e6
	finite := func(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
	for _, r := range o.Readings {
		for _, l := range r.Lengths {
			mm := l.MM()
			switch r.Kind {
			case gauge.Runout, gauge.RadialRunout, gauge.CaseRunout, gauge.PinionRunout, gauge.PinionEndPlay, gauge.CaseEndPlay, gauge.Backlash:
				if !(mm >= 0 && mm <= indicatorMM) {
					return "an indicator beyond its stops or below zero"
				}
			default:
				if !finite(mm) || math.Abs(mm) > anyMM {
					return "a length beyond any instrument"
				}
			}
		}
		for _, q := range r.Torques {
			if !finite(q.Nmm()) || q < 0 || q.Nmm() > wrenchNmm {
				return "a torque beyond any wrench"
			}
		}
		if !finite(r.StdMM) || r.StdMM < 0 || !finite(r.StdNmm) || r.StdNmm < 0 || !finite(r.Degrees) {
			return "an uncertainty that is none"
		}
		for _, p := range r.Patterns {
			for _, share := range append(p.Ink, p.CenterS, p.CenterT, p.LengthPart, p.HeightPart, p.AreaPart) {
				if !(share >= 0 && share <= 1) {
					return "a pattern off the tooth"
				}
			}
		}
	}
	return ""
}

// Random acts on axles of every family: no crash, nothing that is no number, and no reading that
// no instrument could show. -acts 1000000 does a million.
func TestRandomActsOnEveryAxle(t *testing.T) {
	all := *randomActs
	if all == 0 {
		all = longtest.Pick(4_000, 40_000)
	}
	const walk = 300
	fams := family.Shelf()
	var work sync.WaitGroup
	var hold sync.Mutex
	next, done, taken := *firstWalk, 0, 0
	for range runtime.GOMAXPROCS(0) {
		work.Go(func() {
			for {
				hold.Lock()
				n := next
				next++
				enough := done >= all
				hold.Unlock()
				if enough || t.Failed() {
					return
				}
				fam := fams[n%len(fams)]
				r := rand.New(rand.NewPCG(uint64(n), 1))
				job, err := scenariostest.Sketch(fam, uint64(n))
				if err != nil {
					continue
				}
				s, err := job.Stand()
				if err != nil {
					continue
				}
				usages := act.Usages()
				did := 0
				for range walk {
					f := usages[r.IntN(len(usages))].Form
					if possible := s.Possible(); len(possible) > 0 && r.IntN(8) > 0 {
						f = possible[r.IntN(len(possible))]
					}
					if (f == act.SignOff || f == act.RemoveCase || f == act.RemovePinion) && r.IntN(6) > 0 {
						continue
					}
					a := randomAct(r, f, fam.Sheet)
					out, err := s.Do(a)
					var no *history.Refusal
					if err != nil {
						if !errors.As(err, &no) && !isNotAnAct(err) {
							t.Errorf("%s %d: %s: %v", fam.Code, n, a, err)
						}
						continue
					}
					did++
					if why := unphysical(out); why != "" {
						t.Errorf("%s %d: %s: %s: %+v", fam.Code, n, a, why, out.Readings)
					}
				}
				hold.Lock()
				done += walk
				taken += did
				hold.Unlock()
			}
		})
	}
	work.Wait()
	t.Logf("%d acts tried, %d done", done, taken)
	assert.Greater(t, taken, all/4, "most of what is tried can be done")
}

// A row of shims that makes no sense has none, and none is waited for.
func TestAStockWithoutAStepHasAnEnd(t *testing.T) {
	for _, s := range []family.Stock{{}, {LowMM: 1, HighMM: 2}, {LowMM: 1, HighMM: 2, StepMM: -0.1}, {LowMM: 1, HighMM: 2, StepMM: math.NaN()},
		{LowMM: 1, HighMM: math.Inf(1), StepMM: 0.1}, {LowMM: 2, HighMM: 1, StepMM: 0.1}, {LowMM: 0, HighMM: 1, StepMM: 1e-12}} {
		assert.Empty(t, s.Sizes(), "%+v", s)
	}
	assert.Len(t, family.Stock{LowMM: 1, HighMM: 2, StepMM: 0.1}.Sizes(), 11)
}
