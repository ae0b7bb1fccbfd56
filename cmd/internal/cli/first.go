package cli

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/drills"
	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/job"
	"shimwright/cmd/internal/line"
	"shimwright/cmd/internal/practice"
	"shimwright/cmd/internal/screen"
	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/grading/class"
	"shimwright/grading/cost"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/drill"
	"shimwright/scenarios/exercise"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// dataIn is the folder named, or that of the system; it is made where it is not there.
func dataIn(named string) (string, error) {
	folder := named
	if folder == "" {
		var err error
		if folder, err = store.DataFolder(); err != nil {
			return "", exit.Usage(text.Fail(err, text.Say("cli.first.name-folder-data", "{why}: name a folder with --data", text.Cause("why", err))))
		}
	}
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return "", exit.Usage(err)
	}
	return folder, nil
}

func addDataFlag(s term.Streams, c *cobra.Command, data *string) {
	c.Flags().StringVar(data, "data", "", s.Print(text.Say("cli.first.folder-attempts-default-systems", "`FOLDER` of attempts (default: the system's own for programs' data)")))
}

// lastOpen is the attempt that was worked last and is not signed off; ok is false for none.
func lastOpen(folder string) (k store.Kept, ok bool, err error) {
	all, err := store.KeptIn(folder)
	for _, k := range all {
		if k.Open() {
			return k, true, nil
		}
	}
	return store.Kept{}, false, err
}

// goOn sits a person down at an attempt that has been begun.
func goOn(s term.Streams, p view.Pen, k store.Kept, lines bool) error {
	return practice.Run(practice.Sitting{Streams: s, Pen: p, Path: k.Path, Seed: k.Record.Header.Seed, Axle: job.Of(k.Record.Header), Order: k.Record.Header.Order, Terms: k.Record.Header.Terms, Lines: lines})
}

// jobName names the job of an attempt.
func jobName(p text.Printer, h attempt.Header) string {
	return view.JobTitle(p, h.Family.Code, h.Kind, p.Print(text.Say("cli.first.job", ", job ")), h.Seed)
}

// newPath is a name for an attempt file that is not taken yet.
func newPath(folder, name string) string {
	base := strings.TrimSuffix(name, ".jsonl")
	for i := 1; ; i++ {
		path := filepath.Join(folder, base+".jsonl")
		if i > 1 {
			path = filepath.Join(folder, fmt.Sprintf("%s-%d.jsonl", base, i))
		}
		if _, err := os.Lstat(path); errors.Is(err, os.ErrNotExist) {
			return path
		}
	}
}

func newAgain(s term.Streams) *cobra.Command {
	var l look
	var data string
	var lines bool
	c := &cobra.Command{
		Use:   "again [FILE]",
		Short: s.Print(text.Say("cli.first.work-same-job-anew", "Work the same job anew")),
		Long: s.Print(text.Say("cli.first.work-job-attempt-anew", `Work the job of an attempt anew, on the same axle from its beginning: that of the file
named, or the one worked last. It goes into a file of its own.`)),
		Example: "  shimwright practice again shimwright-job-7.jsonl",
		Args:    takes(0, 1, ""),
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			var rec *attempt.Record
			folder := "."
			if len(args) == 1 {
				if rec, err = store.Read(args[0]); err != nil {
					return err
				}
				folder = filepath.Dir(args[0])
			} else {
				if folder, err = dataIn(data); err != nil {
					return err
				}
				all, err := store.KeptIn(folder)
				if err != nil {
					return err
				}
				for _, k := range all {
					if k.Err == nil {
						rec = k.Record
						break
					}
				}
				if rec == nil {
					return exit.Usage(text.Fail(nil, text.Say("again.none", "there is no attempt in {folder} yet: name the file of one", text.Typed("folder", folder))))
				}
			}
			h := rec.Header
			return practice.Run(practice.Sitting{Streams: s, Pen: p.In(h.Units), Path: newPath(folder, "shimwright-"+job.ShortOf(h)), Seed: h.Seed,
				Axle: job.Of(h), Order: h.Order, Terms: h.Terms, Lines: lines})
		},
	}
	addDataFlag(s, c, &data)
	addLinesFlag(s, c, &lines)
	l.addFlags(s, c)
	return c
}

