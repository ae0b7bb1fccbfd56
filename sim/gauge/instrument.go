package gauge

import (
	"math"
	"strings"

	"shimwright/sim/quantity"
	"shimwright/sim/rng"
	"shimwright/sim/text"
)

// A Tool is an instrument of the bench.
type Tool int

// The instruments of the bench.
const (
	NoTool Tool = iota
	Micrometer
	DepthGauge
	DialIndicator
	Caliper
	Feeler
	LowRangeWrench
	StringAndScale
	NutWrench
	EyeOnCompound
)

// toolRow is what belongs to a tool. Its stream is an identity: with another one every job
// would have other instruments.
type toolRow struct {
	stream string
	name   text.Message
}

func (t Tool) row() toolRow {
	switch t {
	case Micrometer:
		return toolRow{"micrometer", text.Say("tool.micrometer", "micrometer")}
	case DepthGauge:
		return toolRow{"depth gauge", text.Say("tool.depth-gauge", "depth gauge")}
	case DialIndicator:
		return toolRow{"dial indicator", text.Say("tool.indicator", "dial indicator")}
	case Caliper:
		return toolRow{"caliper", text.Say("tool.caliper", "caliper")}
	case Feeler:
		return toolRow{"feeler gauges", text.Say("tool.feeler", "feeler gauges")}
	case LowRangeWrench:
		return toolRow{"low-range torque wrench", text.Say("tool.low-range-wrench", "low-range torque wrench")}
	case StringAndScale:
		return toolRow{"cord and scale", text.Say("tool.string-and-scale", "string and spring scale")}
	case NutWrench:
		return toolRow{"nut wrench", text.Say("tool.nut-wrench", "nut wrench")}
	case EyeOnCompound:
		return toolRow{"eye on the compound", text.Say("tool.eye", "eye on the compound")}
	}
	return toolRow{}
}

// String is the tool's code in JSON.
func (t Tool) String() string { return strings.TrimPrefix(t.row().name.Code(), "tool.") }

// Name is what the shop calls it.
func (t Tool) Name() text.Message { return t.row().name }

// Stream names the tool in the streams of chance that its readings are drawn from.
func (t Tool) Stream() string { return t.row().stream }

// MarshalText writes the code.
func (t Tool) MarshalText() ([]byte, error) { return []byte(t.String()), nil }

// A Class is what an instrument of one kind can do. Step, Offset and Repeat are
// in the instrument's own base unit: millimetres or newton millimetres.
type Class struct {
	Tool       Tool
	Step       float64 // smallest interval a person reads
	Gain       float64 // limit of the fixed relative error, plus or minus
	Offset     float64 // limit of the fixed error, plus or minus
	Repeat     float64 // standard deviation from reading to reading
	RepeatPart float64 // further repeat, as a share of the value
	End        float64 // where its scale or its travel ends, either way; 0: it has no end of its own
}

// ClassOf returns what the tool can do. The ends are common practice, no source: an indicator of
// one inch of travel, wrenches and scales as shops have them. ok is false for a tool the bench does not
// have.
func ClassOf(t Tool) (c Class, ok bool) {
	in := func(x float64) float64 { return quantity.Inches(x).MM() }
	lbin := func(x float64) float64 { return quantity.InchPounds(x).Nmm() }
	lbft := func(x float64) float64 { return quantity.FootPounds(x).Nmm() }
	switch t {
	case Micrometer:
		return Class{Tool: t, Step: in(0.0001), Offset: 0.004, Repeat: in(0.0001)}, true
	case DepthGauge:
		return Class{Tool: t, Step: in(0.0005), Offset: in(0.0005), Repeat: in(0.0003)}, true
	case DialIndicator:
		return Class{Tool: t, Step: in(0.0005), Offset: in(0.0003), Repeat: in(0.00015), End: in(1)}, true
	case Caliper:
		return Class{Tool: t, Step: in(0.001), Offset: in(0.001), Repeat: in(0.0005)}, true
	case Feeler:
		return Class{Tool: t, Step: in(0.001), Offset: in(0.0005), Repeat: in(0.0004)}, true
	case LowRangeWrench:
		return Class{Tool: t, Step: lbin(0.5), Gain: 0.06, Repeat: lbin(0.4), RepeatPart: 0.02, End: lbin(1000)}, true
	case StringAndScale:
		return Class{Tool: t, Step: lbin(0.5), Gain: 0.03, Repeat: lbin(0.6), RepeatPart: 0.03, End: lbin(1000)}, true
	case NutWrench:
		return Class{Tool: t, Step: lbft(5), Gain: 0.04, Repeat: lbft(1), RepeatPart: 0.01, End: lbft(1000)}, true
	}
	return Class{}, false
}

