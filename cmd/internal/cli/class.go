package cli

import (
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
)

// usualClass is the file that a class is kept in where no other place is named.
const usualClass = "class.db"

func newClass(s term.Streams) *cobra.Command {
	var at string
	c := &cobra.Command{
		Use:   "class",
		Short: "A class that is served: roster, what is set, results, backup",
		Long: `Do at a prompt what the instructor's pages of a served class do (serve --class): add the
roster, set exercises, see results, hand back, take backups. A class is kept in a file, or
on a PostgreSQL server by an address postgres://USER@HOST/DATABASE; serve may run
meanwhile.

What is set goes by its number in "class show" or by the exercise's name.`,
		Example: "  shimwright class roster pupils.csv\n  shimwright class set first-depth --jobs 3\n  shimwright class results first-depth --out results.csv",
		Args:    takes(0, 0, ""),
		RunE:    func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.PersistentFlags().StringVar(&at, "class", usualClass, "`PLACE` of the class: a file, or postgres://...")
	// in opens the class for one command.
	in := func(do func(*classWork, []string) error) func(*cobra.Command, []string) error {
		return func(c *cobra.Command, args []string) error {
			if _, err := os.Stat(at); err != nil && !records.IsServer(at) && !slices.Contains([]string{"roster", "set", "restore"}, c.Name()) {
				return fmt.Errorf("there is no class in %s yet: class roster or serve --class begins one", at)
			}
			st, err := records.Open(c.Context(), at)
			if err != nil {
				return err
			}
			defer st.Close()
			return do(&classWork{s, c, classroom.New(st, clockOf(s)), at}, args)
		}
	}
	c.AddCommand(newClassRoster(in), newClassSet(in), newClassShow(in), newClassTime(in), newClassEnd(in), newClassResults(in), newClassReturn(in), newClassAttempts(in),
		newClassForget(in), newClassBackup(in), newClassRestore(in))
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
		w.say("A new class in %s. Passphrase for the instructor, shown this once: %s", records.Shown(w.at), f.Passphrase)
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
	return records.Assignment{}, exit.Usage(fmt.Errorf("nothing is set by the name %q: class show lists what is", name))
}

func newClassRoster(in inClass) *cobra.Command {
	return &cobra.Command{
		Use:   "roster FILE.csv | NAME...",
		Short: "Add pupils from a table, or by name",
		Long: `Add pupils: from a table (CSV) with a column name, or first name and last name, or with
names alone; or the names themselves, each in quotes. Who is there already stays.`,
		Example: "  shimwright class roster pupils.csv\n  shimwright class roster \"Ann Lee\" \"Bo Karlsen\"",
		Args:    takes(1, many, "say which table, or whom"),
		RunE: in(func(w *classWork, args []string) error {
			names := args
			if len(args) == 1 && strings.ContainsAny(filepath.Ext(args[0]), "cCtT") && filepath.Ext(args[0]) != "" {
				f, err := os.Open(args[0])
				if err != nil {
					return exit.Usage(err)
				}
				defer f.Close()
				if names, err = classroom.Roster(f); err != nil {
					return fmt.Errorf("%s: %w", args[0], err)
				}
			}
			if err := w.found(); err != nil {
				return err
			}
			out, err := w.room.Enroll(w.ctx(), names)
			if err == nil {
				w.say("%d added, %d there already.", len(out.Added), len(out.There))
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
	return time.Time{}, exit.Usage(fmt.Errorf("a time is such as 2026-09-07T08:30, or 90m from now, not %q", said))
}

func newClassSet(in inClass) *cobra.Command {
	var as, opens, closes string
	var jobs, tries int
	var alike bool
	c := &cobra.Command{
		Use:   "set NAME|FILE",
		Short: "Set an exercise for the class",
		Long: `Set an exercise: as practice, as a check or as an examination, whatever its file says.
The numbers of the jobs of a check or an examination are drawn for each pupil, of the same
kinds on the same families, and shown to nobody; with --alike all work the same axles.`,
		Example: "  shimwright class set first-depth --jobs 3\n  shimwright class set final-examination --as exam --tries 1 --opens 2026-09-07T08:30 --closes 2026-09-07T10:00",
		Args:    takes(1, 1, "say which exercise"),
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
					return exit.Usage(fmt.Errorf("--as is practice, check or exam, not %q", as))
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
			w.say("Set: %s, as %s, %d %s.", a.Title, attempt.Mode(a.Mode), a.Jobs, plural(a.Jobs, "job", "jobs"))
			return nil
		}),
	}
	c.Flags().StringVar(&as, "as", "", "practice, check or exam (default: as the exercise says) `MODE`")
	c.Flags().IntVar(&jobs, "jobs", 1, "how many `JOBS`")
	c.Flags().IntVar(&tries, "tries", 0, "`TRIES` at each job; 0 for any number")
	c.Flags().StringVar(&opens, "opens", "", "`TIME` from which it is open (default: now)")
	c.Flags().StringVar(&closes, "closes", "", "`TIME` at which it closes (default: when it is ended)")
	c.Flags().BoolVar(&alike, "alike", false, "check or exam: everybody works the same axles")
	return c
}

func plural(n int, one, several string) string {
	if n == 1 {
		return one
	}
	return several
}

func newClassShow(in inClass) *cobra.Command {
	return &cobra.Command{
		Use:     "show",
		Short:   "Show the code, what is set, and who is where",
		Example: "  shimwright class show",
		Args:    takes(0, 0, ""),
		RunE: in(func(w *classWork, _ []string) error {
			c, err := w.room.Store.Class(w.ctx())
			if errors.Is(err, records.ErrNone) {
				return fmt.Errorf("there is no class in %s yet: class roster or serve --class begins one", records.Shown(w.at))
			}
			if err != nil {
				return err
			}
			w.say("%s, class code %s", c.Name, c.Code)
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
				w.say("%3d  %s (%s), %s: %d begun, %d signed off", i+1, a.Exercise, a.Title, attempt.Mode(a.Mode), len(tries), signed)
			}
			board, err := w.room.Board(w.ctx())
			if err != nil {
				return err
			}
			for _, x := range board {
				w.say("     %s: %s", x.Pupil.Name, goingText(x))
			}
			return nil
		}),
	}
}

func goingText(s classroom.Seat) string {
	at := fmt.Sprintf("%s, job %d, %d %s", s.Title, s.Job, s.Acts, plural(s.Acts, "act", "acts"))
	switch s.Going {
	case classroom.Absent:
		return "not begun"
	case classroom.Signed:
		return "signed off " + at
	case classroom.Stuck:
		return "stuck at " + at
	}
	return "at " + at
}

func newClassTime(in inClass) *cobra.Command {
	return &cobra.Command{
		Use:     "time NUMBER|NAME PUPIL MINUTES",
		Short:   "Give a pupil minutes more than the others",
		Example: "  shimwright class time final-examination \"Ann Lee\" 30",
		Args:    takes(3, 3, "say for what, to whom and how many minutes"),
		RunE: in(func(w *classWork, args []string) error {
			a, err := w.set(args[0])
			if err != nil {
				return err
			}
			p, err := w.room.Store.Named(w.ctx(), args[1])
			if err != nil {
				return exit.Usage(fmt.Errorf("the class has no %s", args[1]))
			}
			minutes, err := strconv.Atoi(args[2])
			if err != nil || minutes < 0 || minutes > 7*24*60 {
				return exit.Usage(fmt.Errorf("the minutes are a whole number, 0 to a week's, not %q", args[2]))
			}
			if err := w.room.Store.GiveTime(w.ctx(), a.ID, p.ID, minutes); err != nil {
				return err
			}
			w.say("%s has %d minutes more for %s.", p.Name, minutes, a.Title)
			return nil
		}),
	}
}

func newClassEnd(in inClass) *cobra.Command {
	return &cobra.Command{
		Use:     "end NUMBER|NAME",
		Short:   "End what is set for everybody now",
		Example: "  shimwright class end final-examination",
		Args:    takes(1, 1, "say what"),
		RunE: in(func(w *classWork, args []string) error {
			a, err := w.set(args[0])
			if err != nil {
				return err
			}
			if err := w.room.End(w.ctx(), a.ID); err != nil {
				return err
			}
			w.say("%s has ended.", a.Title)
			return nil
		}),
	}
}

func newClassResults(in inClass) *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:     "results NUMBER|NAME",
		Short:   "Show what has come of it: scores, who is missing, near copies",
		Example: "  shimwright class results first-depth\n  shimwright class results first-depth --out results.csv",
		Args:    takes(1, 1, "say of what"),
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
					return exit.Usage(fmt.Errorf("%s: the name of a table ends in .csv", out))
				}
				return w.wrote(out, store.WriteWhole(out, res.CSV))
			}
			w.say("%s: one score is sure to ± %.0f points.", a.Title, res.PlusMinus)
			for _, l := range res.Lines {
				line := l.Pupil.Name + ":"
				for _, c := range l.Cells {
					said := c.State()
					if score, ok := c.Score(); ok {
						said = strconv.Itoa(score)
					}
					if c.Override != nil {
						said += " (given: " + c.Override.Reason + ")"
					}
					line += " " + said
				}
				if l.Missing && l.Elsewhere != "" {
					line += ", worked at " + l.Elsewhere
				}
				w.say("  %s", line)
			}
			for _, n := range res.Near {
				w.say("  nearly the same: %s and %s, %d of %d acts; to look at", n.A, n.B, n.Same, n.Of)
			}
			return nil
		}),
	}
	c.Flags().StringVar(&out, "out", "", "write a table to `FILE`, which ends in .csv")
	return c
}

