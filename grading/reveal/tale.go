package reveal

import (
	"math"

	"shimwright/sim/family"
	"shimwright/sim/quantity"
	"shimwright/sim/service"
	"shimwright/sim/text"
)

// tale puts the figures into words.
type tale struct {
	fam                   family.Family
	signed, later, target service.Setting
	is, right             service.Result
	unseen                []text.Message
}

// most is how many sentences are told; the first are the gravest.
const most = 3

// What is worth a sentence. An axle at the limits of its sheet stays below all of
// them; a test holds that. Judgement, no source.
const (
	shortLife     = 0.5  // of the life of the rightly set axle
	hotter        = 1.4  // times its heat
	narrowZoneDeg = 150  // of 360: fewer than the half that a rating life counts on
	endLoad       = 0.4  // more load on an end of the tooth than when rightly set
	littleClamp   = 0.5  // of the spacer's force when rightly set
	louder        = 1.3  // times its transmission error
	wideRunout    = 1.2  // times the sheet's limit
	loosePinion   = 1.5  // times the free turn at the sheet's most backlash
	bindingMM     = 0.02 // least play with room for oil
)

// A speed is a road speed in km/h.
type speed float64

// Show writes it in mph or km/h.
func (s speed) Show(units quantity.System) string {
	if units == quantity.Inch {
		return quantity.Decimal(float64(s)/1.609344, 0) + " mph"
	}
	return quantity.Decimal(float64(s), 0) + " km/h"
}

// Data is the number under the name of its unit.
func (s speed) Data() any { return map[string]float64{"km_per_h": float64(s)} }

// A rise is a difference of temperature in degrees Celsius.
type rise float64

// Show writes it in degrees Fahrenheit or Celsius.
func (r rise) Show(units quantity.System) string {
	if units == quantity.Inch {
		return quantity.Decimal(float64(r)*1.8, 0) + " °F"
	}
	return quantity.Decimal(float64(r), 0) + " °C"
}

// Data is the number under the name of its unit.
func (r rise) Data() any { return map[string]float64{"deg_c": float64(r)} }

func length(name string, mm float64) text.Arg { return text.Length(name, quantity.Millimetres(mm)) }

// tell returns the sentences, gravest first.
func (t tale) tell() []text.Message {
	var said []text.Message
	for _, s := range []text.Message{t.seated(), t.clamp(), t.binding(), t.teeth(), t.pinion(), t.sides(), t.warm(), t.runout(), t.noise(), t.play()} {
		if !s.IsZero() && len(said) < most {
			said = append(said, s)
		}
	}
	under := text.Of("under", text.Say("service.under", "a model's comparison under an assumed steady {torque} at the pinion and {speed}; no forecast for a real axle",
		text.Fastener("torque", quantity.Torque(t.is.Duty.PinionNmm)), text.Shown("speed", speed(t.is.Duty.RoadKmPerHour))))
	if len(said) == 0 {
		said = []text.Message{text.Say("service.as-the-middle", "In service it would have run like one set to the middle of its specifications ({under}).", under)}
	} else {
		said = append([]text.Message{text.Say("service.begins", "In service ({under}):", under)}, said...)
	}
	if len(t.unseen) > 0 {
		said = append(said, text.Say("service.left-out", "Left out of this: {faults}.", text.All("faults", t.unseen...)))
	}
	return said
}

