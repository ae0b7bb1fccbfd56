package drill

import "shimwright/sim/text"

// A Misconception is a belief that leads to a wrong answer.
type Misconception string

// The misconceptions that drills can tell by their answers.
const (
	SignTurned        Misconception = "sign-turned"
	NewMarkOnly       Misconception = "new-mark-only"
	MarksAdded        Misconception = "marks-added"
	OtherMarkUnit     Misconception = "other-mark-unit"
	MarkForgotten     Misconception = "mark-forgotten"
	SetUpSame         Misconception = "set-up-bearing-same"
	OneToOne          Misconception = "one-to-one"
	GainTurned        Misconception = "gain-turned"
	OneSideOnly       Misconception = "one-side-only"
	ZeroIsEnough      Misconception = "zero-play-is-enough"
	PreloadEachSide   Misconception = "preload-each-side"
	ThickTightens     Misconception = "thick-tightens"
	PreloadShimsLeft  Misconception = "preload-shims-left"
	NewForUsed        Misconception = "new-for-used"
	SealIgnored       Misconception = "seal-ignored"
	SpacerBack        Misconception = "spacer-comes-back"
	StepPerDegree     Misconception = "step-per-degree"
	Diameter          Misconception = "diameter-for-radius"
	FeetForInches     Misconception = "feet-for-inches"
	TwelveTurned      Misconception = "twelve-turned"
	MetricTurned      Misconception = "metric-turned"
	SameNumber        Misconception = "same-number"
	AdapterIgnored    Misconception = "adapter-ignored"
	AdapterTurned     Misconception = "adapter-turned"
	AlwaysLonger      Misconception = "adapter-always-longer"
	RatioIgnored      Misconception = "ratio-ignored"
	RatioTurned       Misconception = "ratio-turned"
	RatioForAll       Misconception = "ratio-for-all"
	MeanIsEnough      Misconception = "mean-is-enough"
	OneIsEnough       Misconception = "one-is-enough"
	NearEnough        Misconception = "near-enough"
	ShimRunout        Misconception = "shim-the-runout"
	PerfectFigure     Misconception = "perfect-figure"
	LengthIsDepth     Misconception = "length-is-depth"
	FlanksMirror      Misconception = "flanks-mirror"
	NextShim          Misconception = "next-shim"
	OtherFault        Misconception = "other-fault"
	FractionIsHunting Misconception = "fraction-is-hunting"
	AlwaysTimed       Misconception = "always-timed"
	NeverTimed        Misconception = "never-timed"
	ShimsCureAll      Misconception = "shims-cure-all"
	NewPartsCure      Misconception = "new-parts-cure"
	WarmIgnored       Misconception = "warmth-ignored"
	WarmTightens      Misconception = "warmth-tightens"
)