func (w *classWork) wrote(path string, err error) error {
	if err == nil {
		w.say("Written: %s", path)
	}
	return err
}

func newClassReturn(in inClass) *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:   "return NUMBER|NAME",
		Short: "Hand every debrief back",
		Long: `Hand every debrief back: each pupil can read their own from then on. --out writes them all
to a zip file too, a page each in a folder for each pupil. A check or an examination has to
be over first.`,
		Example: "  shimwright class return first-depth --out debriefs.zip",
		Args:    takes(1, 1, "say of what"),
		RunE: in(func(w *classWork, args []string) error {
			a, err := w.set(args[0])
			if err != nil {
				return err
			}
			if err := w.room.Return(w.ctx(), a.ID); err != nil {
				return err
			}
			w.say("%s is handed back.", a.Title)
			if out == "" {
				return nil
			}
			return w.wrote(out, store.WriteWhole(out, func(to io.Writer) error { return w.room.Zip(w.ctx(), a.ID, to) }))
		}),
	}
	c.Flags().StringVar(&out, "out", "", "write the debriefs to a zip `FILE` too")
	return c
}

func newClassAttempts(in inClass) *cobra.Command {
	return &cobra.Command{
		Use:     "attempts NUMBER|NAME FOLDER",
		Short:   "Write the attempt files to a folder that grade takes",
		Example: "  shimwright class attempts first-depth monday\n  shimwright grade monday",
		Args:    takes(2, 2, "say of what, and to which folder"),
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
			w.say("%d attempt files written to %s.", n, args[1])
			return nil
		}),
	}
}

