package cli

import (
	"fmt"
	"strings"

	"shimwright/cmd/internal/view"
	"shimwright/scenarios/attempt"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/quantity"
)

// A foretelling asks a person, before something is read again after a change, what they
// expect to read: whoever says it first learns more from the reading. Enter skips it, and
// after two skips in a row it asks no more. Scripts are never asked, and nobody in an
// exercise without help.
type foretelling struct {
	before  string // the line that waits for the answer, or ""
	act     act.Act
	skipped int
}

// askedOften is how many skips in a row end the asking.
const askedOften = 2

// worthAsking reports whether an act reads again what has been read before, for the first
// time since what it depends on was changed. How far the drag climbs with the nut is asked
// once in each build, at its second reading.
func worthAsking(a act.Act, outs []sim.Outcome) bool {
	var changes []act.Form
	switch a.Form {
	case act.MeasureDepth:
		changes = []act.Form{act.FitDepthShim, act.SeatCups, act.CleanShimSeat}
	case act.MeasureBacklash:
		changes = []act.Form{act.FitSideShims, act.TurnRingGearAdjuster, act.TurnOppositeAdjuster, act.FitPinion, act.CleanRingGear}
	case act.MeasureTorque:
		changes = []act.Form{act.TightenNutAngle, act.TightenNutTorque, act.FitPreloadShims}
	default:
		return false
	}
	read, changed, thisBuild := 0, false, 0
	for _, o := range outs {
		switch {
		case o.Act.Form == act.FitPinion:
			thisBuild = 0
		case o.Act.Form == a.Form:
			read, changed, thisBuild = read+1, false, thisBuild+1
		}
		for _, f := range changes {
			changed = changed || o.Act.Form == f
		}
	}
	if a.Form == act.MeasureTorque {
		return changed && thisBuild == 1
	}
	return changed && read > 0
}

// saidAlready reports whether the trainee has said what they expect since the last reading.
func saidAlready(outs []sim.Outcome) bool {
	for i := len(outs) - 1; i >= 0; i-- {
		switch {
		case outs[i].Act.Form == act.ExpectValue:
			return true
		case len(outs[i].Readings) > 0:
			return false
		}
	}
	return false
}

// foretell asks before an act that is worth it, and reports whether it asked.
func (x *session) foretell(line string, a act.Act) bool {
	if !x.s.Person || x.rec.Header.Help == attempt.NoHelp || x.asking.skipped >= askedOften || !worthAsking(a, x.outs) || saidAlready(x.outs) {
		return false
	}
	x.asking.before, x.asking.act = line, a
	return true
}

// prompt is what stands before the next line a person types.
func (x *session) prompt() string {
	if x.asking.before != "" {
		return "What do you expect to read? Enter skips. > "
	}
	return x.pen.Quiet(fmt.Sprintf("[%.0f min] ", float64(x.stand.Status().Minutes))) + "> "
}

// answer takes the answer to what is expected, and then goes on with the act that waited.
func (x *session) answer(said string) (done bool, err error) {
	said = strings.TrimSpace(said)
	if said != "" {
		if handled, err := x.word(said); handled || err != nil {
			return false, err
		}
	}
	line, a := x.asking.before, x.asking.act
	if said == "" {
		x.asking.skipped++
		if x.asking.skipped == askedOften {
			x.say("%s", view.Wrap("You will not be asked again; expect and an amount still says it.", x.pen.Width, "    "))
		}
	} else {
		e, err := x.expected(said, a)
		if err != nil {
			return false, x.decline(said, err)
		}
		x.asking.skipped = 0
		if _, err := x.do("expect "+e.String(), act.Act{Form: act.ExpectValue, Amounts: []quantity.Entered{e}}); err != nil {
			return false, err
		}
	}
	x.asking.before = ""
	return x.do(line, a)
}

// expected reads an amount of what an act reads. A bare number is in the units shown.
func (x *session) expected(said string, a act.Act) (quantity.Entered, error) {
	metric := x.units == quantity.Metric
	unit, example := quantity.UnitInch, "a length, such as 0.006in"
	if metric {
		unit = quantity.UnitMM
	}
	if a.Form == act.MeasureTorque {
		unit, example = quantity.UnitInchLb, "a torque, such as 20lb-in"
		if metric {
			unit = quantity.UnitNm
		}
	}
	e, err := quantity.ParseEntered(strings.TrimPrefix(strings.ToLower(said), "expect"), unit)
	if err != nil {
		return e, err
	}
	_, length := e.Length()
	_, torque := e.Torque()
	if e.Number < 0 || length == (a.Form == act.MeasureTorque) || length == torque {
		return e, fmt.Errorf("what comes is %s; write what you expect, or press Enter", example)
	}
	return e, nil
}
