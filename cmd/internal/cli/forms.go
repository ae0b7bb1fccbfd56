package cli

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/job"
	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/grading/difficulty"
	"shimwright/grading/form"
	"shimwright/lessons"
	"shimwright/scenarios"
	"shimwright/scenarios/mistake"
	"shimwright/sim/family"

	"shimwright/sim/text"
)

// The files that forms are written to, in the folder named.
const (
	formsTable  = "forms.csv"
	formsPages  = "pages.txt"
	formsReport = "report.txt"
)

// searched is how many job numbers are tried at each place of a form at most.
const searched = 20_000

// formsAsked is what the options of forms say.
type formsAsked struct {
	families, kinds, faults, band, mistake, lesson, out string
	jobs, forms                                         int
	seed                                                uint64
}

func newForms(s term.Streams) *cobra.Command {
	var l look
	var a formsAsked
	c := &cobra.Command{
		Use:   "forms",
		Short: s.Print(text.Say("cli.forms.put-together-sets-jobs", "Put together sets of jobs that are equally hard")),
		Long: s.Print(text.Say("cli.forms.put-together-forms-sets", `Put together forms: sets of jobs alike in what they ask and in how hard they are, so
that each person of a class can have another one. Simulated technicians work every job, and
forms are made up from what they show. No job stands in two forms.

Writes three files into a folder: forms.csv, every job with what was measured of it;
pages.txt, a page a form to print and hand out; report.txt, how much the forms differ.
The same options give the same forms on any machine.

--faults is usual (as often as in the catalogue), none, or the names of faults, of which
each job then carries one. --mistake and --lesson keep to jobs that show a mistake: somebody
who makes it ends at least two shim steps from somebody who does not.`)),
		Example: "  shimwright forms --out monday\n  shimwright forms --family beech,hazel --kind depth,sides --forms 3 --out class\n  shimwright forms --kind depth --mistake mark-turned --out marks",
		Args:    takes(0, 0, ""),
		RunE: func(*cobra.Command, []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			b, names, err := a.blueprint()
			if err != nil {
				return exit.Usage(err)
			}
			start := func(j form.Job) string {
				return job.Asked{Kind: j.Kind, Faults: b.Faults, Name: names[j.Family.Code]}.Practice(j.Number)
			}
			_, err = makeForms(s, b, start, a.out, p)
			return err
		},
	}
	f := c.Flags()
	f.StringVar(&a.families, "family", job.UsualFamily, s.Print(text.Say("cli.forms.axle-families-commas-between", "axle `FAMILIES`, commas between: codes, files of your own, or all")))
	f.StringVar(&a.kinds, "kind", scenarios.WholeInName, s.Print(text.Say("cli.forms.kinds-job-commas-between", "`KINDS` of job, commas between: {kind_names}, or all", text.Typed("kind_names", kindNames()))))
	f.StringVar(&a.faults, "faults", "usual", s.Print(text.Say("cli.forms.faults-usual-none-names", "`FAULTS`: usual, none, or names with commas between")))
	f.StringVar(&a.band, "difficulty", "any", s.Print(text.Say("cli.forms.how-hard-easy-medium", "`HOW` hard: easy, medium, hard or any")))
	f.StringVar(&a.mistake, "mistake", "", s.Print(text.Say("cli.forms.mistake-every-job-has", "`MISTAKE` that every job has to show")))
	f.StringVar(&a.lesson, "lesson", "", s.Print(text.Say("cli.forms.lesson-about-mistake-every", "`LESSON` about a mistake that every job has to show")))
	f.IntVar(&a.jobs, "jobs", 6, s.Print(text.Say("cli.forms.number-jobs-form", "`NUMBER` of jobs a form")))
	f.IntVar(&a.forms, "forms", 4, s.Print(text.Say("cli.forms.number-forms", "`NUMBER` of forms")))
	f.Uint64Var(&a.seed, "seed", 1, s.Print(text.Say("cli.forms.number-first-job-tried", "`NUMBER` of the first job tried")))
	f.StringVar(&a.out, "out", "forms", s.Print(text.Say("cli.forms.folder-write-into", "`FOLDER` to write into")))
	l.addFlags(s, c)
	return c
}

const all = "all"

