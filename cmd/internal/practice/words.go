package practice

import (
	"regexp"
	"strings"

	"shimwright/cmd/internal/bench"
	"shimwright/cmd/internal/job"
	"shimwright/cmd/internal/line"
	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/view"
	"shimwright/lessons"
	"shimwright/scenarios/attempt"
	"shimwright/sim/act"
	"shimwright/sim/quantity"

	"shimwright/sim/text"
)

// words are what is answered at any time besides acts, in the order of help. A word without
// help is not offered where the terms give none.
func (x *session) words() []line.Word {
	offered := func(takes attempt.Help, help string) string {
		if x.helps(takes) != nil {
			return ""
		}
		return help
	}
	coached := func(help string) string { return offered(attempt.CoachHelp, help) }
	return []line.Word{
		{Name: "now", Help: offered(attempt.LittleHelp, x.s.Print(text.Say("practice.words.what-can-be-done", "what can be done at this moment, and how to write it"))), Do: x.now},
		{Name: "next", Help: offered(attempt.LittleHelp, x.s.Print(text.Say("practice.words.what-left-do-what", "what is left to do, and what is not proved yet"))), Do: x.next},
		{Name: "hint", Help: offered(attempt.FullHelp, x.s.Print(text.Say("practice.words.what-comes-next-asked", "what comes next; asked for again, a little more of it"))), Do: x.hint},
		{Name: "why", Help: coached(x.s.Print(text.Say("practice.words.how-cost-last-decision", "how the cost of the last decision comes about"))), Do: x.why},
		{Name: "back", Also: []string{"take", "undo"}, Help: coached(x.s.Print(text.Say("practice.words.take-back-before-last", "take back: to before the last decision"))), Do: x.takeBack},
		{Name: "status", Help: x.s.Print(text.Say("practice.words.stage-parts-every-reading", "stage, parts, and every reading beside its spec")), Do: x.standing},
		{Name: "repeat", Also: []string{"r"}, Help: x.s.Print(text.Say("practice.words.last-round-again-such", "the last round again, such as tighten, turn, measure")), Do: x.repeat},
		{Name: "help", Also: []string{"?"}, Help: x.s.Print(text.Say("practice.words.help-measure-acts-begin", "help measure: acts that begin so; help acts; help score")), Do: x.help},
		{Name: "known", Help: x.s.Print(text.Say("practice.words.what-has-been-read", "what has been read so far")), Do: x.known},
		{Name: "spent", Help: x.s.Print(text.Say("practice.words.minutes-parts-so-far", "minutes and parts so far")), Do: x.spent},
		{Name: "card", Help: x.s.Print(text.Say("practice.words.job-for-rest", "the job; for the rest {card_part_words}", text.Typed("card_part_words", x.cardPartWords()))), Do: x.card},
		{Name: "sheet", Help: x.s.Print(text.Say("practice.words.build-sheet-you-fill", "the build sheet you fill in with record")), Do: x.sheet},
		{Name: "units", Help: x.s.Print(text.Say("practice.words.then-inch-metric-what", "then inch or metric: what is shown and what a bare number means")), Do: x.changeUnits},
		{Name: "lesson", Help: offered(attempt.FullHelp, x.s.Print(text.Say("practice.words.lessons-there-then-name", "the lessons there are; then a name to read one"))), Do: x.lesson},
		{Name: "picture", Help: x.s.Print(text.Say("practice.words.then-file-png-file", "then FILE.png or FILE.svg: saves the last contact pattern")), Do: x.picture},
		line.Leave(x.s.Print(text.Say("practice.words.stop-go-later", "stop and go on later"))),
	}
}

// helps says why a word is not answered in an exercise that gives less help than it takes.
func (x *session) helps(takes attempt.Help) error {
	if x.Header().Help.Gives(takes) {
		return nil
	}
	return text.Fail(nil, text.Say("practice.words.this-job-gives-no", "this job gives no such help: type help for how acts are written"))
}

// actsHere lists the acts that have a place on this axle, at this bench.
func (x *session) actsHere() []act.Usage {
	var out []act.Usage
	for _, u := range actsOn(x.axle.Design) {
		if x.HasNoPlace(u.Form).IsZero() {
			out = append(out, x.usageHere(u))
		}
	}
	return out
}

// usageHere leaves out of an act's usage what this bench does not have.
func (x *session) usageHere(u act.Usage) act.Usage {
	for _, l := range x.Card().Known.Off {
		if l.Form == u.Form {
			u.Line = strings.NewReplacer("|"+string(l.Word), "", string(l.Word)+"|", "").Replace(u.Line)
		}
	}
	return u
}

// explain writes a word of the session and what it is for.
func (x *session) explain(word, what string) {
	const column = 10
	x.say("%s", x.pen.Field("  "+word, what, column))
}

