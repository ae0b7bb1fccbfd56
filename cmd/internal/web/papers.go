package web

import (
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"sync"

	"shimwright/cmd/internal/bench"
	"shimwright/cmd/internal/job"
	"shimwright/cmd/internal/view"
	"shimwright/grading/cost"
	"shimwright/grading/debrief"
	"shimwright/lessons"
	"shimwright/lessons/glossary"
	"shimwright/scenarios/attempt"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

type cardPage struct {
	frame
	Heading string
	Parts   []cardPart
}

// A cardPart is what stands under one title.
type cardPart struct {
	Title  string
	Rows   []view.Block
	Items  []view.Block
	Before []string // paragraphs before rows and items
	After  []string
}

// card is the job card.
func (f *face) card(w http.ResponseWriter, r *http.Request, v visitor) error {
	return f.sit(w, r, v, func(s *sitting) error {
		g := cardPage{frame: s.jobFrame("Job card, "+jobName(s.pen.Printer, s.bench.Header()), "/card"), Parts: []cardPart{{}}}
		for _, b := range view.CardBlocks(s.bench.Card(), s.pen, hides(s.bench.Header())) {
			part := &g.Parts[len(g.Parts)-1]
			switch b.Kind {
			case view.HeadingBlock:
				g.Heading = b.Text
			case view.TitleBlock:
				g.Parts = append(g.Parts, cardPart{Title: b.Text})
			case view.RowBlock:
				part.Rows = append(part.Rows, b)
			case view.ItemBlock:
				part.Items = append(part.Items, b)
			default:
				if len(part.Rows)+len(part.Items) > 0 {
					part.After = append(part.After, b.Text)
				} else {
					part.Before = append(part.Before, b.Text)
				}
			}
		}
		return f.write(w, http.StatusOK, "card", g)
	})
}

type leftPage struct {
	frame
	Stage, Purpose string
	Parts          []leftPart
	Hints          []string // each more than the one before it
}

type leftPart struct {
	Stage string
	Todos []string
}

// left is what is left of the procedure, with hints where the terms give them.
func (f *face) left(w http.ResponseWriter, r *http.Request, v visitor) error {
	return f.sit(w, r, v, func(s *sitting) error {
		h, p := s.bench.Header(), s.pen.Printer
		if !helps(h, attempt.LittleHelp) {
			return ErrNotFound
		}
		now := s.bench.View(p.Units())
		g := leftPage{frame: s.jobFrame("What is left, "+jobName(s.pen.Printer, h), "/left"), Stage: p.Print(now.At.Name()), Purpose: p.Print(now.At.Purpose())}
		for _, t := range now.Left {
			name := sentence(p.Print(t.Stage.Name()))
			if n := len(g.Parts); n == 0 || g.Parts[n-1].Stage != name {
				g.Parts = append(g.Parts, leftPart{Stage: name})
			}
			said := p.Print(t.Message())
			if t.Line == nil {
				said = t.Form.String() + ": " + said
			}
			last := &g.Parts[len(g.Parts)-1]
			last.Todos = append(last.Todos, sentence(said))
		}
		if helps(h, attempt.FullHelp) {
			for level := range bench.Hints {
				g.Hints = append(g.Hints, p.Print(s.bench.HintAt(level+1)))
			}
		}
		return f.write(w, http.StatusOK, "left", g)
	})
}

type debriefPage struct {
	frame
	Body   template.HTML // the whole debrief; "" where the terms keep it
	Notice string
	Signed string
	Score  string // of a check
	Areas  []view.AreaLine
	Points []view.Checked
	Exam   bool
	Again  *again
	Next   *exerciseLine // of an exercise: where its next job is begun
}

// again begins a job to try a lesson on.
type again struct{ Family, Kind, Number, Help string }

// debrief is what the terms let be told of a job that is signed off.
func (f *face) debrief(w http.ResponseWriter, r *http.Request, v visitor) error {
	return f.sit(w, r, v, func(s *sitting) error {
		h := s.bench.Header()
		if !s.bench.Status().SignedOff {
			return s.goTo("")
		}
		g := debriefPage{frame: s.jobFrame("Debrief, "+jobName(s.pen.Printer, h), "/debrief"), Signed: s.visitor.pen.Print(view.Signed(h.Kind)), Exam: h.Mode == attempt.Exam}
		if g.Exam {
			return f.write(w, http.StatusOK, "debrief", g)
		}
		d, err := s.bench.Debrief(cost.Default(), s.pen.Units(), false)
		if err != nil {
			return err
		}
		told := view.NewDebrief(d, view.DebriefWith{Printer: s.pen.Printer, Body: true})
		if h.Mode == attempt.Check {
			g.Score, g.Areas, g.Points = fmt.Sprintf("%d out of 100", d.Report.Score), told.Areas, told.Process
			return f.write(w, http.StatusOK, "debrief", g)
		}
		units := s.pen.Units()
		if s.readied.told[units] == "" {
			body, err := told.Body()
			if err != nil {
				return err
			}
			if s.readied.told == nil {
				s.readied.told = map[quantity.System]template.HTML{}
			}
			s.readied.told[units] = body
		}
		g.Body, g.Notice = s.readied.told[units], told.Notice
		if e, ok := shippedExercise(h.Exercise); f.Begin && ok {
			g.Next = &exerciseLine{Path: f.Base + "/exercises/" + url.PathEscape(e.Name), Button: s.pen.Print(text.Say("web.exercises.next-of", "Next job of the exercise"))}
		}
		if f.Begin && d.Lesson != nil && h.FamilyText == "" {
			g.Again = tryAgain(*d.Lesson, h)
		}
		return f.write(w, http.StatusOK, "debrief", g)
	})
}

func tryAgain(t debrief.Again, h attempt.Header) *again {
	code := h.Family.Code
	kind := h.Kind.String()
	if t.Family != "" && t.Family != code {
		code, kind = t.Family, "whole"
	}
	return &again{code, kind, fmt.Sprint(t.Seed), h.Help.String()}
}

// attempt hands out the attempt file.
func (f *face) attempt(w http.ResponseWriter, r *http.Request, v visitor) error {
	rec, err := f.Keeper.Record(r.Context(), v.owner, r.PathValue("id"))
	if err != nil {
		return err
	}
	if hides(rec.Header) {
		return ErrNotFound
	}
	whole, err := rec.Bytes()
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "application/x-ndjson")
	w.Header().Set("Content-Disposition", `attachment; filename="`+job.Of(rec.Header).FileName(rec.Header.Seed)+`"`)
	w.Write(whole)
	return nil
}