// blueprint reads the options. names is what --family takes for each code.
func (a formsAsked) blueprint() (_ form.Blueprint, names map[string]string, _ error) {
	names = map[string]string{}
	b := form.Blueprint{Jobs: a.jobs, Forms: a.forms, First: a.seed, Numbers: searched, Margins: form.Usual()}
	if strings.EqualFold(a.families, all) {
		b.Families = family.Shelf()
		for _, f := range b.Families {
			names[f.Code] = f.Code
		}
	} else {
		for _, name := range job.Listed(a.families) {
			if strings.EqualFold(name, job.AnyFamily) {
				return b, nil, text.Fail(nil, text.Say("cli.forms.forms-name-their-families", "forms name their families: leave {any_family} out, or say all", text.Typed("any_family", job.AnyFamily)))
			}
			f, err := job.Find(name, scenarios.WholeInName, job.UsualFaults, a.seed)
			if err != nil {
				return b, nil, err
			}
			if _, twice := names[f.Code]; twice {
				return b, nil, text.Fail(nil, text.Say("cli.forms.family-named-twice", "family {code} is named twice", text.Typed("code", f.Code)))
			}
			names[f.Code] = f.Name
			b.Families = append(b.Families, f.Family)
		}
	}
	if strings.EqualFold(a.kinds, all) {
		b.Kinds = scenarios.Kinds()
	} else {
		for _, name := range job.Listed(a.kinds) {
			k, err := scenarios.ParseKind(name)
			if err != nil {
				return b, nil, err
			}
			if slices.Contains(b.Kinds, k) {
				return b, nil, text.Fail(nil, text.Say("cli.forms.kind-named-twice", "kind {number} is named twice", text.Typed("number", k.String())))
			}
			b.Kinds = append(b.Kinds, k)
		}
	}
	b.Faults = job.ParseFaults(a.faults)
	if band := strings.ToLower(a.band); band != "any" {
		b.Band = difficulty.Band(band)
	}
	var err error
	if b.Mistakes, err = mistakesFor(a.mistake, a.lesson); err != nil {
		return b, nil, err
	}
	return b, names, b.Validate()
}

// mistakesFor returns the mistakes that are named, or that a lesson is about.
func mistakesFor(id, lesson string) ([]string, error) {
	switch {
	case id != "" && lesson != "":
		return nil, text.Fail(nil, text.Say("cli.forms.name-mistake-lesson-not", "name a --mistake or a --lesson, not both"))
	case id != "":
		_, err := mistake.Find(id)
		return []string{id}, err
	case lesson == "":
		return nil, nil
	}
	if _, err := lessons.Find(lesson); err != nil {
		return nil, err
	}
	var out, with []string
	for _, s := range mistake.All() {
		if s.Lesson == lesson {
			out = append(out, s.ID)
		}
		if !slices.Contains(with, s.Lesson) {
			with = append(with, s.Lesson)
		}
	}
	if len(out) == 0 {
		return nil, text.Fail(nil, text.Say("cli.forms.no-mistake-belongs-lesson", "no mistake belongs to the lesson {lesson}: there are some for {with}", text.Typed("lesson", lesson), text.Typed("with", strings.Join(with, ", "))))
	}
	return out, nil
}

// makeForms puts forms together and writes them into a folder; start says what a trainee
// types for a job.
func makeForms(s term.Streams, b form.Blueprint, start func(form.Job) string, folder string, p view.Pen) (form.Set, error) {
	if folder == "" {
		return form.Set{}, exit.Usage(text.Fail(nil, text.Say("cli.forms.out-needs-name-folder", "--out needs the name of a folder")))
	}
	for _, name := range []string{formsTable, formsPages, formsReport} {
		if _, err := os.Lstat(filepath.Join(folder, name)); err == nil {
			return form.Set{}, exit.Usage(text.Fail(nil, text.Say("cli.forms.holds-forms-already-name", "{folder} holds forms already: name another --out", text.Typed("folder", folder))))
		}
	}
	const every = 10 // per cent between two lines of progress
	told := 0
	set, err := form.Make(b, runtime.GOMAXPROCS(0), func(done, about int) {
		if share := 100 * done / about; s.Person && share/every != told {
			told = share / every
			fmt.Fprintln(s.Err, p.Print(text.Say("cli.forms.jobs-measured-about", "{share} %: {done} jobs measured of about {about}", text.Typed("share", fmt.Sprintf("%3d", share)), text.Count("done", done), text.Count("about", about))))
		}
	})
	if err != nil {
		return set, err
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return set, exit.Usage(err)
	}
	plain := p
	plain.Color = false // for files
	report := view.FormsReport(set, plain)
	for _, f := range []struct{ name, text string }{{formsTable, view.FormsCSV(set)}, {formsPages, view.FormPages(set, start, plain)}, {formsReport, report}} {
		write := func(w io.Writer) error { _, err := io.WriteString(w, f.text); return err }
		if err := store.WriteWhole(filepath.Join(folder, f.name), write); err != nil {
			return set, err
		}
	}
	fmt.Fprint(s.Out, view.FormsReport(set, p))
	_, err = fmt.Fprintf(s.Out, "\n%s", view.Wrap(p.Print(text.Say("cli.forms.written-into-out", "Written into {folder}: {forms_table}, {forms_pages} to hand out, {forms_report}.", text.Typed("folder", folder), text.Typed("forms_table", formsTable), text.Typed("forms_pages", formsPages), text.Typed("forms_report", formsReport))), p.Width, ""))
	return set, err
}
