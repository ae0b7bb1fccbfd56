package view

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"shimwright/sim/explore"
	"shimwright/sim/gauge"
)

// head says which axle this is and how it is set.
func (x Exhibit) head() string {
	text := x.Pen.Heading(x.name()) + Wrap("Set: "+strings.Join(x.set(), "; ")+".", x.Pen.Width, "")
	if x.Exact {
		text += Wrap("Exact tooth contact: backlash and contact patterns are solved point by point.", x.Pen.Width, "")
	}
	return text + "\n"
}

// set lists what is set, without what is swept.
func (x Exhibit) set() []string {
	s := x.Results[0].Settings
	var out []string
	for _, part := range []struct {
		of   explore.Half
		says []string
	}{
		{explore.Mechanics, bearingsSet(s)},
		{explore.Teeth, x.depthSet(s)},
		{explore.Mechanics, x.preloadShimsSet(s)},
		{explore.Mechanics, x.nutSet(s)},
		{explore.Mechanics, x.sidesSet(s)},
		{explore.Teeth, x.ringGearSet(s)},
	} {
		if x.Of&part.of != 0 {
			out = append(out, part.says...)
		}
	}
	out = append(out, x.wrongSet(s)...)
	if x.Of&(explore.Teeth|explore.Mechanics) != 0 {
		out = append(out, x.warmSet(s)...)
	}
	if x.Of&explore.Teeth != 0 && !x.swept("film") {
		out = append(out, "compound film "+x.amount(explore.Length, s.FilmMM))
	}
	return out
}

func (x Exhibit) swept(names ...string) bool {
	return x.Swept != nil && slices.Contains(names, x.Swept.Name)
}

// way says an amount that can go two ways.
func (x Exhibit) way(k explore.Kind, v float64, plus, minus string) string {
	if v < 0 {
		return x.amount(k, -v) + " " + minus
	}
	return x.amount(k, v) + " " + plus
}

func bearingsSet(s explore.Settings) []string {
	if s.UsedBearings {
		return []string{"used bearings"}
	}
	return []string{"new bearings"}
}

func (x Exhibit) depthSet(s explore.Settings) []string {
	switch {
	case x.swept("depth"):
		return nil
	case s.PinionOutMM == 0:
		return []string{"pinion at its place"}
	}
	return []string{"pinion " + x.way(explore.Length, s.PinionOutMM, "too far out", "too deep")}
}

// torqueSet says the rotating torque asked for, or "".
func (x Exhibit) torqueSet(s explore.Settings) string {
	if s.TorqueTargetNmm <= 0 || x.swept("torque") {
		return ""
	}
	return x.amount(explore.Rotating, s.TorqueTargetNmm) + " of pinion rotating torque"
}

func (x Exhibit) preloadShimsSet(s explore.Settings) []string {
	asked := x.torqueSet(s)
	switch {
	case x.TorqueShims() && asked != "":
		return []string{"preload shims for " + asked}
	case x.Spacer == explore.Solid && s.PreloadShimMM > 0 && !x.swept("preload-shims"):
		return []string{"preload shims of " + x.amount(explore.Length, s.PreloadShimMM)}
	}
	return nil
}

func (x Exhibit) nutSet(s explore.Settings) []string {
	solid, asked := x.Spacer == explore.Solid, x.torqueSet(s)
	text := ""
	switch {
	case x.swept("nut", "nut-torque"), x.swept("torque") && !x.TorqueShims():
		return nil
	case s.NutNmm > 0:
		text = "nut turned to " + x.amount(explore.Fastener, s.NutNmm)
	case asked != "":
		text = "nut turned to " + asked
	case solid && s.NutDeg == 0:
		text = "nut just up to the preload shims"
	case solid:
		text = "nut turned " + x.amount(explore.Turned, s.NutDeg) + " from where the preload shims have closed up"
	case s.NutDeg == 0:
		text = "nut finger tight"
	default:
		text = "nut turned " + x.amount(explore.Turned, s.NutDeg) + " from finger tight"
	}
	return []string{text}
}

// sidesSet says what holds the case and how tight.
func (x Exhibit) sidesSet(s explore.Settings) []string {
	var out []string
	what, moved, notches := "side shims", "side shim", ""
	if x.Adjusters() {
		what, moved = "bearing adjusters", "adjuster travel"
		if s.SideFitMM != 0 {
			notches = fmt.Sprintf(", %.1f notches each", math.Abs(s.SideFitMM)/2/x.Design.Rings.NotchTravelMM())
		}
	}
	switch {
	case x.swept("side-preload"):
	case s.SideFitMM == 0:
		out = append(out, what+" at zero end play")
	default:
		out = append(out, what+" "+x.way(explore.Length, s.SideFitMM, "over zero end play", "loose")+notches)
	}
	if s.ShimToRingGearMM != 0 && !x.swept("shim-to-ring-gear") {
		out = append(out, moved+" moved "+x.way(explore.Length, s.ShimToRingGearMM, "to the ring-gear side", "to the opposite side"))
	}
	return out
}

func (x Exhibit) ringGearSet(s explore.Settings) []string {
	if s.RingAwayMM == 0 || x.swept("ring-gear") {
		return nil
	}
	return []string{"ring gear a further " + x.way(explore.Length, s.RingAwayMM, "away from the pinion", "closer to the pinion")}
}

