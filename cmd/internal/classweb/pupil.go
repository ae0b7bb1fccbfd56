package classweb

import (
	"html/template"
	"net/http"
	"strconv"

	"shimwright/cmd/internal/classroom"
	"shimwright/cmd/internal/records"
	"shimwright/scenarios/attempt"
)

type workPage struct {
	frame
	Sets []setForPupil
}

// setForPupil is something set, as a pupil sees it.
type setForPupil struct {
	ID, Title, Mode string
	Window          string
	Jobs            []jobForPupil
}

type jobForPupil struct {
	N        int
	Open     string // the address of the bench, where a try is open
	Begin    bool   // it can be begun, or begun again
	Again    bool   // it was signed off before
	Tries    int
	Signed   []signed
	Over     bool
	NotBegun bool
}

// signed is a try that is signed off.
type signed struct {
	Try     int
	Path    string // of the bench
	Debrief string // where it is handed back
}

// modeText says what kind of exercise it is.
func modeText(mode string) string {
	switch attempt.Mode(mode) {
	case attempt.Check:
		return "check: no help; the score follows the signature"
	case attempt.Exam:
		return "examination: no help; nothing is told until your instructor hands it back"
	}
	return "practice"
}

// work is what is set for a pupil.
func (f *face) work(v *visit) error {
	ctx := v.r.Context()
	sets, err := f.Store.Assignments(ctx)
	if err != nil {
		return err
	}
	attempts, err := f.Store.AttemptsOf(ctx, v.who)
	if err != nil {
		return err
	}
	g := workPage{frame: f.frame(v, "What is set")}
	now := f.Room.Clock()
	for i := len(sets) - 1; i >= 0; i-- {
		a := sets[i]
		extra, err := f.Store.ExtraTime(ctx, a.ID)
		if err != nil {
			return err
		}
		opens, closes := classroom.Window(a, extra[v.who])
		over, before := !closes.IsZero() && !now.Before(closes), now.Before(opens)
		s := setForPupil{ID: a.ID, Title: a.Title, Mode: modeText(a.Mode)}
		switch {
		case before:
			s.Window = "Opens " + f.when(opens) + "."
		case over:
			s.Window = "Its time is over."
		case !closes.IsZero():
			s.Window = "Open until " + f.when(closes) + "."
		}
		for job := 1; job <= a.Jobs; job++ {
			j := jobForPupil{N: job, Over: over || before}
			for _, x := range attempts {
				if x.Assignment != a.ID || x.Job != job {
					continue
				}
				j.Tries++
				if !x.Signed {
					j.Open = jobPath(x.ID)
					continue
				}
				t := signed{Try: x.Try, Path: jobPath(x.ID)}
				if !a.Returned.IsZero() {
					t.Debrief = "/work/debriefs/" + x.ID
				}
				j.Signed = append([]signed{t}, j.Signed...)
			}
			j.Again = len(j.Signed) > 0
			j.Begin = !j.Over && j.Open == "" && (a.Tries == 0 || j.Tries < a.Tries)
			j.NotBegun = j.Tries == 0
			s.Jobs = append(s.Jobs, j)
		}
		g.Sets = append(g.Sets, s)
	}
	return write(v, http.StatusOK, "work", g)
}

func (f *face) begin(v *visit) error {
	job, err := strconv.Atoi(v.r.PathValue("job"))
	if err != nil {
		return records.ErrNone
	}
	id, err := f.Begin(v.r.Context(), v.who, v.r.PathValue("set"), job)
	if err != nil {
		return err
	}
	return goTo(v, jobPath(id))
}

type debriefPage struct {
	frame
	Debriefs []debriefed
	Back     string
	Zip      string
}

// debriefed is a debrief on a page.
type debriefed struct {
	Heading, Title, Job, Summary, Given string
	Body                                template.HTML
}

// ownDebrief is a pupil's own debrief once it is handed back.
func (f *face) ownDebrief(v *visit) error {
	d, err := f.DebriefOf(v.r.Context(), v.who, v.r.PathValue("attempt"))
	if err != nil {
		return err
	}
	one, err := f.onPage(d, 1)
	if err != nil {
		return err
	}
	return write(v, http.StatusOK, "debriefs", debriefPage{frame: f.frame(v, d.Heading(f.Printer)), Debriefs: []debriefed{one}, Back: "/work"})
}
