package web

import (
	"context"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"time"

	"shimwright/grading/difficulty"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/exercise"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

type exercisesPage struct {
	frame
	About     string
	Exercises []exerciseLine
	Elsewhere string // what is said of those that are not worked here
	Others    []exerciseLine
}

// An exerciseLine is an exercise in a list.
type exerciseLine struct {
	Name, Title, About string
	State              string // how far somebody is with it
	Path, Button       string // where it is begun or gone on with
}

// exercises lists those that come with the program. Checks and examinations are an
// instructor's to set: what they keep back is one page away from whoever works them alone.
func (f *face) exercises(w http.ResponseWriter, r *http.Request, v visitor) error {
	all, err := f.Keeper.List(r.Context(), v.owner)
	if err != nil {
		return err
	}
	p := v.pen.Printer
	g := exercisesPage{
		frame:     f.frame(v, p.Print(text.Say("web.exercises.title", "Exercises")), "/exercises"),
		About:     p.Print(text.Say("web.exercises.about", "An exercise is a row of jobs on one theme. Work its jobs in turn; each has its debrief after the signature.")),
		Elsewhere: p.Print(text.Say("web.exercises.elsewhere", "Checks and examinations are for a class: an instructor sets them.")),
	}
	for _, e := range exercise.All() {
		e = inUnits(e, v.pen.Units())
		one := exerciseLine{Name: e.Name, Title: e.Title, About: e.About}
		if e.Mode != attempt.Practice {
			g.Others = append(g.Others, one)
			continue
		}
		done, open := 0, false
		for _, k := range all {
			if k.Header.Exercise == e.Name && k.SignedOff {
				done++
			} else if k.Header.Exercise == e.Name {
				open = true
			}
		}
		if done > 0 {
			one.State = p.Print(text.Say("web.exercises.done", "{n} {n:job|jobs} signed off.", text.Count("n", done)))
		}
		one.Path, one.Button = f.Base+"/exercises/"+url.PathEscape(e.Name), p.Print(beginIt())
		switch {
		case open:
			one.Button = p.Print(text.Say("web.exercises.go-on", "Go on with the open job"))
		case done > 0:
			one.Button = p.Print(text.Say("web.exercises.next", "Begin the next job"))
		}
		g.Exercises = append(g.Exercises, one)
	}
	return f.write(w, http.StatusOK, "exercises", g)
}

func beginIt() text.Message { return text.Say("web.exercises.start", "Begin") }

// inUnits is an exercise in the units of whoever looks, where it has a pair in them.
func inUnits(e exercise.Exercise, units quantity.System) exercise.Exercise {
	if pair, ok := e.InMetric(); ok && units == quantity.Metric {
		return pair
	}
	return e
}

// shippedExercise finds one that is worked here, by its name or that of its metric pair.
func shippedExercise(name string) (exercise.Exercise, bool) {
	for _, e := range exercise.All() {
		pair, ok := e.InMetric()
		if ok && pair.Name == name {
			e = pair
		}
		if e.Name == name && e.Mode == attempt.Practice {
			return e, true
		}
	}
	return exercise.Exercise{}, false
}

// exercise begins the next job of an exercise, or goes on with the one that is open.
func (f *face) exercise(w http.ResponseWriter, r *http.Request, v visitor) error {
	e, ok := shippedExercise(r.PathValue("exercise"))
	if !ok {
		return ErrNotFound
	}
	all, err := f.Keeper.List(r.Context(), v.owner)
	if err != nil {
		return err
	}
	all = slices.DeleteFunc(all, func(k Kept) bool { return k.Header.Exercise != e.Name })
	for _, k := range all {
		if !k.SignedOff {
			http.Redirect(w, r, f.Base+"/jobs/"+url.PathEscape(k.ID), http.StatusSeeOther)
			return nil
		}
	}
	if !f.limits.begins(v.owner) {
		return f.tooMany(w, v)
	}
	const looked = 1000
	for _, n := range e.Numbers(looked) {
		if slices.ContainsFunc(all, func(k Kept) bool { return k.Header.Seed == n }) {
			continue
		}
		switch ok, err := difficulty.Fits(e, n); {
		case err != nil:
			return err
		case !ok:
			continue
		}
		order, chosen := e.Order(n)
		return f.beginJob(w, r, v, attempt.New(e.Terms(), order, chosen.Text, n, e.Units).Header)
	}
	p := v.pen.Printer
	f.trouble(w, v, http.StatusConflict, p.Print(text.Say("web.exercises.all-done", "Every job of this exercise is signed off")), p.Print(text.Say("web.exercises.all-done.then", "Choose another exercise.")))
	return nil
}

// beginJob keeps a new attempt and leads to its bench.
func (f *face) beginJob(w http.ResponseWriter, r *http.Request, v visitor, h attempt.Header) error {
	if err := f.timed(r.Context(), v.owner, &h); err != nil {
		return err
	}
	id, err := f.Keeper.Begin(r.Context(), v.owner, h)
	if err != nil {
		return err
	}
	setUnits(w, r, h.Units)
	http.Redirect(w, r, f.Base+"/jobs/"+url.PathEscape(id), http.StatusSeeOther)
	return nil
}

// timed puts into a head when the attempt is begun, and how often its job was begun before.
func (f *face) timed(ctx context.Context, owner string, h *attempt.Header) error {
	if f.Clock == nil {
		return nil
	}
	all, err := f.Keeper.List(ctx, owner)
	if err != nil {
		return err
	}
	h.Begin.At = f.Clock().UTC().Truncate(time.Second)
	for _, k := range all {
		if k.Header.JobMark() == h.JobMark() {
			h.Begin.Earlier++
		}
	}
	return nil
}

func (f *face) tooMany(w http.ResponseWriter, v visitor) error {
	const seconds = 5
	w.Header().Set("Retry-After", strconv.Itoa(seconds))
	f.trouble(w, v, http.StatusTooManyRequests, "Too many jobs at once", "Wait a few seconds, then begin the job.")
	return nil
}
