package cli

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/sim/act"
	"shimwright/sim/explore"
	"shimwright/sim/quantity"
)

func newExplore(s term.Streams) *cobra.Command {
	x := exploring{s: s, typed: map[string]*string{}, so: map[string]*bool{}, given: map[string]bool{}}
	c := &cobra.Command{
		Use:   "explore",
		Short: "Show a class what one change does to an open axle",
		Long: `Set an axle by hand and see everything at once: the true state, what each
instrument would show, and the print on the teeth. Without any setting it is a
finished axle. For the front of a class; nothing is hidden and nothing is graded.

--gears FILE shows a gear set alone, --parts FILE bearings, nut and housing alone,
such as a case from a book. "explore start gears mine.yaml" writes a file to change.

Amounts carry their unit: 0.004in, 4thou, 0.1mm, 25lb-in, 250lb-ft, 2.8Nm, 180deg,
72F, 40C. A bare number is in, lb-in, lb-ft, deg or F, or with --units metric mm,
Nm, deg or C.

--sweep NAME=FROM..TO/COUNT sets one of the amounts below (without its dashes) to
COUNT values from FROM to TO and shows a table with a strip of prints, or, where
prints say nothing, line charts. --csv writes every figure of every position, --json
the same for programs: lengths in mm and in, torques in Nm and lb-in or lb-ft, forces
in N and lbf, under names that do not change; "explore fields" lists them.

The options stand in the order: the axle; how it is set; what is wrong with it; how
it is read; what is written.`,
		Example: `  shimwright explore --depth -0.004in
  shimwright explore --ring 0.1mm --units metric --out print.png
  shimwright explore --interference 0.012in --shim-to-back 0.002in --used
  shimwright explore --sweep depth=-0.008in..0.008in/9 --out depth.svg
  shimwright explore --sweep nut=0deg..200deg/41 --csv nut.csv
  shimwright explore --family hazel --sweep pack=0.047in..0.055in/17
  shimwright explore --family alder --sweep warm=0C..60C/13 --units metric
  shimwright explore --wrench-error 20% --seal-extra 6lb-in
  shimwright explore start gears mine.yaml
  shimwright explore --gears mine.yaml --ring 0.005in`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			for name := range x.so {
				x.given[name] = c.Flags().Changed(name)
			}
			for _, name := range []string{"family", "seed"} {
				x.given[name] = c.Flags().Changed(name)
			}
			return x.run()
		},
	}
	c.AddCommand(newExploreStart(s), newExploreFields(s))
	f := c.Flags()
	f.SortFlags = false
	f.StringVar(&x.family, "family", "BEECH", "axle family")
	f.StringVar(&x.gearsFile, "gears", "", "a gear set alone, from `FILE`")
	f.StringVar(&x.partsFile, "parts", "", "bearings, nut and housing alone, from `FILE`")
	for _, t := range toggles {
		x.so[t.name] = new(bool)
	}
	flag := func(t toggle) { f.BoolVar(x.so[t.name], t.name, false, t.help) }
	flag(toggles[0])
	for _, k := range knobs {
		if k.of == instruments && x.typed["wrench-error"] == nil {
			for _, t := range toggles[1:] {
				if t.of != instruments {
					flag(t)
				}
			}
		}
		x.typed[k.name] = f.String(k.name, "", k.help)
	}
	for _, t := range toggles {
		if t.of == instruments {
			flag(t)
		}
	}
	for _, ch := range choices() {
		x.typed[ch.name] = f.String(ch.name, "", ch.help)
	}
	f.Uint64Var(&x.seed, "seed", 0, "give the instruments errors, another set for each `NUMBER`")
	f.BoolVar(&x.exact, "exact", false, "solve every tooth contact: slower, and no move is taken as small")
	f.StringVar(&x.sweep, "sweep", "", "`NAME=FROM..TO/COUNT`, such as depth=-0.008in..0.008in/9")
	f.StringVar(&x.csv, "csv", "", "write every figure to `FILE`, a line a position; - is the screen")
	f.BoolVar(&x.json, "json", false, "write every figure as JSON instead of tables and pictures")
	f.StringVar(&x.out, "out", "", "also save the picture: `FILE.png` or FILE.svg")
	f.BoolVar(&x.both, "both", false, "show both unit systems")
	x.look.addFlags(c)
	return c
}

// explore is one run of the command.
type exploring struct {
	s                       term.Streams
	look                    look
	typed                   map[string]*string
	family, sweep, csv, out string
	gearsFile, partsFile    string
	so                      map[string]*bool // the toggles
	json, both, exact       bool
	seed                    uint64
	given                   map[string]bool // flags that were typed
	pen                     view.Pen
	units                   quantity.System
	subject
	knob    *knob // swept, or nil
	results []explore.Result
	draw    func(io.Writer) error // the picture for --out
	groups  []fieldGroup          // of a record
}

