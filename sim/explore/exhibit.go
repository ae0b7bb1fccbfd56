package explore

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"shimwright/sim/gauge"
	"shimwright/sim/quantity"
)

// Asked is what is asked of a subject, as a person typed it: by the names of knobs,
// toggles and choices. A bare number is in Units.
type Asked struct {
	Units quantity.System
	Typed map[string]string // amounts and words; "" is not asked for
	On    map[string]bool   // toggles that are named
	Sweep string            // NAME=FROM..TO/COUNT, or ""
	Seed  uint64
	// SeedNamed tells that a seed is asked for, which halves of an axle have no use for.
	SeedNamed bool
}

// An Exhibit is a subject at one setting, or at those of a sweep.
type Exhibit struct {
	Subject
	Seed     uint64
	Swept    *Knob // nil: one setting
	Settings []Settings
	Results  []Result // one to each setting, once Show has worked them out
}

// Ask reads what is asked of a subject. Errors: amounts that cannot be read, what the
// subject has no place for, and two ways of saying the same thing.
func (u Subject) Ask(a Asked) (Exhibit, error) {
	x := Exhibit{Subject: u, Seed: a.Seed}
	if err := u.refuse(a); err != nil {
		return x, err
	}
	base := u.base
	base.Seed = a.Seed
	for _, t := range Toggles() {
		t.Set(&base, a.On[t.Name])
	}
	for _, c := range Choices() {
		c.Set(&base, strings.ToLower(strings.TrimSpace(a.Typed[c.Name])))
	}
	named := map[string]string{} // what was asked for, as it was
	for _, k := range Knobs() {
		text := a.Typed[k.Name]
		if text == "" {
			continue
		}
		v, err := k.Parse(text, a.Units)
		if err != nil {
			return x, fmt.Errorf("%s: %w", k.Name, err)
		}
		named[k.Name] = k.Name
		u.put(k, &base, v)
	}
	if a.Sweep == "" {
		if err := u.clash(named); err != nil {
			return x, err
		}
		base, err := u.withPreloadShims(base)
		x.Settings = []Settings{base}
		return x, err
	}
	return x, x.sweep(a, base, named)
}

// refuse returns an error for an amount or a toggle that the subject does not have.
func (u Subject) refuse(a Asked) error {
	for _, k := range Knobs() {
		if a.Typed[k.Name] != "" {
			if err := u.belongs(k.Name, k.Of, k.Only); err != nil {
				return err
			}
		}
	}
	for _, t := range Toggles() {
		if a.On[t.Name] {
			if err := u.belongs(t.Name, t.Of, AnySpacer); err != nil {
				return err
			}
		}
	}
	for _, c := range Choices() {
		if a.Typed[c.Name] != "" {
			if err := u.belongs(c.Name, Instruments, AnySpacer); err != nil {
				return err
			}
		}
	}
	if a.SeedNamed {
		return u.belongs("seed", Instruments, AnySpacer)
	}
	return nil
}

// clash refuses two ways of saying the same thing.
func (u Subject) clash(named map[string]string) error {
	for _, k := range Knobs() {
		for _, other := range u.rivals(k.Name) {
			if named[k.Name] == "" || named[other] == "" {
				continue
			}
			what := "how far the nut goes"
			if slices.Contains([]string{preloadShimsIn, torqueKnob}, k.Name) && u.torqueShim {
				what = "which preload shims are in"
			}
			first, second := named[k.Name], named[other]
			if strings.HasPrefix(second, "sweep") {
				first, second = second, first
			}
			return fmt.Errorf("%s and %s both say %s: give one", first, second, what)
		}
	}
	return nil
}

// withPreloadShims replaces the torque asked of a solid spacer by the preload shims that
// give it, where the nut is turned by an angle and no longer stands at the torque that the
// shims were chosen for.
func (u Subject) withPreloadShims(s Settings) (Settings, error) {
	if !u.torqueShim || s.TorqueTargetNmm == 0 || s.NutNmm > 0 {
		return s, nil
	}
	r, err := u.at(s)
	if err != nil {
		return s, err
	}
	s.PreloadShimMM, s.TorqueTargetNmm = r.Pinion.PreloadShimMM, 0
	return s, nil
}

