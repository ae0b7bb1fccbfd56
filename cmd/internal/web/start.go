package web

import (
	"crypto/rand"
	"math/big"
	"net/http"
	"net/url"
	"slices"
	"strconv"

	"shimwright/cmd/internal/job"
	"shimwright/cmd/internal/view"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/exercise"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

type startPage struct {
	frame
	Begin    bool
	Families []option
	Kinds    []option
	Helps    []option
	Systems  []option
	Number   string
	Wrong    string
	First    *exerciseLine // for whoever has begun nothing yet
	Open     []listed
	Done     []listed
}

// listed is an attempt in a list.
type listed struct {
	Path, Name string
	Acts       int
	File       string // address of its attempt file, "" where that is not handed out
}

// start is the first page.
func (f *face) start(w http.ResponseWriter, r *http.Request, v visitor) error {
	return f.startWith(w, r, v, http.StatusOK, form{url.Values{}}, "")
}

// startWith is the first page with what has been filled in, and what was wrong with it.
func (f *face) startWith(w http.ResponseWriter, r *http.Request, v visitor, status int, sent form, wrong string) error {
	all, err := f.Keeper.List(r.Context(), v.owner)
	if err != nil {
		return err
	}
	g := startPage{frame: f.frame(v, "Shimwright", "/"), Begin: f.Begin, Wrong: wrong, Number: sent.one("number")}
	chosen := func(name, first string) string {
		if s := sent.one(name); s != "" {
			return s
		}
		return first
	}
	fam, kind := chosen("family", job.UsualFamily), chosen("kind", scenarios.WholeInName)
	for _, one := range family.Shelf() {
		g.Families = append(g.Families, option{one.Code, one.Code + ": " + one.Name, one.Code == fam})
	}
	g.Families = append(g.Families, option{job.AnyFamily, "any: the number picks one", fam == job.AnyFamily})
	for _, k := range scenarios.Kinds() {
		title := f.Config.Printer.Print(view.KindTitle(k))
		if title == "" {
			title = "whole job"
		}
		g.Kinds = append(g.Kinds, option{k.String(), title, k.String() == kind})
	}
	help := chosen("help", attempt.FullHelp.String())
	for _, h := range []struct {
		help attempt.Help
		says string
	}{{attempt.CoachHelp, "coach: says at once what a decision cost, and takes it back"}, {attempt.FullHelp, "full: what is left, hints, lessons"}, {attempt.LittleHelp, "little: what is left"}, {attempt.NoHelp, "none: the paper alone"}} {
		g.Helps = append(g.Helps, option{h.help.String(), h.says, h.help.String() == help})
	}
	for _, u := range []quantity.System{quantity.Inch, quantity.Metric} {
		g.Systems = append(g.Systems, option{u.String(), u.String(), u == v.pen.Units()})
	}
	if f.Begin && len(all) == 0 {
		e := inUnits(exercise.All()[0], v.pen.Units())
		g.First = &exerciseLine{Title: v.pen.Print(text.Say("web.start.first", "New here? Begin with this exercise: {title}", text.Typed("title", e.Title))), About: e.About,
			Path: f.Base + "/exercises/" + url.PathEscape(e.Name), Button: v.pen.Print(beginIt())}
	}
	for _, k := range all {
		path := f.Base + "/jobs/" + url.PathEscape(k.ID)
		one := listed{Path: path, Name: jobName(v.pen.Printer, k.Header), Acts: k.Acts}
		if !hides(k.Header) {
			one.File = path + "/attempt"
		}
		if k.SignedOff {
			one.Path += "/debrief"
			g.Done = append(g.Done, one)
		} else {
			g.Open = append(g.Open, one)
		}
	}
	return f.write(w, status, "start", g)
}

// begin begins a job.
func (f *face) begin(w http.ResponseWriter, r *http.Request, v visitor) error {
	sent, err := readForm(w, r)
	if err != nil {
		return err
	}
	if !f.Begin {
		return ErrNotFound
	}
	h, wrong := asked(sent, v)
	if wrong != "" {
		return f.startWith(w, r, v, http.StatusUnprocessableEntity, sent, wrong)
	}
	if !f.limits.begins(v.owner) {
		return f.tooMany(w, v)
	}
	return f.beginJob(w, r, v, h)
}

// asked is the job that a form asks for, or what is wrong with it.
func asked(sent form, v visitor) (h attempt.Header, wrong string) {
	seed := newSeed()
	if n := sent.one("number"); n != "" {
		var err error
		if seed, err = strconv.ParseUint(n, 10, 64); err != nil {
			return h, "The number of a job is a whole number, 0 or more. Leave it empty for a new one."
		}
	}
	name := sent.one("family")
	known := slices.ContainsFunc(family.Shelf(), func(f family.Family) bool { return f.Code == name })
	if !known && name != job.AnyFamily {
		return h, "Choose one of the axle families."
	}
	a, err := job.Find(name, sent.one("kind"), job.UsualFaults, seed)
	if err != nil {
		return h, sentence(v.pen.Error(err))
	}
	units, err := quantity.ParseSystem(sent.one("units"))
	if err != nil {
		units = v.pen.Units()
	}
	help := attempt.FullHelp
	for _, h := range attempt.Helps() {
		if h.String() == sent.one("help") {
			help = h
		}
	}
	return attempt.New(attempt.Terms{Help: help}, a.Order(), "", seed, units).Header, ""
}

// newSeed is the number of a job that nobody has named.
func newSeed() uint64 {
	const numbers = 100_000
	n, err := rand.Int(rand.Reader, big.NewInt(numbers))
	if err != nil {
		panic(err) // the system's randomness does not fail
	}
	return n.Uint64()
}