func (t tale) seated() text.Message {
	switch {
	case t.later.StemN != t.signed.StemN:
		left := text.Say("service.preload-left", "{share} of its preload", text.Percent("share", t.later.PinionPreloadN/math.Max(t.signed.PinionPreloadN, 1)))
		if t.later.PinionEndPlayMM > 0 {
			left = text.Say("service.end-play-left", "{play} of pinion end play", length("play", t.later.PinionEndPlayMM))
		}
		if out := t.later.At.PinionOutMM - t.signed.At.PinionOutMM; out > 0.001 {
			return text.Say("service.cup-seats-and-moves", "When the pinion bearing cup seats, the preload falls: {left} is left, and the pinion comes out by {out}.", text.Of("left", left), length("out", out))
		}
		return text.Say("service.cup-seats", "When the pinion bearing cup seats, the preload falls: {left} is left.", text.Of("left", left))
	case t.later.At.RingAwayMM != t.signed.At.RingAwayMM:
		left := text.Say("service.side-preload-left", "{share} of the side bearing preload is left", text.Percent("share", t.later.SidePreloadN/math.Max(t.signed.SidePreloadN, 1)))
		if t.later.SideEndPlayMM > 0 {
			left = text.Say("service.case-has-play", "the case has {play} of end play", length("play", t.later.SideEndPlayMM))
		}
		if moved := t.later.At.RingAwayMM - t.signed.At.RingAwayMM; moved < 0 {
			return text.Say("service.cone-seats-nearer", "When the side bearing cone seats, the ring gear moves nearer by {moved} and {left}.", length("moved", -moved), text.Of("left", left))
		}
		return text.Say("service.cone-seats-away", "When the side bearing cone seats, the ring gear moves away by {moved} and {left}.", length("moved", t.later.At.RingAwayMM-t.signed.At.RingAwayMM), text.Of("left", left))
	}
	return text.Message{}
}

func (t tale) clamp() text.Message {
	left, sound := t.is.Clamp.LeftN, t.right.Clamp.LeftN
	switch {
	case left <= 0:
		return text.Say("service.no-clamp", "Once the faces had bedded in, nothing would hold the parts on the pinion together when the load reverses: the cones creep on the pinion and the nut works loose.")
	case left < littleClamp*sound:
		return text.Say("service.little-clamp", "After bedding in, the spacer would hold {share} of what a new one does when the load reverses.", text.Percent("share", left/sound))
	}
	return text.Message{}
}

func (t tale) binding() text.Message {
	switch {
	case t.is.LeastBacklashMM >= bindingMM:
		return text.Message{}
	case t.is.LeastBacklashMM <= 0:
		return text.Say("service.teeth-forced", "At the tightest place the teeth have no backlash at all: forced together, they would run hot and score from the first miles.")
	}
	return text.Say("service.teeth-tight", "At the tightest place the teeth have {play} of backlash: warm, they would bind and run hot once every turn.", length("play", t.is.LeastBacklashMM))
}

// teeth tells where the loaded pattern runs off the tooth, the worse side first.
// Teeth that are forced together carry more than the duty, which nothing here knows.
func (t tale) teeth() text.Message {
	if t.is.LeastBacklashMM <= 0 {
		return text.Message{}
	}
	type edge struct {
		side, where text.Message
		load, over  float64
	}
	worst := edge{}
	drive, coast := text.Say("service.drive", "drive"), text.Say("service.coast", "coast")
	for _, f := range []struct {
		side      text.Message
		is, right service.Flank
	}{{drive, t.is.Drive, t.right.Drive}, {coast, t.is.Coast, t.right.Coast}} {
		if f.is.Separates {
			return text.Say("service.teeth-part", "Under load on {side}, pinion and ring gear would be pushed so far that the teeth lose each other.", text.Of("side", f.side))
		}
		for _, e := range []edge{
			{f.side, text.Say("service.toe", "toe end"), f.is.Toe, f.is.Toe - f.right.Toe},
			{f.side, text.Say("service.heel", "heel end"), f.is.Heel, f.is.Heel - f.right.Heel},
			{f.side, text.Say("service.root", "root edge"), f.is.Root, f.is.Root - f.right.Root},
			{f.side, text.Say("service.face", "face edge"), f.is.Top, f.is.Top - f.right.Top},
		} {
			if e.over > worst.over {
				worst = e
			}
		}
	}
	if worst.over < endLoad {
		return text.Message{}
	}
	return text.Say("service.pattern-runs-off", "Under load the contact pattern runs off the tooth on {side}: the {edge} would carry {load} of the peak, against {right} when rightly set.",
		text.Of("side", worst.side), text.Of("edge", worst.where), text.Percent("load", worst.load), text.Percent("right", worst.load-worst.over))
}