// now lists what can be done. Acts of one verb that take no amount and no choice stand
// together, so that the list fits a small screen.
func (x *session) now(string) error {
	if err := x.helps(attempt.LittleHelp); err != nil {
		return err
	}
	x.wrap("  ", "%s", x.pen.Strong(x.status()))
	plain := map[string][]string{} // by verb: what it is done to
	var order []act.Usage
	for _, f := range x.Possible() {
		if f == act.ExpectValue {
			continue // can be said at any time: one of the words of help
		}
		u := x.usageHere(usageOn(x.axle.Design, f.Usage()))
		verb, thing, _ := strings.Cut(u.Line, " ")
		if strings.Contains(u.Line, "{") {
			u.Line = shortForm(u.Line)
			order = append(order, u)
			continue
		}
		if plain[verb] = append(plain[verb], thing); len(plain[verb]) == 1 {
			order = append(order, u)
		}
	}
	for _, u := range order {
		verb, _, _ := strings.Cut(u.Line, " ")
		if things := plain[verb]; len(things) > 1 && !strings.Contains(u.Line, "{") {
			x.say("%s", view.Hang(strings.Join(things, " / "), x.pen.Width, "  "+verb+" ", "      "))
			continue
		}
		x.usage(u, true)
	}
	x.wrap("  ", "%s", x.s.Print(text.Say("practice.words.pick-one-where-there", "Pick one where there are strokes, fill in CAPITALS; help measure says more.")))
	return nil
}

// status says how the axle stands.
func (x *session) status() string { return view.Status(x.axle.Design, x.Status(), x.pen) }

// usage writes an act's line and what it is for, side by side where there is room. Brief
// leaves out what it is for where there is none.
func (x *session) usage(u act.Usage, brief bool) {
	const column = 30
	help := x.pen.Print(u.Help)
	if u.Form == act.SignOff {
		help = x.s.Print(view.SignsFor(x.axle.Kind))
	}
	name := "  " + plainForm(u.Line)
	if len(name) < column {
		x.say("%s", x.pen.Field(name, help, column))
		return
	}
	if both := name + "   " + help; len(both) <= x.pen.Width {
		x.say("%s\n", both)
		return
	}
	x.say("%s", view.Hang(name[2:], x.pen.Width, "  ", "      "))
	if !brief {
		x.say("%s", view.Wrap(help, x.pen.Width, "      "))
	}
}

// few is how many choices may stand together without a blank between them.
const few = 3

// aBlank matches a blank of an act's form.
var aBlank = regexp.MustCompile(`\{[^{}]*\}`)

// plainForm writes the blanks of an act's line the way help explains them: what is
// to be filled in as a word in capitals, a choice with strokes.
func plainForm(line string) string {
	return aBlank.ReplaceAllStringFunc(line, func(blank string) string {
		choices := strings.Split(strings.Trim(blank, "{}"), "|")
		switch {
		case len(choices) == 1:
			return strings.ToUpper(choices[0])
		case len(choices) > few:
			return strings.Join(choices, " / ")
		}
		return strings.Join(choices, "/")
	})
}

// shortForm is a form whose long choices are left to help.
func shortForm(line string) string {
	return aBlank.ReplaceAllStringFunc(line, func(blank string) string {
		if strings.Count(blank, "|") >= few {
			return "ITEM"
		}
		return blank
	})
}

// help explains how to write at the bench, or the acts that begin with a word.
func (x *session) help(about string) error {
	verbs := strings.Join(bench.ReaderOn(x.axle.Design, x.pen.Units()).Verbs(), ", ")
	if about = strings.ToLower(about); about == "score" {
		for _, said := range view.HowScored(x.pen.Printer) {
			x.wrap("  ", "%s", said)
		}
		return nil
	}
	if about != "" {
		found := false
		for _, u := range x.actsHere() {
			if verb, _, _ := strings.Cut(u.Line, " "); about == "acts" || verb == about {
				x.usage(u, false)
				found = true
			}
		}
		if !found {
			return text.Fail(nil, text.Say("practice.words.no-act-begins-acts", "no act begins with {about}: acts begin with {verbs}", text.Quoted("about", about), text.Typed("verbs", verbs)))
		}
		return nil
	}
	bare := x.s.Print(text.Say("practice.words.inches-lb-for-rotating", "inches, lb-in for rotating torque and lb-ft for the nut"))
	if x.pen.Units() == quantity.Metric {
		bare = x.s.Print(text.Say("practice.words.millimeters-n-m", "millimeters or N·m"))
	}
	x.wrap("  ", "%s", x.s.Print(text.Say("practice.words.act-line-such-as", "An act is a line such as: fit depth-shim 0.030in, or: fit depth-shim 0.76mm. A number without a unit is {bare}. Acts begin with {verbs}.", text.Typed("bare", bare), text.Typed("verbs", verbs))))
	x.wrap("  ", "%s", x.s.Print(text.Say("practice.words.other-words", "Other words:")))
	for _, w := range x.words() {
		if w.Help != "" {
			x.explain(w.Name, w.Help)
		}
		if w.Name == "card" {
			x.explain("expect", x.s.Print(text.Say("practice.words.then-what-you-think", "then what you think you will read next: expect 0.0065in")))
		}
	}
	return nil
}

