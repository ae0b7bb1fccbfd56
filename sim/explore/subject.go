package explore

import (
	"fmt"
	"slices"
	"strings"

	"shimwright/sim"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
)

// A Subject is what is explored: the open axle of a family, or a half of an axle from a
// file.
type Subject struct {
	Key, Code  string // what it is to programs: family, gears or parts, and which
	Name       string
	Source     string        // of a half: where its figures are from
	Of         Half          // what there is of it
	Spacer     Spacer        // AnySpacer: none
	Design     family.Design // of a whole axle
	Sheet      *family.Sheet // nil for a half
	Exact      bool          // every tooth contact is solved
	base       Settings
	at         func(Settings) (Result, error)
	patterns   func(Settings) ([]gauge.ToothPattern, error)
	torqueShim bool // a torque chooses the preload shims and not the nut
}

// IsWhole tells that it is an axle and not a half of one.
func (u Subject) IsWhole() bool { return u.Sheet != nil }

// Adjusters tells that bearing adjusters hold the case, and not shims.
func (u Subject) Adjusters() bool {
	return u.IsWhole() && u.Design.SideAdjust == family.BearingAdjusters
}

// HasPatterns tells that there are teeth to mark.
func (u Subject) HasPatterns() bool { return u.patterns != nil }

// TorqueShims tells that a rotating torque chooses the preload shims and not the nut.
func (u Subject) TorqueShims() bool { return u.torqueShim }

// At returns the subject at some settings. Errors: ErrSetting.
func (u Subject) At(s Settings) (Result, error) { return u.at(s) }

// Patterns returns its contact patterns. Errors: ErrSetting, and for what has no teeth.
func (u Subject) Patterns(s Settings) ([]gauge.ToothPattern, error) {
	if u.patterns == nil {
		return nil, fmt.Errorf("%w: %s has no teeth", ErrSetting, u.Code)
	}
	return u.patterns(s)
}

// solver is a bench that can be made to solve every tooth contact.
type solver interface{ Exactly() error }

func exactly(b solver, exact bool) error {
	if !exact {
		return nil
	}
	if err := b.Exactly(); err != nil {
		return fmt.Errorf("solved exactly: %w", err)
	}
	return nil
}

// OfFamily is the finished open axle of a family, with used bearings or new ones; exact
// solves every tooth contact, which takes longer.
func OfFamily(fam family.Family, used, exact bool) (Subject, error) {
	b, err := NewBench(fam)
	if err == nil {
		err = exactly(b, exact)
	}
	if err != nil {
		return Subject{}, err
	}
	u := Subject{Key: "family", Code: fam.Code, Name: fam.Name, Of: Whole, Spacer: Collapsible, Design: fam.Design, Sheet: &fam.Sheet, Exact: exact,
		base: Finished(fam, used), at: b.At, patterns: b.Patterns}
	if fam.Design.Preload == family.SolidSpacer {
		u.Spacer, u.torqueShim = Solid, true
	}
	return u, nil
}

// OfGears is a gear set alone.
func OfGears(c GearCase, exact bool) (Subject, error) {
	b, err := NewGearBench(c)
	if err == nil {
		err = exactly(b, exact)
	}
	if err != nil {
		return Subject{}, err
	}
	return Subject{Key: "gears", Code: c.Name, Name: c.Name, Source: c.Source, Of: Teeth, Exact: exact,
		base: Settings{FilmMM: sim.ThinFilmMM}, patterns: b.Patterns,
		at: func(s Settings) (Result, error) {
			r := Result{Settings: s}
			r.Pinion.PinionOutMM, r.Sides.RingAwayMM = s.PinionOutMM, s.RingAwayMM
			var err error
			r.Gears, err = b.At(s)
			return r, err
		}}, nil
}

// OfParts is bearings, nut, spacer and housing alone. Its teeth are taken to run free.
func OfParts(p Parts) Subject {
	u := Subject{Key: "parts", Code: p.Name, Name: p.Name, Source: p.Source, Of: Mechanics,
		at: func(s Settings) (Result, error) {
			r := Result{Settings: s}
			var err error
			r.Pinion, r.Sides, err = MechanicsOnly(p, s)
			return r, err
		}}
	switch {
	case p.Pinion.SolidStiffnessNPerMM > 0:
		u.Spacer = Solid
	case p.Pinion.Spacer != nil:
		u.Spacer = Collapsible
	}
	return u
}

// belongs returns an error for what the subject has no place for.
func (u Subject) belongs(what string, of Half, only Spacer) error {
	switch {
	case only != AnySpacer && only != u.Spacer && u.Of&Mechanics != 0:
		has := map[Spacer]string{Collapsible: "a collapsible spacer, and the nut alone sets the preload", Solid: "a solid spacer, which nothing crushes", AnySpacer: "no spacer"}[u.Spacer]
		return fmt.Errorf("%s has no place here: %s has %s", what, u.Code, has)
	case of&^u.Of == 0:
		return nil
	case of == Instruments:
		return fmt.Errorf("%s is about instruments, and half an axle has none: only the true figures are shown", what)
	case u.Of == Teeth:
		return fmt.Errorf("%s has no place here: a gear set alone takes %s", what, strings.Join(SettingNames(Teeth), ", "))
	}
	return fmt.Errorf("%s has no place here: parts without teeth take %s", what, strings.Join(SettingNames(Mechanics), ", "))
}

// rivals lists what says the same thing as an amount in another way.
func (u Subject) rivals(name string) []string {
	ways := [][]string{{nutKnob, nutTorqueKnob, torqueKnob}}
	if u.torqueShim {
		ways = [][]string{{nutKnob, nutTorqueKnob}, {torqueKnob, preloadShimsIn}}
	}
	for _, w := range ways {
		if slices.Contains(w, name) {
			return slices.DeleteFunc(w, func(other string) bool { return other == name })
		}
	}
	return nil
}

// put sets an amount and leaves out what it stands in the place of.
func (u Subject) put(k Knob, s *Settings, v float64) {
	for _, name := range u.rivals(k.Name) {
		if other, ok := FindKnob(name); ok {
			other.Set(s, 0)
		}
	}
	k.Set(s, v)
}