// wrongSet lists what is wrong with the axle or with how it is read.
func (x Exhibit) wrongSet(s explore.Settings) []string {
	var out []string
	for _, k := range explore.Knobs() {
		v := k.Get(s)
		if k.Said == "" || v == 0 || x.swept(k.Name) || x.Of&k.Of == 0 {
			continue
		}
		text := x.amount(k.Kind, v)
		if k.Kind == explore.Percent {
			text = x.way(k.Kind, v, "high", "low")
		}
		out = append(out, fmt.Sprintf(k.Said, text))
	}
	for _, t := range explore.Toggles() {
		if t.Said != "" && t.Get(s) && x.Of&t.Of != 0 {
			out = append(out, t.Said)
		}
	}
	for _, c := range explore.Choices() {
		if w, right := c.Get(s); !right {
			out = append(out, fmt.Sprintf(c.Said, w))
		}
	}
	return out
}

func (x Exhibit) warmSet(s explore.Settings) []string {
	if s.WarmK == 0 || x.swept("warm") {
		return nil
	}
	return []string{"then " + x.way(explore.Warmth, s.WarmK, "warmer", "colder") + " than it was set at"}
}

// notes are what a class must be told about a state.
func (x Exhibit) notes() []string {
	var out []string
	note := func(caution, text string, has func(explore.Result) bool) {
		if !slices.ContainsFunc(x.Results, has) {
			return
		}
		switch {
		case x.Swept != nil && caution != "":
			text = caution + ", in a part of the sweep: " + text
		case x.Swept != nil:
			text = "In a part of the sweep " + text
		case caution != "":
			text = caution + ": " + text
		default:
			text = strings.ToUpper(text[:1]) + text[1:]
		}
		out = append(out, text)
	}
	note("", "the gears bind: there is no free play and no contact pattern to read.", func(r explore.Result) bool { return r.Gears.Binds })
	note("", "the collapsible spacer is crushed past its usable length. On the bench it is scrap; never back a nut off to lower the preload.",
		func(r explore.Result) bool { return r.Pinion.Bottomed })
	tight := "the side shims are tighter than the spec allows. Forcing a case in spreads a housing for good; on a real axle stay within the maker's limit."
	if x.Adjusters() {
		tight = "the bearing adjusters are tighter than the spec allows. That spreads a housing for good; on a real axle stay within the maker's limit."
	}
	if x.IsWhole() {
		note("CAUTION", tight, func(r explore.Result) bool { return r.Settings.SideFitMM > x.Sheet.SpreadLimitMM })
		note("", "the pinion or the case is loose: it is shown in the middle of its play, and its contact pattern and backlash would not repeat.",
			func(r explore.Result) bool { return r.Pinion.EndPlayMM > 0 || r.Sides.CaseEndPlayMM > 0 })
	}
	note("", "everything is at one temperature, and the oil is as thick as when the axle was set: warm oil turns more easily.",
		func(r explore.Result) bool { return r.Settings.WarmK > 0 })
	note("", "the spacer is loose: the bearings carry the whole pull of the nut.",
		func(r explore.Result) bool {
			return x.Spacer != explore.AnySpacer && r.Pinion.PreloadN > 0 && r.Pinion.SpacerN == 0
		})
	return out
}

// foot says what the figures stand on.
func (x Exhibit) foot() string {
	var b strings.Builder
	for _, n := range x.notes() {
		b.WriteString(Hang(n, x.Pen.Width, "  ! ", "    "))
	}
	text := x.remark()
	if x.IsWhole() {
		text = x.instruments()
	}
	b.WriteString(Wrap(text, x.Pen.Width, ""))
	b.WriteString(Wrap(x.Pen.Quiet(x.Notice()), x.Pen.Width, ""))
	return b.String()
}

// remark says how half an axle is taken.
func (x Exhibit) remark() string {
	text := "Along counts from toe 0 to heel 1, up from root 0 to top 1; lengths and areas of a pattern are shares of the tooth."
	if x.Of == explore.Mechanics {
		text = "Without --nut or --torque the nut is finger tight, without --side-preload the side shims are at zero end play. The teeth are taken to run free."
		if x.Spacer == explore.Solid {
			text += " The nut's angle counts from where the preload shims have just closed up."
		}
	}
	if x.Source != "" {
		text = "From: " + x.Source + " " + text
	}
	return text
}

// instruments says how well they read.
func (x Exhibit) instruments() string {
	r := x.Results[len(x.Results)/2]
	within := func(t gauge.Tool, k explore.Kind, v float64) string {
		return k.Show(2*explore.Class(t).StandardUncertainty(v, 1), x.Pen.Units())
	}
	text := fmt.Sprintf("Instruments: about 19 readings in 20 lie within %s (dial indicator), %s (depth gauge), %s (low-range wrench), %s (string and spring scale), %s (nut wrench) of the truth. ",
		within(gauge.DialIndicator, explore.Length, 0), within(gauge.DepthGauge, explore.Length, 0),
		within(gauge.LowRangeWrench, explore.Rotating, r.Pinion.PinionTorqueNmm), within(gauge.StringAndScale, explore.Rotating, r.Pinion.PinionTorqueNmm),
		within(gauge.NutWrench, explore.Fastener, r.Pinion.NutTorqueNmm))
	if x.Seed == 0 {
		return text + "Here they have no error and only round to their steps; --seed 1 gives them one."
	}
	return text + fmt.Sprintf("Here they have the errors of seed %d.", x.Seed)
}
