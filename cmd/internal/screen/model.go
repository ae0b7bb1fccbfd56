package screen

import (
	"errors"
	"slices"
	"strings"

	tea "charm.land/bubbletea/v2"

	"shimwright/cmd/internal/bench"
	"shimwright/cmd/internal/term"
	"shimwright/scenarios/attempt"
	"shimwright/sim/act"
	"shimwright/sim/history"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// Texts are the pages that somebody else writes, to a width.
type Texts struct {
	Card    func(units quantity.System, width int) string
	Closing func(units quantity.System, width int) (string, error) // what is told once the job is signed off
}

// A Model is the bench as it is worked by keys.
type Model struct {
	bench *bench.Bench
	texts Texts
	scene Scene
	color bool
	w, h  int

	skipped int            // questions left unanswered in a row
	after   []act.Act      // to be done once the question is answered
	carried []history.Step // what was done with the same key before the question
	signing bool           // the page shown asks whether to sign
	hints   int            // given since the last act
	err     error          // what ended the sitting, if it was an error
}

// askedOften is how many questions left unanswered in a row end the asking.
const askedOften = 2

// New returns the model of a bench.
func New(b *bench.Bench, p text.Printer, color bool, texts Texts) *Model {
	m := &Model{bench: b, texts: texts, color: color, w: 80, h: 24}
	m.scene.Printer = p
	m.see()
	return m
}

// Err is what ended the sitting; nil where it was left or the job is signed off.
func (m *Model) Err() error { return m.err }

// Scene is what is shown.
func (m *Model) Scene() Scene { return m.scene }

func (m *Model) see() { m.scene.View = m.bench.View(m.scene.Printer.Units()) }

// Init begins with nothing to do.
func (m *Model) Init() tea.Cmd { return nil }

// View draws the scene.
func (m *Model) View() tea.View {
	v := tea.NewView(Draw(m.scene, m.w, m.h, m.color))
	v.AltScreen = true
	return v
}

// Update takes a key, a paste or a new size.
func (m *Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.w, m.h = msg.Width, msg.Height
	case tea.PasteMsg:
		if m.scene.Asks == nil && !m.scene.Menu.Pick {
			m.scene.Typing = true
		}
		m.scene.Typed += strings.Join(strings.FieldsFunc(msg.Content, func(r rune) bool { return r == '\n' || r == '\r' }), "; ")
	case tea.KeyPressMsg:
		return m, m.key(msg)
	}
	return m, nil
}

func (m *Model) key(k tea.KeyPressMsg) tea.Cmd {
	switch k.String() {
	case "ctrl+c":
		return tea.Quit
	case "ctrl+z":
		if term.CanStop() {
			return tea.Suspend
		}
		return nil
	}
	switch {
	case m.scene.Page != nil:
		return m.pageKey(k.String())
	case m.scene.Typing || m.scene.Asks != nil:
		return m.typingKey(k)
	}
	return m.menuKey(k)
}

// pageKey turns a page or closes it.
func (m *Model) pageKey(k string) tea.Cmd {
	p := m.scene.Page
	full := m.h - 2
	last := max(0, len(p.Lines)-full)
	closed := m.scene.View.Status.SignedOff
	switch k {
	case "down", "j":
		p.Top = min(p.Top+1, last)
	case "up", "k":
		p.Top = max(p.Top-1, 0)
	case "pgdown", "space", " ":
		if p.Top < last || !m.signing && !closed {
			if p.Top >= last {
				m.scene.Page = nil
				break
			}
			p.Top = min(p.Top+full, last)
		}
	case "pgup", "b":
		p.Top = max(p.Top-full, 0)
	case "enter":
		if m.signing {
			m.scene.Page = nil
			return m.perform([]act.Act{{Form: act.SignOff}}, false)
		}
		if closed {
			return tea.Quit
		}
		m.scene.Page = nil
	case "esc", "q":
		if closed {
			return tea.Quit
		}
		m.scene.Page, m.signing = nil, false
	}
	return nil
}

// typingKey edits the line that is typed.
func (m *Model) typingKey(k tea.KeyPressMsg) tea.Cmd {
	s := &m.scene
	switch k.String() {
	case "esc":
		s.Typing, s.Typed, s.Asks, m.after, m.carried = false, "", nil, nil, nil
	case "enter":
		said := strings.TrimSpace(s.Typed)
		s.Typed = ""
		if s.Asks != nil {
			return m.answer(said)
		}
		s.Typing = false
		return m.run(said)
	case "tab":
		if s.Typing {
			m.complete()
		}
	default:
		m.edit(k)
	}
	return nil
}

