package cli

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/drills"
	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/job"
	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/scenarios/drill"
	"shimwright/sim/family"
	"shimwright/sim/text"
)

func newDrill(s term.Streams) *cobra.Command {
	var l look
	var seed uint64
	var count, sheet int
	var name, out string
	const usual = 10
	c := &cobra.Command{
		Use:   "drill [KIND|list]",
		Short: s.Print(text.Say("cli.drill.short-questions-one-decision", "Short questions of one decision each")),
		Long: s.Print(text.Say("cli.drill.ask-short-questions-one", `Ask short questions of one decision each: a shim from two depth marks, notches for a
change in backlash, a rotating torque to judge. Answers may be in either unit. For a wrong
one the misconception that it fits is named. Without a KIND all are mixed; list names them.

Answers may also come from a file or a pipe, one a line, in the order of the questions
of a round: drill --seed 7 < answers.txt. Empty lines and lines that begin with # are
passed over; pass gives no answer. Exit status 1 then means that not all were right.

--sheet writes a sheet of questions for paper to FILE.md and its key to FILE-key.md.`)),
		Example: "  shimwright drill\n  shimwright drill depth-mark --count 5 --units metric\n  shimwright drill adjusters --family dogwood\n  shimwright drill --seed 7 --sheet 12 --out monday.md",
		Args:    takes(0, 1, ""),
		RunE: func(c *cobra.Command, args []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			if len(args) > 0 && strings.EqualFold(args[0], "list") {
				_, err := fmt.Fprint(s.Out, view.DrillKinds(p))
				return err
			}
			set := c.Flags().Changed
			o := drill.Order{Seed: seed, Count: count, Families: family.Shelf()}
			switch {
			case set("sheet") && set("count"):
				return exit.Usage(text.Fail(nil, text.Say("cli.drill.sheet-says-how-many", "--sheet says how many questions already: leave --count out")))
			case set("sheet") != set("out"):
				return exit.Usage(text.Fail(nil, text.Say("cli.drill.sheet-number-out-file", "--sheet NUMBER and --out FILE.md belong together: write both, or neither")))
			case set("sheet"):
				o.Count = sheet
			case !s.Person && !set("seed"):
				return exit.Usage(text.Fail(nil, text.Say("cli.drill.answers-from-file-pipe", "answers from a file or a pipe need --seed NUMBER, so that they meet the questions they are for")))
			}
			if !set("seed") {
				o.Seed = uint64(time.Now().UnixNano()/1000) % 100_000 // printed, so that it can be asked again
			}
			if len(args) > 0 {
				k, err := drill.ParseKind(args[0])
				if err != nil {
					return exit.Usage(err)
				}
				o.Kinds = []drill.Kind{k}
			}
			again := ""
			if name != "" && !strings.EqualFold(name, job.AnyFamily) {
				f, err := job.FindFamily(name)
				if err != nil {
					return err
				}
				o.Families = []family.Family{f}
				again = " --family " + term.Quote(name)
			}
			plan, err := o.Plan()
			if err != nil {
				return exit.Usage(err)
			}
			if set("sheet") {
				return writeDrillSheet(s.Out, out, plan, p)
			}
			return drills.Run(s, plan, o.Seed, again, p)
		},
	}
	c.Flags().StringVar(&name, "family", "", s.Print(text.Say("cli.drill.axle-family-code-file", "axle `FAMILY`: a code or the file of one of your own (default: all that come with the program)")))
	c.Flags().Uint64Var(&seed, "seed", 0, s.Print(text.Say("cli.drill.number-round-default-new", "`NUMBER` of the round (default: a new one)")))
	c.Flags().IntVar(&count, "count", usual, s.Print(text.Say("cli.drill.number-questions", "`NUMBER` of questions")))
	c.Flags().IntVar(&sheet, "sheet", 0, s.Print(text.Say("cli.drill.write-so-many-questions", "write so many questions (`NUMBER`) for paper instead")))
	c.Flags().StringVar(&out, "out", "", s.Print(text.Say("cli.drill.file-md-sheet-key", "`FILE.md` of the sheet; the key goes beside it")))
	l.addFlags(s, c)
	return c
}

// writeDrillSheet writes a sheet of questions for paper and its key.
func writeDrillSheet(w io.Writer, path string, plan []drill.Item, p view.Pen) error {
	if !strings.EqualFold(filepath.Ext(path), ".md") {
		return exit.Usage(text.Fail(nil, text.Say("cli.drill.sheets-name-ends-md", "{path}: the sheet's name ends in .md", text.Typed("path", path))))
	}
	var ds []drill.Drill
	for _, it := range plan {
		d, err := drill.Draw(it)
		if err != nil {
			return err
		}
		ds = append(ds, d)
	}
	sheet, key := view.DrillSheet(ds, text.Say("drill.view.title", "Drills, round {seed}", text.Typed("seed", fmt.Sprint(plan[0].Seed))), p)
	keyPath := strings.TrimSuffix(path, filepath.Ext(path)) + "-key" + filepath.Ext(path)
	for _, f := range [][2]string{{path, sheet}, {keyPath, key}} {
		if err := store.WriteWhole(f[0], func(w io.Writer) error { _, err := io.WriteString(w, f[1]); return err }); err != nil {
			return exit.Usage(err)
		}
	}
	_, err := fmt.Fprint(w, view.Wrap(p.Print(text.Say("cli.drill.written-questions-key", "Written: the questions {path}, the key {key_path}.", text.Typed("path", path), text.Typed("key_path", keyPath))), p.Width, ""))
	return err
}
