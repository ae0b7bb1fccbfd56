package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/classroom"
	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/records"
	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/term"
	"shimwright/scenarios/attempt"
	"shimwright/sim/datasheet"
	"shimwright/sim/text"
)

// usualClass is the file that a class is kept in where no other place is named.
const usualClass = "class.db"

func newClass(s term.Streams) *cobra.Command {
	var at string
	c := &cobra.Command{
		Use:   "class",
		Short: s.Print(text.Say("cli.class.class-served-roster-what", "A class that is served: roster, what is set, results, backup")),
		Long: s.Print(text.Say("cli.class.do-prompt-what-instructors", `Do at a prompt what the instructor's pages of a served class do (serve --class): add the
roster, set exercises, see results, hand back, take backups. A class is kept in a file, or
on a PostgreSQL server by an address postgres://USER@HOST/DATABASE; serve may run
meanwhile.

What is set goes by its number in "class show" or by the exercise's name.`)),
		Example: "  shimwright class roster pupils.csv\n  shimwright class set first-depth --jobs 3\n  shimwright class results first-depth --out results.csv",
		Args:    takes(0, 0, ""),
		RunE:    func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.PersistentFlags().StringVar(&at, "class", usualClass, s.Print(text.Say("cli.class.place-class-file-postgres", "`PLACE` of the class: a file, or postgres://...")))
	// in opens the class for one command.
	in := func(do func(*classWork, []string) error) func(*cobra.Command, []string) error {
		return func(c *cobra.Command, args []string) error {
			if _, err := os.Stat(at); err != nil && !records.IsServer(at) && !slices.Contains([]string{"roster", "set", "restore"}, c.Name()) {
				return text.Fail(nil, text.Say("cli.class.there-no-class-yet", "there is no class in {at} yet: class roster or serve --class begins one", text.Typed("at", at)))
			}
			st, err := records.Open(c.Context(), at)
			if err != nil {
				return err
			}
			defer st.Close()
			room := classroom.New(st, clockOf(s))
			room.Printer = s.Printer
			return do(&classWork{s, c, room, at}, args)
		}
	}
	c.AddCommand(newClassRoster(s, in), newClassSet(s, in), newClassShow(s, in), newClassTime(s, in), newClassEnd(s, in), newClassResults(s, in), newClassReturn(s, in), newClassAttempts(s, in),
		newClassForget(s, in), newClassBackup(s, in), newClassRestore(s, in))
	return c
}

// clockOf is the time for a class, which has windows whether or not attempt files have a time.
func clockOf(s term.Streams) func() time.Time {
	if s.Clock != nil {
		return s.Clock
	}
	return time.Now
}

// A classWork is one command at a class.
type classWork struct {
	term.Streams
	cmd  *cobra.Command
	room *classroom.Room
	at   string
}

type inClass func(func(*classWork, []string) error) func(*cobra.Command, []string) error

func (w *classWork) ctx() context.Context {
	if c := w.cmd.Context(); c != nil {
		return c
	}
	return context.Background()
}

func (w *classWork) say(format string, args ...any) { fmt.Fprintf(w.Out, format+"\n", args...) }

// found makes sure that there is a class.
func (w *classWork) found() error {
	f, err := w.room.Found(w.ctx(), "", "")
	if err == nil && f.Passphrase != "" {
		w.say("%s", w.Print(text.Say("cli.class.new-class-passphrase-for", "A new class in {shown}. Passphrase for the instructor, shown this once: {passphrase}", text.Typed("shown", records.Shown(w.at)), text.Typed("passphrase", f.Passphrase))))
	}
	return err
}

// set finds what is set, by number or exercise: of several the one set last.
func (w *classWork) set(name string) (records.Assignment, error) {
	all, err := w.room.Store.Assignments(w.ctx())
	if err != nil {
		return records.Assignment{}, err
	}
	if n, err := strconv.Atoi(name); err == nil && n >= 1 && n <= len(all) {
		return all[n-1], nil
	}
	for i := len(all) - 1; i >= 0; i-- {
		if all[i].Exercise == name {
			return all[i], nil
		}
	}
	return records.Assignment{}, exit.Usage(text.Fail(nil, text.Say("cli.class.nothing-set-by-name", "nothing is set by the name {name}: class show lists what is", text.Quoted("name", name))))
}

func newClassRoster(s term.Streams, in inClass) *cobra.Command {
	return &cobra.Command{
		Use:   "roster FILE.csv | NAME...",
		Short: s.Print(text.Say("cli.class.add-pupils-from-table", "Add pupils from a table, or by name")),
		Long: s.Print(text.Say("cli.class.add-pupils-from-table-2", `Add pupils: from a table (CSV) with a column name, or first name and last name, or with
names alone; or the names themselves, each in quotes. Who is there already stays.`)),
		Example: "  shimwright class roster pupils.csv\n  shimwright class roster \"Ann Lee\" \"Bo Karlsen\"",
		Args:    takes(1, many, s.Print(text.Say("cli.class.say-which-table-whom", "say which table, or whom"))),
		RunE: in(func(w *classWork, args []string) error {
			names := args
			if len(args) == 1 && strings.ContainsAny(filepath.Ext(args[0]), "cCtT") && filepath.Ext(args[0]) != "" {
				table, err := datasheet.ReadUpTo(args[0], classroom.MostRoster)
				if err != nil {
					return exit.Usage(err)
				}
				if names, err = classroom.Roster(bytes.NewReader(table)); err != nil {
					return fmt.Errorf("%s: %w", args[0], err)
				}
			}
			if err := w.found(); err != nil {
				return err
			}
			out, err := w.room.Enroll(w.ctx(), names)
			if err == nil {
				w.say("%s", w.Print(text.Say("cli.class.added-there-already", "{added} added, {there} there already.", text.Count("added", len(out.Added)), text.Count("there", len(out.There)))))
			}
			return err
		}),
	}
}

// moment reads a time: a date with a time of day, or so long from now.
func moment(said string, now time.Time) (time.Time, error) {
	if said == "" {
		return time.Time{}, nil
	}
	if d, err := time.ParseDuration(said); err == nil && d > 0 {
		return now.Add(d), nil
	}
	for _, layout := range []string{"2006-01-02T15:04", "2006-01-02 15:04"} {
		if t, err := time.ParseInLocation(layout, said, time.Local); err == nil {
			return t, nil
		}
	}
	return time.Time{}, exit.Usage(text.Fail(nil, text.Say("cli.class.time-such-as-2026", "a time is such as 2026-09-07T08:30, or 90m from now, not {said}", text.Quoted("said", said))))
}

func newClassSet(s term.Streams, in inClass) *cobra.Command {
	var as, opens, closes string
	var jobs, tries int
	var alike bool
	c := &cobra.Command{
		Use:   "set NAME|FILE",
		Short: s.Print(text.Say("cli.class.set-exercise-for-class", "Set an exercise for the class")),
		Long: s.Print(text.Say("cli.class.set-exercise-as-practice", `Set an exercise: as practice, as a check or as an examination, whatever its file says.
The numbers of the jobs of a check or an examination are drawn for each pupil, of the same
kinds on the same families, and shown to nobody; with --alike all work the same axles.`)),
		Example: "  shimwright class set first-depth --jobs 3\n  shimwright class set final-examination --as exam --tries 1 --opens 2026-09-07T08:30 --closes 2026-09-07T10:00",
		Args:    takes(1, 1, s.Print(text.Say("cli.class.say-which-exercise", "say which exercise"))),
		RunE: in(func(w *classWork, args []string) error {
			e, err := findExercise(args[0])
			if err != nil {
				return err
			}
			set := classroom.Setting{Mode: e.Mode, Jobs: jobs, Tries: tries, Alike: alike}
			if as != "" {
				set.Mode = attempt.Mode(as)
				if as == attempt.PracticeInName {
					set.Mode = attempt.Practice
				} else if set.Mode != attempt.Check && set.Mode != attempt.Exam {
					return exit.Usage(text.Fail(nil, text.Say("cli.class.as-practice-check-exam", "--as is practice, check or exam, not {as}", text.Quoted("as", as))))
				}
			}
			now := clockOf(w.Streams)()
			if set.Opens, err = moment(opens, now); err != nil {
				return err
			}
			if set.Closes, err = moment(closes, now); err != nil {
				return err
			}
			if err := w.found(); err != nil {
				return err
			}
			a, err := w.room.Set(w.ctx(), e, set)
			if err != nil {
				return exit.Usage(err)
			}
			w.say("%s", w.Print(text.Say("class.set", "Set: {title}, as {mode}, {jobs} {jobs:job|jobs}.", text.Typed("title", a.Title), text.Typed("mode", attempt.Mode(a.Mode).String()), text.Count("jobs", a.Jobs))))
			return nil
		}),
	}
	c.Flags().StringVar(&as, "as", "", s.Print(text.Say("cli.class.practice-check-exam-default", "practice, check or exam (default: as the exercise says) `MODE`")))
	c.Flags().IntVar(&jobs, "jobs", 1, s.Print(text.Say("cli.class.how-many-jobs", "how many `JOBS`")))
	c.Flags().IntVar(&tries, "tries", 0, s.Print(text.Say("cli.class.tries-each-job-0", "`TRIES` at each job; 0 for any number")))
	c.Flags().StringVar(&opens, "opens", "", s.Print(text.Say("cli.class.time-from-which-open", "`TIME` from which it is open (default: now)")))
	c.Flags().StringVar(&closes, "closes", "", s.Print(text.Say("cli.class.time-which-closes-default", "`TIME` at which it closes (default: when it is ended)")))
	c.Flags().BoolVar(&alike, "alike", false, s.Print(text.Say("cli.class.check-exam-everybody-works", "check or exam: everybody works the same axles")))
	return c
}

func newClassShow(s term.Streams, in inClass) *cobra.Command {
	return &cobra.Command{
		Use:     "show",
		Short:   s.Print(text.Say("cli.class.show-code-what-set", "Show the code, what is set, and who is where")),
		Example: "  shimwright class show",
		Args:    takes(0, 0, ""),
		RunE: in(func(w *classWork, _ []string) error {
			c, err := w.room.Store.Class(w.ctx())
			if errors.Is(err, records.ErrNone) {
				return text.Fail(nil, text.Say("cli.class.there-no-class-yet-2", "there is no class in {shown} yet: class roster or serve --class begins one", text.Typed("shown", records.Shown(w.at))))
			}
			if err != nil {
				return err
			}
			w.say("%s", w.Print(text.Say("cli.class.class-code", "{name}, class code {code}", text.Typed("name", c.Name), text.Typed("code", c.Code))))
			all, err := w.room.Store.Assignments(w.ctx())
			if err != nil {
				return err
			}
			for i, a := range all {
				tries, err := w.room.Store.AttemptsAt(w.ctx(), a.ID)
				if err != nil {
					return err
				}
				signed := 0
				for _, x := range tries {
					if x.Signed {
						signed++
					}
				}
				w.say("%s", w.Print(text.Say("cli.class.begun-signed-off", "{number}  {exercise} ({title}), {mode}: {tries} begun, {signed} signed off", text.Typed("number", fmt.Sprintf("%3d", i+1)), text.Typed("exercise", a.Exercise), text.Typed("title", a.Title), text.Typed("mode", attempt.Mode(a.Mode).String()), text.Count("tries", len(tries)), text.Count("signed", signed))))
			}
			board, err := w.room.Board(w.ctx())
			if err != nil {
				return err
			}
			for _, x := range board {
				w.say("     %s: %s", x.Pupil.Name, goingText(w.Printer, x))
			}
			return nil
		}),
	}
}

func goingText(p text.Printer, s classroom.Seat) string {
	at := p.Print(text.Say("class.seat", "{title}, job {job}, {acts} {acts:act|acts}", text.Typed("title", s.Title), text.Count("job", s.Job), text.Count("acts", s.Acts)))
	switch s.Going {
	case classroom.Absent:
		return p.Print(text.Say("cli.class.not-begun", "not begun"))
	case classroom.Signed:
		return p.Print(text.Say("cli.class.signed-off", "signed off {at}", text.Typed("at", at)))
	case classroom.Stuck:
		return p.Print(text.Say("cli.class.stuck", "stuck at {at}", text.Typed("at", at)))
	}
	return p.Print(text.Say("cli.class.at", "at {at}", text.Typed("at", at)))
}

func newClassTime(s term.Streams, in inClass) *cobra.Command {
	return &cobra.Command{
		Use:     "time NUMBER|NAME PUPIL MINUTES",
		Short:   s.Print(text.Say("cli.class.give-pupil-minutes-more", "Give a pupil minutes more than the others")),
		Example: "  shimwright class time final-examination \"Ann Lee\" 30",
		Args:    takes(3, 3, s.Print(text.Say("cli.class.say-for-what-whom", "say for what, to whom and how many minutes"))),
		RunE: in(func(w *classWork, args []string) error {
			a, err := w.set(args[0])
			if err != nil {
				return err
			}
			p, err := w.room.Store.Named(w.ctx(), args[1])
			if err != nil {
				return exit.Usage(text.Fail(nil, text.Say("cli.class.class-has-no", "the class has no {arg}", text.Typed("arg", args[1]))))
			}
			minutes, err := strconv.Atoi(args[2])
			if err != nil || minutes < 0 || minutes > 7*24*60 {
				return exit.Usage(text.Fail(nil, text.Say("cli.class.minutes-whole-number-0", "the minutes are a whole number, 0 to a week's, not {arg}", text.Quoted("arg", args[2]))))
			}
			if err := w.room.Store.GiveTime(w.ctx(), a.ID, p.ID, minutes); err != nil {
				return err
			}
			w.say("%s", w.Print(text.Say("cli.class.has-minutes-more-for", "{name} has {minutes} minutes more for {title}.", text.Typed("name", p.Name), text.Count("minutes", minutes), text.Typed("title", a.Title))))
			return nil
		}),
	}
}

func newClassEnd(s term.Streams, in inClass) *cobra.Command {
	return &cobra.Command{
		Use:     "end NUMBER|NAME",
		Short:   s.Print(text.Say("cli.class.end-what-set-for", "End what is set for everybody now")),
		Example: "  shimwright class end final-examination",
		Args:    takes(1, 1, s.Print(text.Say("cli.class.say-what", "say what"))),
		RunE: in(func(w *classWork, args []string) error {
			a, err := w.set(args[0])
			if err != nil {
				return err
			}
			if err := w.room.End(w.ctx(), a.ID); err != nil {
				return err
			}
			w.say("%s", w.Print(text.Say("cli.class.has-ended", "{title} has ended.", text.Typed("title", a.Title))))
			return nil
		}),
	}
}

func newClassResults(s term.Streams, in inClass) *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:     "results NUMBER|NAME",
		Short:   s.Print(text.Say("cli.class.show-what-has-come", "Show what has come of it: scores, who is missing, near copies")),
		Example: "  shimwright class results first-depth\n  shimwright class results first-depth --out results.csv",
		Args:    takes(1, 1, s.Print(text.Say("cli.class.say-what-2", "say of what"))),
		RunE: in(func(w *classWork, args []string) error {
			a, err := w.set(args[0])
			if err != nil {
				return err
			}
			res, err := w.room.Results(w.ctx(), a.ID)
			if err != nil {
				return err
			}
			if out != "" {
				if !strings.EqualFold(filepath.Ext(out), ".csv") {
					return exit.Usage(text.Fail(nil, text.Say("cli.class.name-table-ends-csv", "{out}: the name of a table ends in .csv", text.Typed("out", out))))
				}
				return w.wrote(out, store.WriteWhole(out, func(to io.Writer) error { return res.CSV(to, w.Printer) }))
			}
			w.say("%s", w.Print(text.Say("cli.class.one-score-sure-points", "{title}: one score is sure to ± {plus_minus} points.", text.Typed("title", a.Title), text.Number("plus_minus", res.PlusMinus, 0))))
			for _, l := range res.Lines {
				line := l.Pupil.Name + ":"
				for _, c := range l.Cells {
					said := w.Print(c.State())
					if score, ok := c.Score(); ok {
						said = strconv.Itoa(score)
					}
					if c.Override != nil {
						said += w.Print(text.Say("cli.class.given", " (given: {reason})", text.Typed("reason", c.Override.Reason)))
					}
					line += " " + said
				}
				if l.Missing && l.Elsewhere != "" {
					line += w.Print(text.Say("cli.class.worked", ", worked at {elsewhere}", text.Typed("elsewhere", l.Elsewhere)))
				}
				w.say("  %s", line)
			}
			for _, n := range res.Near {
				w.say("%s", w.Print(text.Say("cli.class.nearly-same-acts", "  nearly the same: {it} and {it2}, {same} of {of} acts; to look at", text.Typed("it", n.A), text.Typed("it2", n.B), text.Count("same", n.Same), text.Count("of", n.Of))))
			}
			return nil
		}),
	}
	c.Flags().StringVar(&out, "out", "", s.Print(text.Say("cli.class.write-table-file-which", "write a table to `FILE`, which ends in .csv")))
	return c
}

