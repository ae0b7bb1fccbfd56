package reveal

import (
	"fmt"
	"math"
	"strings"

	"shimwright/sim/family"
	"shimwright/sim/quantity"
	"shimwright/sim/service"
)

// tale puts the figures into words.
type tale struct {
	units                 quantity.System
	fam                   family.Family
	signed, later, target service.Setting
	is, right             service.Result
	unseen                []string
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

func (t tale) len(mm float64) string { return quantity.Millimetres(mm).Show(t.units) }

func (t tale) duty() string {
	d := t.is.Duty
	speed := fmt.Sprintf("%.0f km/h", d.RoadKmPerHour)
	if t.units == quantity.Inch {
		speed = fmt.Sprintf("%.0f mph", d.RoadKmPerHour/1.609344)
	}
	return fmt.Sprintf("steady %s at the pinion and %s", quantity.Torque(d.PinionNmm).ShowFastener(t.units), speed)
}

// tell returns the sentences, gravest first.
func (t tale) tell() []string {
	var said []string
	for _, s := range []string{t.seated(), t.clamp(), t.binding(), t.teeth(), t.pinion(), t.sides(), t.warm(), t.runout(), t.noise(), t.play()} {
		if s != "" && len(said) < most {
			said = append(said, s)
		}
	}
	under := fmt.Sprintf("a model's comparison under an assumed %s; no forecast for a real axle", t.duty())
	if len(said) == 0 {
		said = []string{"In service it would have run like one set to the middle of its sheet (" + under + ")."}
	} else {
		said = append([]string{"In service (" + under + "):"}, said...)
	}
	if len(t.unseen) > 0 {
		said = append(said, "Left out of this: "+strings.Join(t.unseen, ", ")+".")
	}
	return said
}

func (t tale) setting() string {
	if t.later.PinionEndPlayMM > 0 {
		return t.len(t.later.PinionEndPlayMM) + " of pinion end play"
	}
	return fmt.Sprintf("%.0f%% of its preload", 100*t.later.PinionPreloadN/math.Max(t.signed.PinionPreloadN, 1))
}

func (t tale) seated() string {
	switch {
	case t.later.StemN != t.signed.StemN:
		s := "When the pinion cup goes home the preload falls: " + t.setting() + " is left"
		if out := t.later.At.PinionOutMM - t.signed.At.PinionOutMM; out > 0.001 {
			s += fmt.Sprintf(", and the pinion comes out by %s", t.len(out))
		}
		return s + "."
	case t.later.At.RingAwayMM != t.signed.At.RingAwayMM:
		moved, way := t.later.At.RingAwayMM-t.signed.At.RingAwayMM, "away"
		if moved < 0 {
			moved, way = -moved, "nearer"
		}
		s := fmt.Sprintf("When the side bearing cone goes home the ring gear moves %s by %s and ", way, t.len(moved))
		if t.later.SideEndPlayMM > 0 {
			return s + fmt.Sprintf("the case floats %s.", t.len(t.later.SideEndPlayMM))
		}
		return s + fmt.Sprintf("%.0f%% of the side preload is left.", 100*t.later.SidePreloadN/math.Max(t.signed.SidePreloadN, 1))
	}
	return ""
}

func (t tale) clamp() string {
	left, sound := t.is.Clamp.LeftN, t.right.Clamp.LeftN
	switch {
	case left <= 0:
		return "Once the faces had bedded in, nothing would hold the pinion stack when the load reverses: inner rings creep on the stem and the nut works loose."
	case left < littleClamp*sound:
		return fmt.Sprintf("After bedding in, the spacer would hold %.0f%% of what a new one does when the load reverses.", 100*left/sound)
	}
	return ""
}

func (t tale) binding() string {
	if t.is.LeastBacklashMM >= bindingMM {
		return ""
	}
	if t.is.LeastBacklashMM <= 0 {
		return "At the tightest place the teeth have no play at all: forced together, they would run hot and score from the first miles."
	}
	return fmt.Sprintf("At the tightest place the teeth have %s of play: warm, they would bind and run hot once every turn.", t.len(t.is.LeastBacklashMM))
}

// teeth tells where the loaded print runs off the tooth, the worse side first.
// Teeth that are forced together carry more than the duty, which nothing here knows.
func (t tale) teeth() string {
	if t.is.LeastBacklashMM <= 0 {
		return ""
	}
	type end struct {
		where, side string
		load, over  float64
	}
	worst := end{}
	for _, f := range []struct {
		side      string
		is, right service.Flank
	}{{"drive", t.is.Drive, t.right.Drive}, {"coast", t.is.Coast, t.right.Coast}} {
		if f.is.Separates {
			return fmt.Sprintf("Under load on %s pinion and ring gear would be pushed so far that the teeth lose each other.", f.side)
		}
		for _, e := range []end{
			{"toe", f.side, f.is.Toe, f.is.Toe - f.right.Toe}, {"heel", f.side, f.is.Heel, f.is.Heel - f.right.Heel},
			{"root", f.side, f.is.Root, f.is.Root - f.right.Root}, {"top", f.side, f.is.Top, f.is.Top - f.right.Top},
		} {
			if e.over > worst.over {
				worst = e
			}
		}
	}
	if worst.over < endLoad {
		return ""
	}
	edge := worst.where + " end"
	if worst.where == "root" || worst.where == "top" {
		edge = worst.where + " edge"
	}
	return fmt.Sprintf("Under load the contact pattern runs off the tooth on %s: the %s would carry %.0f%% of the peak, against %.0f%% when rightly set.",
		worst.side, edge, 100*worst.load, 100*(worst.load-worst.over))
}

func (t tale) pinion() string {
	is, right := t.is.Drive.Pinion, t.right.Drive.Pinion
	life := is.LifeAgainst(right)
	switch {
	case t.later.PinionEndPlayMM > 0:
		s := fmt.Sprintf("With %s of pinion end play the outer pinion bearing would carry on %.0f of 360 degrees on drive", t.len(t.later.PinionEndPlayMM), is.Second.ZoneDeg)
		if more := is.Second.HeaviestN / right.Second.HeaviestN; more > 1.1 {
			s += fmt.Sprintf(", its heaviest roller %.1f times as hard pressed", more)
		}
		return s + fmt.Sprintf(", and the pinion shifts %s between drive and coast.", t.len(t.pinionShift()))
	case life < shortLife || is.HeatW > hotter*right.HeatW:
		return fmt.Sprintf("The pinion bearings would make %.0f W of heat against %.0f, with %s of the rating life of rightly preloaded ones.", is.HeatW, right.HeatW, part(life))
	case is.NarrowestDeg() < narrowZoneDeg && is.NarrowestDeg() < 0.85*right.NarrowestDeg():
		return fmt.Sprintf("Under load so little pinion preload would leave one bearing carrying on %.0f of 360 degrees, against %.0f.", is.NarrowestDeg(), right.NarrowestDeg())
	}
	return ""
}

// pinionShift is how far the pinion goes along its axis when the load reverses.
func (t tale) pinionShift() float64 {
	return math.Abs(t.is.Drive.LoadedAt.PinionOutMM - t.is.Coast.LoadedAt.PinionOutMM)
}

func (t tale) sides() string {
	is, right := t.is.Drive.Case, t.right.Drive.Case
	if t.later.SideEndPlayMM > 0 {
		return fmt.Sprintf("The case would float: the ring gear moves %s between drive and coast, and one side bearing carries on %.0f of 360 degrees.",
			t.len(math.Abs(t.is.Drive.LoadedAt.RingAwayMM-t.is.Coast.LoadedAt.RingAwayMM)), is.NarrowestDeg())
	}
	if life := is.LifeAgainst(right); life < shortLife || is.HeatW > hotter*right.HeatW {
		return fmt.Sprintf("The side bearings would make %.0f W of heat against %.0f, with %s of the rating life.", is.HeatW, right.HeatW, part(life))
	}
	return ""
}

// warm tells of a preload that is there cold and gone warm, where a rightly set axle
// would keep it.
func (t tale) warm() string {
	if t.later.PinionPreloadN <= 0 || t.is.Warm.PinionPreloadN > 0 || t.right.Warm.PinionPreloadN <= 0 {
		return ""
	}
	return fmt.Sprintf("Warmed through by %s, the %s housing takes the pinion preload away and leaves %s of end play.",
		t.degrees(t.is.Duty.RiseDegC), t.fam.Design.Housing, t.len(t.is.Warm.PinionEndPlayMM))
}

func (t tale) degrees(c float64) string {
	if t.units == quantity.Inch {
		return fmt.Sprintf("%.0f °F", c*1.8)
	}
	return fmt.Sprintf("%.0f °C", c)
}

func (t tale) runout() string {
	if t.later.RunoutTIRMM <= wideRunout*t.fam.Sheet.RunoutMM {
		return ""
	}
	once := math.Max(t.is.Drive.OncePerTurnMM, t.is.Coast.OncePerTurnMM)
	return fmt.Sprintf("Runout would vary the ring gear's motion by %s at the teeth once a turn, %.0f times a second.", t.len(once), t.is.RingHz)
}

func (t tale) noise() string {
	if t.is.LeastBacklashMM <= 0 {
		return ""
	}
	side, ratio := "drive", t.is.Drive.ErrorRad/t.right.Drive.ErrorRad
	if c := t.is.Coast.ErrorRad / t.right.Coast.ErrorRad; c > ratio {
		side, ratio = "coast", c
	}
	if ratio <= louder {
		return ""
	}
	return fmt.Sprintf("On %s each tooth would disturb the motion %.1f times as much as when rightly set, at %.0f Hz; how loud that is depends on the axle.", side, ratio, t.is.MeshHz)
}

func (t tale) play() string {
	mid := t.fam.Sheet.Backlash
	usual := t.right.FreeTurnDeg * mid.HighMM / mid.Mid()
	if t.is.FreeTurnDeg <= loosePinion*usual {
		return ""
	}
	return fmt.Sprintf("When the load reverses the pinion turns %.1f degrees before the teeth meet, against %.1f.", t.is.FreeTurnDeg, t.right.FreeTurnDeg)
}

// part writes a ratio as a person says it.
func part(ratio float64) string {
	if ratio >= 0.95 {
		return fmt.Sprintf("%.1f times", ratio)
	}
	return fmt.Sprintf("%.0f%%", 100*ratio)
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