// edit types or takes away a letter.
func (m *Model) edit(k tea.KeyPressMsg) {
	s := &m.scene
	switch k.String() {
	case "backspace":
		if r := []rune(s.Typed); len(r) > 0 {
			s.Typed = string(r[:len(r)-1])
		}
	case "ctrl+u":
		s.Typed = ""
	default:
		const longest = 400
		if len(s.Typed)+len(k.Text) < longest {
			s.Typed += k.Text
		}
	}
}

// complete completes the last word of the line that is typed.
func (m *Model) complete() {
	s := &m.scene
	line := s.Typed[strings.LastIndex(s.Typed, ";")+1:]
	done := ""
	if i := strings.LastIndex(strings.TrimLeft(line, " "), " "); i >= 0 {
		done = strings.TrimLeft(line, " ")[:i]
	}
	grown, list := term.Completed(s.Typed, bench.ReaderOn(s.View.Card.Family.Design, s.Printer.Units()).Next(done))
	s.Typed, s.Notes = grown, nil
	if len(list) > 0 {
		s.Notes = []string{strings.Join(list, "  ")}
	}
}

// run does the acts of a line that was typed.
func (m *Model) run(line string) tea.Cmd {
	var acts []act.Act
	for said := range strings.SplitSeq(line, ";") {
		if said = strings.TrimSpace(said); said == "" {
			continue
		}
		a, err := bench.ReadAct(m.scene.View.Card.Family.Design, said, m.scene.Printer.Units())
		if err != nil {
			m.scene.Notes = []string{said + ": " + m.scene.Printer.Error(err)}
			return m.perform(acts, true)
		}
		acts = append(acts, a)
	}
	m.scene.Notes = nil
	return m.perform(acts, true)
}

// menuKey chooses an entry, or types an amount that one asks for.
func (m *Model) menuKey(k tea.KeyPressMsg) tea.Cmd {
	s := &m.scene
	slot, amount := s.slot()
	amount = amount && s.Menu.Pick && slot.Amount != ""
	switch key := k.String(); {
	case key == "esc" || key == "left":
		m.goBack()
		return nil
	case amount && key == "enter":
		return m.typedAmount(slot)
	case amount && (key == "backspace" || key == "ctrl+u" || s.Typed != "" || strings.ContainsAny(k.Text, "0123456789.,")):
		m.edit(k)
		return nil
	case key == "enter" && s.Menu.Pick && len(slot.Options) > 0:
		return m.firsts()
	case key == "space", key == "/", key == " ":
		s.Typing, s.Typed, s.Menu = true, "", Menu{}
		return nil
	}
	shown, _ := s.fitting(m.choiceArea())
	for _, e := range append(shown, s.entries()...) {
		if e.key != "" && e.key == k.Text && !e.off {
			return m.choose(e)
		}
	}
	return nil
}

func (m *Model) choiceArea() (w, h int) {
	a := arrange(max(m.w, LeastWide), max(m.h, LeastHigh)).choices
	return a.w, a.h
}

// goBack takes back the last choice that has not led to an act.
func (m *Model) goBack() {
	s := &m.scene
	s.Typed, s.Notes = "", nil
	switch {
	case s.Menu.Pick:
		s.Menu = Menu{Open: true, Group: s.Menu.Group}
	default:
		s.Menu = Menu{}
	}
}

func (m *Model) choose(e entry) tea.Cmd {
	s := &m.scene
	p := s.Printer
	switch e.does {
	case openGroup:
		s.Menu, s.Notes = Menu{Open: true, Group: e.group}, nil
	case pickForm:
		return m.pick(e.form)
	case giveOption:
		s.Menu.Act.Choices = append(slices.Clone(s.Menu.Act.Choices), e.option)
		return m.filled()
	case giveAmount:
		s.Menu.Act.Amounts = append(slices.Clone(s.Menu.Act.Amounts), e.amount)
		return m.filled()
	case allLeft:
		var acts []act.Act
		for _, c := range s.View.In(bench.Inspecting) {
			if c.Left && c.Why == nil {
				acts = append(acts, act.Act{Form: c.Form})
			}
		}
		return m.perform(acts, false)
	case allRead:
		return m.perform(s.View.Write, false)
	case round:
		return m.round(e.round)
	case signOff:
		return m.perform([]act.Act{{Form: act.SignOff}}, false)
	case why:
		m.why()
	case takeBack:
		return m.takeBack()
	case repeat:
		return m.perform(s.View.Repeat, false)
	case next:
		m.page(text.Say("screen.page.next", "What is left"), m.left())
	case hint:
		m.hint()
	case card:
		m.page(text.Say("screen.page.card", "Job card"), strings.Split(m.texts.Card(p.Units(), m.w-1), "\n"))
	case units:
		s.Printer = p.In(p.Units().Other())
		m.see()
	case keys:
		m.page(text.Say("screen.page.keys", "Keys"), m.keyLines())
	case typeLine:
		s.Typing, s.Typed = true, ""
	case leave:
		return tea.Quit
	case more:
		shown, _ := s.fitting(m.choiceArea())
		s.Menu.Skip += len(shown) - 1
		if rest, _ := s.fitting(m.choiceArea()); len(rest) == 1 { // there is no more: the first again
			s.Menu.Skip = 0
		}
	}
	return nil
}