// cardPartWords lists what to type for the parts of the card that are not shown first.
func (x *session) cardPartWords() string {
	return "card " + strings.Join(view.CardParts(x.axle.Kind)[1:], "/")
}

// card shows a part of the job card.
func (x *session) card(part string) error {
	if part = strings.ToLower(part); part == "" {
		part = view.CardParts(x.axle.Kind)[0]
	}
	text, ok := view.CardPart(x.Card(), part, x.pen)
	if !ok {
		return view.NoCardPart(x.axle.Kind, part)
	}
	x.say("%s", text)
	return nil
}

func (x *session) lesson(name string) error {
	if err := x.helps(attempt.FullHelp); err != nil {
		return err
	}
	if name == "" {
		x.say("%s", view.LessonNames(x.pen))
		x.wrap("", "%s", x.s.Print(text.Say("practice.words.type-lesson-name-read", "Type lesson and a name to read one, or lesson all to see what each is about.")))
		return nil
	}
	if strings.EqualFold(name, "all") {
		x.say("%s", view.LessonList(x.pen))
		return nil
	}
	l, err := lessons.Find(strings.ToLower(name))
	if err != nil {
		return text.Fail(err, text.Say("practice.words.lesson-alone-lists-them", "{why}; lesson alone lists them all", text.Cause("why", err)))
	}
	prose, err := view.Lesson(l.Title, l.Body, x.pen.Command(job.Asked{Name: l.TryFamily}.Practice(l.TrySeed)), x.pen)
	x.say("%s\n", prose)
	return err
}

func (x *session) spent(string) error {
	x.wrap("  ", "%s", view.Spent(x.Status(), x.Card().Budget, x.pen.Printer))
	return nil
}

// picture saves the last contact pattern. Scripts are often handed in by others: they write
// nothing but their attempt, unless whoever starts them says so.
func (x *session) picture(path string) error {
	if !x.s.Person && !x.pictures {
		return text.Fail(nil, text.Say("practice.words.script-saves-no-pictures", "a script saves no pictures: start it with --pictures to let it"))
	}
	o, _ := x.LastPattern()
	if err := store.SavePicture(x.pen.Printer, path, o); err != nil {
		return err
	}
	x.say("%s\n", x.s.Print(text.Say("practice.words.written", "  Written: {path}", text.Typed("path", path))))
	return nil
}

func (x *session) changeUnits(name string) error {
	if name == "" {
		other := quantity.Metric
		if x.pen.Units() == quantity.Metric {
			other = quantity.Inch
		}
		x.say("%s", view.Wrap(x.s.Print(text.Say("practice.words.units-change-them-type", "Units are {units}. To change them, type: units {other}", text.Typed("units", x.pen.Units().String()), text.Typed("other", other.String()))), x.pen.Width, "  "))
		return nil
	}
	u, err := quantity.ParseSystem(name)
	if err != nil {
		return err
	}
	x.pen = x.pen.In(u)
	x.say("%s\n", x.s.Print(text.Say("practice.words.units-now", "  Units are now {it}.", text.Typed("it", u.String()))))
	return nil
}

// known lists the readings so far, each act once.
func (x *session) known(string) error {
	read := false
	for i, o := range x.Shown() {
		for k, r := range o.Readings {
			read = true
			if k == 0 {
				x.say("%s", view.Wrap(x.s.Print(text.Say("practice.words.act", "act {number}, {act}", text.Count("number", i+1), text.Typed("act", o.Act.String()))), x.pen.Width, "  "))
			}
			x.say("%s", view.Reading(r, x.pen))
		}
	}
	if !read {
		x.wrap("  ", "%s", x.s.Print(text.Say("practice.words.nothing-has-been-read", "Nothing has been read yet. The card has the old shims and the marks.")))
	}
	return nil
}

func (x *session) sheet(string) error {
	st := x.Status()
	if len(st.Sheet) == 0 {
		x.wrap("  ", "%s", x.s.Print(text.Say("practice.words.build-sheet-empty-write", "The build sheet is empty. Write on it with, for example: record backlash 0.0065in")))
	}
	for _, e := range st.Sheet {
		x.say("%s", view.SheetLine(e, x.pen))
	}
	return nil
}