func (w *classWork) wrote(path string, err error) error {
	if err == nil {
		w.say("%s", w.Print(text.Say("cli.class.written", "Written: {path}", text.Typed("path", path))))
	}
	return err
}

func newClassReturn(s term.Streams, in inClass) *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:   "return NUMBER|NAME",
		Short: s.Print(text.Say("cli.class.every-debrief-back", "Hand every debrief back")),
		Long: s.Print(text.Say("cli.class.every-debrief-back-each", `Hand every debrief back: each pupil can read their own from then on. --out writes them all
to a zip file too, a page each in a folder for each pupil. A check or an examination has to
be over first.`)),
		Example: "  shimwright class return first-depth --out debriefs.zip",
		Args:    takes(1, 1, s.Print(text.Say("cli.class.say-what-2", "say of what"))),
		RunE: in(func(w *classWork, args []string) error {
			a, err := w.set(args[0])
			if err != nil {
				return err
			}
			if err := w.room.Return(w.ctx(), a.ID); err != nil {
				return err
			}
			w.say("%s", w.Print(text.Say("cli.class.handed-back", "{title} is handed back.", text.Typed("title", a.Title))))
			if out == "" {
				return nil
			}
			return w.wrote(out, store.WriteWhole(out, func(to io.Writer) error { return w.room.Zip(w.ctx(), a.ID, to) }))
		}),
	}
	c.Flags().StringVar(&out, "out", "", s.Print(text.Say("cli.class.write-debriefs-zip-file", "write the debriefs to a zip `FILE` too")))
	return c
}

