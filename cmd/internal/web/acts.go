package web

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"shimwright/cmd/internal/bench"
	"shimwright/lessons"
	"shimwright/scenarios/attempt"
	"shimwright/sim/act"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// A sitting is a request at the bench of an attempt.
type sitting struct {
	*readied
	visitor
	w http.ResponseWriter
	r *http.Request
	f *face
}

// said is what a page shows beside the job as it stands.
type said struct {
	notes  []string  // what went wrong
	told   []string  // what was done in another way than by an act
	lesson string    // on what stands in the way; "" for none
	from   int       // acts from this one on were done with one click
	group  int       // the group or part that stays open; -1 for the likeliest
	asks   []act.Act // the first waits for what is expected of it, the others for the first
	wrong  string    // why an answer is none
	answer string    // that was none
	signs  bool      // asks whether to sign
	typed  string    // a line that is no act
}

// skipsCookie counts the questions left unanswered in a row; askedOften of them end the asking.
const (
	skipsCookie = "shimwright-skips"
	askedOften  = 2
)

func skips(r *http.Request) int {
	c, err := r.Cookie(skipsCookie)
	if err != nil {
		return 0
	}
	n, err := strconv.Atoi(c.Value)
	if err != nil || n < 0 {
		return 0
	}
	return n
}

// sit does something at the bench of the attempt that a request names.
func (f *face) sit(w http.ResponseWriter, r *http.Request, v visitor, do func(*sitting) error) error {
	return f.benches.with(r.Context(), name{v.owner, r.PathValue("id")}, func(d *readied) error {
		d.bench.Clock(f.Clock)
		return do(&sitting{d, v, w, r, f})
	})
}

// acts does the acts that a page sent, and shows what they showed.
func (f *face) acts(w http.ResponseWriter, r *http.Request, v visitor) error {
	sent, err := readForm(w, r)
	if err != nil {
		return err
	}
	return f.sit(w, r, v, func(s *sitting) error {
		out := said{group: groupOf(sent.one("group")), from: len(s.bench.Shown())}
		if had, err := strconv.Atoi(sent.one("had")); err != nil || had != s.lines {
			out.notes = []string{"Something was done on this job after this page was made. This is the job as it stands now; nothing was done twice."}
			return s.show(http.StatusConflict, out)
		}
		if s.bench.Status().SignedOff {
			return s.goTo("/debrief")
		}
		if coaching := sent.one("coach"); coaching != "" {
			return s.coach(coaching, out)
		}
		acts, asking, err := s.read(sent, &out)
		if err != nil {
			out.notes = []string{s.pen.Error(err)}
			return s.show(http.StatusUnprocessableEntity, out)
		}
		return s.perform(acts, asking, sent, out)
	})
}

// groupOf reads the number of a group, or behind those of a part; -1 for none.
func groupOf(text string) int {
	n, err := strconv.Atoi(text)
	if err != nil || n < int(bench.Inspecting) || n >= firstPart+len(bench.Parts()) {
		return -1
	}
	return n
}

// read reads the acts of a form. asking tells whether a person may be asked first what they
// expect to read. Errors say what would be right.
func (s *sitting) read(sent form, out *said) (acts []act.Act, asking bool, err error) {
	units, card := s.pen.Units(), s.bench.Card()
	switch lines := sent.all("line"); {
	case sent.one("batch") != "":
		return s.batch(sent.one("batch")), false, nil
	case sent.one("round") != "":
		acts, err := s.round(sent)
		return acts, true, err
	case len(lines) > 0:
		for _, l := range lines {
			a, err := bench.ReadAct(card.Family.Design, l, units)
			if err != nil {
				return nil, false, err
			}
			acts = append(acts, a)
		}
		return s.answered(acts, sent, out)
	case sent.one("form") != "":
		a, err := s.filled(sent)
		return []act.Act{a}, true, err
	}
	out.typed = sent.one("typed")
	for l := range strings.SplitSeq(out.typed, ";") {
		if l = strings.TrimSpace(l); l == "" {
			continue
		}
		a, err := bench.ReadAct(card.Family.Design, l, units)
		if err != nil {
			return nil, false, fmt.Errorf("%s: %w", l, err)
		}
		acts = append(acts, a)
	}
	if len(acts) == 0 {
		return nil, false, text.Fail(act.ErrNotAnAct, text.Say("web.nothing-typed", "type an act, such as {example}", text.Typed("example", "inspect cups")))
	}
	return acts, true, nil
}