// Name says the misconception as a person would who has it.
func (m Misconception) Name() text.Message {
	switch m {
	case SignTurned:
		return text.Say("drill.misconception.sign-turned", "the correction goes the other way")
	case NewMarkOnly:
		return text.Say("drill.misconception.new-mark-only", "the new mark alone gives the change of shim")
	case MarksAdded:
		return text.Say("drill.misconception.marks-added", "both marks are applied with the same sign")
	case OtherMarkUnit:
		return text.Say("drill.misconception.other-mark-unit", "depth marks are always in the same unit")
	case MarkForgotten:
		return text.Say("drill.misconception.mark-forgotten", "the checking distance on the specification sheet fits every pinion, whatever its mark")
	case SetUpSame:
		return text.Say("drill.misconception.set-up-bearing-same", "the set-up bearing is as tall as the bearing that stays")
	case OneToOne:
		return text.Say("drill.misconception.one-to-one", "the backlash changes by as much as the ring gear moves")
	case GainTurned:
		return text.Say("drill.misconception.gain-turned", "the ring gear moves less than the backlash changes")
	case OneSideOnly:
		return text.Say("drill.misconception.one-side-only", "a shim on one side is enough")
	case ZeroIsEnough:
		return text.Say("drill.misconception.zero-play-is-enough", "zero end play is the side bearing preload")
	case PreloadEachSide:
		return text.Say("drill.misconception.preload-each-side", "the whole preload goes on each side")
	case ThickTightens:
		return text.Say("drill.misconception.thick-tightens", "thicker preload shims tighten the bearings")
	case PreloadShimsLeft:
		return text.Say("drill.misconception.preload-shims-left", "a depth shim behind the cup does not affect the preload")
	case NewForUsed:
		return text.Say("drill.misconception.new-for-used", "new and used bearings have the same torque spec")
	case SealIgnored:
		return text.Say("drill.misconception.seal-ignored", "the seal does not change the reading")
	case SpacerBack:
		return text.Say("drill.misconception.spacer-comes-back", "preload that is too high can be backed off with the nut")
	case StepPerDegree:
		return text.Say("drill.misconception.step-per-degree", "what a step of the nut adds, one degree adds")
	case Diameter:
		return text.Say("drill.misconception.diameter-for-radius", "torque is pull times diameter")
	case FeetForInches:
		return text.Say("drill.misconception.feet-for-inches", "lb-in and lb-ft are the same")
	case TwelveTurned:
		return text.Say("drill.misconception.twelve-turned", "multiplying by 12 where it divides, or the reverse")
	case MetricTurned:
		return text.Say("drill.misconception.metric-turned", "the factor between pound units and N·m works the same both ways")
	case SameNumber:
		return text.Say("drill.misconception.same-number", "the number stays the same in another unit")
	case AdapterIgnored:
		return text.Say("drill.misconception.adapter-ignored", "an adapter does not change the torque")
	case AdapterTurned:
		return text.Say("drill.misconception.adapter-turned", "a longer lever needs a higher setting")
	case AlwaysLonger:
		return text.Say("drill.misconception.adapter-always-longer", "an adapter always lengthens the lever")
	case RatioIgnored:
		return text.Say("drill.misconception.ratio-ignored", "the torque of the side bearings is the same at the pinion and at the ring gear")
	case RatioTurned:
		return text.Say("drill.misconception.ratio-turned", "multiplying by the axle ratio where it divides, or the reverse")
	case RatioForAll:
		return text.Say("drill.misconception.ratio-for-all", "the axle ratio applies to the whole total torque")
	case MeanIsEnough:
		return text.Say("drill.misconception.mean-is-enough", "the average alone decides")
	case OneIsEnough:
		return text.Say("drill.misconception.one-is-enough", "one good reading means that the rest is right")
	case NearEnough:
		return text.Say("drill.misconception.near-enough", "almost in spec is in spec")
	case ShimRunout:
		return text.Say("drill.misconception.shim-the-runout", "a shim cures runout")
	case PerfectFigure:
		return text.Say("drill.misconception.perfect-figure", "in spec is not good enough")
	case LengthIsDepth:
		return text.Say("drill.misconception.length-is-depth", "toe and heel tell the pinion depth")
	case FlanksMirror:
		return text.Say("drill.misconception.flanks-mirror", "pinion depth moves drive and coast opposite ways up the tooth")
	case NextShim:
		return text.Say("drill.misconception.next-shim", "another shim will put it right")
	case OtherFault:
		return text.Say("drill.misconception.other-fault", "a sound check, but for a different fault")
	case FractionIsHunting:
		return text.Say("drill.misconception.fraction-is-hunting", "every ratio that is not a whole number makes a hunting set")
	case AlwaysTimed:
		return text.Say("drill.misconception.always-timed", "every gear set has teeth that belong together")
	case NeverTimed:
		return text.Say("drill.misconception.never-timed", "the teeth may mesh in any position")
	case ShimsCureAll:
		return text.Say("drill.misconception.shims-cure-all", "a carrier can always be put right with shims and parts")
	case NewPartsCure:
		return text.Say("drill.misconception.new-parts-cure", "a reading that is off asks for a new part")
	case WarmIgnored:
		return text.Say("drill.misconception.warmth-ignored", "housing and bearings grow alike")
	case WarmTightens:
		return text.Say("drill.misconception.warmth-tightens", "warmth tightens the side bearings of every housing")
	}
	return text.Verbatim(string(m))
}
