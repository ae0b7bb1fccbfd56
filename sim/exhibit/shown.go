package exhibit

import (
	"fmt"
	"math"

	"shimwright/sim"
	"shimwright/sim/gauge"
	"shimwright/sim/mesh"
	"shimwright/sim/rng"
)

// A PrintPlace is where an eye puts the middle of a print, in hundredths of the
// tooth. None tells that there is no print to place.
type PrintPlace struct {
	AlongShare, UpShare float64 // 0 toe .. 1 heel, 0 root .. 1 top
	None                bool
}

// Shown is what the instruments of the bench show of the axle.
type Shown struct {
	DepthGaugeMM        float64 // pinion head to ring gear axis
	DialBacklashMM      [Places]float64
	DialBacklashMeanMM  float64 // of the four as read
	DialRunoutMM        float64
	DialPinionEndPlayMM float64
	DialCaseEndPlayMM   float64
	DialSpreadMM        float64
	NutWrenchNmm        float64
	WrenchPinionDragNmm float64 // low-range wrench, turning, seal in, case out
	WrenchTotalDragNmm  float64
	CordPinionDragNmm   float64
	CordTotalDragNmm    float64
	FeelerHeadCupGapMM  float64
	FeelerTailCupGapMM  float64
	CaliperSpacerMM     float64 // free length of a collapsible spacer taken out again
	MicrometerPackMM    float64 // pack of a solid spacer
	EyeDrive, EyeCoast  PrintPlace
}

// Class returns what an instrument can do: its smallest step and its errors.
func Class(t gauge.Tool) gauge.Class {
	c, _ := gauge.ClassOf(t)
	return c
}

// reader reads with the instruments of one setting.
type reader struct {
	kit   *gauge.Kit // nil: instruments without error
	seed  uint64
	label string
}

func newReader(s Settings) reader {
	r := reader{seed: s.Seed, label: fmt.Sprintf("exhibit/%d/", s.Repeat)}
	if s.Seed > 0 {
		r.kit = gauge.NewKit(s.Seed, 0, 0)
	}
	return r
}

// read returns what the tool shows, never below zero: a needle, a blade and a scale
// do not read less than nothing.
func (r reader) read(t gauge.Tool, what string, value float64) float64 {
	if r.kit == nil {
		return math.Max(Class(t).Shown(value), 0)
	}
	return math.Max(r.kit.Read(t, value, r.label+what, 0), 0)
}

func (r reader) eye(what string, p mesh.Pattern) PrintPlace {
	if p.Empty {
		return PrintPlace{None: true}
	}
	s, t := p.CentreS, p.CentreT
	if r.seed > 0 {
		ch := rng.Stream(r.seed, r.label+what)
		sd := sim.EyeStd("thin coat, braked")
		s, t = s+ch.Normal(0, sd), t+ch.Normal(0, sd)
	}
	return PrintPlace{AlongShare: math.Round(s*100) / 100, UpShare: math.Round(t*100) / 100}
}

func (b *Bench) shown(r Result) Shown {
	k := newReader(r.Settings)
	sheet := b.fam.Sheet
	out := Shown{
		DepthGaugeMM:        k.read(gauge.DepthGauge, "depth", sheet.HeadHeightMM+r.Pinion.PinionOutMM),
		DialRunoutMM:        k.read(gauge.DialIndicator, "runout", r.Gears.RunoutTIRMM),
		DialPinionEndPlayMM: k.read(gauge.DialIndicator, "pinion-end-play", r.Pinion.EndPlayMM),
		DialCaseEndPlayMM:   k.read(gauge.DialIndicator, "case-end-play", r.Sides.CaseEndPlayMM),
		DialSpreadMM:        k.read(gauge.DialIndicator, "spread", r.Sides.SpreadMM),
		NutWrenchNmm:        k.read(gauge.NutWrench, "nut", r.Pinion.NutTorqueNmm),
		WrenchPinionDragNmm: k.read(gauge.LowRangeWrench, "pinion-drag", r.Pinion.PinionDragNmm),
		WrenchTotalDragNmm:  k.read(gauge.LowRangeWrench, "total-drag", r.Sides.TotalDragNmm),
		CordPinionDragNmm:   k.read(gauge.CordAndScale, "pinion-drag-cord", r.Pinion.PinionDragNmm),
		CordTotalDragNmm:    k.read(gauge.CordAndScale, "total-drag-cord", r.Sides.TotalDragNmm),
		FeelerHeadCupGapMM:  k.read(gauge.Feeler, "head-cup", r.Pinion.HeadCupGapMM),
		FeelerTailCupGapMM:  k.read(gauge.Feeler, "tail-cup", r.Pinion.TailCupGapMM),
		CaliperSpacerMM:     k.read(gauge.Caliper, "spacer", sheet.SpacerLengthMM-r.Pinion.SpacerSetMM),
		MicrometerPackMM:    k.read(gauge.Micrometer, "pack", r.Pinion.PackMM),
		EyeDrive:            k.eye("eye-drive", r.Gears.Drive),
		EyeCoast:            k.eye("eye-coast", r.Gears.Coast),
	}
	for i, mm := range r.Gears.BacklashAtMM {
		// Where the teeth bind there is no play for a dial to show.
		out.DialBacklashMM[i] = k.read(gauge.DialIndicator, fmt.Sprintf("backlash/%d", i), math.Max(mm, 0))
		out.DialBacklashMeanMM += out.DialBacklashMM[i] / Places
	}
	return out
}
