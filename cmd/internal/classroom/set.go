package classroom

import (
	"context"
	"crypto/rand"
	"errors"
	"math/big"
	"os"
	"slices"
	"time"

	"shimwright/cmd/internal/records"
	"shimwright/grading/difficulty"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/exercise"

	"shimwright/sim/text"
)

// draw returns a number below another, from the system's randomness.
func draw(below uint64) uint64 {
	n, err := rand.Int(rand.Reader, new(big.Int).SetUint64(below))
	if err != nil {
		panic(err) // the system's randomness does not fail
	}
	return n.Uint64()
}

// A Setting is how an exercise is set.
type Setting struct {
	Mode          attempt.Mode
	Opens, Closes time.Time // zero: at once; until it is ended
	Tries         int       // at each job; 0 for any number
	Jobs          int
	Alike         bool // everybody works the same axles; else, in a check or an examination, each pupil's are drawn
}

// Set sets an exercise for the class.
func (r *Room) Set(ctx context.Context, e exercise.Exercise, s Setting) (records.Assignment, error) {
	const mostJobs, mostTries = 50, 99
	switch {
	case s.Jobs < 1 || s.Jobs > mostJobs:
		return records.Assignment{}, text.Fail(nil, text.Say("classroom.set.jobs-outside-1", "{jobs} jobs is outside 1 to {most_jobs}", text.Count("jobs", s.Jobs), text.Count("most_jobs", mostJobs)))
	case s.Tries < 0 || s.Tries > mostTries:
		return records.Assignment{}, text.Fail(nil, text.Say("classroom.set.tries-outside-0", "{tries} tries is outside 0 to {most_tries}", text.Count("tries", s.Tries), text.Count("most_tries", mostTries)))
	case !s.Closes.IsZero() && !s.Closes.After(s.Opens):
		return records.Assignment{}, text.Fail(nil, text.Say("classroom.set.closes-before-opens", "it closes before it opens"))
	case !s.Closes.IsZero() && !s.Closes.After(r.Clock()):
		return records.Assignment{}, text.Fail(nil, text.Say("classroom.set.closes-before-now", "it closes before now"))
	}
	e.Mode = s.Mode
	if e.Mode != attempt.Practice {
		e.Help = attempt.NoHelp
	}
	a := records.Assignment{ID: records.NewID(), Exercise: e.Name, Title: e.Title, File: string(e.Encode()), Families: map[string]string{}, Mode: string(s.Mode),
		Jobs: s.Jobs, Tries: s.Tries, Made: r.Clock(), Opens: s.Opens, Closes: s.Closes, Alike: s.Alike || s.Mode == attempt.Practice || e.Band != ""}
	for _, f := range e.Families {
		if f.Text != "" {
			a.Families[f.Name] = f.Text
		}
	}
	var err error
	if s.Mode == attempt.Practice {
		a.Numbers, err = firstNumbers(e, s.Jobs)
	} else {
		a.Numbers, err = drawNumbers(e, s.Jobs)
	}
	if err != nil {
		return a, err
	}
	return a, r.Store.Assign(ctx, a)
}

// exerciseOf is the exercise of an assignment as it was set.
func exerciseOf(a records.Assignment) (exercise.Exercise, error) {
	return exercise.ParseWith([]byte(a.File), a.Exercise+".yaml", func(name string) ([]byte, error) {
		if said, ok := a.Families[name]; ok {
			return []byte(said), nil
		}
		return nil, os.ErrNotExist
	})
}

// Uploaded reads an exercise that came over the network: it names no file of this machine.
func Uploaded(name string, written []byte) (exercise.Exercise, error) {
	return exercise.ParseWith(written, name, func(string) ([]byte, error) { return nil, os.ErrNotExist })
}

// mostLooked is how many numbers are looked at for one that fits.
const mostLooked = 200

// firstNumbers are the first numbers of an exercise that fit.
func firstNumbers(e exercise.Exercise, most int) (out []uint64, err error) {
	for _, n := range e.Numbers(mostLooked) {
		ok, err := difficulty.Fits(e, n)
		if err != nil {
			return nil, err
		}
		if ok {
			out = append(out, n)
		}
		if len(out) == most {
			return out, nil
		}
	}
	return nil, text.Fail(nil, text.Say("classroom.set.has-such-jobs-not", "{name} has {out} such jobs, not {most}", text.Typed("name", e.Name), text.Count("out", len(out)), text.Count("most", most)))
}

// drawNumbers draws the numbers of jobs: kinds in turn, families by chance.
func drawNumbers(e exercise.Exercise, n int) (out []uint64, err error) {
	kinds, families := uint64(len(e.Kinds)), uint64(len(e.Families))
	for k := range uint64(n) {
		seed, err := drawLike(e, draw(families)*kinds+k%kinds)
		if err != nil {
			return nil, err
		}
		out = append(out, seed)
	}
	return out, nil
}

// drawLike draws the number of a job of the same kind on the same family as that of a number.
// There are so many of them that nobody tries them all.
func drawLike(e exercise.Exercise, like uint64) (uint64, error) {
	round := uint64(len(e.Kinds)) * uint64(len(e.Families))
	for range mostLooked {
		seed := draw((1<<62)/round)*round + like%round
		ok, err := difficulty.Fits(e, seed)
		if ok || err != nil {
			return seed, err
		}
	}
	return 0, text.Fail(nil, text.Say("classroom.set.none-jobs-drawn", "none of {most_looked} jobs drawn of {name} is {band}", text.Count("most_looked", mostLooked), text.Typed("name", e.Name), text.Typed("band", e.Band)))
}

// Begin begins a pupil's job of an assignment, or finds the try at it that is open. Errors:
// ErrNotYet, ErrOver, ErrNoJob, ErrNoTries.
func (r *Room) Begin(ctx context.Context, pupil, assignment string, job int) (attemptID string, err error) {
	a, err := r.Store.Assignment(ctx, assignment)
	if err != nil {
		return "", err
	}
	extra, err := r.Store.ExtraTime(ctx, a.ID)
	if err != nil {
		return "", err
	}
	if err := r.open(a, extra[pupil]); err != nil {
		return "", err
	}
	if job < 1 || job > len(a.Numbers) {
		return "", ErrNoJob
	}
	const races = 3
	for range races {
		all, err := r.Store.AttemptsOf(ctx, pupil)
		if err != nil {
			return "", err
		}
		all = slices.DeleteFunc(all, func(x records.Attempt) bool { return x.Assignment != a.ID || x.Job != job })
		for _, x := range all {
			if !x.Signed {
				return x.ID, nil
			}
		}
		if a.Tries > 0 && len(all) >= a.Tries {
			return "", ErrNoTries
		}
		e, err := exerciseOf(a)
		if err != nil {
			return "", err
		}
		seed := a.Numbers[job-1]
		if !a.Alike {
			if seed, err = drawLike(e, seed); err != nil {
				return "", err
			}
		}
		order, chosen := e.Order(seed)
		rec := attempt.New(e.Terms(), order, chosen.Text, seed, e.Units)
		now := r.Clock()
		rec.BeginAt(attempt.Begin{At: now, Earlier: len(all)})
		x := records.Attempt{ID: records.NewID(), Pupil: pupil, Assignment: a.ID, Job: job, Try: len(all) + 1, Head: string(rec.HeaderLine()), Begun: now}
		err = r.Store.Begin(ctx, x)
		if !errors.Is(err, records.ErrThere) {
			return x.ID, err
		}
		// Begun in another place meanwhile: that one is found now.
	}
	return "", records.ErrThere
}
