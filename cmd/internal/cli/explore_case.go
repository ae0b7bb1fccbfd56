package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/sim"
	"shimwright/sim/explore"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
)

// A half is a part of the axle that can be shown without the other.
type half int

const (
	teeth     half = 1 << iota // ring and pinion: places, backlash, prints
	mechanics                  // bearings, nut, spacer, housing
	instruments
)

// A subject is what is explored: the open axle of a family, or a case from a file
// that is a half of an axle.
type subject struct {
	key, code          string // what it is to programs: family, gears or parts, and which
	name               string // the heading
	remark, notice     string
	of                 half
	spacer             spacer        // anySpacer: none
	torquePreloadShims bool          // a drag chooses the pack and not the nut
	design             family.Design // of a family
	sheet              *family.Sheet // nil for a case
	base               explore.Settings
	at                 func(explore.Settings) (explore.Result, error)
	patterns           func(explore.Settings) ([]gauge.ToothPattern, error) // nil where there are no teeth
}

// whole tells that it is an axle and not a half of one.
func (u subject) whole() bool { return u.sheet != nil }

const caseNotice = "A case worked for practice. No figure may be used on a real axle: the maker's manual for the axle on the bench is what counts."

// chosen returns what the flags name.
func (x *exploring) chosen() (subject, error) {
	switch {
	case x.gearsFile != "" && x.partsFile != "":
		return subject{}, exit.Usage(errors.New("--gears and --parts are shown one at a time: give one"))
	case x.given["family"] && x.gearsFile+x.partsFile != "":
		return subject{}, exit.Usage(errors.New("--family is a whole axle, and a file is a half of one: give one of them"))
	case x.gearsFile != "":
		return x.gearCase()
	case x.partsFile != "":
		return x.partsCase()
	}
	fam, err := family.FindAny(x.family)
	if err != nil {
		return subject{}, exit.Usage(err)
	}
	b, err := explore.NewBench(fam)
	if err != nil {
		return subject{}, err
	}
	if err := x.solveExactly(b.Exactly); err != nil {
		return subject{}, err
	}
	u := subject{key: "family", code: fam.Code, name: fam.Name + ", open demonstration", notice: family.Notice,
		of: teeth | mechanics | instruments, spacer: crushed, design: fam.Design, sheet: &fam.Sheet, base: explore.Finished(fam, *x.so["used"]), at: b.At, patterns: b.Patterns}
	if fam.Design.Preload == family.SolidSpacer {
		u.spacer, u.torquePreloadShims = packed, true
	}
	return u, nil
}

// solveExactly changes a bench to the exact contact if that is asked for.
func (x *exploring) solveExactly(exactly func() error) error {
	if !x.exact {
		return nil
	}
	if err := exactly(); err != nil {
		return fmt.Errorf("solved exactly: %w", err)
	}
	return nil
}

func (x *exploring) gearCase() (subject, error) {
	text, err := openData(x.gearsFile, "explore start gears FILE")
	if err != nil {
		return subject{}, err
	}
	c, problems := explore.ReadGearCase(text, x.gearsFile)
	if len(problems) > 0 {
		return subject{}, tellMistakes(x.s.Err, x.gearsFile, problems, explore.ErrNotGears, x.pen)
	}
	b, err := explore.NewGearBench(c)
	if err != nil {
		return subject{}, err
	}
	if err := x.solveExactly(b.Exactly); err != nil {
		return subject{}, err
	}
	return subject{key: "gears", code: c.Name, name: c.Name + ", gears alone", notice: caseNotice, remark: remark(c.Source,
		"Along counts from toe 0 to heel 1, up from root 0 to top 1; lengths and areas of a print are shares of the tooth."),
		of: teeth, base: explore.Settings{FilmMM: sim.ThinFilmMM}, patterns: b.Patterns,
		at: func(s explore.Settings) (explore.Result, error) {
			r := explore.Result{Settings: s}
			r.Pinion.PinionOutMM, r.Sides.RingAwayMM = s.PinionOutMM, s.RingAwayMM
			var err error
			r.Gears, err = b.At(s)
			return r, err
		}}, nil
}

