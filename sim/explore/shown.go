package explore

import (
	"fmt"
	"math"

	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/gauge"
	"shimwright/sim/mesh"
	"shimwright/sim/rng"
)

// A PrintPlace is what an eye makes of a pattern: where its middle is and how far it
// reaches, in hundredths of the tooth. None tells that there is no pattern.
type PrintPlace struct {
	AlongShare, UpShare      float64 // 0 toe .. 1 heel, 0 root .. 1 top
	LengthShare, HeightShare float64
	None                     bool
}

// Shown is what the instruments of the bench show of the axle.
type Shown struct {
	DepthGaugeMM            float64 // pinion head to ring gear axis
	DialBacklashMM          [Places]float64
	DialBacklashMeanMM      float64 // of the four as read
	DialRunoutMM            float64
	DialPinionEndPlayMM     float64
	DialCaseEndPlayMM       float64
	DialSpreadMM            float64
	NutWrenchNmm            float64
	WrenchPinionTorqueNmm   float64 // low-range wrench, seal in, case out
	WrenchTotalTorqueNmm    float64
	StringPinionTorqueNmm   float64
	StringTotalTorqueNmm    float64
	FeelerInnerCupGapMM     float64
	FeelerOuterCupGapMM     float64
	CaliperSpacerMM         float64 // length of a collapsible spacer taken out again
	MicrometerPreloadShimMM float64 // pack of a solid spacer
	EyeDrive, EyeCoast      PrintPlace
}

// Class returns what an instrument can do: its smallest step and its errors.
func Class(t gauge.Tool) gauge.Class {
	c, _ := gauge.ClassOf(t)
	return c
}

// A stream names what is read to the random stream of its errors. It stays for good: another
// name would be other readings.
type stream string

// reader reads with the instruments of one setting.
type reader struct {
	Reading
	kit   *gauge.Kit // nil: instruments without error
	label string
}

func newReader(s Settings) reader {
	r := reader{Reading: s.Reading, label: fmt.Sprintf("exhibit/%d/", s.Repeat)}
	if s.Seed > 0 {
		r.kit = gauge.NewKit(s.Seed, s.WrenchGain, s.StringGain)
	}
	return r
}

// read returns what the tool shows, never below zero: a needle, a blade and a scale
// do not read less than nothing.
func (r reader) read(t gauge.Tool, what stream, value float64) float64 {
	return r.shaky(t, what, value, 0)
}

// shaky is read where so much of a loose arm's scatter comes through.
func (r reader) shaky(t gauge.Tool, what stream, value, share float64) float64 {
	if r.kit != nil {
		arm := 0.0
		if r.ArmLoose {
			arm = share * sim.LooseArmMM
		}
		return math.Max(r.kit.Read(t, value, r.label+string(what), arm), 0)
	}
	switch t {
	case gauge.LowRangeWrench:
		value *= 1 + r.WrenchGain
	case gauge.StringAndScale:
		value *= 1 + r.StringGain
	}
	return math.Max(Class(t).Shown(value), 0)
}

// eye places a pattern on the tooth.
func (r reader) eye(what stream, p mesh.Pattern) PrintPlace {
	if p.Empty {
		return PrintPlace{None: true}
	}
	s, t := p.CenterS, p.CenterT
	if r.Seed > 0 {
		how := gauge.Method{Coat: act.Thin, Load: act.Braked}
		if r.ThickCoat {
			how.Coat = act.Thick
		}
		if r.RolledFree {
			how.Load = act.Free
		}
		ch := rng.Stream(r.Seed, r.label+string(what))
		sd := sim.EyeStd(how)
		s, t = s+ch.Normal(0, sd), t+ch.Normal(0, sd)
	}
	part := func(x float64) float64 { return math.Round(math.Max(0, math.Min(1, x))*100) / 100 }
	return PrintPlace{AlongShare: part(s), UpShare: part(t), LengthShare: part(p.MaxS - p.MinS), HeightShare: part(p.MaxT - p.MinT)}
}

// filmMM returns the compound film that a coat laid on so leaves.
func (s Settings) filmMM() float64 { return s.FilmMM * sim.FilmShare(s.ThickCoat, s.RolledFree) }

// shown reads the axle. pullNmm is what it takes more to break the pinion loose than to
// keep it turning.
func (b *Bench) shown(r Result, pullNmm float64) Shown {
	k := newReader(r.Settings)
	sheet := b.fam.Sheet
	if !k.BreakawayTorque {
		pullNmm = 0
	}
	pinion, total := r.Pinion.PinionTorqueNmm+pullNmm, r.Sides.TotalTorqueNmm+pullNmm
	const all, rocked = 1, 0.25 // how much of a loose arm comes through
	seen := b.gears.under(r.Gears, r.Settings)
	out := Shown{
		DepthGaugeMM:            k.read(gauge.DepthGauge, stream("depth"), sheet.CheckingDistanceMM+r.Pinion.PinionOutMM),
		DialRunoutMM:            k.shaky(gauge.DialIndicator, stream("runout"), r.Gears.RunoutTIRMM, all),
		DialPinionEndPlayMM:     k.shaky(gauge.DialIndicator, stream("pinion-end-play"), r.Pinion.EndPlayMM, rocked),
		DialCaseEndPlayMM:       k.shaky(gauge.DialIndicator, stream("case-end-play"), r.Sides.CaseEndPlayMM, rocked),
		DialSpreadMM:            k.shaky(gauge.DialIndicator, stream("spread"), r.Sides.SpreadMM, all),
		NutWrenchNmm:            k.read(gauge.NutWrench, stream("nut"), r.Pinion.NutTorqueNmm),
		WrenchPinionTorqueNmm:   k.read(gauge.LowRangeWrench, stream("pinion-drag"), pinion),
		WrenchTotalTorqueNmm:    k.read(gauge.LowRangeWrench, stream("total-drag"), total),
		StringPinionTorqueNmm:   k.read(gauge.StringAndScale, stream("pinion-drag-cord"), pinion),
		StringTotalTorqueNmm:    k.read(gauge.StringAndScale, stream("total-drag-cord"), total),
		FeelerInnerCupGapMM:     k.read(gauge.Feeler, stream("head-cup"), r.Pinion.InnerCupGapMM),
		FeelerOuterCupGapMM:     k.read(gauge.Feeler, stream("tail-cup"), r.Pinion.OuterCupGapMM),
		CaliperSpacerMM:         k.read(gauge.Caliper, stream("spacer"), sheet.SpacerLengthMM-r.Pinion.SpacerSetMM),
		MicrometerPreloadShimMM: k.read(gauge.Micrometer, stream("pack"), r.Pinion.PreloadShimMM),
		EyeDrive:                k.eye(stream("eye-drive"), seen.Drive),
		EyeCoast:                k.eye(stream("eye-coast"), seen.Coast),
	}
	plunger := sim.PlungerShare(b.gears.set, b.fam.Model.Gears.RingDiameterMM/2, k.DialAt, k.Plunger)
	for i, mm := range r.Gears.BacklashAtMM {
		what := stream(fmt.Sprintf("backlash/%d", i))
		// Where the teeth bind there is no play for a dial to show.
		mm = math.Max(mm, 0)
		if k.PinionFree {
			part := 0.5
			if k.Seed > 0 {
				part = rng.Stream(k.Seed, k.label+string(what)+"/free").Uniform(0, 1)
			}
			mm += sim.FreePinionMM * (1 + part)
		}
		out.DialBacklashMM[i] = k.shaky(gauge.DialIndicator, what, mm*plunger, all)
		out.DialBacklashMeanMM += out.DialBacklashMM[i] / Places
	}
	return out
}