func newClassAttempts(s term.Streams, in inClass) *cobra.Command {
	return &cobra.Command{
		Use:     "attempts NUMBER|NAME FOLDER",
		Short:   s.Print(text.Say("cli.class.write-attempt-files-folder", "Write the attempt files to a folder that grade takes")),
		Example: "  shimwright class attempts first-depth monday\n  shimwright grade monday",
		Args:    takes(2, 2, s.Print(text.Say("cli.class.say-what-which-folder", "say of what, and to which folder"))),
		RunE: in(func(w *classWork, args []string) error {
			a, err := w.set(args[0])
			if err != nil {
				return err
			}
			n := 0
			if err := w.room.Files(w.ctx(), a.ID, func(name string, data []byte) error {
				path := filepath.Join(args[1], filepath.FromSlash(name))
				if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
					return err
				}
				n++
				return store.WriteWhole(path, func(to io.Writer) error { _, err := to.Write(data); return err })
			}); err != nil {
				return err
			}
			w.say("%s", w.Print(text.Say("cli.class.attempt-files-written", "{n} attempt files written to {arg}.", text.Count("n", n), text.Typed("arg", args[1]))))
			return nil
		}),
	}
}

func newClassForget(s term.Streams, in inClass) *cobra.Command {
	return &cobra.Command{
		Use:     "forget PUPIL",
		Short:   s.Print(text.Say("cli.class.delete-pupil-every-attempt", "Delete a pupil with every attempt")),
		Long:    s.Print(text.Say("cli.class.delete-pupil-every-attempt-2", "Delete a pupil with every attempt. Backups and files that were taken out before still hold them.")),
		Example: "  shimwright class forget \"Ann Lee\"",
		Args:    takes(1, 1, s.Print(text.Say("cli.class.say-whom", "say whom"))),
		RunE: in(func(w *classWork, args []string) error {
			p, err := w.room.Store.Named(w.ctx(), args[0])
			if err != nil {
				return exit.Usage(text.Fail(nil, text.Say("cli.class.class-has-no", "the class has no {arg}", text.Typed("arg", args[0]))))
			}
			if err := w.room.Store.Remove(w.ctx(), p.ID); err != nil {
				return err
			}
			w.say("%s", w.Print(text.Say("cli.class.every-attempt-theirs-deleted", "{name} and every attempt of theirs are deleted; backups and files taken out before still hold them.", text.Typed("name", p.Name))))
			return nil
		}),
	}
}