// round does acts that go together, once what the first one asks for is given.
func (m *Model) round(r bench.Round) tea.Cmd {
	if !r.Asks {
		return m.perform(r.Acts, true)
	}
	first := r.Acts[0]
	m.scene.Menu = Menu{Open: true, Group: bench.Fitting, Pick: true, Form: first.Form, Act: first, Rest: r.Acts[1:]}
	m.scene.Notes = nil
	return m.filled()
}

// why opens the reckoning of what the coach said last.
func (m *Model) why() {
	p := m.scene.Printer
	w, ok := m.bench.LastWord()
	if !ok {
		m.scene.Notes = []string{p.Print(text.Say("screen.why.nothing", "There is no decision yet to say more about."))}
		return
	}
	var lines []string
	for _, said := range append(w.Messages(), w.Reckoning()...) {
		lines = append(lines, m.hanging("- "+p.Print(said))...)
	}
	m.page(text.Say("screen.page.why", "Act {n}: {act}", text.Count("n", w.Act), text.Typed("act", m.bench.Shown()[w.Act-1].Act.String())), lines)
}

// takeBack goes back to before the last decision.
func (m *Model) takeBack() tea.Cmd {
	s := &m.scene
	fell, err := m.bench.TakeBack()
	switch {
	case errors.Is(err, attempt.ErrStands):
		s.Notes = []string{s.Printer.Error(err)}
		return nil
	case err != nil:
		m.err = err
		return tea.Quit
	}
	m.hints = 0
	s.Shown, s.Words, s.Menu = nil, nil, Menu{}
	s.Notes = []string{s.Printer.Print(bench.TakenBackMessage(fell))}
	m.see()
	return nil
}

// Example shows what the coach has done for a beginning, and says why it speaks or is silent.
func (m *Model) Example(shown []history.Step) {
	m.see()
	p := m.scene.Printer
	why, ok := m.bench.Fading()
	if len(shown) == 0 {
		if ok {
			m.scene.Notes = []string{p.Print(why)}
		}
		return
	}
	did := text.Say("screen.example", "The coach has done the first stage, to show how. {purpose} Now it is your turn.", text.Of("purpose", bench.Inspect.Purpose()))
	if m.bench.At() == bench.Inspect {
		did = text.Say("screen.example.half", "The coach has done half of the first stage. {purpose} The other half is yours.", text.Of("purpose", bench.Inspect.Purpose()))
	}
	lines := append(wrapped(p.Print(did), m.w-2), wrapped(p.Print(why), m.w-2)...)
	m.page(text.Say("screen.page.example", "An example"), append(append(lines, ""), m.findings(shown)...))
}

// findings say what each of some acts showed, hanging by its act.
func (m *Model) findings(shown []history.Step) []string {
	var lines []string
	for _, o := range shown {
		for _, said := range m.scene.linesOf([]history.Step{o}, m.w-2, true) {
			lines = append(lines, m.hanging(o.Act.String()+": "+said)...)
		}
	}
	return lines
}

// pick takes an act; one that asks for nothing is done.
func (m *Model) pick(f act.Form) tea.Cmd {
	m.scene.Menu.Pick, m.scene.Menu.Form, m.scene.Menu.Act, m.scene.Menu.Skip = true, f, act.Act{Form: f}, 0
	m.scene.Notes = nil
	return m.filled()
}

// filled goes on to the next slot, or does the act. Of the build sheet the latest reading
// is offered to be written.
func (m *Model) filled() tea.Cmd {
	s := &m.scene
	s.Typed = ""
	if slot, more := s.slot(); more {
		if s.Menu.Form == act.RecordValue && slot.Amount != "" && len(s.Menu.Act.Choices) > 0 {
			if e, ok := m.bench.Latest(s.Menu.Act.Choices[0], s.Printer.Units()); ok {
				m.offer(e)
			}
		}
		return nil
	}
	return m.perform(append([]act.Act{s.Menu.Act}, s.Menu.Rest...), true)
}

