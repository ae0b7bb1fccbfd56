package practice

import (
	"errors"
	"fmt"
	"strings"

	"shimwright/cmd/internal/bench"
	"shimwright/cmd/internal/job"
	"shimwright/cmd/internal/line"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/grading/cost"
	"shimwright/grading/debrief"
	"shimwright/lessons"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim/act"
	"shimwright/sim/history"
	"shimwright/sim/quantity"

	"shimwright/sim/text"
)

// session is one sitting at the bench.
type session struct {
	*bench.Bench
	s        term.Streams
	pen      view.Pen
	path     string
	axle     job.Asked
	n        int    // number of the line in hand
	aside    string // where a mended file is kept as it was
	pictures bool   // a script may save pictures
	torn     bool   // a torn last line has been cut off the file

	waiting string   // a line whose act waits for what is expected of it, or ""
	after   []string // what stands after it on its line
	skipped int      // questions left unanswered in a row
	refused bool     // the last act or word was
	signing bool     // a person has been asked whether they mean to sign
	hintAt  int      // number of acts when a hint was last asked for
	hints   int      // how many have been given there
}

// askedOften is how many questions left unanswered in a row end the asking.
const askedOften = 2

func (x *session) say(format string, args ...any) { fmt.Fprintf(x.s.Out, format, args...) }

// wrap writes a paragraph.
func (x *session) wrap(indent, format string, args ...any) {
	x.say("%s", view.Wrap(fmt.Sprintf(format, args...), x.pen.Width, indent))
}

// command returns what to type to do something with this attempt.
func (x *session) command(what string) string {
	return x.pen.Command(what + " " + term.Quote(x.path))
}

// closed says that a job is signed off, and what can be done with it.
func (x *session) closed() error {
	h := x.Header()
	if h.Mode != attempt.Practice {
		return text.Fail(nil, text.Say("practice.session.job-signed-off-instructor", "job {seed} is signed off in {path}: the instructor has the rest", text.Typed("seed", fmt.Sprint(h.Seed)), text.Typed("path", x.path)))
	}
	return text.Fail(nil, text.Say("practice.session.job-signed-off-read", "job {seed} is signed off in {path}: read its debrief with: {command} (or start afresh with another --record)", text.Typed("seed", fmt.Sprint(h.Seed)), text.Typed("path", x.path), text.Typed("command", x.command("grade"))))
}

// firstAct is a good act to begin with.
func (x *session) firstAct() string {
	first := map[scenarios.Kind]act.Form{
		scenarios.PreloadJob: act.InspectBearings, scenarios.SidesJob: act.InspectCones, scenarios.PreviousWork: act.InspectShafts,
	}[x.axle.Kind] // inspect cups unless it is named
	if x.axle.Kind == scenarios.PatternJob || x.WhyNot(first) != nil {
		return "now"
	}
	return first.String()
}

// Prompt is what stands before the next line.
func (x *session) Prompt() string {
	if x.waiting != "" {
		return "\n" + x.pen.Print(text.Say("practice.session.what-do-you-expect", "What do you expect to read? Enter skips. > "))
	}
	minutes := x.pen.Print(text.Say("practice.minutes", "{n} min", text.Number("n", float64(x.Status().Minutes), 0)))
	if v := x.view(); len(v.Stages) > 0 {
		minutes = x.pen.Print(v.At.Name()) + ", " + minutes
	}
	return "\n" + x.pen.Quiet("["+minutes+"] ") + "> "
}

// Take does what one line asks: words and acts, with semicolons between several. done is
// true when the job is closed.
func (x *session) Take(line string, n int) (done bool, err error) {
	x.n = n
	all := strings.Split(line, ";")
	if x.waiting != "" {
		all = append(all, x.after...)
	}
	for i, text := range all {
		text = strings.TrimSpace(text)
		x.refused, x.after = false, all[i+1:]
		if text == "" && (i > 0 || x.waiting == "") {
			continue
		}
		if done, err := x.take(text); done || err != nil || x.refused || x.waiting != "" {
			return done, err
		}
	}
	return false, nil
}

// take does one word or act.
func (x *session) take(text string) (done bool, err error) {
	if w, rest, ok := line.Find(x.words(), text); ok {
		if err := w.Do(rest); err != nil && !errors.Is(err, line.ErrLeft) {
			return false, x.decline(text, err)
		} else {
			return false, err
		}
	}
	if x.waiting != "" && isAnswer(text) {
		return x.answer(text)
	}
	a, err := bench.ReadAct(x.axle.Design, text, x.pen.Units())
	if err != nil {
		return false, x.decline(text, err)
	}
	x.waiting = "" // another act in the place of an answer
	if x.foretell(a) {
		x.waiting = text
		return false, nil
	}
	return x.do(text, a)
}