func (x *exploring) partsCase() (subject, error) {
	text, err := openData(x.partsFile, "explore start parts FILE")
	if err != nil {
		return subject{}, err
	}
	p, problems := explore.ReadParts(text, x.partsFile)
	if len(problems) > 0 {
		return subject{}, tellMistakes(x.s.Err, x.partsFile, problems, explore.ErrNotParts, x.pen)
	}
	between := anySpacer
	words := "Without --nut or --drag the nut is finger tight, without --interference the side shims are line-to-line. The teeth are taken to run free."
	switch {
	case p.Pinion.SolidStiffnessNPerMM > 0:
		between = packed
		words += " The nut's angle counts from where the pack has just closed up."
	case p.Pinion.Spacer != nil:
		between = crushed
	}
	return subject{key: "parts", code: p.Name, name: p.Name + ", mechanics alone", notice: caseNotice, remark: remark(p.Source, words),
		of: mechanics, spacer: between,
		at: func(s explore.Settings) (explore.Result, error) {
			r := explore.Result{Settings: s}
			var err error
			r.Pinion, r.Sides, err = explore.MechanicsOnly(p, s)
			return r, err
		}}, nil
}

func remark(source, text string) string {
	if source != "" {
		text = "From: " + source + " " + text
	}
	return text
}

// refused returns an error for an amount or a flag that the subject does not have.
func (x *exploring) refused() error {
	for _, k := range knobs {
		if *x.typed[k.name] != "" {
			if err := x.belongs("--"+k.name, k.of, k.only); err != nil {
				return err
			}
		}
	}
	for _, t := range toggles {
		if x.given[t.name] {
			if err := x.belongs("--"+t.name, t.of, anySpacer); err != nil {
				return err
			}
		}
	}
	for _, ch := range choices() {
		if *x.typed[ch.name] != "" {
			if err := x.belongs("--"+ch.name, instruments, anySpacer); err != nil {
				return err
			}
		}
	}
	if x.given["seed"] {
		return x.belongs("--seed", instruments, anySpacer)
	}
	if x.exact && x.of&teeth == 0 {
		return errors.New("--exact is about teeth, and parts have none: leave it out")
	}
	return nil
}

// belongs returns an error for what the subject has no place for.
func (x *exploring) belongs(what string, of half, only spacer) error {
	switch {
	case only != anySpacer && only != x.spacer && x.of&mechanics != 0:
		has := map[spacer]string{crushed: "a collapsible spacer, and the nut alone sets the preload", packed: "a solid spacer, which nothing crushes", anySpacer: "no spacer"}[x.spacer]
		return fmt.Errorf("%s has no place here: %s has %s", what, x.code, has)
	case of&^x.of == 0:
		return nil
	case of == instruments:
		return fmt.Errorf("%s is about instruments, and a case has no instruments: it shows the truth alone", what)
	case x.of == teeth:
		return fmt.Errorf("%s has no place here: a gear set alone takes %s", what, settingNames(teeth))
	}
	return fmt.Errorf("%s has no place here: parts without teeth take %s", what, settingNames(mechanics))
}

func newExploreStart(s term.Streams) *cobra.Command {
	return &cobra.Command{
		Use:   "start gears|parts [FILE]",
		Short: "Write a file to start a case of your own from",
		Long: `Write a whole invented case, with a remark at every key, to FILE, or show it on the
screen. Change what the book gives and keep the rest; explore names every mistake.`,
		Example: "  shimwright explore start gears mine.yaml\n  shimwright explore --gears mine.yaml --depth 0.004in",
		Args:    usageArgs(cobra.RangeArgs(1, 2)),
		RunE: func(_ *cobra.Command, args []string) error {
			text, err := explore.StartFile(args[0])
			if err != nil {
				return exit.Usage(err)
			}
			if len(args) == 1 {
				_, err = s.Out.Write(text)
				return err
			}
			// A file that is there may hold somebody's work.
			f, err := os.OpenFile(args[1], os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
			switch {
			case errors.Is(err, fs.ErrExist):
				return exit.Usage(fmt.Errorf("%s is there already: give another name", view.FileName(args[1])))
			case err != nil:
				return err
			}
			_, err = f.Write(text)
			if err = errors.Join(err, f.Close()); err != nil {
				return err
			}
			_, err = fmt.Fprintf(s.Out, "Written. Change it and show it: shimwright explore --%s %s\n", args[0], view.FileName(args[1]))
			return err
		},
	}
}

// usageArgs marks what is wrong with the arguments as a mistake in the call.
func usageArgs(check cobra.PositionalArgs) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if err := check(c, args); err != nil {
			return exit.Usage(err)
		}
		return nil
	}
}