func newHistory(s term.Streams) *cobra.Command {
	var l look
	var data string
	c := &cobra.Command{
		Use:   "history",
		Short: s.Print(text.Say("cli.first.attempts-there-last-worked", "The attempts there are, the last worked first")),
		Long: s.Print(text.Say("cli.first.list-attempts-data-folder", `List the attempts in the data folder, the last worked first, with their scores and the
misconception that the acts fit, if there is one; and where they are. They are plain
files: copy one to hand it in or to move it, and delete one to be rid of it.`)),
		Example: "  shimwright practice history",
		Args:    takes(0, 0, ""),
		RunE: func(*cobra.Command, []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			folder, err := dataIn(data)
			if err != nil {
				return err
			}
			all, err := store.KeptIn(folder)
			if err != nil {
				return err
			}
			fmt.Fprint(s.Out, view.Wrap(p.Print(text.Say("history.where", "{n} {n:attempt|attempts} in {folder}", text.Count("n", len(all)), text.Typed("folder", folder))), p.Width, ""))
			graded := gradeKept(all, p.Units())
			for _, k := range all {
				fmt.Fprint(s.Out, view.Hang(filepath.Base(k.Path)+": "+p.Print(keptMessage(p.Printer, k, graded[k.Path])), p.Width, "  ", "    "))
			}
			return nil
		},
	}
	addDataFlag(s, c, &data)
	l.addFlags(s, c)
	return c
}

// gradeKept grades the attempts that are signed off and whose grade is not for an instructor
// to tell, by their files.
func gradeKept(all []store.Kept, units quantity.System) map[string]*class.Row {
	var some []class.Attempt
	for _, k := range all {
		if k.Err == nil && !k.Open() && k.Record.Header.Mode == attempt.Practice {
			some = append(some, class.Attempt{File: k.Path, Record: k.Record})
		}
	}
	rows := class.Grade(some, cost.Default(), units, func(int) {}).Rows
	out := map[string]*class.Row{}
	for i := range rows {
		out[rows[i].File] = &rows[i]
	}
	return out
}

// keptMessage says how far an attempt has come, its score, and what may have been believed;
// row is nil where it has no grade to tell.
func keptMessage(p text.Printer, k store.Kept, row *class.Row) text.Message {
	if k.Err != nil {
		return text.Say("history.trouble", "cannot be read whole; grade says what is wrong with it")
	}
	n := len(k.Record.Acts())
	name := text.Typed("job", jobName(p, k.Record.Header))
	if k.Open() {
		return text.Say("history.open", "{job}, {n} {n:act|acts}, open", name, text.Count("n", n))
	}
	switch {
	case row == nil:
		return text.Say("history.signed", "{job}, {n} {n:act|acts}, signed off", name, text.Count("n", n))
	case row.Misconception != "":
		return text.Say("history.idea", "{job}, {n} {n:act|acts}, {score} out of 100; the acts fit this: {idea}", name, text.Count("n", n), text.Count("score", row.Score), text.Of("idea", row.Believes))
	}
	return text.Say("history.score", "{job}, {n} {n:act|acts}, {score} out of 100", name, text.Count("n", n), text.Count("score", row.Score))
}

// first is the first screen: what a person finds who types the program's name alone.
type first struct {
	s      term.Streams
	p      view.Pen
	folder string
	open   *store.Kept // to be gone on with; nil for none
	lines  bool
	play   screen.Player // nil: the process's own terminal
	then   func() error  // what was chosen
}

// runFirst shows the first screen at a terminal.
func runFirst(s term.Streams, data string, lines bool) error {
	folder, err := dataIn(data)
	if err != nil {
		return err
	}
	f := &first{s: s, p: view.NewPen(s.Printer, s.Width), folder: folder, lines: lines}
	f.p.Color, f.p.Program = s.Color, s.Program
	if k, ok, err := lastOpen(folder); err != nil {
		return err
	} else if ok {
		f.open = &k
	}
	return f.run()
}