func (x *exploring) run() error {
	var err error
	if x.pen, x.units, err = x.look.pen(x.s); err != nil {
		return err
	}
	if x.subject, err = x.chosen(); err != nil {
		return err
	}
	x.groups = known(fieldGroups(), x.subject)
	if x.json && x.csv == "-" {
		return exit.Usage(errors.New("--json and --csv - would both write to the screen: give --csv a file name"))
	}
	if x.out != "" {
		if _, err := store.IsSVG(x.out); err != nil {
			return exit.Usage(err)
		}
	}
	settings, err := x.settings()
	if err != nil {
		return exit.Usage(err)
	}
	if x.out != "" && x.patterns == nil && x.knob == nil {
		return exit.Usage(errors.New("--out has nothing to draw: parts have no print on their teeth; give --sweep, which draws a chart"))
	}
	if x.exact && x.knob != nil {
		fmt.Fprintf(x.s.Err, "The exact contact of %d positions is being solved. That takes a while: some five a second, fewer with runout.\n", len(settings))
	}
	for _, s := range settings {
		r, err := x.at(s)
		if err != nil {
			return x.misfit(s, err)
		}
		x.results = append(x.results, r)
	}
	text, err := x.text()
	if err != nil {
		return err
	}
	if x.out != "" {
		if err := store.WriteWhole(x.out, x.draw); err != nil {
			return err
		}
	}
	switch x.csv {
	case "":
	case "-":
		return x.writeCSV(x.s.Out)
	default:
		if err := store.WriteWhole(x.csv, x.writeCSV); err != nil {
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
func (x *exploring) silent() bool { return x.json || x.csv == "-" }

// text returns what a person sees and readies the picture for a file.
func (x *exploring) text() (string, error) {
	if x.knob != nil {
		return x.sweepText()
	}
	return x.singleText()
}

// misfit says where in a sweep something cannot be shown.
func (x *exploring) misfit(s explore.Settings, err error) error {
	if !errors.Is(err, explore.ErrSetting) {
		return err
	}
	if x.knob != nil {
		err = fmt.Errorf("at %s %s: %w", x.knob.name, x.knob.show(s, x.units), err)
	}
	return exit.Usage(err)
}

// settings returns what is to be shown: one setting, or one for each position of
// the sweep.
func (x *exploring) settings() ([]explore.Settings, error) {
	if err := x.refused(); err != nil {
		return nil, err
	}
	base := x.base
	base.Seed = x.seed
	for _, t := range toggles {
		*t.at(&base) = *x.so[t.name]
	}
	for _, ch := range choices() {
		*ch.at(&base) = act.Option(strings.ToLower(strings.TrimSpace(*x.typed[ch.name])))
	}
	named := map[string]string{} // what was given, as it was given
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
		named[k.name] = "--" + k.name
		x.put(k, &base, v)
	}
	if x.sweep == "" {
		if err := x.rivals(named); err != nil {
			return nil, err
		}
		base, err := x.withPreloadShims(base)
		return []explore.Settings{base}, err
	}
	sw, err := parseSweep(x.sweep, x.units)
	if err != nil {
		return nil, err
	}
	x.knob = sw.knob
	if err := x.belongs("--sweep "+x.knob.name, x.knob.of, x.knob.only); err != nil {
		return nil, err
	}
	if named[sw.knob.name] != "" {
		return nil, fmt.Errorf("--sweep already sets %s: leave --%s out", sw.knob.name, sw.knob.name)
	}
	named[sw.knob.name] = "--sweep " + sw.knob.name
	if err := x.rivals(named); err != nil {
		return nil, err
	}
	if x.knob.name == "nut" {
		// One pack for the whole sweep.
		x.put(x.knob, &base, sw.from)
		if base, err = x.withPreloadShims(base); err != nil {
			return nil, err
		}
	}
	var out []explore.Settings
	for i := range sw.count {
		s := base
		s.Repeat = uint64(i)
		x.put(sw.knob, &s, sw.at(i))
		if s, err = x.withPreloadShims(s); err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, nil
}

// put sets an amount and leaves out what it stands in the place of.
func (x *exploring) put(k *knob, s *explore.Settings, v float64) {
	for _, other := range x.rivalsOf(k.name) {
		*knobCalled(other).at(s) = 0
	}
	k.set(s, v)
}

// rivalsOf lists what says the same thing as an amount in another way.
func (x *exploring) rivalsOf(name string) []string {
	ways := [][]string{{"nut", "nut-torque", "drag"}}
	if x.torquePreloadShims {
		ways = [][]string{{"nut", "nut-torque"}, {"drag", "pack"}}
	}
	for _, w := range ways {
		if slices.Contains(w, name) {
			return slices.DeleteFunc(w, func(other string) bool { return other == name })
		}
	}
	return nil
}

// rivals refuses two ways of saying the same thing.
func (x *exploring) rivals(named map[string]string) error {
	for _, k := range knobs {
		for _, other := range x.rivalsOf(k.name) {
			if named[k.name] == "" || named[other] == "" {
				continue
			}
			what := "how far the nut goes"
			if slices.Contains([]string{"pack", "drag"}, k.name) && x.torquePreloadShims {
				what = "which pack is in"
			}
			first, second := named[k.name], named[other]
			if strings.HasPrefix(second, "--sweep") {
				first, second = second, first
			}
			return fmt.Errorf("%s and %s both say %s: give one", first, second, what)
		}
	}
	return nil
}

// withPack replaces the drag of a solid spacer by the pack that gives it, where the nut
// is turned by an angle and no longer stands at the torque the pack was chosen for.
func (x *exploring) withPreloadShims(s explore.Settings) (explore.Settings, error) {
	if !x.torquePreloadShims || s.TorqueTargetNmm == 0 || s.NutNmm > 0 {
		return s, nil
	}
	r, err := x.at(s)
	if err != nil {
		return s, x.misfit(s, err)
	}
	s.PreloadShimMM, s.TorqueTargetNmm = r.Pinion.PreloadShimMM, 0
	return s, nil
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
	k := knobCalled(name)
	if k == nil {
		return sweepRange{}, fmt.Errorf("--sweep: there is no %q to sweep; there is %s", name, strings.Join(knobNames(teeth|mechanics|instruments), ", "))
	}
	span, count, ok := strings.Cut(rest, "/")
	from, to, ok2 := strings.Cut(span, "..")
	if !ok || !ok2 {
		return sweepRange{}, form
	}
	s := sweepRange{knob: k}
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
