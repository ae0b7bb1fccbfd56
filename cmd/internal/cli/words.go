package cli

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/quantity"
)

// word answers the words of the session that are not acts.
func (x *session) word(line string) (handled bool, err error) {
	word := strings.Fields(line)[0]
	rest := strings.TrimSpace(line[len(word):])
	switch strings.ToLower(word) {
	case "now":
		if err = x.helps(attempt.LittleHelp); err == nil {
			x.now()
		}
	case "help":
		err = x.help(strings.ToLower(rest))
	case "known":
		x.known()
	case "spent":
		x.say("%s", view.Wrap(view.Spent(x.stand.Status(), x.job.Card.Budget), x.pen.Width, "  "))
	case "card":
		err = x.card(strings.ToLower(rest))
	case "sheet":
		x.sheet()
	case "lesson":
		if err = x.helps(attempt.FullHelp); err == nil {
			err = x.lesson(strings.ToLower(rest))
		}
	case "units":
		err = x.changeUnits(rest)
	case "picture":
		if err = savePicture(rest, x.lastPattern); err == nil {
			x.say("  Written: %s\n", rest)
		}
	case "leave", "quit", "exit":
		return true, errLeft
	default:
		return false, nil
	}
	if err != nil {
		err = x.decline(line, err)
	}
	return true, err
}

// helps says why a word is not answered in an exercise that gives less help than it takes.
func (x *session) helps(takes attempt.Help) error {
	given := x.rec.Header.Help
	if given == attempt.FullHelp || given == takes {
		return nil
	}
	return errors.New("this exercise gives no such help: type help for how acts are written")
}

// actsHere lists the acts that have a place on this axle, at this bench.
func (x *session) actsHere() []act.Usage {
	var out []act.Usage
	for _, u := range actsOn(x.axle.Design) {
		if x.stand.NotHere(u.Form) == "" {
			out = append(out, x.usageHere(u))
		}
	}
	return out
}

// usageHere leaves out of an act's usage what this bench has not, and says what the
// signature is for.
func (x *session) usageHere(u act.Usage) act.Usage {
	for _, l := range x.job.Card.Known.Off {
		if l.Form == u.Form {
			u.Line = strings.NewReplacer("|"+l.Word, "", l.Word+"|", "").Replace(u.Line)
		}
	}
	if u.Form == act.SignOff {
		u.Help = view.SignsFor(x.axle.kind)
	}
	return u
}

// command returns what to type to do something with this attempt.
func (x *session) command(what string) string {
	return x.pen.Command(what + " " + term.Quote(x.path))
}

// term writes a word of the session and what it is for.
func (x *session) term(word, what string) {
	const column = 10
	x.say("%s", x.pen.Field("  "+word, what, column))
}