// firsts takes the first of every choice that is still open.
func (m *Model) firsts() tea.Cmd {
	s := &m.scene
	for {
		slot, ok := s.slot()
		if !ok || len(slot.Options) == 0 {
			return m.filled()
		}
		s.Menu.Act.Choices = append(slices.Clone(s.Menu.Act.Choices), slot.Options[0])
	}
}

// offer puts an amount among those that the open slot offers.
func (m *Model) offer(e quantity.Entered) {
	for i := range m.scene.View.Choices {
		if c := &m.scene.View.Choices[i]; c.Form == act.RecordValue {
			c.Slots = slices.Clone(c.Slots)
			c.Slots[1].Usual = []quantity.Entered{e}
		}
	}
}

// typedAmount takes the amount that was typed, or the first that is offered.
func (m *Model) typedAmount(slot bench.Slot) tea.Cmd {
	s := &m.scene
	if s.Typed == "" {
		if len(slot.Usual) > 0 {
			return m.choose(entry{does: giveAmount, amount: slot.Usual[0]})
		}
		return nil
	}
	e, err := quantity.ParseEntered(s.Typed, slot.Unit(s.Menu.Act.Choices, s.Printer.Units()))
	if err != nil {
		s.Notes = []string{s.Printer.Error(err)}
		return nil
	}
	return m.choose(entry{does: giveAmount, amount: e})
}

// answer takes what is expected, and goes on with the act that waited.
func (m *Model) answer(said string) tea.Cmd {
	s := &m.scene
	waits := *s.Asks
	if said == "" {
		m.skipped++
	} else {
		e, err := bench.Expected(strings.TrimPrefix(strings.ToLower(said), "expect"), waits, s.Printer.Units())
		if err != nil {
			s.Notes = []string{s.Printer.Error(err)}
			return nil
		}
		m.skipped = 0
		carried, words := m.carried, s.Words
		m.carried = nil
		if cmd := m.perform([]act.Act{e}, false); m.err != nil {
			return cmd
		}
		m.carried, s.Words = carried, words
	}
	s.Asks = nil
	rest := append([]act.Act{waits}, m.after...)
	m.after = nil
	return m.perform(rest, false)
}

// perform does acts until one is refused. With asking, a person may be asked first what they
// expect to read.
func (m *Model) perform(acts []act.Act, asking bool) tea.Cmd {
	s := &m.scene
	shown := m.carried
	if m.carried = nil; len(shown) == 0 {
		s.Words = nil
	}
	for i, a := range acts {
		if asking && m.skipped < askedOften && m.bench.Asks(a) {
			s.Asks, s.Typed, m.after, s.Menu, s.Notes = &acts[i], "", slices.Clone(acts[i+1:]), Menu{}, nil
			m.carried = shown
			m.see()
			return nil
		}
		if a.Form == act.SignOff && !m.signing && m.bench.WhyNot(act.SignOff) == nil {
			m.see()
			m.sign()
			return nil
		}
		o, err := m.bench.Do(a)
		m.signing, m.hints = false, 0
		switch {
		case bench.Refused(err):
			s.Notes = []string{a.String() + ": " + s.Printer.Error(err)}
			s.Menu = Menu{Open: s.Menu.Open, Group: s.Menu.Group}
			m.see()
			return nil
		case err != nil:
			m.err = err
			return tea.Quit
		}
		s.Notes = nil
		shown = append(shown, o)
		s.Shown = shown
		if words := m.bench.Words(); len(words) > 0 && m.bench.Says(words[len(words)-1]) {
			s.Words = append(s.Words, words[len(words)-1])
		}
		if a.Form == act.SignOff {
			return m.close()
		}
	}
	s.Menu = Menu{}
	m.see()
	const atOnce = 2 // inspections whose findings fit beside each other
	if len(shown) > atOnce && !slices.ContainsFunc(shown, func(o history.Step) bool { return o.Act.Form.Verb() != "inspect" && o.Act.Form.Verb() != "measure" }) {
		m.page(text.Say("screen.page.found", "What was found"), m.findings(shown))
	}
	return nil
}

