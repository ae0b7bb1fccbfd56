package cli

import (
	"errors"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/job"
	"shimwright/cmd/internal/practice"
	"shimwright/cmd/internal/term"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"

	"shimwright/sim/text"
)

func newPractice(s term.Streams) *cobra.Command {
	var l look
	var seed uint64
	var name, kind, faults, record, data string
	var mend, lines, coach, pictures bool
	c := &cobra.Command{
		Use:   "practice",
		Short: s.Print(text.Say("cli.practice.work-job-your-own", "Work a job of your own")),
		Long: s.Print(text.Say("cli.practice.work-job-bench-terminal", `Work a job at the bench. On a terminal it is a full screen: the axle, the paper beside
it and what can be done, by keys. With --lines it is one act a line: type now to see
what can be done, help for the rest. Each act is written to the attempt file before
the next is asked for; leaving, Ctrl-C or a lost terminal loses nothing: the same
command goes on where it stopped. On a terminal practice alone goes on with the job
that is open, "practice again" begins the last one anew, and "practice history" lists
them all.

Before something is read again after a change you are asked what you expect to read.
Enter skips that; it is no part of the grade.

Acts may also come from a file or a pipe, one a line; a line that begins with # is
skipped. A script stops at the first act that cannot be done.

The axle is of the family named, which the attempt file keeps. With --family any the
job's number picks one: its card says how it is built. With --kind it is a part of the
job (depth, preload, sides), the contact pattern of an assembled axle (pattern), or
a previous technician's work. With --faults none the parts are sound.`)),
		Example: "  shimwright practice\n  shimwright practice --seed 7 --units metric\n  shimwright practice --family hazel\n  shimwright practice --kind depth --seed 7\n  shimwright practice --seed 7 < acts.txt",
		Args:    takes(0, 0, ""),
		RunE: func(c *cobra.Command, _ []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			set := c.Flags().Changed
			folder := ""
			if record == "" && (s.Person || s.Moves || data != "") {
				if folder, err = dataIn(data); err != nil {
					return err
				}
				if !set("seed") && !set("family") && !set("kind") && !set("faults") {
					if k, ok, err := lastOpen(folder); err != nil || ok {
						return errors.Join(err, goOn(s, p, k, lines))
					}
				}
			}
			if !set("seed") {
				seed = newSeed() // a file that is there already has its own
			}
			a, err := job.Find(name, kind, faults, seed)
			if err != nil {
				return err
			}
			if record == "" {
				record = filepath.Join(folder, a.FileName(seed))
			}
			var terms attempt.Terms
			if coach {
				terms.Help = attempt.CoachHelp
			}
			return practice.Run(practice.Sitting{Streams: s, Pen: p, Path: record, Seed: seed, Axle: a, Order: a.Order(), Mend: mend, Lines: lines, Pictures: pictures, Terms: terms,
				Named: practice.Named{Units: set("units"), Seed: set("seed"), Family: set("family") && !strings.EqualFold(name, job.AnyFamily), Kind: set("kind"), Faults: set("faults")}})
		},
	}
	addFamilyFlag(s, c, &name)
	addKindFlag(s, c, &kind)
	addFaultsFlag(s, c, &faults)
	c.Flags().Uint64Var(&seed, "seed", 0, s.Print(text.Say("cli.practice.job-number-default-new", "job `NUMBER` (default: a new one)")))
	c.Flags().StringVar(&record, "record", "", s.Print(text.Say("cli.practice.attempt-file-default-shimwright", "attempt `FILE` (default: shimwright-job-NUMBER.jsonl in the data folder, from a pipe in this folder; the family's code and the kind for job if they are others)")))
	c.Flags().BoolVar(&mend, "mend", false, s.Print(text.Say("cli.practice.go-from-whole-acts", "go on from the whole acts of a cut-short or damaged attempt file; the old file is kept beside it")))
	c.Flags().BoolVar(&coach, "coach", false, s.Print(text.Say("cli.practice.coach-says-after-each", "a coach says after each decision what it cost and why, and decisions can be taken back; the attempt says so")))
	c.Flags().BoolVar(&pictures, "pictures", false, s.Print(text.Say("cli.practice.let-script-save-pictures", "let a script save pictures with its word picture; without it a script writes nothing but its attempt")))
	addLinesFlag(s, c, &lines)
	addDataFlag(s, c, &data)
	l.addFlags(s, c)
	c.AddCommand(newAgain(s), newHistory(s))
	return c
}

func addLinesFlag(s term.Streams, c *cobra.Command, lines *bool) {
	c.Flags().BoolVar(lines, "lines", false, s.Print(text.Say("cli.practice.typed-lines-instead-full", "typed lines instead of the full screen, as for a screen reader")))
}

func addFamilyFlag(s term.Streams, c *cobra.Command, name *string) {
	c.Flags().StringVar(name, "family", job.UsualFamily, s.Print(text.Say("cli.practice.axle-family-code-file", "axle `FAMILY`: a code, the file of one of your own, or any")))
}

func addKindFlag(s term.Streams, c *cobra.Command, kind *string) {
	c.Flags().StringVar(kind, "kind", scenarios.WholeInName, s.Print(text.Say("cli.practice.kind-job", "`KIND` of job: {kind_names}", text.Typed("kind_names", kindNames()))))
}

func addFaultsFlag(s term.Streams, c *cobra.Command, faults *string) {
	c.Flags().StringVar(faults, "faults", job.UsualFaults, s.Print(text.Say("cli.practice.faults-usual-none-names", "`FAULTS`: usual, none, or names with commas between, of which the job carries one")))
}

func kindNames() string {
	var names []string
	for _, k := range scenarios.Kinds() {
		names = append(names, k.String())
	}
	return strings.Join(names, ", ")
}