func (t tale) pinion() text.Message {
	is, right := t.is.Drive.Pinion, t.right.Drive.Pinion
	life := is.LifeAgainst(right)
	switch {
	case t.later.PinionEndPlayMM > 0:
		args := []text.Arg{length("play", t.later.PinionEndPlayMM), text.Number("deg", is.Second.ZoneDeg, 0), length("shift", t.pinionShift())}
		if more := is.Second.HeaviestN / right.Second.HeaviestN; more > 1.1 {
			return text.Say("service.pinion-play-and-load", "With {play} of pinion end play the outer pinion bearing would carry on {deg} of 360 degrees on drive, its heaviest roller {more} times as hard pressed, and the pinion shifts {shift} between drive and coast.",
				append(args, text.Number("more", more, 1))...)
		}
		return text.Say("service.pinion-play", "With {play} of pinion end play the outer pinion bearing would carry on {deg} of 360 degrees on drive, and the pinion shifts {shift} between drive and coast.", args...)
	case life < shortLife || is.HeatW > hotter*right.HeatW:
		return text.Say("service.pinion-hot", "The pinion bearings would make {heat} W of heat against {right}, with {life} of the rating life of rightly preloaded ones.",
			text.Number("heat", is.HeatW, 0), text.Number("right", right.HeatW, 0), part(life))
	case is.NarrowestDeg() < narrowZoneDeg && is.NarrowestDeg() < 0.85*right.NarrowestDeg():
		return text.Say("service.pinion-little-preload", "Under load so little pinion bearing preload would leave one bearing carrying on {deg} of 360 degrees, against {right}.",
			text.Number("deg", is.NarrowestDeg(), 0), text.Number("right", right.NarrowestDeg(), 0))
	}
	return text.Message{}
}

// pinionShift is how far the pinion goes along its axis when the load reverses.
func (t tale) pinionShift() float64 {
	return math.Abs(t.is.Drive.LoadedAt.PinionOutMM - t.is.Coast.LoadedAt.PinionOutMM)
}

func (t tale) sides() text.Message {
	is, right := t.is.Drive.Case, t.right.Drive.Case
	if t.later.SideEndPlayMM > 0 {
		return text.Say("service.case-floats", "The case would float: the ring gear moves {shift} between drive and coast, and one side bearing carries on {deg} of 360 degrees.",
			length("shift", math.Abs(t.is.Drive.LoadedAt.RingAwayMM-t.is.Coast.LoadedAt.RingAwayMM)), text.Number("deg", is.NarrowestDeg(), 0))
	}
	if life := is.LifeAgainst(right); life < shortLife || is.HeatW > hotter*right.HeatW {
		return text.Say("service.sides-hot", "The side bearings would make {heat} W of heat against {right}, with {life} of the rating life.",
			text.Number("heat", is.HeatW, 0), text.Number("right", right.HeatW, 0), part(life))
	}
	return text.Message{}
}

// warm tells of a preload that is there cold and gone warm, where a rightly set axle
// would keep it.
func (t tale) warm() text.Message {
	if t.later.PinionPreloadN <= 0 || t.is.Warm.PinionPreloadN > 0 || t.right.Warm.PinionPreloadN <= 0 {
		return text.Message{}
	}
	args := []text.Arg{text.Shown("rise", rise(t.is.Duty.RiseDegC)), length("play", t.is.Warm.PinionEndPlayMM)}
	if t.fam.Design.Housing == family.Aluminum {
		return text.Say("service.warm-aluminum", "Warmed through by {rise}, the aluminum housing takes the pinion bearing preload away and leaves {play} of end play.", args...)
	}
	return text.Say("service.warm-iron", "Warmed through by {rise}, the iron housing takes the pinion bearing preload away and leaves {play} of end play.", args...)
}

func (t tale) runout() text.Message {
	if t.later.RunoutTIRMM <= wideRunout*t.fam.Sheet.RunoutMM {
		return text.Message{}
	}
	return text.Say("service.runout", "Runout would vary the ring gear's motion by {once} at the teeth once a turn, {hz} times a second.",
		length("once", math.Max(t.is.Drive.OncePerTurnMM, t.is.Coast.OncePerTurnMM)), text.Number("hz", t.is.RingHz, 0))
}

