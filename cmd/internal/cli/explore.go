package cli

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/sim/exhibit"
	"shimwright/sim/quantity"
)

func newExplore(s term.Streams) *cobra.Command {
	x := explore{s: s, typed: map[string]*string{}, given: map[string]bool{}}
	c := &cobra.Command{
		Use:   "explore",
		Short: "Show a class what one change does to an open axle",
		Long: `Set an axle by hand and see everything at once: the true state, what each
instrument would show, and the print on the teeth. Without any setting it is a
finished axle. For the front of a class; nothing is hidden and nothing is graded.

--gears FILE shows a gear set alone, --parts FILE bearings, nut and housing alone,
such as a case from a book. "explore start gears mine.yaml" writes a file to change.

Amounts carry their unit: 0.004in, 4thou, 0.1mm, 25lb-in, 250lb-ft, 2.8Nm, 180deg.
A bare number is in, lb-in or deg, or with --units metric mm, Nm or deg.

--sweep NAME=FROM..TO/COUNT sets one of the amounts below (without its dashes) to
COUNT values from FROM to TO and shows a table with a strip of prints, or, for nut,
drag and interference, line charts. --csv writes every figure of every position,
--json the same for programs: lengths in mm and in, torques in Nm and lb-in or
lb-ft, forces in N and lbf, under names that do not change; "explore fields" lists
them.`,
		Example: `  shimwright explore --depth -0.004in
  shimwright explore --ring 0.1mm --units metric --out print.png
  shimwright explore --interference 0.012in --shim-to-back 0.002in --used
  shimwright explore --sweep depth=-0.008in..0.008in/9 --out depth.svg
  shimwright explore --sweep nut=0deg..200deg/41 --csv nut.csv
  shimwright explore start gears mine.yaml
  shimwright explore --gears mine.yaml --ring 0.005in`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			for _, name := range []string{"family", "used", "greased", "caps-snug", "seed"} {
				x.given[name] = c.Flags().Changed(name)
			}
			return x.run()
		},
	}
	c.AddCommand(newExploreStart(s), newExploreFields(s))
	f := c.Flags()
	f.StringVar(&x.family, "family", "BEECH", "axle family")
	f.StringVar(&x.gearsFile, "gears", "", "a gear set alone, from `FILE`")
	f.StringVar(&x.partsFile, "parts", "", "bearings, nut and housing alone, from `FILE`")
	for _, k := range knobs {
		x.typed[k.name] = f.String(k.name, "", k.help)
	}
	f.BoolVar(&x.used, "used", false, "used bearings instead of new ones")
	f.BoolVar(&x.greased, "greased", false, "pinion bearings packed with grease")
	f.BoolVar(&x.snug, "caps-snug", false, "cap bolts only snug, not torqued")
	f.Uint64Var(&x.seed, "seed", 0, "give the instruments errors, another set for each number")
	f.StringVar(&x.sweep, "sweep", "", "`NAME=FROM..TO/COUNT`, such as depth=-0.008in..0.008in/9")
	f.StringVar(&x.csv, "csv", "", "write every figure to `FILE`, a line a position; - is the screen")
	f.BoolVar(&x.json, "json", false, "write every figure as JSON instead of tables and pictures")
	f.StringVar(&x.out, "out", "", "also save the picture: `FILE.png` or FILE.svg")
	f.BoolVar(&x.both, "both", false, "show both unit systems")
	x.look.addFlags(c)
	return c
}

// explore is one run of the command.
type explore struct {
	s                       term.Streams
	look                    look
	typed                   map[string]*string
	family, sweep, csv, out string
	gearsFile, partsFile    string
	used, greased, snug     bool
	json, both              bool
	seed                    uint64
	given                   map[string]bool // flags that were typed
	pen                     view.Pen
	units                   quantity.System
	subject
	knob    *knob // swept, or nil
	results []exhibit.Result
	draw    func(io.Writer) error // the picture for --out
	groups  []fieldGroup          // of a record
}

