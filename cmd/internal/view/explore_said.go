package view

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"shimwright/sim/explore"
	"shimwright/sim/gauge"

	"shimwright/sim/text"
)

// head says which axle this is and how it is set.
func (x Exhibit) head() string {
	prose := x.Pen.Heading(x.name()) + Wrap(x.Pen.Print(text.Say("view.explore-said.set", "Set: {set}.", text.Typed("set", strings.Join(x.set(), "; ")))), x.Pen.Width, "")
	if x.Exact {
		prose += Wrap(x.Pen.Print(text.Say("view.explore-said.exact-tooth-contact-backlash", "Exact tooth contact: backlash and contact patterns are solved point by point.")), x.Pen.Width, "")
	}
	return prose + "\n"
}

// set lists what is set, without what is swept.
func (x Exhibit) set() []string {
	s := x.Results[0].Settings
	var out []string
	for _, part := range []struct {
		of   explore.Half
		says []string
	}{
		{explore.Mechanics, x.bearingsSet(s)},
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
		out = append(out, x.Pen.Print(text.Say("view.explore-said.compound-film", "compound film {amount}", text.Typed("amount", x.amount(explore.Length, s.FilmMM)))))
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

func (x Exhibit) bearingsSet(s explore.Settings) []string {
	if s.UsedBearings {
		return []string{x.Pen.Print(text.Say("view.explore-said.used-bearings", "used bearings"))}
	}
	return []string{x.Pen.Print(text.Say("view.explore-said.new-bearings", "new bearings"))}
}

func (x Exhibit) depthSet(s explore.Settings) []string {
	switch {
	case x.swept("depth"):
		return nil
	case s.PinionOutMM == 0:
		return []string{x.Pen.Print(text.Say("view.explore-said.pinion-place", "pinion at its place"))}
	}
	return []string{x.Pen.Print(text.Say("view.explore-said.pinion", "pinion {way}", text.Typed("way", x.way(explore.Length, s.PinionOutMM, x.Pen.Print(text.Say("view.explore-said.too-far-out", "too far out")), x.Pen.Print(text.Say("view.explore-said.too-deep", "too deep"))))))}
}

// torqueSet says the rotating torque asked for, or "".
func (x Exhibit) torqueSet(s explore.Settings) string {
	if s.TorqueTargetNmm <= 0 || x.swept("torque") {
		return ""
	}
	return x.Pen.Print(text.Say("view.explore-said.pinion-rotating-torque", "{amount} of pinion rotating torque", text.Typed("amount", x.amount(explore.Rotating, s.TorqueTargetNmm))))
}

func (x Exhibit) preloadShimsSet(s explore.Settings) []string {
	asked := x.torqueSet(s)
	switch {
	case x.TorqueShims() && asked != "":
		return []string{x.Pen.Print(text.Say("view.explore-said.preload-shims-for", "preload shims for {asked}", text.Typed("asked", asked)))}
	case x.Spacer == explore.Solid && s.PreloadShimMM > 0 && !x.swept("preload-shims"):
		return []string{x.Pen.Print(text.Say("view.explore-said.preload-shims", "preload shims of {amount}", text.Typed("amount", x.amount(explore.Length, s.PreloadShimMM))))}
	}
	return nil
}

func (x Exhibit) nutSet(s explore.Settings) []string {
	solid, asked := x.Spacer == explore.Solid, x.torqueSet(s)
	prose := ""
	switch {
	case x.swept("nut", "nut-torque"), x.swept("torque") && !x.TorqueShims():
		return nil
	case s.NutNmm > 0:
		prose = x.Pen.Print(text.Say("view.explore-said.nut-turned", "nut turned to {amount}", text.Typed("amount", x.amount(explore.Fastener, s.NutNmm))))
	case asked != "":
		prose = x.Pen.Print(text.Say("view.explore-said.nut-turned-2", "nut turned to {asked}", text.Typed("asked", asked)))
	case solid && s.NutDeg == 0:
		prose = x.Pen.Print(text.Say("view.explore-said.nut-just-up-preload", "nut just up to the preload shims"))
	case solid:
		prose = x.Pen.Print(text.Say("view.explore-said.nut-turned-from-where", "nut turned {amount} from where the preload shims have closed up", text.Typed("amount", x.amount(explore.Turned, s.NutDeg))))
	case s.NutDeg == 0:
		prose = x.Pen.Print(text.Say("view.explore-said.nut-finger-tight", "nut finger tight"))
	default:
		prose = x.Pen.Print(text.Say("view.explore-said.nut-turned-from-finger", "nut turned {amount} from finger tight", text.Typed("amount", x.amount(explore.Turned, s.NutDeg))))
	}
	return []string{prose}
}

// sidesSet says what holds the case and how tight.
func (x Exhibit) sidesSet(s explore.Settings) []string {
	var out []string
	what, moved, notches := x.Pen.Print(text.Say("view.explore-said.side-shims", "side shims")), x.Pen.Print(text.Say("view.explore-said.side-shim", "side shim")), ""
	if x.Adjusters() {
		what, moved = x.Pen.Print(text.Say("view.explore-said.bearing-adjusters", "bearing adjusters")), x.Pen.Print(text.Say("view.explore-said.adjuster-travel", "adjuster travel"))
		if s.SideFitMM != 0 {
			notches = x.Pen.Print(text.Say("view.explore-said.notches-each", ", {notch_travel_mm} notches each", text.Number("notch_travel_mm", math.Abs(s.SideFitMM)/2/x.Design.Rings.NotchTravelMM(), 1)))
		}
	}
	switch {
	case x.swept("side-preload"):
	case s.SideFitMM == 0:
		out = append(out, x.Pen.Print(text.Say("view.explore-said.zero-end-play", "{what} at zero end play", text.Typed("what", what))))
	default:
		out = append(out, what+" "+x.way(explore.Length, s.SideFitMM, x.Pen.Print(text.Say("view.explore-said.over-zero-end-play", "over zero end play")), "loose")+notches)
	}
	if s.ShimToRingGearMM != 0 && !x.swept("shim-to-ring-gear") {
		out = append(out, x.Pen.Print(text.Say("view.explore-said.moved", "{moved} moved {way}", text.Typed("moved", moved), text.Typed("way", x.way(explore.Length, s.ShimToRingGearMM, x.Pen.Print(text.Say("view.explore-said.ring-gear-side", "to the ring-gear side")), x.Pen.Print(text.Say("view.explore-said.opposite-side", "to the opposite side")))))))
	}
	return out
}

func (x Exhibit) ringGearSet(s explore.Settings) []string {
	if s.RingAwayMM == 0 || x.swept("ring-gear") {
		return nil
	}
	return []string{x.Pen.Print(text.Say("view.explore-said.ring-gear-further", "ring gear a further {way}", text.Typed("way", x.way(explore.Length, s.RingAwayMM, x.Pen.Print(text.Say("view.explore-said.away-from-pinion", "away from the pinion")), x.Pen.Print(text.Say("view.explore-said.closer-pinion", "closer to the pinion"))))))}
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
	return []string{x.Pen.Print(text.Say("view.explore-said.then-than-was-set", "then {way} than it was set at", text.Typed("way", x.way(explore.Warmth, s.WarmK, "warmer", "colder"))))}
}

// notes are what a class must be told about a state.
func (x Exhibit) notes() []string {
	var out []string
	note := func(caution, prose string, has func(explore.Result) bool) {
		if !slices.ContainsFunc(x.Results, has) {
			return
		}
		switch {
		case x.Swept != nil && caution != "":
			prose = x.Pen.Print(text.Say("view.explore-said.part-sweep", "{caution}, in a part of the sweep: {prose}", text.Typed("caution", caution), text.Typed("prose", prose)))
		case x.Swept != nil:
			prose = x.Pen.Print(text.Say("view.explore-said.part-sweep-2", "In a part of the sweep {prose}", text.Typed("prose", prose)))
		case caution != "":
			prose = caution + ": " + prose
		default:
			prose = strings.ToUpper(prose[:1]) + prose[1:]
		}
		out = append(out, prose)
	}
	note("", x.Pen.Print(text.Say("view.explore-said.gears-bind-there-no", "the gears bind: there is no free play and no contact pattern to read.")), func(r explore.Result) bool { return r.Gears.Binds })
	note("", x.Pen.Print(text.Say("view.explore-said.collapsible-spacer-crushed-past", "the collapsible spacer is crushed past its usable length. On the bench it is scrap; never back a nut off to lower the preload.")),
		func(r explore.Result) bool { return r.Pinion.Bottomed })
	tight := x.Pen.Print(text.Say("view.explore-said.side-shims-tighter-than", "the side shims are tighter than the spec allows. Forcing a case in spreads a housing for good; on a real axle stay within the maker's limit."))
	if x.Adjusters() {
		tight = x.Pen.Print(text.Say("view.explore-said.bearing-adjusters-tighter-than", "the bearing adjusters are tighter than the spec allows. That spreads a housing for good; on a real axle stay within the maker's limit."))
	}
	if x.IsWhole() {
		note("CAUTION", tight, func(r explore.Result) bool { return r.Settings.SideFitMM > x.Sheet.SpreadLimitMM })
		note("", x.Pen.Print(text.Say("view.explore-said.pinion-case-loose-shown", "the pinion or the case is loose: it is shown in the middle of its play, and its contact pattern and backlash would not repeat.")),
			func(r explore.Result) bool { return r.Pinion.EndPlayMM > 0 || r.Sides.CaseEndPlayMM > 0 })
	}
	note("", x.Pen.Print(text.Say("view.explore-said.everything-one-temperature-oil", "everything is at one temperature, and the oil is as thick as when the axle was set: warm oil turns more easily.")),
		func(r explore.Result) bool { return r.Settings.WarmK > 0 })
	note("", x.Pen.Print(text.Say("view.explore-said.spacer-loose-bearings-carry", "the spacer is loose: the bearings carry the whole pull of the nut.")),
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
	prose := x.Pen.Print(text.Say("view.explore-said.along-counts-from-toe", "Along counts from toe 0 to heel 1, up from root 0 to top 1; lengths and areas of a pattern are shares of the tooth."))
	if x.Of == explore.Mechanics {
		prose = x.Pen.Print(text.Say("view.explore-said.without-nut-torque-nut", "Without --nut or --torque the nut is finger tight, without --side-preload the side shims are at zero end play. The teeth are taken to run free."))
		if x.Spacer == explore.Solid {
			prose += x.Pen.Print(text.Say("view.explore-said.nuts-angle-counts-from", " The nut's angle counts from where the preload shims have just closed up."))
		}
	}
	if x.Source != "" {
		prose = x.Pen.Print(text.Say("view.explore-said.from", "From: {source} {prose}", text.Typed("source", x.Source), text.Typed("prose", prose)))
	}
	return prose
}

// instruments says how well they read.
func (x Exhibit) instruments() string {
	r := x.Results[len(x.Results)/2]
	within := func(t gauge.Tool, k explore.Kind, v float64) string {
		return k.Show(2*explore.Class(t).StandardUncertainty(v, 1), x.Pen.Units())
	}
	prose := x.Pen.Print(text.Say("view.explore-said.instruments-about-19-readings", "Instruments: about 19 readings in 20 lie within {within} (dial indicator), {within2} (depth gauge), {within3} (low-range wrench), {within4} (string and spring scale), {within5} (nut wrench) of the truth. ", text.Typed("within", within(gauge.DialIndicator, explore.Length, 0)), text.Typed("within2", within(gauge.DepthGauge, explore.Length, 0)), text.Typed("within3", within(gauge.LowRangeWrench, explore.Rotating, r.Pinion.PinionTorqueNmm)), text.Typed("within4", within(gauge.StringAndScale, explore.Rotating, r.Pinion.PinionTorqueNmm)), text.Typed("within5", within(gauge.NutWrench, explore.Fastener, r.Pinion.NutTorqueNmm))))
	if x.Seed == 0 {
		return x.Pen.Print(text.Say("view.explore-said.here-they-have-no", "{prose}Here they have no error and only round to their steps; --seed 1 gives them one.", text.Typed("prose", prose)))
	}
	return prose + x.Pen.Print(text.Say("view.explore-said.here-they-have-errors", "Here they have the errors of seed {seed}.", text.Typed("seed", fmt.Sprint(x.Seed))))
}