// sign asks once whether to sign, and says what the acceptance list lacks where the terms
// give help.
func (m *Model) sign() {
	p := m.scene.Printer
	lacks := m.scene.View.Lacking()
	var lines []string
	switch {
	case m.bench.Header().Help == attempt.NoHelp:
	case len(lacks) == 0:
		lines = append(lines, p.Print(text.Say("screen.sign.nothing-lacks", "Every line of the acceptance list is proved.")))
	default:
		lines = append(lines, p.Print(text.Say("screen.sign.lacks", "The acceptance list is not complete. Not proved:")))
		for _, l := range lacks {
			lines = append(lines, m.hanging("- "+p.Print(bench.Todo{Line: &l}.Message()))...)
		}
	}
	lines = append(lines, "", p.Print(text.Say("screen.sign.closes", "Signing closes the job.")))
	m.signing = true
	m.scene.Menu = Menu{}
	m.scene.Page = &Page{Title: p.Print(text.Say("screen.page.sign", "Sign off?")), Lines: lines, Foot: p.Print(text.Say("screen.sign.keys", "Enter signs   Esc goes back to the bench"))}
}

// close shows what is told of a job that is signed off.
func (m *Model) close() tea.Cmd {
	m.see()
	told, err := m.texts.Closing(m.scene.Printer.Units(), m.w-1)
	if err != nil {
		m.err = err
		return tea.Quit
	}
	m.page(text.Say("screen.page.closed", "Signed off"), strings.Split(told, "\n"))
	m.scene.Page.Foot = m.scene.Printer.Print(text.Say("screen.closed.keys", "Space goes on   b goes back   q leaves"))
	return nil
}

func (m *Model) page(title text.Message, lines []string) {
	p := m.scene.Printer
	m.scene.Page = &Page{Title: p.Print(title), Lines: lines, Foot: p.Print(text.Say("screen.page.foot", "Space goes on   b goes back   Esc closes"))}
}

func (m *Model) hanging(s string) []string {
	lines := wrapped(s, m.w-4)
	for i := 1; i < len(lines); i++ {
		lines[i] = "  " + lines[i]
	}
	return lines
}

// helps tells whether the terms give a help.
func (m *Model) helps(takes attempt.Help) bool {
	return m.bench.Header().Help.Gives(takes)
}

func (m *Model) noHelp() []string {
	return []string{m.scene.Printer.Print(text.Say("screen.no-help", "This job gives no such help."))}
}

// left lists what is left of the procedure.
func (m *Model) left() []string {
	if !m.helps(attempt.LittleHelp) {
		return m.noHelp()
	}
	p := m.scene.Printer
	lines := []string{p.Print(m.scene.View.At.Purpose())}
	lines = wrapped(lines[0], m.w-2)
	stage := bench.Stage(-1)
	for _, t := range m.scene.View.Left {
		if t.Stage != stage {
			stage = t.Stage
			lines = append(lines, "", p.Print(stage.Name())+":")
		}
		said := p.Print(t.Message())
		if t.Line == nil {
			said = t.Form.String() + ": " + said
		}
		lines = append(lines, m.hanging("- "+said)...)
	}
	return lines
}

// hint says a little more each time it is asked for at one place.
func (m *Model) hint() {
	s := &m.scene
	if !m.helps(attempt.FullHelp) {
		s.Notes = m.noHelp()
		return
	}
	m.hints = min(m.hints+1, bench.Hints)
	s.Notes = nil
	if m.hints == 1 {
		s.Notes = []string{s.Printer.Print(s.View.At.Purpose())}
	}
	s.Notes = append(s.Notes, s.Printer.Print(m.bench.HintAt(m.hints)))
}

// keyLines explain the keys.
func (m *Model) keyLines() []string {
	p := m.scene.Printer
	var lines []string
	for _, e := range (Scene{View: m.scene.View, Printer: p}).entries() {
		lines = append(lines, "  "+e.key+"  "+e.label)
	}
	for _, say := range []text.Message{
		text.Say("screen.keys.choose", "A number opens a group; in it a number or letter does an act or asks for its size. Sizes have letters, or are typed; Enter takes the first of all that is still asked for."),
		text.Say("screen.keys.all", "= makes all inspections marked *, one act each; elsewhere it writes every open line of the build sheet as it was last fitted or read."),
		text.Say("screen.keys.rounds", "Letters beside the groups do acts that go together; those that can be begun now are shown. r does the last ones again, s signs off."),
		text.Say("screen.keys.type", "Space or / types acts as they are written on the build sheet, with ; between several; Tab completes."),
		text.Say("screen.keys.leave", "Esc goes back a step. Ctrl-C leaves; every act is kept as it is done. Ctrl-Z stops where there is a shell."),
	} {
		lines = append(lines, "")
		lines = append(lines, wrapped(p.Print(say), m.w-2)...)
	}
	return lines
}