func (x *explore) run() error {
	var err error
	if x.pen, x.units, err = x.look.pen(x.s); err != nil {
		return err
	}
	if x.subject, err = x.chosen(); err != nil {
		return err
	}
	x.groups = known(fieldGroups(), x.of)
	if x.json && x.csv == "-" {
		return usageError{errors.New("--json and --csv - would both write to the screen: give --csv a file name")}
	}
	if x.out != "" {
		if _, err := pictureKind(x.out); err != nil {
			return usageError{err}
		}
	}
	settings, err := x.settings()
	if err != nil {
		return usageError{err}
	}
	if x.out != "" && x.prints == nil && x.knob == nil {
		return usageError{errors.New("--out has nothing to draw: parts have no print on their teeth; give --sweep, which draws a chart")}
	}
	for _, s := range settings {
		r, err := x.at(s)
		if errors.Is(err, exhibit.ErrSetting) {
			if x.knob != nil {
				err = fmt.Errorf("at %s %s: %w", x.knob.name, x.knob.show(s, x.units), err)
			}
			return usageError{err}
		}
		if err != nil {
			return err
		}
		x.results = append(x.results, r)
	}
	text, err := x.text()
	if err != nil {
		return err
	}
	if x.out != "" {
		if err := writeWhole(x.out, x.draw); err != nil {
			return err
		}
	}
	switch x.csv {
	case "":
	case "-":
		return x.writeCSV(x.s.Out)
	default:
		if err := writeWhole(x.csv, x.writeCSV); err != nil {
			return err
		}
	}
	if x.json {
		return x.writeJSON(x.s.Out)
	}
	_, err = io.WriteString(x.s.Out, text)
	return err
}

// silent tells that no picture or table goes to the screen.
func (x *explore) silent() bool { return x.json || x.csv == "-" }

// text returns what a person sees and readies the picture for a file.
func (x *explore) text() (string, error) {
	if x.knob != nil {
		return x.sweepText()
	}
	return x.singleText()
}

// settings returns what is to be shown: one setting, or one for each position of
// the sweep.
func (x *explore) settings() ([]exhibit.Settings, error) {
	if err := x.refused(); err != nil {
		return nil, err
	}
	base := x.base
	base.UsedBearings, base.Greased, base.CapsSnug, base.Seed = x.used, x.greased, x.snug, x.seed
	given := map[string]bool{}
	for i := range knobs {
		k := &knobs[i]
		text := *x.typed[k.name]
		if text == "" {
			continue
		}
		v, err := k.parse(text, x.units)
		if err != nil {
			return nil, fmt.Errorf("--%s: %w", k.name, err)
		}
		given[k.name] = true
		k.set(&base, v)
	}
	if given["nut"] && given["drag"] {
		return nil, errors.New("--nut and --drag both say how far the nut goes: give one")
	}
	if x.sweep == "" {
		return []exhibit.Settings{base}, nil
	}
	sw, err := parseSweep(x.sweep, x.units)
	if err != nil {
		return nil, err
	}
	if x.knob = sw.knob; x.knob.of&x.of == 0 {
		return nil, x.refusal("--sweep " + x.knob.name)
	}
	for _, name := range []string{"nut", "drag"} {
		if other := map[string]string{"nut": "drag", "drag": "nut"}[sw.knob.name]; name == other && given[name] {
			return nil, fmt.Errorf("--sweep %s and --%s both say how far the nut goes: give one", sw.knob.name, name)
		}
	}
	if given[sw.knob.name] {
		return nil, fmt.Errorf("--sweep already sets %s: leave --%s out", sw.knob.name, sw.knob.name)
	}
	var out []exhibit.Settings
	for i := range sw.count {
		s := base
		s.Repeat = uint64(i)
		sw.knob.set(&s, sw.at(i))
		out = append(out, s)
	}
	return out, nil
}

// A kind is what an amount measures.
type kind int

const (
	length kind = iota
	signed      // length that can go either way
	drag        // rotating torque
	tight       // fastener torque
	force
	turned // degrees
	tilt   // small angle, radians
	share
	yesNo
)

// A knob is an amount that the demonstrator turns: a flag and a name for a sweep.
type knob struct {
	name, help, what string
	of               half
	kind             kind
	set              func(*exhibit.Settings, float64) // mm, N·mm, degrees or radians
	get              func(exhibit.Settings) float64
}