// isAnswer tells whether a line answers what is expected: nothing, an amount, or expect and
// one.
func isAnswer(text string) bool {
	return text == "" || strings.ContainsAny(text[:1], "+-.,0123456789") || strings.HasPrefix(strings.ToLower(text), "expect")
}

// foretell tells whether a person is asked first what they expect to read. Scripts are
// never asked, and nobody in an exercise without help.
func (x *session) foretell(a act.Act) bool {
	return x.s.Person && x.skipped < askedOften && x.Asks(a)
}

// answer takes the answer to what is expected, and then goes on with the act that waited.
func (x *session) answer(said string) (done bool, err error) {
	waiting := x.waiting
	a, err := act.Parse(waiting, x.pen.Units())
	if err != nil {
		return false, err
	}
	if said == "" {
		x.skipped++
		if x.skipped == askedOften {
			x.wrap("    ", "%s", x.s.Print(text.Say("practice.session.you-will-not-be", "You will not be asked again; expect and an amount still says it.")))
		}
	} else {
		e, err := bench.Expected(strings.TrimPrefix(strings.ToLower(said), "expect"), a, x.pen.Units())
		if err != nil {
			return false, x.decline(said, err)
		}
		x.skipped = 0
		if _, err := x.do(e.String(), e); err != nil {
			return false, err
		}
	}
	x.waiting = ""
	return x.do(waiting, a)
}

// do does an act, which keeps it, and shows what it showed. done is true when the job is
// closed.
func (x *session) do(prose string, a act.Act) (done bool, err error) {
	if a.Form != act.SignOff {
		x.signing = false
	} else if !x.sure() {
		return false, nil
	}
	o, err := x.Do(a)
	switch {
	case bench.Refused(err) && !x.HasNoPlace(a.Form, a.Choices...).IsZero():
		return false, x.decline(prose, err)
	case bench.Refused(err):
		return false, x.decline(prose, text.Fail(err, text.Say("practice.session.not-now", "not now: {why}", text.Cause("why", err))))
	case err != nil:
		return false, err
	}
	if !x.s.Person {
		x.say("%s", view.AtMinute(x.Status().Minutes, a, x.pen))
	}
	x.say("%s", view.Outcome(o, x.pen))
	x.taken(a)
	if v := x.view(); v.Word != nil {
		x.coach(*v.Word)
	}
	if a.Form == act.TurnRingGearAdjuster || a.Form == act.TurnOppositeAdjuster {
		x.say("%s", view.Adjusters(x.Status(), x.pen))
	}
	if a.Form == act.SignOff {
		return true, x.debrief()
	}
	x.overspent()
	switch {
	case !x.s.Person || len(o.Readings) > 0 || len(o.Feels) > 0:
	case a.Form == act.ExpectValue:
		x.say("%s\n", x.s.Print(text.Say("practice.session.noted", "    Noted.")))
	default:
		x.wrap("    ", "Done: %s.", x.status())
	}
	x.enter()
	return false, nil
}

// overspent says once that what is allowed has been used up: work goes on, and it counts.
func (x *session) overspent() {
	allowed := x.Card().Budget
	work, parts := x.UsedUp()
	if work {
		x.wrap("    ", "%s", x.s.Print(text.Say("practice.session.minutes-work-allowed-used", "The {minutes} minutes of work allowed are used up. You can finish the job; the debrief counts the extra time.", text.Number("minutes", float64(allowed.Minutes), 0))))
	}
	if parts {
		x.wrap("    ", "%s", x.s.Print(text.Say("practice.session.minutes-worth-parts-allowed", "The {parts} minutes' worth of parts allowed are used up. You can finish the job; the debrief counts the extra parts.", text.Number("parts", float64(allowed.Parts), 0))))
	}
}