type lessonsPage struct {
	frame
	Groups []lessonGroup
}

type lessonGroup struct {
	Name    string
	First   int
	Lessons []lessons.Lesson
}

func (f *face) lessons(w http.ResponseWriter, _ *http.Request, v visitor) error {
	g := lessonsPage{frame: f.frame(v, "Lessons", "/lessons")}
	for _, l := range lessons.All() {
		if n := len(g.Groups); n == 0 || g.Groups[n-1].Name != l.Group {
			g.Groups = append(g.Groups, lessonGroup{Name: l.Group, First: l.Order})
		}
		last := &g.Groups[len(g.Groups)-1]
		last.Lessons = append(last.Lessons, l)
	}
	return f.write(w, http.StatusOK, "lessons", g)
}

type lessonPage struct {
	frame
	Lesson lessons.Lesson
	Body   template.HTML
	Words  []glossary.Term
	See    []lessons.Lesson
	Again  *again
}

func (f *face) lesson(w http.ResponseWriter, r *http.Request, v visitor) error {
	l, err := lessons.Find(r.PathValue("lesson"))
	if err != nil {
		return ErrNotFound
	}
	body, err := f.written.body(l, v.pen.Units())
	if err != nil {
		return err
	}
	g := lessonPage{frame: f.frame(v, l.Title, "/lessons/"+l.ID), Lesson: l, Body: body, Words: glossary.Of(l.ID)}
	for _, id := range l.See {
		if other, err := lessons.Find(id); err == nil {
			g.See = append(g.See, other)
		}
	}
	if f.Begin {
		g.Again = &again{l.TryFamily, "whole", fmt.Sprint(l.TrySeed), ""}
	}
	return f.write(w, http.StatusOK, "lesson", g)
}

// written are lessons in one system of units or the other: their figures take a while to work
// out, and they never change.
type written struct {
	mu  sync.Mutex
	all map[lessonIn]template.HTML
}

type lessonIn struct {
	id    string
	units quantity.System
}

func (c *written) body(l lessons.Lesson, units quantity.System) (template.HTML, error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	at := lessonIn{l.ID, units}
	if b, ok := c.all[at]; ok {
		return b, nil
	}
	b, err := view.LessonBody(l, units)
	if err == nil {
		if c.all == nil {
			c.all = map[lessonIn]template.HTML{}
		}
		c.all[at] = b
	}
	return b, err
}

type glossaryPage struct {
	frame
	Terms []term
}

type term struct {
	glossary.Term
	ID, Other string
}

func (f *face) glossary(w http.ResponseWriter, _ *http.Request, v visitor) error {
	g := glossaryPage{frame: f.frame(v, "Glossary", "/glossary")}
	for _, t := range glossary.All() {
		g.Terms = append(g.Terms, term{t, wordID(t), view.OtherNames(v.pen.Printer, t)})
	}
	return f.write(w, http.StatusOK, "glossary", g)
}

func wordID(t glossary.Term) string { return id("word", t.Word) }