func (t tale) noise() text.Message {
	if t.is.LeastBacklashMM <= 0 {
		return text.Message{}
	}
	side, ratio := text.Say("service.drive", "drive"), t.is.Drive.ErrorRad/t.right.Drive.ErrorRad
	if c := t.is.Coast.ErrorRad / t.right.Coast.ErrorRad; c > ratio {
		side, ratio = text.Say("service.coast", "coast"), c
	}
	if ratio <= louder {
		return text.Message{}
	}
	return text.Say("service.noise", "On {side} each tooth would disturb the motion {ratio} times as much as when rightly set, at {hz} Hz; how loud that is depends on the axle.",
		text.Of("side", side), text.Number("ratio", ratio, 1), text.Number("hz", t.is.MeshHz, 0))
}

func (t tale) play() text.Message {
	mid := t.fam.Sheet.Backlash
	usual := t.right.FreeTurnDeg * mid.HighMM / mid.Mid()
	if t.is.FreeTurnDeg <= loosePinion*usual {
		return text.Message{}
	}
	return text.Say("service.free-turn", "When the load reverses the pinion turns {deg} degrees before the teeth meet, against {right}.",
		text.Number("deg", t.is.FreeTurnDeg, 1), text.Number("right", t.right.FreeTurnDeg, 1))
}

// part is a share of the life, as a person says it.
func part(ratio float64) text.Arg {
	if ratio >= 0.95 {
		return text.Of("life", text.Say("service.times", "{ratio} times", text.Number("ratio", ratio, 1)))
	}
	return text.Percent("life", ratio)
}

// figures are the numbers behind the sentences, rounded to what the model can mean.
func (t tale) figures() *Worked {
	is, right := t.is, t.right
	flank := func(f, r service.Flank) FlankFigures {
		return FlankFigures{
			OppositeN: to(f.OppositeN, 1), PrintMovesMM: to(f.MovesMM, 100),
			LoadedFrom: to(f.Loaded.MinS, 100), LoadedTo: to(f.Loaded.MaxS, 100),
			Toe: to(f.Toe, 100), Heel: to(f.Heel, 100), Root: to(f.Root, 100), Top: to(f.Top, 100),
			ErrorMicroRad: to(f.ErrorRad*1e6, 10), RightErrMicro: to(r.ErrorRad*1e6, 10),
			OncePerTurnMM: to(f.OncePerTurnMM, 10000), LosesEachOther: f.Separates,
		}
	}
	pair := func(p, r service.Pair) PairFigures {
		return PairFigures{LifeRatio: to(p.LifeAgainst(r), 100), HeatW: to(p.HeatW, 1), RightHeatW: to(r.HeatW, 1),
			ZoneDeg: to(p.NarrowestDeg(), 1), RightZoneDeg: to(r.NarrowestDeg(), 1)}
	}
	return &Worked{
		PinionTorqueNm: to(is.Duty.PinionNmm/1000, 10), PinionRPM: to(is.PinionRPM, 1), RoadKmPerHour: is.Duty.RoadKmPerHour,
		MeshHz: to(is.MeshHz, 1), RingHz: to(is.RingHz, 100),
		Drive: flank(is.Drive, right.Drive), Coast: flank(is.Coast, right.Coast),
		Pinion: pair(is.Drive.Pinion, right.Drive.Pinion), Sides: pair(is.Drive.Case, right.Drive.Case),
		LeastBacklashMM: to(is.LeastBacklashMM, 10000), FreeTurnDeg: to(is.FreeTurnDeg, 100),
		PinionPreloadN: to(t.later.PinionPreloadN, 1), RightPreloadN: to(t.target.PinionPreloadN, 1), PinionEndPlayMM: to(t.later.PinionEndPlayMM, 10000),
		WarmRiseC: is.Duty.RiseDegC, WarmPinionPreloadN: to(is.Warm.PinionPreloadN, 1), WarmPinionEndPlayMM: to(is.Warm.PinionEndPlayMM, 10000),
		ClampLeftN: to(is.Clamp.LeftN, 1), RightClampLeftN: to(right.Clamp.LeftN, 1),
		Seated: t.later != t.signed,
	}
}

// to rounds to a part of one, so that the last bits of a machine's arithmetic are not
// shown.
func to(x, parts float64) float64 { return math.Round(x*parts) / parts }