// StandardUncertainty returns the standard uncertainty of the mean of n readings
// near the given value, in the class's base unit: fixed limits as rectangular
// distributions, half a step as a rectangular distribution, repeat noise divided
// by the root of n. n below 1 counts as 1.
func (c Class) StandardUncertainty(value float64, n int) float64 {
	if n < 1 {
		n = 1
	}
	fixed := math.Hypot(c.Gain*value, c.Offset) / math.Sqrt(3)
	step := c.Step / math.Sqrt(12)
	repeat := math.Hypot(c.Repeat, c.RepeatPart*value) / math.Sqrt(float64(n))
	return math.Sqrt(fixed*fixed + step*step + repeat*repeat)
}

// Instrument is one particular instrument: its class and its own fixed errors.
type Instrument struct {
	Class
	ownGain, ownOffset float64
}

// A Kit is the set of instruments on the bench for one job.
type Kit struct {
	seed  uint64
	tools map[Tool]Instrument
}

// NewKit draws the fixed errors of every instrument for a job. wrenchGain is added to
// the low-range wrench's own gain, a wrench out of calibration; cordGain to that of
// cord and scale, a cord that is wound on another radius than the one reckoned with.
func NewKit(seed uint64, wrenchGain, stringGain float64) *Kit {
	k := &Kit{seed: seed, tools: map[Tool]Instrument{}}
	for _, t := range []Tool{Micrometer, DepthGauge, DialIndicator, Caliper, Feeler, LowRangeWrench, StringAndScale, NutWrench} {
		c, _ := ClassOf(t)
		s := rng.Stream(seed, "instrument/"+t.Stream())
		i := Instrument{Class: c, ownGain: s.Uniform(-c.Gain, c.Gain), ownOffset: s.Uniform(-c.Offset, c.Offset)}
		switch t {
		case LowRangeWrench:
			i.ownGain += wrenchGain
		case StringAndScale:
			i.ownGain += stringGain
		}
		k.tools[t] = i
	}
	return k
}

// Read returns what the tool shows for a true value, in the tool's base unit, and no more than
// where it ends.
// label names the reading; the same label on the same job gives the same noise.
// extraRepeat is added to the tool's own repeat noise (a base that moves).
func (k *Kit) Read(t Tool, value float64, label string, extraRepeat float64) float64 {
	i := k.tools[t]
	sd := math.Sqrt(i.Repeat*i.Repeat + sq(i.RepeatPart*value) + extraRepeat*extraRepeat)
	noise := rng.Stream(k.seed, "reading/"+label).Normal(0, sd)
	shown := roundTo(float64(value*(1+i.ownGain))+i.ownOffset+noise, i.Step)
	if i.End > 0 {
		return math.Max(-i.End, math.Min(i.End, shown))
	}
	return shown
}

// True returns the value at which the tool would show the given reading without
// noise: what really reaches the nut when a wrench says its number.
func (k *Kit) True(t Tool, shown float64) float64 {
	i := k.tools[t]
	return (shown - i.ownOffset) / (1 + i.ownGain)
}

func sq(x float64) float64 { return x * x }

// roundTo rounds to a whole number of steps. The small nudge keeps a value that
// lies on a half step from falling either way by the last bit on different machines.
func roundTo(x, step float64) float64 {
	if step <= 0 {
		return x
	}
	const nudge = 1e-9
	return math.Floor(x/step+0.5+nudge) * step
}