var knobs = []knob{
	{"depth", "pinion out of its place by `LENGTH`; minus is too deep", "pinion depth", teeth, signed,
		func(s *exhibit.Settings, v float64) { s.PinionOutMM = v }, func(s exhibit.Settings) float64 { return s.PinionOutMM }},
	{"ring", "ring gear a further `LENGTH` away from the pinion; minus is closer", "ring gear", teeth, signed,
		func(s *exhibit.Settings, v float64) { s.RingAwayMM = v }, func(s exhibit.Settings) float64 { return s.RingAwayMM }},
	{"interference", "side shims over line-to-line by `LENGTH` (default: the sheet's)", "interference", mechanics, signed,
		func(s *exhibit.Settings, v float64) { s.SideFitMM = v }, func(s exhibit.Settings) float64 { return s.SideFitMM }},
	{"shim-to-back", "side shim moved from the tooth side to the back, `LENGTH`", "shim moved to the back", mechanics, signed,
		func(s *exhibit.Settings, v float64) { s.ShimToBackMM = v }, func(s exhibit.Settings) float64 { return s.ShimToBackMM }},
	{"nut", "nut turned from finger tight by `ANGLE` (default: to the drag)", "nut angle", mechanics, turned,
		func(s *exhibit.Settings, v float64) { s.NutDeg, s.DragTargetNmm = v, 0 }, func(s exhibit.Settings) float64 { return s.NutDeg }},
	{"drag", "nut turned to a pinion drag of `TORQUE`, no seal (default: sheet's)", "pinion bearing drag", mechanics, drag,
		func(s *exhibit.Settings, v float64) { s.NutDeg, s.DragTargetNmm = 0, v }, func(s exhibit.Settings) float64 { return s.DragTargetNmm }},
	{"head-cup-gap", "gap under the head bearing cup, `LENGTH`", "head cup gap", mechanics, length,
		func(s *exhibit.Settings, v float64) { s.HeadCupGapMM = v }, func(s exhibit.Settings) float64 { return s.HeadCupGapMM }},
	{"tail-cup-gap", "gap under the tail bearing cup, `LENGTH`", "tail cup gap", mechanics, length,
		func(s *exhibit.Settings, v float64) { s.TailCupGapMM = v }, func(s exhibit.Settings) float64 { return s.TailCupGapMM }},
	{"runout", "ring gear runout, total reading, `LENGTH`", "ring gear runout", teeth, length,
		func(s *exhibit.Settings, v float64) { s.RunoutTIRMM = v }, func(s exhibit.Settings) float64 { return s.RunoutTIRMM }},
	{"film", "film of marking compound, `LENGTH` (default: a thin coat)", "compound film", teeth, length,
		func(s *exhibit.Settings, v float64) { s.FilmMM = v }, func(s exhibit.Settings) float64 { return s.FilmMM }},
	{"offset", "pinion offset larger than it should be by `LENGTH`", "offset error", teeth, signed,
		func(s *exhibit.Settings, v float64) { s.OffsetMM = v }, func(s exhibit.Settings) float64 { return s.OffsetMM }},
	{"shaft-angle", "shafts open beyond square by `ANGLE`", "shaft angle error", teeth, tilt,
		func(s *exhibit.Settings, v float64) { s.ShaftAngleRad = v }, func(s exhibit.Settings) float64 { return s.ShaftAngleRad }},
}

// knobNames lists what can be set and swept of a part of the axle.
func knobNames(of half) string {
	var names []string
	for _, k := range knobs {
		if k.of&of != 0 {
			names = append(names, k.name)
		}
	}
	return strings.Join(names, ", ")
}

// parse reads an amount a person typed and returns it in the unit set takes.
func (k *knob) parse(text string, units quantity.System) (float64, error) {
	fallback, like := map[quantity.System]quantity.Unit{quantity.Inch: quantity.UnitInch, quantity.Metric: quantity.UnitMM}[units], "a length, such as 0.004in or 0.1mm"
	switch k.kind {
	case drag:
		fallback, like = map[quantity.System]quantity.Unit{quantity.Inch: quantity.UnitInchLb, quantity.Metric: quantity.UnitNm}[units], "a torque, such as 25lb-in or 2.8Nm"
	case turned, tilt:
		fallback, like = quantity.UnitDegree, "an angle, such as 180deg"
	}
	e, err := quantity.ParseEntered(text, fallback)
	if err != nil {
		return 0, err
	}
	wrong := fmt.Errorf("%s is not what %s takes: write %s", e, k.what, like)
	switch k.kind {
	case drag:
		t, ok := e.Torque()
		if !ok {
			return 0, wrong
		}
		if t <= 0 {
			return 0, fmt.Errorf("a pinion drag of %s gives the nut nothing to go by: ask for more than none, or turn the nut by its angle", e)
		}
		return t.Nmm(), nil
	case turned, tilt:
		deg := e.Number
		switch {
		case e.Unit == quantity.UnitTurn && k.kind == turned:
			deg *= 360
		case e.Unit != quantity.UnitDegree:
			return 0, wrong
		}
		if k.kind == tilt {
			return deg * radPerDeg, nil
		}
		return deg, nil
	}
	l, ok := e.Length()
	if !ok {
		return 0, wrong
	}
	return l.MM(), nil
}