// run shows the first screen and does what is chosen: by one key where the terminal can move
// its cursor, else by a line.
func (f *first) run() error {
	var err error
	if f.s.Moves && !f.lines {
		var shown strings.Builder
		y := *f
		y.s.Out = &shown
		y.show()
		f.s.Flush()
		var key string
		if key, err = screen.Choose(shown.String(), []string{"1", "2", "3", "4", "5", "6", "q"}, f.s, f.play); err == nil {
			_, err = f.Take(key, 1)
		}
	} else {
		f.show()
		err = line.Run(f.s, f)
	}
	switch {
	case errors.Is(err, line.ErrLeft):
		return nil
	case err != nil || f.then == nil:
		return err
	}
	return f.then()
}

func (f *first) show() {
	say := func(m text.Message) { fmt.Fprint(f.s.Out, view.Wrap(f.p.Print(m), f.p.Width, "")) }
	say(text.Say("first.hello", "Shimwright: practice setting up a ring and pinion. Every axle here is invented."))
	fmt.Fprintln(f.s.Out)
	choose := func(key string, m text.Message) {
		fmt.Fprint(f.s.Out, view.Hang(f.p.Print(m), f.p.Width, "  "+f.p.Strong(key)+"  ", "     "))
	}
	choose("1", text.Say("first.watch", "watch a whole job"))
	choose("2", text.Say("first.job", "a first job with a coach: choose a depth shim, about ten minutes"))
	if f.open != nil {
		choose("3", text.Say("first.go-on", "go on: {job}, {n} {n:act|acts} done", text.Typed("job", jobName(f.p.Printer, f.open.Record.Header)), text.Count("n", len(f.open.Record.Acts()))))
	} else {
		choose("3", text.Say("first.whole", "a whole job"))
	}
	choose("4", text.Say("first.lessons", "lessons"))
	choose("5", text.Say("first.drills", "drills: short questions"))
	choose("6", text.Say("first.exercises", "exercises"))
	choose("q", text.Say("first.leave", "leave; {command} lists all commands", text.Typed("command", f.p.Command("--help"))))
}

// Prompt asks for a number.
func (f *first) Prompt() string { return "\n> " }

// Take takes what is chosen.
func (f *first) Take(said string, _ int) (done bool, err error) {
	does := map[string]func() error{
		"1": func() error {
			a, err := job.Find(job.UsualFamily, scenarios.WholeInName, job.UsualFaults, demoSeed)
			if err != nil {
				return err
			}
			return runDemo(f.s, a, demoSeed, demoForm{play: f.play}, f.p)
		},
		"2": func() error { return f.begin(scenarios.DepthJob.String(), job.NoFaults, attempt.CoachHelp) },
		"3": func() error {
			if f.open != nil {
				return goOn(f.s, f.p, *f.open, f.lines)
			}
			return f.begin(scenarios.WholeInName, job.UsualFaults, attempt.FullHelp)
		},
		"4": func() error { return f.s.Page(view.LessonList(f.p)) },
		"5": func() error {
			const usual = 10
			seed := newSeed()
			plan, err := drill.Order{Count: usual, Seed: seed, Families: family.Shelf()}.Plan()
			if err != nil {
				return err
			}
			return drills.Run(f.s, plan, seed, "", f.p)
		},
		"6": func() error { return f.s.Page(view.ExerciseList(exercise.All(), f.p)) },
	}
	switch said = strings.ToLower(said); {
	case does[said] != nil:
		f.then = does[said]
		return true, nil
	case said == "q" || said == "quit" || said == "leave" || said == "exit":
		return true, nil
	case said != "":
		fmt.Fprint(f.s.Out, view.Wrap(f.p.Print(text.Say("first.choose", "Choose a number from 1 to 6, or q.")), f.p.Width, ""))
	}
	return false, nil
}

// begin begins a job of BEECH in the data folder.
func (f *first) begin(kind, faults string, help attempt.Help) error {
	seed := newSeed()
	a, err := job.Find(job.UsualFamily, kind, faults, seed)
	if err != nil {
		return err
	}
	return practice.Run(practice.Sitting{Streams: f.s, Pen: f.p, Path: newPath(f.folder, a.FileName(seed)), Seed: seed, Axle: a, Order: a.Order(),
		Terms: attempt.Terms{Help: help}, Lines: f.lines, Play: f.play})
}

// newSeed is a number for a job that nobody has asked for by one: the one place where chance
// comes from outside. It is shown, and kept in the file.
func newSeed() uint64 { return uint64(time.Now().UnixNano()/1000) % 100_000 }