// decline tells a person what would be right, and stops a script.
func (x *session) decline(prose string, err error) error {
	x.refused = true
	plain := x.pen.Error(err)
	if !x.s.Person {
		// Not wrapped: a script that stops is exit code 1 whatever stopped it.
		return text.Fail(nil, text.Say("practice.session.line-acts-before-kept", "line {n}, {prose}: {plain} (the acts before it are kept in {path})", text.Count("n", x.n), text.Typed("prose", prose), text.Typed("plain", plain), text.Typed("path", x.path)))
	}
	if errors.Is(err, act.ErrNotAnAct) {
		if near, ok := x.nearest(prose); ok {
			plain = x.pen.Print(meant(near))
		}
		plain += x.s.Print(text.Say("practice.session.type-help-for-other", "; type help for the other words"))
	}
	var no *history.Refusal
	if errors.As(err, &no) && x.helps(attempt.FullHelp) == nil {
		if id, ok := lessons.ForRefusal(no.Why.Code()); ok {
			plain += x.s.Print(text.Say("practice.session.lesson", " (lesson {id})", text.Typed("id", id)))
		}
	}
	x.say("%s", view.Hang(plain, x.pen.Width, "  - ", "    "))
	return nil
}

// debrief tells of a job that is signed off what its mode lets be told.
func (x *session) debrief() error {
	x.say("%s\n", view.Wrap(x.s.Print(view.Signed(x.axle.Kind)), x.pen.Width, "    "))
	mode := x.Header().Mode
	if mode == attempt.Exam {
		x.wrap("", "%s", x.s.Print(text.Say("practice.session.this-was-examination-nothing", "This was an examination: nothing is told until it is graded. Hand in {path}.", text.Typed("path", x.path))))
		return nil
	}
	d, err := x.Debrief(cost.Default(), x.pen.Units(), false)
	if err != nil {
		return err
	}
	if mode == attempt.Check {
		x.say("%s", view.Score(d.Report, x.pen))
		x.wrap("", "%s", x.s.Print(text.Say("practice.session.this-was-check-rest", "This was a check: the rest is told by the instructor. Hand in {path}.", text.Typed("path", x.path))))
		return nil
	}
	prose, err := view.NewDebrief(d, view.DebriefWith{Printer: x.pen.Printer, Again: Again(x.axle, x.pen), Body: true}).Text(x.pen)
	if err != nil {
		return err
	}
	x.say("%s", prose)
	x.kept()
	return nil
}

// kept says where the attempt of a job that is signed off is.
func (x *session) kept() {
	if x.Header().Mode != attempt.Practice {
		x.wrap("", "%s", x.s.Print(text.Say("practice.session.hand-in", "Hand in {path}.", text.Typed("path", x.path))))
		return
	}
	x.say("%s  %s\n", view.Wrap(x.s.Print(text.Say("practice.session.attempt-kept-for-each", "The attempt is kept in {path}. For each decision in full, here or with --out debrief.html as a page, type:", text.Typed("path", x.path))), x.pen.Width, ""), x.command("grade")+" --full")
}

// Again writes the command that starts a job to try a lesson on, after the debrief of a job
// that was asked for so.
func Again(a job.Asked, p view.Pen) func(debrief.Again) string {
	return func(t debrief.Again) string {
		if t.Family == "" {
			return p.Command(a.Practice(t.Seed))
		}
		return p.Command(a.Again(t.Family, t.Seed))
	}
}

// taken tells which shim was taken where that is not the size that was typed: a shelf
// has its steps, and a size typed in the other unit is rounded.
func (x *session) taken(a act.Act) {
	for i, size := range fitted(a.Form, x.Status()) {
		asked, ok := a.Amounts[i].Length()
		if !ok || asked.Show(x.pen.Units()) == size.Show(x.pen.Units()) {
			continue
		}
		shown := size.Show(x.pen.Units())
		if typed := systemOf(a.Amounts[i]); typed != x.pen.Units() {
			shown += " (" + size.Show(typed) + ")"
		}
		x.wrap("    ", "%s", x.s.Print(text.Say("practice.session.shelf-has-no-nearest", "The shelf has no {amount}; the nearest, {shown}, is taken.", text.Typed("amount", a.Amounts[i].String()), text.Typed("shown", shown))))
	}
}

// fitted lists the shims that an act has put in, in the order of its amounts.
func fitted(f act.Form, st history.Status) []quantity.Length {
	switch f {
	case act.FitDepthShim:
		return []quantity.Length{st.DepthShim}
	case act.FitPreloadShims:
		return []quantity.Length{st.PreloadShims}
	case act.FitSideShims:
		return []quantity.Length{st.RingGearShim, st.OppositeShim}
	}
	return nil
}

// systemOf returns the system a length was typed in.
func systemOf(e quantity.Entered) quantity.System {
	if e.Unit == quantity.UnitMM {
		return quantity.Metric
	}
	return quantity.Inch
}
