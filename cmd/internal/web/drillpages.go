package web

import (
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"shimwright/cmd/internal/picture"
	"shimwright/cmd/internal/view"
	"shimwright/lessons"
	"shimwright/scenarios/drill"
	"shimwright/sim/family"
	"shimwright/sim/text"
)

// A round of drills keeps nothing: its address says what is asked and how the questions before
// went. It is for whoever answers, and counts nowhere.

const (
	mixed         = "mixed" // in place of a kind
	questions     = 10
	answeredRight = "right"
	answeredWrong = "wrong"
	passedOver    = "passed"
)

// A round is what its address says.
type round struct {
	kind string
	seed uint64
	plan []drill.Item
	went []string // of each question: how it was answered, with the misconception that showed
}

// roundOf reads the round of a request.
func roundOf(r *http.Request) (x round, err error) {
	x.kind = r.PathValue("kind")
	if x.seed, err = strconv.ParseUint(r.PathValue("round"), 10, 64); err != nil {
		return x, ErrNotFound
	}
	o := drill.Order{Seed: x.seed, Count: questions, Families: family.Shelf()}
	if x.kind != mixed {
		k, err := drill.ParseKind(x.kind)
		if err != nil {
			return x, ErrNotFound
		}
		o.Kinds = []drill.Kind{k}
	}
	if x.plan, err = o.Plan(); err != nil {
		return x, ErrNotFound
	}
	if went := r.PathValue("went"); went != "" {
		x.went = strings.Split(went, ".")
	}
	if len(x.went) > len(x.plan) {
		return x, ErrNotFound
	}
	for _, w := range x.went {
		how, m, _ := strings.Cut(w, "~")
		if !slices.Contains([]string{answeredRight, answeredWrong, passedOver}, how) || m != "" && how != answeredWrong {
			return x, ErrNotFound
		}
	}
	return x, nil
}

// path is the address of a round with so much answered.
func (x round) path() string {
	at := "/drills/" + url.PathEscape(x.kind) + "/" + strconv.FormatUint(x.seed, 10)
	if len(x.went) > 0 {
		at += "/" + url.PathEscape(strings.Join(x.went, "."))
	}
	return at
}

func (x round) name(p text.Printer) string {
	if x.kind == mixed {
		return p.Print(text.Say("web.drills.mixed", "all kinds mixed"))
	}
	return x.kind
}

type drillsPage struct {
	frame
	About  string
	Mixed  string
	Action string
	Kinds  []kindLine
}

type kindLine struct{ Kind, About string }

// drills lists the kinds.
func (f *face) drills(w http.ResponseWriter, _ *http.Request, v visitor) error {
	p := v.pen.Printer
	g := drillsPage{
		frame:  f.frame(v, p.Print(text.Say("web.drills.title", "Drills")), "/drills"),
		About:  p.Print(text.Say("web.drills.about", "A drill asks for one decision. After each answer you see the working. A round has {n} questions and is not graded.", text.Count("n", questions))),
		Mixed:  mixed,
		Action: f.Base + "/drills",
	}
	g.Kinds = append(g.Kinds, kindLine{mixed, p.Print(text.Say("web.drills.all", "every kind in turn"))})
	for _, k := range drill.Kinds() {
		g.Kinds = append(g.Kinds, kindLine{string(k), p.Print(k.About())})
	}
	return f.write(w, http.StatusOK, "drills", g)
}

// drill begins a round.
func (f *face) drill(w http.ResponseWriter, r *http.Request, _ visitor) error {
	sent, err := readForm(w, r)
	if err != nil {
		return err
	}
	x := round{kind: sent.one("kind"), seed: newSeed()}
	if x.kind != mixed {
		k, err := drill.ParseKind(x.kind)
		if err != nil {
			return ErrNotFound
		}
		x.kind = string(k)
	}
	http.Redirect(w, r, f.Base+x.path(), http.StatusSeeOther)
	return nil
}

type questionPage struct {
	frame
	Head     string
	Round    string
	Patterns []flank
	Asks     string
	Options  []drillOption
	Takes    string
	Label    string // of the field
	Reply    string // that could not be read
	Wrong    string // why
	Action   string
	Answer   string // on the button
	Pass     string

	Marked *view.Marking
	Class  string
	Lesson *lessons.Lesson
	Next   string
	Button string
}

type drillOption struct{ Letter, Text, Button string }

// question asks the question whose turn it is, or tells how the round went.
func (f *face) question(w http.ResponseWriter, r *http.Request, v visitor) error {
	x, err := roundOf(r)
	if err != nil {
		return err
	}
	if len(x.went) == len(x.plan) {
		return f.summary(w, v, x)
	}
	g, _, err := f.asked(v, x)
	if err != nil {
		return err
	}
	return f.write(w, http.StatusOK, "question", g)
}