// batch are the acts that are done with one click.
func (s *sitting) batch(which string) []act.Act {
	v := s.bench.View(s.pen.Units())
	var out []act.Act
	switch which {
	case "left":
		for _, c := range v.In(bench.Inspecting) {
			if c.Left && c.Why == nil {
				out = append(out, act.Act{Form: c.Form})
			}
		}
	case "sheet":
		out = v.Write
	case "repeat":
		out = v.Repeat
	}
	return out
}

// round are acts that go together; the first one's blanks are filled in by the form.
func (s *sitting) round(sent form) ([]act.Act, error) {
	for _, r := range s.bench.View(s.pen.Units()).Rounds {
		if r.ID != sent.one("round") {
			continue
		}
		acts := slices.Clone(r.Acts)
		if r.Asks {
			first, err := s.fill(acts[0].Form, sent)
			if err != nil {
				return nil, err
			}
			acts[0] = first
		}
		return acts, nil
	}
	return nil, text.Fail(nil, text.Say("web.no-round", "these acts cannot be begun as the axle stands now"))
}

// filled is the act of a form with its blanks filled in. What was chosen is put into the line
// that a person would type, and read as such.
func (s *sitting) filled(sent form) (act.Act, error) {
	units, design := s.pen.Units(), s.bench.Card().Family.Design
	all := act.Usages()
	i := slices.IndexFunc(all, func(u act.Usage) bool { return u.Line == sent.one("form") })
	if i < 0 {
		return bench.ReadAct(design, sent.one("form"), units)
	}
	return s.fill(all[i].Form, sent)
}

func (s *sitting) fill(of act.Form, sent form) (act.Act, error) {
	units, design := s.pen.Units(), s.bench.Card().Family.Design
	a := act.Act{Form: of}
	for k, slot := range a.Form.Slots() {
		given := sent.one(fmt.Sprintf("s%d", k))
		if given == "" {
			given = sent.one(fmt.Sprintf("o%d", k))
		}
		if slot.Amount == "" {
			if !slices.Contains(slot.Options, act.Option(given)) {
				return a, text.Fail(act.ErrIncomplete, text.Say("web.choose", "{act}: choose one of what is offered", text.Typed("act", a.Form.Pattern())))
			}
			a.Choices = append(a.Choices, act.Option(given))
			continue
		}
		e, err := quantity.ParseEntered(given, bench.Slot{Slot: slot}.Unit(a.Choices, units))
		if err != nil {
			return a, err
		}
		a.Amounts = append(a.Amounts, e)
	}
	return bench.ReadAct(design, a.String(), units)
}

// answered takes the answer to what is expected of the first act, which becomes an act itself.
func (s *sitting) answered(acts []act.Act, sent form, out *said) ([]act.Act, bool, error) {
	switch sent.one("answer") {
	case "":
		return acts, true, nil
	case "skip":
		s.setSkips(skips(s.r) + 1)
		return acts, false, nil
	}
	said := strings.TrimPrefix(strings.ToLower(sent.one("expect")), "expect")
	if strings.TrimSpace(said) == "" {
		s.setSkips(skips(s.r) + 1)
		return acts, false, nil
	}
	e, err := bench.Expected(said, acts[0], s.pen.Units())
	if err != nil {
		out.asks, out.wrong, out.answer = acts, s.pen.Error(err), sent.one("expect")
		return nil, false, nil
	}
	s.setSkips(0)
	return append([]act.Act{e}, acts...), false, nil
}

func (s *sitting) setSkips(n int) {
	http.SetCookie(s.w, &http.Cookie{Name: skipsCookie, Value: strconv.Itoa(min(n, askedOften)), Path: "/", HttpOnly: true, SameSite: http.SameSiteLaxMode, Secure: s.r.TLS != nil})
}

// perform does acts until one is refused or something has to be asked first.
func (s *sitting) perform(acts []act.Act, asking bool, sent form, out said) error {
	for i, a := range acts {
		if asking && skips(s.r) < askedOften && s.bench.Asks(a) {
			out.asks = acts[i:]
			break
		}
		if a.Form == act.SignOff && sent.one("sign") == "" && s.bench.WhyNot(act.SignOff) == nil {
			out.signs = true
			break
		}
		_, err := s.bench.Do(a)
		if f := s.f.Did; f != nil && (err == nil || bench.Refused(err)) {
			f(s.r.Context(), s.id, s.bench, err != nil)
		}
		if bench.Refused(err) {
			out.notes = []string{s.pen.Print(text.Say("web.refused", "Not done: {act}.", text.Typed("act", a.String()))) + " " + sentence(s.pen.Error(err))}
			var no *history.Refusal
			if errors.As(err, &no) && helps(s.bench.Header(), attempt.FullHelp) {
				out.lesson, _ = lessons.ForRefusal(no.Why.Code())
			}
			return s.show(http.StatusUnprocessableEntity, out)
		}
		if err != nil {
			return s.unkept(err, out)
		}
		out.typed = ""
		if a.Form == act.SignOff {
			return s.goTo("/debrief")
		}
	}
	return s.after(out)
}