// show writes the setting's value.
func (k *knob) show(s exhibit.Settings, units quantity.System) string {
	return showAmount(k.kind, k.get(s), units)
}

const radPerDeg = 3.14159265358979323846 / 180

// showAmount writes an amount with its unit.
func showAmount(k kind, v float64, units quantity.System) string {
	switch k {
	case length:
		return quantity.Millimetres(v).Show(units)
	case signed:
		return quantity.Millimetres(v).ShowSigned(units)
	case drag:
		return quantity.Torque(v).ShowDrag(units)
	case tight:
		return quantity.Torque(v).ShowTight(units)
	case force:
		if units == quantity.Metric {
			return strconv.FormatFloat(v, 'f', 0, 64) + " N"
		}
		return strconv.FormatFloat(quantity.Force(v).PoundsForce(), 'f', 0, 64) + " lbf"
	case turned:
		return strconv.FormatFloat(v, 'f', 0, 64) + " deg"
	case tilt:
		return strconv.FormatFloat(v/radPerDeg, 'f', 3, 64) + " deg"
	}
	return strconv.FormatFloat(v, 'f', 2, 64)
}

// number is showAmount without the unit, and unitOf the unit alone.
func number(k kind, v float64, units quantity.System) string {
	return strings.Fields(showAmount(k, v, units))[0]
}

func unitOf(k kind, units quantity.System) string {
	if f := strings.Fields(showAmount(k, 0, units)); len(f) > 1 {
		return f[1]
	}
	return ""
}

// A sweepRange is a knob and the values it goes through.
type sweepRange struct {
	knob     *knob
	from, to float64
	count    int
}

const mostPositions = 2000

func (s sweepRange) at(i int) float64 {
	part := float64(i) / float64(s.count-1)
	return s.from*(1-part) + s.to*part
}

func parseSweep(text string, units quantity.System) (sweepRange, error) {
	form := fmt.Errorf("--sweep %s is not of the form NAME=FROM..TO/COUNT, such as depth=-0.008in..0.008in/9", text)
	name, rest, ok := strings.Cut(text, "=")
	if !ok {
		return sweepRange{}, form
	}
	name = strings.TrimSpace(name)
	at := slices.IndexFunc(knobs, func(k knob) bool { return k.name == name })
	if at < 0 {
		return sweepRange{}, fmt.Errorf("--sweep: there is no %q to sweep; there is %s", name, knobNames(teeth|mechanics))
	}
	span, count, ok := strings.Cut(rest, "/")
	from, to, ok2 := strings.Cut(span, "..")
	if !ok || !ok2 {
		return sweepRange{}, form
	}
	s := sweepRange{knob: &knobs[at]}
	var err error
	if s.count, err = strconv.Atoi(strings.TrimSpace(count)); err != nil || s.count < 2 || s.count > mostPositions {
		return sweepRange{}, fmt.Errorf("--sweep: %q is not a number of positions; write a whole number from 2 to %d after the stroke", count, mostPositions)
	}
	if s.from, err = s.knob.parse(from, units); err != nil {
		return sweepRange{}, fmt.Errorf("--sweep from: %w", err)
	}
	if s.to, err = s.knob.parse(to, units); err != nil {
		return sweepRange{}, fmt.Errorf("--sweep to: %w", err)
	}
	if s.from == s.to {
		return sweepRange{}, fmt.Errorf("--sweep goes from %s to the same: give it somewhere to go", strings.TrimSpace(from))
	}
	return s, nil
}