// now lists what can be done. Acts of one verb that take no amount and no choice stand
// together, so that the list fits a small screen.
func (x *session) now() {
	x.say("%s", view.Wrap(x.pen.Strong(x.status()), x.pen.Width, "  "))
	plain := map[string][]string{} // by verb: what it is done to
	var order []act.Usage
	for _, f := range x.stand.Possible() {
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
	x.say("%s", view.Wrap("Pick one where strokes stand, fill in CAPITALS; help measure says more.", x.pen.Width, "  "))
}

// status says how the axle stands.
func (x *session) status() string { return view.Status(x.axle.Design, x.stand.Status(), x.units) }

// usage writes an act's line and what it is for, side by side where there is room. Brief
// leaves out what it is for where there is none.
func (x *session) usage(u act.Usage, brief bool) {
	const column = 30
	name := "  " + plainForm(u.Line)
	if len(name) < column {
		x.say("%s", x.pen.Field(name, u.Help, column))
		return
	}
	if both := name + "   " + u.Help; len(both) <= x.pen.Width {
		x.say("%s\n", both)
		return
	}
	x.say("%s", view.Hang(name[2:], x.pen.Width, "  ", "      "))
	if !brief {
		x.say("%s", view.Wrap(u.Help, x.pen.Width, "      "))
	}
}

// few is how many choices may stand together without a blank between them.
const few = 3

// aBlank matches a blank of an act's form.
var aBlank = regexp.MustCompile(`\{[^{}]*\}`)

// plainForm writes the blanks of an act's line the way help explains them: what is
// to be filled in as a word in capitals, a choice with strokes.
func plainForm(line string) string {
	names := map[string]string{"{length}": "SIZE", "{torque}": "TORQUE", "{angle}": "DEGREES", "{places}": "PLACES", "{amount}": "AMOUNT", "{turns}": "TURNS", "{slots}": "SLOTS"}
	return aBlank.ReplaceAllStringFunc(line, func(blank string) string {
		if name, ok := names[blank]; ok {
			return name
		}
		choices := strings.Split(strings.Trim(blank, "{}"), "|")
		if len(choices) > few {
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

// plainError says what was wrong with a line, in words that have a place on this axle.
// Where the act needs more, the form it ends with keeps the choices that were made
// already, and stands for a list of those that can be made.
func plainError(d family.Design, line string, err error) string {
	text := lineOn(d, err.Error())
	if what, _, ok := strings.Cut(text, begin); ok && errors.Is(err, act.ErrNotAnAct) {
		return what + begin + strings.Join(verbsOn(d), ", ")
	}
	if what, _, ok := strings.Cut(text, sayOneOf); ok && errors.Is(err, act.ErrNotAnAct) {
		return what + sayOneOf + strings.Join(objectsOn(d, strings.Fields(strings.ToLower(line))[0]), ", ")
	}
	what, form, ok := strings.Cut(text, "; write: ")
	if !ok || !errors.Is(err, act.ErrIncomplete) {
		return plainForm(text)
	}
	what = strings.TrimPrefix(what, act.ErrIncomplete.Error()+": ")
	word, _, none := strings.Cut(what, " is none of ")
	what = strings.Replace(what, "s is missing", "s are missing", 1)
	switch {
	case strings.HasPrefix(what, "choose "):
		what = "say which"
	case none:
		what = word + " is none of those"
	}
	return fmt.Sprintf("%v: %s; write: %s", act.ErrIncomplete, what, plainForm(filledIn(form, line)))
}

// How the errors of act.Parse end that list what there is.
const (
	begin    = "; acts begin with "
	sayOneOf = " say one of: "
)

// filledIn puts the choices that a line has made into an act's form. A choice may be
// written as two words.
func filledIn(form, line string) string {
	said := strings.Fields(strings.ToLower(line))
	blanks := strings.Fields(form)
	for i, blank := range blanks {
		if len(said) == 0 {
			break
		}
		inner, open := strings.CutPrefix(blank, "{")
		choices := strings.Split(strings.TrimSuffix(inner, "}"), "|")
		used := 1
		for n := 1; n <= min(2, len(said)); n++ {
			if word := strings.Join(said[:n], "-"); open && slices.Contains(choices, word) || word == blank {
				blanks[i], used = word, n
			}
		}
		said = said[used:]
	}
	return strings.Join(blanks, " ")
}

// help explains how to write at the bench, or the acts that begin with a word.
func (x *session) help(about string) error {
	d := x.axle.Design
	if about != "" {
		found := false
		for _, u := range x.actsHere() {
			if verb, _, _ := strings.Cut(u.Line, " "); about == "acts" || verb == about {
				x.usage(u, false)
				found = true
			}
		}
		if !found {
			return fmt.Errorf("no act begins with %q: acts begin with %s", about, strings.Join(verbsOn(d), ", "))
		}
		return nil
	}
	bare := "inches, lb-in for drag and lb-ft for the nut"
	if x.units == quantity.Metric {
		bare = "millimetres or N·m"
	}
	x.say("%s", view.Wrap(fmt.Sprintf("An act is a line such as: fit depth-shim 0.030in, or: fit depth-shim 0.76mm. A number without a unit is %s. Acts begin with %s.", bare, strings.Join(verbsOn(d), ", ")), x.pen.Width, "  "))
	x.say("%s", view.Wrap("Other words:", x.pen.Width, "  "))
	if x.helps(attempt.LittleHelp) == nil {
		x.term("now", "what can be done at this moment, and how to write it")
	}
	x.term("help", "help measure: what acts that begin so are for; help acts: all acts")
	x.term("known", "what has been read so far")
	x.term("spent", "minutes and parts so far")
	x.term("card", "the job; for the rest "+x.cardPartWords())
	x.term("expect", "then what you think you will read next: expect 0.0065in")
	x.term("sheet", "the build sheet you fill in with record")
	x.term("units", "then inch or metric: what is shown and what a bare number means")
	if x.helps(attempt.FullHelp) == nil {
		x.term("lesson", "the lessons there are; then a name to read one")
	}
	x.term("picture", "then FILE.png or FILE.svg: saves the last print on the teeth")
	x.term("leave", "stop and go on later")
	return nil
}

// cardPartWords lists what to type for the parts of the card that are not shown first.
func (x *session) cardPartWords() string {
	return "card " + strings.Join(view.CardParts(x.axle.kind)[1:], "/")
}

// card shows a part of the job card.
func (x *session) card(part string) error {
	if part == "" {
		part = view.CardParts(x.axle.kind)[0]
	}
	text, ok := view.CardPart(x.job.Card, part, x.units, x.pen)
	if !ok {
		return noCardPart(x.axle.kind, part)
	}
	x.say("%s", text)
	return nil
}

func noCardPart(k scenarios.Kind, part string) error {
	return fmt.Errorf("the card has no part called %q: its parts are %s; all shows them all", part, strings.Join(view.CardParts(k), ", "))
}

func (x *session) lesson(name string) error {
	if name == "" {
		x.say("%s%s", lessonList(x.pen), view.Wrap("Type lesson and a name to read one.", x.pen.Width, ""))
		return nil
	}
	err := patternLesson(x.s.Out, name, "", x.pen)
	if err == nil {
		return nil
	}
	// At the bench another command than outside lists the lessons.
	what, _, _ := strings.Cut(err.Error(), "; run ")
	return fmt.Errorf("%s; lesson alone lists them all", what)
}

func (x *session) changeUnits(name string) error {
	if name == "" {
		other := quantity.Metric
		if x.units == quantity.Metric {
			other = quantity.Inch
		}
		x.say("%s", view.Wrap(fmt.Sprintf("Units are %s. To change them, type: units %s", x.units, other), x.pen.Width, "  "))
		return nil
	}
	u, err := quantity.ParseSystem(name)
	if err != nil {
		return err
	}
	x.units = u
	x.say("  Units are now %s.\n", u)
	return nil
}

// taken tells which shim was taken where that is not the size that was typed: a shelf
// has its steps, and a size typed in the other unit is rounded.
func (x *session) taken(a act.Act) {
	st := x.stand.Status()
	var got []quantity.Length
	switch a.Form {
	case act.FitDepthShim:
		got = []quantity.Length{st.DepthShim}
	case act.FitPreloadShims:
		got = []quantity.Length{st.PreloadShims}
	case act.FitSideShims:
		got = []quantity.Length{st.RingGearShim, st.OppositeShim}
	}
	for i, size := range got {
		asked, ok := a.Amounts[i].Length()
		if !ok || asked.Show(x.units) == size.Show(x.units) {
			continue
		}
		shown := size.Show(x.units)
		if typed := systemOf(a.Amounts[i]); typed != x.units {
			shown += " (" + size.Show(typed) + ")"
		}
		x.say("%s", view.Wrap(fmt.Sprintf("The shelf has no %s; the nearest, %s, is taken.", a.Amounts[i], shown), x.pen.Width, "    "))
	}
}

// systemOf returns the system a length was typed in.
func systemOf(e quantity.Entered) quantity.System {
	if e.Unit == quantity.UnitMM {
		return quantity.Metric
	}
	return quantity.Inch
}

// known lists the readings so far, each act once.
func (x *session) known() {
	read := false
	for i, o := range x.outs {
		for k, r := range o.Readings {
			read = true
			if k == 0 {
				x.say("%s", view.Wrap(fmt.Sprintf("act %d, %s", i+1, o.Act), x.pen.Width, "  "))
			}
			x.say("%s", view.Reading(r, x.units, x.pen))
		}
	}
	if !read {
		x.say("%s", view.Wrap("Nothing has been read yet. The card has the old shims and the marks.", x.pen.Width, "  "))
	}
}

func (x *session) sheet() {
	st := x.stand.Status()
	if len(st.Sheet) == 0 {
		x.say("%s", view.Wrap("The build sheet is empty. Write on it with, for example: record backlash 0.0065in", x.pen.Width, "  "))
		return
	}
	for _, e := range st.Sheet {
		x.say("%s", view.SheetLine(e, x.units))
	}
}