// unkept answers for what could not be kept: what was done here does not count.
func (s *sitting) unkept(err error, out said) error {
	s.bench = nil
	if !errors.Is(err, ErrConflict) {
		return err
	}
	out.notes = []string{"Somebody else did something on this job at the same moment. This is the job as it stands now."}
	return s.again(out)
}

// coach has the coach do something.
func (s *sitting) coach(what string, out said) error {
	switch what {
	case "back":
		fell, err := s.bench.TakeBack()
		if errors.Is(err, attempt.ErrStands) {
			out.notes = []string{sentence(s.pen.Error(err))}
			return s.show(http.StatusUnprocessableEntity, out)
		}
		if err != nil {
			return s.unkept(err, out)
		}
		out.told = []string{s.pen.Print(bench.TakenBackMessage(fell))}
		return s.show(http.StatusOK, out)
	case "example":
		if _, err := s.bench.ShowStage(); err != nil {
			return s.unkept(err, out)
		}
	}
	return s.after(out)
}

// after shows what came of acts that were done.
func (s *sitting) after(out said) error {
	if out.asks != nil || out.signs || s.r.Header.Get("HX-Request") != "" {
		return s.show(http.StatusOK, out)
	}
	q := url.Values{"from": {strconv.Itoa(out.from)}}
	if out.group >= 0 {
		q.Set("group", strconv.Itoa(out.group))
	}
	return s.goTo("?" + q.Encode() + "#shown")
}

// again shows the job anew after what is ready has turned out to be behind.
func (s *sitting) again(out said) error {
	rec, err := s.f.Keeper.Record(s.r.Context(), s.owner, s.id)
	if err != nil {
		return err
	}
	if s.bench, err = s.f.benches.jobs.open(rec); err != nil {
		return err
	}
	s.told, s.lines = nil, len(rec.Entries)
	return s.show(http.StatusConflict, out)
}

// goTo leads on to another page of the job.
func (s *sitting) goTo(rest string) error {
	to := s.f.Base + "/jobs/" + url.PathEscape(s.id) + rest
	if s.r.Header.Get("HX-Request") != "" {
		s.w.Header().Set("HX-Redirect", to)
		return nil
	}
	http.Redirect(s.w, s.r, to, http.StatusSeeOther)
	return nil
}

// show writes the page of the bench. A script that swaps pages takes those that are answered
// with 200 alone.
func (s *sitting) show(status int, out said) error {
	if s.r.Header.Get("HX-Request") != "" {
		status = http.StatusOK
	}
	return s.f.write(s.w, status, "bench", s.page(out))
}

// projector shows a job in large type to a room, while somebody works it at another screen. It
// asks again by itself, and is told nothing where nothing has been done since.
func (f *face) projector(w http.ResponseWriter, r *http.Request, v visitor) error {
	return f.sit(w, r, v, func(s *sitting) error {
		if had, err := strconv.Atoi(r.URL.Query().Get("had")); err == nil && had == s.lines {
			w.WriteHeader(http.StatusNoContent)
			return nil
		}
		g := s.page(said{group: -1, from: max(0, len(s.bench.Shown())-1)})
		g.frame.Job.At = "/projector"
		for i := range g.Paper { // a line each, to be read from far
			r := &g.Paper[i]
			r.Read, _, _ = strings.Cut(r.Read, " +/-")
			r.State, _, _ = strings.Cut(r.State, " since")
		}
		return f.write(w, http.StatusOK, "projector", g)
	})
}

// benchPage shows a job as it stands.
func (f *face) benchPage(w http.ResponseWriter, r *http.Request, v visitor) error {
	return f.sit(w, r, v, func(s *sitting) error {
		n := len(s.bench.Shown())
		out := said{group: groupOf(r.URL.Query().Get("group")), from: max(0, n-1)}
		if from, err := strconv.Atoi(r.URL.Query().Get("from")); err == nil && from >= 0 && from < n {
			out.from = from
		}
		return s.show(http.StatusOK, out)
	})
}