// asked is the page of a question that waits for its answer.
func (f *face) asked(v visitor, x round) (g questionPage, d drill.Drill, err error) {
	p := v.pen.Printer
	n := len(x.went)
	if d, err = drill.Draw(x.plan[n]); err != nil {
		return g, d, err
	}
	head := p.Print(view.DrillHead(d.Kind, n+1, len(x.plan)))
	g = questionPage{
		frame:  f.frame(v, p.Print(text.Say("web.drills.question", "Drill, {head}", text.Typed("head", strings.TrimSuffix(head, ".")))), x.path()),
		Head:   strings.TrimSuffix(head, "."),
		Round:  p.Print(text.Say("web.drills.round", "Round {number}, {kind}.", text.Typed("number", fmt.Sprint(x.seed)), text.Typed("kind", x.name(p)))),
		Asks:   p.Print(d.Asks),
		Takes:  p.Print(view.DrillTakes(d.Answer)),
		Label:  p.Print(text.Say("web.drills.answer", "Your answer")),
		Action: f.Base + x.path(),
		Answer: p.Print(text.Say("web.drills.send", "Answer")),
		Pass:   p.Print(text.Say("web.drills.pass", "Show the answer")),
	}
	for _, q := range d.Patterns {
		g.Patterns = append(g.Patterns, flank{q.Flank + " side", sentence(picture.Words(q)), template.HTML(picture.TeethLive(q)), template.HTML(picture.FlankLive(q, 0, 0))})
	}
	for i, o := range d.Answer.Options {
		one := drillOption{Letter: drill.Letter(i), Text: p.Print(o.Text), Button: drill.Letter(i)}
		if one.Text == "" {
			one.Button = o.Word
		}
		g.Options = append(g.Options, one)
	}
	return g, d, nil
}

// answer says what an answer was worth, and shows the working.
func (f *face) answer(w http.ResponseWriter, r *http.Request, v visitor) error {
	x, err := roundOf(r)
	if err != nil || len(x.went) == len(x.plan) {
		return ErrNotFound
	}
	sent, err := readForm(w, r)
	if err != nil {
		return err
	}
	g, d, err := f.asked(v, x)
	if err != nil {
		return err
	}
	p := v.pen.Printer
	var reply *drill.Reply
	went := passedOver
	if sent.one("pass") == "" {
		said, err := d.Answer.Read(sent.one("answer"), p.Units())
		if err != nil {
			g.Reply, g.Wrong = sent.one("answer"), sentence(p.Error(err))
			return f.write(w, http.StatusUnprocessableEntity, "question", g)
		}
		reply, went = &said, answeredRight
		if right, wrong := d.Judge(said); !right {
			went = answeredWrong
			if wrong != nil {
				went += "~" + string(wrong.Misconception)
			}
		}
	}
	m := view.Mark(d, reply, p)
	g.Marked, g.Class = &m, bad
	if m.Right {
		g.Class = good
	}
	if l, err := lessons.Find(d.Lesson); err == nil {
		g.Lesson = &l
	}
	x.went = append(x.went, went)
	g.Next, g.Button = f.Base+x.path(), p.Print(text.Say("web.drills.next", "Next question"))
	if len(x.went) == len(x.plan) {
		g.Button = p.Print(text.Say("web.drills.how-it-went", "How the round went"))
	}
	verdict := strings.TrimSuffix(strings.TrimSuffix(m.Verdict, "."), ":")
	if verdict == "" {
		verdict = strings.TrimSuffix(m.Lead, ":")
	}
	g.Title = verdict + ". " + g.Title
	return f.write(w, http.StatusOK, "question", g)
}

type summaryPage struct {
	frame
	Right          string
	Kinds          []kindLine
	Shown          string
	Misconceptions []string
	Read           string
	Lessons        []lessons.Lesson
	Action         string
	Again          kindLine
	All            string
}

// summary tells how a round went.
func (f *face) summary(w http.ResponseWriter, v visitor, x round) error {
	p := v.pen.Printer
	var tally view.Tally
	missed := map[string]bool{}
	for i, went := range x.went {
		how, m, _ := strings.Cut(went, "~")
		if how == answeredRight {
			tally.Add(x.plan[i].Kind, true, "")
			continue
		}
		d, err := drill.Draw(x.plan[i])
		if err != nil {
			return err
		}
		if !slices.ContainsFunc(d.Wrongs, func(w drill.Wrong) bool { return string(w.Misconception) == m }) {
			m = "" // no answer to this question shows it
		}
		tally.Add(x.plan[i].Kind, false, drill.Misconception(m))
		missed[d.Lesson] = true
	}
	g := summaryPage{
		frame:  f.frame(v, p.Print(view.AllRight(tally)), x.path()),
		Right:  p.Print(view.AllRight(tally)),
		Shown:  p.Print(view.MisconceptionsShown()),
		Read:   p.Print(text.Say("web.drills.read", "Lessons on what was not right")),
		Action: f.Base + "/drills",
		Again:  kindLine{x.kind, p.Print(text.Say("web.drills.again", "Another round, {kind}", text.Typed("kind", x.name(p))))},
		All:    p.Print(text.Say("web.drills.others", "All drills")),
	}
	for _, k := range tally.Kinds {
		g.Kinds = append(g.Kinds, kindLine{string(k.Kind), p.Print(view.RightOf(k.Right, k.Asked))})
	}
	for _, m := range tally.Misconceptions {
		g.Misconceptions = append(g.Misconceptions, p.Print(m.Message()))
	}
	for _, l := range lessons.All() {
		if missed[l.ID] {
			g.Lessons = append(g.Lessons, l)
		}
	}
	if k, ok := tally.Missed(); ok && x.kind == mixed {
		one := round{kind: string(k)}
		g.Again = kindLine{one.kind, p.Print(text.Say("web.drills.that", "A round on {kind} alone", text.Typed("kind", one.name(p))))}
	}
	return f.write(w, http.StatusOK, "summary", g)
}