func newClassBackup(s term.Streams, in inClass) *cobra.Command {
	return &cobra.Command{
		Use:   "backup FILE",
		Short: s.Print(text.Say("cli.class.write-whole-class-one", "Write the whole class to one file")),
		Long: s.Print(text.Say("cli.class.write-whole-class-as", `Write the whole class, as it is at one moment, to one new file. It is the same kind of
file wherever the class is kept, so that a class can move from a file to a server and back.
It holds every name and attempt: keep it as safe as the class.`)),
		Example: "  shimwright class backup monday.db",
		Args:    takes(1, 1, s.Print(text.Say("cli.class.say-which-file", "say to which file"))),
		RunE: in(func(w *classWork, args []string) error {
			if _, err := w.room.Store.Class(w.ctx()); err != nil {
				return text.Fail(nil, text.Say("cli.class.there-no-class", "there is no class in {shown}", text.Typed("shown", records.Shown(w.at))))
			}
			return w.wrote(args[0], w.room.Store.Backup(w.ctx(), args[0]))
		}),
	}
}

func newClassRestore(s term.Streams, in inClass) *cobra.Command {
	var replace bool
	c := &cobra.Command{
		Use:     "restore FILE",
		Short:   s.Print(text.Say("cli.class.read-class-from-backup", "Read a class from a backup")),
		Example: "  shimwright class restore monday.db\n  shimwright class restore monday.db --class postgres://shop@db/class",
		Args:    takes(1, 1, s.Print(text.Say("cli.class.say-from-which-file", "say from which file"))),
		RunE: in(func(w *classWork, args []string) error {
			err := w.room.Store.Restore(w.ctx(), args[0], replace)
			if errors.Is(err, records.ErrNotEmpty) {
				return text.Fail(err, text.Say("cli.class.replace-deletes-first", "{shown}: {why}; --replace deletes it first", text.Typed("shown", records.Shown(w.at)), text.Cause("why", err)))
			}
			if err == nil {
				w.say("%s", w.Print(text.Say("cli.class.class-as-was-when", "The class in {shown} is as it was when {arg} was written.", text.Typed("shown", records.Shown(w.at)), text.Typed("arg", args[0]))))
			}
			return err
		}),
	}
	c.Flags().BoolVar(&replace, "replace", false, s.Print(text.Say("cli.class.delete-class-there", "delete the class that is there")))
	return c
}
