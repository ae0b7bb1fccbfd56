package family

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// A Figure is one that a manual gives of an axle: a key of a family file that a person can
// give alone, Begin estimating the rest.
type Figure struct {
	Name    string       // the key without its unit, hyphens for its underscores
	Asks    text.Message // what it is
	Words   []string     // the words to choose from; nil for a number
	Example [2]string    // as a person would write it, in inch and in metric units

	group string
	form  form
	of    amountOf
}

// form is how a figure is written.
type form int

const (
	aWord form = iota
	aWhole
	aNumber
	aSpec
	aStock
)

// amountOf is what a figure is an amount of, and so the units it can have.
type amountOf int

const (
	aLength amountOf = iota
	aRotatingTorque
	aFastener
)

func (f Figure) key() string { return strings.ReplaceAll(f.Name, "-", "_") }

// Figures lists what can be given, in the order in which it is asked for.
func Figures() []Figure {
	word := func(name string, asks text.Message, words ...string) Figure {
		return Figure{Name: name, Asks: asks, Words: words, Example: [2]string{words[0], words[0]}, group: "design"}
	}
	teeth := func(name string, asks text.Message, n string) Figure {
		return Figure{Name: name, Asks: asks, Example: [2]string{n, n}, group: "gears", form: aWhole}
	}
	amount := func(group, name string, f form, of amountOf, asks text.Message, inch, metric string) Figure {
		return Figure{Name: name, Asks: asks, Example: [2]string{inch, metric}, group: group, form: f, of: of}
	}
	const sheet = "specification"
	return []Figure{
		word("pinion-preload", text.Say("family.ask.pinion-preload", "what is between the pinion bearings"), string(CollapsibleSpacer), string(SolidSpacer)),
		word("depth-shim", text.Say("family.ask.depth-shim", "where the depth shim is"), string(UnderInnerCone), string(BehindInnerCup), string(UnderCageFlange)),
		word("side-adjustment", text.Say("family.ask.side-adjustment", "how the ring gear is positioned"), string(OutsideShims), string(InsideShims), string(BearingAdjusters)),
		word("marks", text.Say("family.ask.marks", "what a mark on the pinion means"), markWords()...),
		word("drive-flank", text.Say("family.ask.drive-flank", "the side of the ring gear teeth that drives forward (convex on most axles)"), string(Convex), string(Concave)),
		word("housing", text.Say("family.ask.housing", "the material of the housing"), string(Iron), string(Aluminum)),
		word("case-entry", text.Say("family.ask.case-entry", "how the case goes in and out"), string(ByHand), string(Spreader)),
		teeth("ring-teeth", text.Say("family.ask.ring-gear-teeth", "teeth of the ring gear"), "41"),
		teeth("pinion-teeth", text.Say("family.ask.pinion-teeth", "teeth of the pinion"), "11"),
		amount("gears", "ring-diameter", aNumber, aLength, text.Say("family.ask.ring-diameter", "outside diameter of the ring gear"), "8.8in", "224mm"),
		amount("gears", "offset", aNumber, aLength, text.Say("family.ask.offset", "offset of the pinion from the ring gear centerline"), "1.5in", "38mm"),
		amount(sheet, "checking-distance", aNumber, aLength, text.Say("family.ask.checking-distance", "checking distance, pinion face to ring gear centerline"), "2.600in", "66.00mm"),
		amount(sheet, "depth-tolerance", aNumber, aLength, text.Say("family.ask.depth-tolerance", "how far the pinion depth may be off, either way"), "0.002in", "0.05mm"),
		amount(sheet, "depth-shims", aStock, aLength, text.Say("family.ask.depth-shims", "depth shims that can be had"), "0.020-0.040 by 0.001in", "0.50-1.00 by 0.02mm"),
		amount(sheet, "side-shims", aStock, aLength, text.Say("family.ask.side-shims", "side shims that can be had"), "0.040-0.100 by 0.002in", "1.00-2.50 by 0.05mm"),
		amount(sheet, "backlash", aSpec, aLength, text.Say("family.ask.backlash", "backlash"), "0.005-0.008in", "0.13-0.20mm"),
		amount(sheet, "backlash-variation", aNumber, aLength, text.Say("family.ask.backlash-variation", "most backlash variation around the ring gear"), "0.002in", "0.05mm"),
		amount(sheet, "runout", aNumber, aLength, text.Say("family.ask.runout", "most back-face runout of the ring gear"), "0.0025in", "0.06mm"),
		amount(sheet, "pinion-torque-new", aSpec, aRotatingTorque, text.Say("family.ask.pinion-torque-new", "pinion rotating torque, new bearings, no seal"), "20-30lb-in", "2.3-3.4Nm"),
		amount(sheet, "pinion-torque-used", aSpec, aRotatingTorque, text.Say("family.ask.pinion-torque-used", "pinion rotating torque, used bearings, no seal"), "8-15lb-in", "0.9-1.7Nm"),
		amount(sheet, "total-torque-rise-new", aSpec, aRotatingTorque, text.Say("family.ask.total-torque-rise-new", "what total rotating torque adds to pinion rotating torque, new bearings"), "4-8lb-in", "0.4-0.9Nm"),
		amount(sheet, "total-torque-rise-used", aSpec, aRotatingTorque, text.Say("family.ask.total-torque-rise-used", "what total rotating torque adds to pinion rotating torque, used bearings"), "2-5lb-in", "0.2-0.6Nm"),
		amount(sheet, "side-preload", aSpec, aLength, text.Say("family.ask.side-preload", "side bearing preload, both sides together, over zero end play"), "0.006-0.010in", "0.15-0.25mm"),
		amount(sheet, "spread-limit", aNumber, aLength, text.Say("family.ask.spread-limit", "most that the housing may be spread"), "0.015in", "0.40mm"),
		amount(sheet, "nut", aSpec, aFastener, text.Say("family.ask.nut", "torque of the pinion nut"), "200-450lb-ft", "270-610Nm"),
		amount(sheet, "cap-bolts", aNumber, aFastener, text.Say("family.ask.cap-bolts", "torque of the bearing cap bolts"), "55lb-ft", "75Nm"),
		amount("solid_spacer", "preload-shims", aStock, aLength, text.Say("family.ask.preload-shims", "preload shims that can be had, with a solid spacer"), "0.020-0.080 by 0.001in", "0.50-2.00 by 0.02mm"),
	}
}

