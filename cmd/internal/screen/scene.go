package screen

import (
	"fmt"
	"slices"
	"strings"

	"shimwright/cmd/internal/bench"
	"shimwright/grading/coach"
	"shimwright/sim/act"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// A Scene is all that Draw shows.
type Scene struct {
	View    bench.View
	Printer text.Printer
	Menu    Menu
	Typed   string // what stands on the line that is typed
	Typing  bool   // a line is being typed
	Asks    *act.Act
	Shown   []history.Step // what was done last, with one key; empty for the last act alone
	Words   []coach.Word   // what the coach has to say of it
	Notes   []string       // said in the place of the tool
	Page    *Page          // a text over everything
	Told    []string       // of a reel: said in the place of the choices
	Foot    string         // of a reel: the last line
}

// A Page is a text that is read by itself.
type Page struct {
	Title string
	Lines []string
	Top   int    // first line shown
	Foot  string // what the keys do
}

// A Menu is how far somebody has come in choosing an act. The zero Menu is its beginning.
type Menu struct {
	Open  bool // a group has been chosen
	Group bench.Group
	Form  act.Form  // once Picked
	Pick  bool      // an act has been chosen and asks for more
	Act   act.Act   // with what has been given so far
	Rest  []act.Act // done after it
	Skip  int       // entries before the first that is shown
}

// A command is what a key does.
type command int

const (
	nothing command = iota
	openGroup
	pickForm
	giveOption
	giveAmount
	allLeft // all inspections that the procedure still asks for
	allRead // every line of the build sheet, as it was last fitted or read
	repeat
	round
	why
	takeBack
	signOff
	next
	hint
	card
	units
	keys
	typeLine
	leave
	back
	more
)

// An entry is something that can be chosen: its key, what stands beside it, and what it does.
type entry struct {
	key    string
	label  string
	does   command
	group  bench.Group
	form   act.Form
	option act.Option
	amount quantity.Entered
	round  bench.Round
	off    bool // shown, and cannot be chosen
	bar    bool // stands in the last line: it does nothing to the axle
}

// keysOf are the keys of lists, in their order.
const keysOf = "1234567890abcdefghijklmnop"

func keyOf(i int) string {
	if i < len(keysOf) {
		return keysOf[i : i+1]
	}
	return ""
}

// entries lists what can be chosen in a scene.
func (s Scene) entries() []entry {
	p := s.Printer
	switch {
	case s.Menu.Pick:
		return s.slotEntries()
	case s.Menu.Open:
		return s.groupEntries()
	}
	var out []entry
	for g := bench.Inspecting; g <= bench.Writing; g++ {
		can := slices.ContainsFunc(s.View.In(g), func(c bench.Choice) bool { return c.Why == nil })
		out = append(out, entry{key: keyOf(int(g)), label: p.Print(g.Name()), does: openGroup, group: g, off: !can})
	}
	if acts := s.View.Repeat; len(acts) > 0 {
		lines := make([]string, len(acts))
		for i, a := range acts {
			lines[i] = a.String()
		}
		out = append(out, entry{key: "r", label: p.Print(text.Say("screen.repeat", "again: {acts}", text.AllTyped("acts", lines...))), does: repeat})
	}
	for _, r := range s.View.Rounds {
		out = append(out, entry{key: roundKeys()[r.ID], label: p.Print(r.Name), does: round, round: r})
	}
	if len(s.View.Write) > 0 {
		out = append(out, entry{key: "=", label: p.Print(text.Say("screen.all-read", "write all as last read")), does: allRead})
	}
	if c, ok := s.View.Choice(act.SignOff); ok && c.Why == nil {
		out = append(out, entry{key: "s", label: p.Print(text.Say("screen.sign-off", "sign off")), does: signOff})
	}
	return append(out, s.bar()...)
}

// roundKeys are the keys of the rounds.
func roundKeys() map[string]string {
	return map[string]string{bench.GaugeRound: "g", bench.FinalRound: "f", bench.TightenRound: "t", bench.TurnRound: "v", bench.SidesRound: "d", bench.CaseRound: "k",
		bench.RunoutRound: "o", bench.LashRound: "l", bench.TeethRound: "p", bench.ApartRound: "a"}
}

// bar are the entries of the last line, the likeliest first: where it is narrow the last ones
// are left out, and their keys still do what they do.
func (s Scene) bar() []entry {
	p := s.Printer
	var out []entry
	add := func(key string, does command, m text.Message) {
		out = append(out, entry{key: key, label: p.Print(m), does: does, bar: true})
	}
	if s.View.Coached {
		add("w", why, text.Say("screen.why", "why"))
		add("b", takeBack, text.Say("screen.take-back", "take back"))
	}
	add("h", hint, text.Say("screen.hint", "hint"))
	add("n", next, text.Say("screen.next", "left"))
	add("c", card, text.Say("screen.card", "card"))
	add("?", keys, text.Say("screen.keys", "keys"))
	add("q", leave, text.Say("screen.leave", "leave"))
	add("/", typeLine, text.Say("screen.type", "type"))
	add("u", units, text.Say("screen.units", "inch/metric"))
	return out
}

func (s Scene) groupEntries() []entry {
	var out []entry
	left := 0
	for _, c := range s.View.In(s.Menu.Group) {
		if c.Why != nil {
			out = append(out, entry{label: c.Form.Pattern(), off: true})
			continue
		}
		label := lineOf(c.Form)
		if c.Minutes >= 10 {
			label = s.Printer.Print(text.Say("screen.takes", "{act} {time}", text.Typed("act", label), text.Minutes("time", float64(c.Minutes))))
		}
		if c.Left {
			label += " *"
			left++
		}
		out = append(out, entry{key: keyOf(len(out)), label: label, does: pickForm, form: c.Form})
	}
	if s.Menu.Group == bench.Inspecting && left > 0 {
		label := s.Printer.Print(text.Say("screen.all-left", "all {n} marked *", text.Count("n", left)))
		out = slices.Insert(out, 0, entry{key: "=", label: label, does: allLeft})
	}
	if s.Menu.Group == bench.Writing && len(s.View.Write) > 0 {
		out = slices.Insert(out, 0, entry{key: "=", label: s.Printer.Print(text.Say("screen.all-read-here", "all lines as last read")), does: allRead})
	}
	return out
}

// lineOf is the line of an act without what is to be filled in.
func lineOf(f act.Form) string {
	line, _, open := strings.Cut(f.String(), " {")
	if open {
		return line + "..."
	}
	return line
}

// slot is the slot that the menu has come to.
func (s Scene) slot() (bench.Slot, bool) {
	c, ok := s.View.Choice(s.Menu.Form)
	at := len(s.Menu.Act.Choices) + len(s.Menu.Act.Amounts)
	if !ok || at >= len(c.Slots) {
		return bench.Slot{}, false
	}
	return c.Slots[at], true
}

func (s Scene) slotEntries() []entry {
	slot, ok := s.slot()
	if !ok {
		return nil
	}
	var out []entry
	for i, o := range slot.Options {
		out = append(out, entry{key: keyOf(i), label: string(o), does: giveOption, option: o})
	}
	for i, e := range slot.Usual {
		out = append(out, entry{key: string(rune('a' + i)), label: e.String(), does: giveAmount, amount: e})
	}
	return out
}

// ask is what the line at the bottom asks for.
func (s Scene) ask() string {
	p := s.Printer
	switch {
	case s.Asks != nil:
		return p.Print(text.Say("screen.ask.expect", "What do you expect to read? Enter skips:"))
	case s.Typing:
		return ">"
	case s.Menu.Pick:
		slot, _ := s.slot()
		line := s.Menu.Act.String()
		if slot.Amount == "" {
			return p.Print(text.Say("screen.ask.option", "{line} - choose:", text.Typed("line", line)))
		}
		if slot.High > 0 && slot.Step > 0 {
			mm := quantity.Millimetres
			return p.Print(text.Say("screen.ask.shelf", "{line} - {low} to {high} by {step}:", text.Typed("line", line), text.Length("low", mm(slot.Low)), text.Length("high", mm(slot.High)), text.Length("step", mm(slot.Step))))
		}
		return p.Print(text.Say("screen.ask.amount", "{line} - a letter, or type an amount:", text.Typed("line", line)))
	case s.Menu.Open:
		return p.Print(text.Say("screen.ask.act", "Choose an act; Esc goes back."))
	}
	return ""
}

// title says what was done last.
func (s Scene) title(o history.Step) string {
	return s.Printer.Print(text.Say("screen.title", "{act}: act {n}", text.Typed("act", o.Act.String()), text.Count("n", o.After.Acts)))
}

// minutes is what has been spent.
func (s Scene) minutes() string {
	st := s.View.Status
	if st.PartsMinutes > 0 {
		return fmt.Sprintf("%.0f+%.0f min", float64(st.Minutes), float64(st.PartsMinutes))
	}
	return fmt.Sprintf("%.0f min", float64(st.Minutes))
}
