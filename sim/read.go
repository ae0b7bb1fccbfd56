package sim

import (
	"fmt"
	"math"

	"shimwright/sim/carrier"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/mesh"
	"shimwright/sim/quantity"
)

// armNoiseMM is what a loose indicator arm adds to every reading taken with it.
func (s *Stand) armNoiseMM() float64 {
	if s.axle.IndicatorLoose {
		return LooseArmMM
	}
	return 0
}

func (s *Stand) readBacklash(st carrier.State, places int, out *Outcome) error {
	c, _ := gauge.ClassOf(gauge.DialIndicator)
	r := gauge.Reading{What: "backlash", Tool: gauge.DialIndicator,
		How: s.mount.Where + ", " + s.mount.Plunger + ", " + s.mount.Pinion, StdMM: c.StandardUncertainty(0, 1)}
	label := s.label("backlash")
	bound := false
	for k := range places {
		at := fmt.Sprintf("%s/%d", label, k)
		ch := s.chance(at)
		pushed, phase := ch.Uniform(0, 1), ch.Uniform(0, 1)
		b, err := s.backlashMM(st, 2*math.Pi*float64(k)/float64(places), pushed, phase)
		if err != nil {
			return err
		}
		bound = bound || b <= 0
		b = math.Max(b, 0)
		if s.mount.Pinion == "pinion-free" {
			// Bearing and spline play ride along when the pinion is not held.
			b += FreePinionMM + ch.Uniform(0, FreePinionMM)
		}
		v := s.kit.Read(gauge.DialIndicator, b*s.placement(), at, s.armNoiseMM())
		r.Lengths = append(r.Lengths, quantity.Millimetres(math.Max(v, 0)))
	}
	out.Readings = append(out.Readings, r)
	if bound {
		out.note("at some place there is no free play at all: the gears bind")
	}
	return nil
}

// placement is what the indicator's stem sees of a movement square to the tooth
// at the heel.
func (s *Stand) placement() float64 {
	return PlungerShare(s.gears, s.fam.Model.Gears.RingDiameterMM/2, s.mount.Where, s.mount.Plunger)
}

func (s *Stand) readPattern(st carrier.State, braked bool, out *Outcome) error {
	label := s.label("print")
	ch := s.chance(label)
	film, eye := thinFilmMM, eyeShare
	how := s.paint + " coat, "
	if s.paint == "thick" {
		film, eye = thickFilmMM, 2*eyeShare
	}
	if braked {
		how += "braked"
	} else {
		film, eye = film*freeFilm, 2.5*eye
		how += "free"
	}
	angle := ch.Uniform(0, 2*math.Pi) // where the marked teeth are
	pos := s.gearPosition(st, angle, ch.Uniform(0, 1))
	if err := s.contact.Move(pos); err != nil {
		return err
	}
	if s.contact.Backlash().MeanMM <= 0 {
		out.note("the gears bind: they will not roll through, and there is no print to read")
		return nil
	}
	r := gauge.Reading{What: "pattern", Tool: gauge.EyeOnCompound, How: how}
	for _, fl := range s.fam.Design.Flanks() {
		r.Patterns = append(r.Patterns, s.print(fl, film, eye, label))
	}
	out.Readings = append(out.Readings, r)
	s.paint = ""
	return nil
}

// print draws one flank's print and judges its place as an eye would.
func (s *Stand) print(fl mesh.Flank, film, eye float64, label string) gauge.ToothPattern {
	ch := s.chance(label + "/" + fl.String())
	pat := s.contact.Pattern(fl, film)
	sep := s.contact.Separation(fl, patternCols, patternRows, nil)
	p := gauge.ToothPattern{Flank: s.fam.Design.FlankName(fl), Crossed: s.fam.Design.DriveFlank == family.Concave, Cols: patternCols, Rows: patternRows, Ink: make([]float64, len(sep))}
	for i, d := range sep {
		ink := gauge.Ink(d, film)
		ink += ch.Normal(0, 0.06)
		p.Ink[i] = share(ink)
	}
	// However badly the eye judges, it puts the centre on the tooth.
	p.CenterS = hundredth(share(pat.CenterS + ch.Normal(0, eye)))
	p.CenterT = hundredth(share(pat.CenterT + ch.Normal(0, eye)))
	p.LengthPart = hundredth(pat.MaxS - pat.MinS)
	p.HeightPart = hundredth(pat.MaxT - pat.MinT)
	p.AreaPart = hundredth(pat.AreaShare)
	return p
}

// share keeps a place on the tooth, 0 to 1.
func share(x float64) float64 { return math.Max(0, math.Min(1, x)) }

func hundredth(x float64) float64 { return math.Round(x*100) / 100 }

// EyeStd is the standard uncertainty of a print's centre, as a share of the tooth,
// for a way of taking it ("thin coat, braked").
func EyeStd(how string) float64 {
	eye := eyeShare
	if len(how) >= 5 && how[:5] == "thick" {
		eye *= 2
	}
	if len(how) >= 4 && how[len(how)-4:] == "free" {
		eye *= 2.5
	}
	return math.Hypot(eye, 0.01/math.Sqrt(12))
}