// A Given is a figure with what a manual says of it.
type Given struct {
	Figure
	key   string // in the file, with its unit
	value string // in the file
}

// Read reads what a person writes for the figure: a word; a number; low and high, as
// "0.005-0.008in" or "0.13 to 0.20 mm"; or those and a step, as "0.020-0.040 by 0.001in".
// A number without a unit has that of the system of units. Errors: what is wrong, and how it
// is written.
func (f Figure) Read(typed string, units quantity.System) (Given, error) {
	typed = strings.TrimSpace(typed)
	refuse := func() (Given, error) {
		return Given{}, text.Fail(nil, text.Say("family.figure.refused", "{figure} is {typed}; needed: {example}",
			text.Typed("figure", f.Name), text.Quoted("typed", typed), text.Of("example", f.how(units))))
	}
	switch f.form {
	case aWord:
		if word := strings.ToLower(typed); slices.Contains(f.Words, word) {
			return Given{f, f.key(), word}, nil
		}
		return refuse()
	case aWhole:
		if _, err := strconv.ParseUint(typed, 10, 16); err != nil {
			return refuse()
		}
		return Given{f, f.key(), typed}, nil
	}
	parts := amounts().FindStringSubmatch(strings.NewReplacer(" to ", "-", " by ", "/", "..", "-", "–", "-").Replace(typed))
	if parts == nil {
		return refuse()
	}
	numbers, named := []string{parts[1], parts[3], parts[5]}, []string{parts[2], parts[4], parts[6]}
	want := map[form]int{aNumber: 1, aSpec: 2, aStock: 3}[f.form]
	if !slices.Equal([]bool{numbers[1] != "", numbers[2] != ""}, []bool{want > 1, want > 2}) {
		return refuse()
	}
	unit := ""
	for _, u := range slices.Backward(named) {
		if unit == "" {
			unit = u
		}
		if u != "" && !strings.EqualFold(u, unit) {
			return refuse()
		}
	}
	var out []string
	suffix := ""
	for _, n := range numbers[:want] {
		e, err := quantity.ParseEntered(n+unit, f.fallback(units))
		if err != nil {
			return refuse()
		}
		ending, scale, ok := f.ending(e.Unit)
		if !ok {
			return refuse()
		}
		suffix = ending
		out = append(out, strconv.FormatFloat(quantity.Significant(e.Number*scale, 9), 'f', -1, 64))
	}
	value := out[0]
	switch f.form {
	case aSpec:
		value = "{low: " + out[0] + ", high: " + out[1] + "}"
	case aStock:
		value = "{low: " + out[0] + ", high: " + out[1] + ", step: " + out[2] + "}"
	}
	return Given{f, f.key() + suffix, value}, nil
}

// how says how a figure is written.
func (f Figure) how(units quantity.System) text.Message {
	if f.form == aWord {
		return text.Say("family.figure.words", "{words}", text.AnyTyped("words", f.Words...))
	}
	return text.Say("family.figure.like", "a figure written like {example}", text.Typed("example", f.Like(units)))
}

// Like is the figure's example in a system of units.
func (f Figure) Like(units quantity.System) string {
	if units == quantity.Metric {
		return f.Example[1]
	}
	return f.Example[0]
}

func (f Figure) fallback(units quantity.System) quantity.Unit {
	if units == quantity.Metric {
		return map[amountOf]quantity.Unit{aLength: quantity.UnitMM, aRotatingTorque: quantity.UnitNm, aFastener: quantity.UnitNm}[f.of]
	}
	return map[amountOf]quantity.Unit{aLength: quantity.UnitInch, aRotatingTorque: quantity.UnitInchLb, aFastener: quantity.UnitFootLb}[f.of]
}

// ending returns how the key of an amount in a unit ends, and what a number in it is to be
// multiplied by.
func (f Figure) ending(u quantity.Unit) (suffix string, scale float64, ok bool) {
	switch u {
	case quantity.UnitInch:
		return "_in", 1, f.of == aLength
	case quantity.UnitThou:
		return "_in", 0.001, f.of == aLength
	case quantity.UnitMM:
		return "_mm", 1, f.of == aLength
	case quantity.UnitInchLb:
		return "_lb_in", 1, f.of != aLength
	case quantity.UnitFootLb:
		return "_lb_ft", 1, f.of != aLength
	case quantity.UnitNm:
		return "_nm", 1, f.of != aLength
	}
	return "", 0, false
}

// amounts matches one number, two, or two and a step, each with or without a unit.
func amounts() *regexp.Regexp {
	const one = `(\d*[.,]?\d+)\s*([a-z"·]+(?:-(?:in|ft|lb|m))?)?`
	return regexp.MustCompile(`(?i)^` + one + `(?:\s*-\s*` + one + `(?:\s*/\s*` + one + `)?)?$`)
}