// sweep sets the settings of a sweep from a base.
func (x *Exhibit) sweep(a Asked, base Settings, named map[string]string) error {
	sw, err := parseSweep(a.Sweep, a.Units)
	if err != nil {
		return err
	}
	name := sw.knob.Name
	if err := x.belongs("sweep "+name, sw.knob.Of, sw.knob.Only); err != nil {
		return err
	}
	if named[name] != "" {
		return fmt.Errorf("sweep already sets %s: leave %s out", name, name)
	}
	named[name] = "sweep " + name
	if err := x.clash(named); err != nil {
		return err
	}
	x.Swept = &sw.knob
	if name == nutKnob {
		// The same preload shims for the whole sweep.
		x.put(sw.knob, &base, sw.from)
		if base, err = x.withPreloadShims(base); err != nil {
			return err
		}
	}
	for i := range sw.count {
		s := base
		s.Repeat = uint64(i)
		x.put(sw.knob, &s, sw.at(i))
		if s, err = x.withPreloadShims(s); err != nil {
			return x.where(s, a.Units, err)
		}
		x.Settings = append(x.Settings, s)
	}
	return nil
}

// Show works out every setting. Errors: ErrSetting, with where in a sweep it is.
func (x *Exhibit) Show(units quantity.System) error {
	x.Results = nil
	for _, s := range x.Settings {
		r, err := x.at(s)
		if err != nil {
			return x.where(s, units, err)
		}
		x.Results = append(x.Results, r)
	}
	return nil
}

// where says at which position of a sweep something cannot be shown.
func (x *Exhibit) where(s Settings, units quantity.System, err error) error {
	if x.Swept == nil || !errors.Is(err, ErrSetting) {
		return err
	}
	return fmt.Errorf("at %s %s: %w", x.Swept.Name, x.Swept.Kind.Show(x.Swept.Get(s), units), err)
}

// PatternsAt returns the contact patterns at position i.
func (x *Exhibit) PatternsAt(i int) ([]gauge.ToothPattern, error) { return x.Patterns(x.Settings[i]) }

// Evenly picks at most most of n places, both ends among them.
func Evenly(n, most int) []int {
	most = min(n, most)
	var out []int
	for i := range most {
		out = append(out, (i*(n-1)+(most-1)/2)/(most-1))
	}
	return out
}

// A sweepRange is a knob and the values it goes through.
type sweepRange struct {
	knob     Knob
	from, to float64
	count    int
}

const mostPositions = 2000

func (s sweepRange) at(i int) float64 {
	part := float64(i) / float64(s.count-1)
	return s.from*(1-part) + s.to*part
}

func parseSweep(text string, units quantity.System) (sweepRange, error) {
	form := fmt.Errorf("sweep %s is not of the form NAME=FROM..TO/COUNT, such as depth=-0.008in..0.008in/9", text)
	name, rest, ok := strings.Cut(text, "=")
	span, count, ok2 := strings.Cut(rest, "/")
	from, to, ok3 := strings.Cut(span, "..")
	if !ok {
		return sweepRange{}, form
	}
	name = strings.TrimSpace(name)
	k, there := FindKnob(name)
	switch {
	case !there:
		return sweepRange{}, fmt.Errorf("sweep: there is no %q to sweep; there is %s", name, strings.Join(KnobNames(Whole), ", "))
	case !ok2 || !ok3:
		return sweepRange{}, form
	}
	s := sweepRange{knob: k}
	var err error
	if s.count, err = strconv.Atoi(strings.TrimSpace(count)); err != nil || s.count < 2 || s.count > mostPositions {
		return sweepRange{}, fmt.Errorf("sweep: %q is not a number of positions; write a whole number from 2 to %d after the stroke", count, mostPositions)
	}
	if s.from, err = k.Parse(from, units); err != nil {
		return sweepRange{}, fmt.Errorf("sweep from: %w", err)
	}
	if s.to, err = k.Parse(to, units); err != nil {
		return sweepRange{}, fmt.Errorf("sweep to: %w", err)
	}
	if s.from == s.to {
		return sweepRange{}, fmt.Errorf("sweep goes from %s to the same value: give it two different ends", strings.TrimSpace(from))
	}
	return s, nil
}