func newClassForget(in inClass) *cobra.Command {
	return &cobra.Command{
		Use:     "forget PUPIL",
		Short:   "Delete a pupil with every attempt",
		Long:    "Delete a pupil with every attempt. Backups and files that were taken out before still hold them.",
		Example: "  shimwright class forget \"Ann Lee\"",
		Args:    takes(1, 1, "say whom"),
		RunE: in(func(w *classWork, args []string) error {
			p, err := w.room.Store.Named(w.ctx(), args[0])
			if err != nil {
				return exit.Usage(fmt.Errorf("the class has no %s", args[0]))
			}
			if err := w.room.Store.Remove(w.ctx(), p.ID); err != nil {
				return err
			}
			w.say("%s and every attempt of theirs are deleted; backups and files taken out before still hold them.", p.Name)
			return nil
		}),
	}
}

func newClassBackup(in inClass) *cobra.Command {
	return &cobra.Command{
		Use:   "backup FILE",
		Short: "Write the whole class to one file",
		Long: `Write the whole class, as it is at one moment, to one new file. It is the same kind of
file wherever the class is kept, so that a class can move from a file to a server and back.
It holds every name and attempt: keep it as safe as the class.`,
		Example: "  shimwright class backup monday.db",
		Args:    takes(1, 1, "say to which file"),
		RunE: in(func(w *classWork, args []string) error {
			if _, err := w.room.Store.Class(w.ctx()); err != nil {
				return fmt.Errorf("there is no class in %s", records.Shown(w.at))
			}
			return w.wrote(args[0], w.room.Store.Backup(w.ctx(), args[0]))
		}),
	}
}

func newClassRestore(in inClass) *cobra.Command {
	var replace bool
	c := &cobra.Command{
		Use:     "restore FILE",
		Short:   "Read a class from a backup",
		Example: "  shimwright class restore monday.db\n  shimwright class restore monday.db --class postgres://shop@db/class",
		Args:    takes(1, 1, "say from which file"),
		RunE: in(func(w *classWork, args []string) error {
			err := w.room.Store.Restore(w.ctx(), args[0], replace)
			if errors.Is(err, records.ErrNotEmpty) {
				return fmt.Errorf("%s: %w; --replace deletes it first", records.Shown(w.at), err)
			}
			if err == nil {
				w.say("The class in %s is as it was when %s was written.", records.Shown(w.at), args[0])
			}
			return err
		}),
	}
	c.Flags().BoolVar(&replace, "replace", false, "delete the class that is there")
	return c
}
