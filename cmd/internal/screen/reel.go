//go:build !js

package screen

import (
	"time"

	tea "charm.land/bubbletea/v2"

	"shimwright/cmd/internal/term"
	"shimwright/sim/text"
)

// A Reel plays scenes at reading pace, and ends with a page.
type Reel struct {
	scenes []Scene
	page   Page // after the last scene
	at     int
	halted bool // by going back: it goes on by hand
	color  bool
	w, h   int
	p      text.Printer
}

// NewReel returns a reel at its first scene; the page after the last one has some lines.
func NewReel(scenes []Scene, page []string, p text.Printer, color bool) *Reel {
	return &Reel{scenes: scenes, color: color, w: 80, h: 24, p: p,
		page: Page{Title: p.Print(text.Say("reel.page", "What came of it")), Lines: page, Foot: p.Print(text.Say("reel.page.foot", "Space goes on   b goes back   q leaves"))}}
}

// PlayReel plays a reel until it is left; a nil player is the process's own terminal.
func PlayReel(r *Reel, s term.Streams, play Player) error {
	if play == nil {
		play = OnTerminal
	}
	return play(r, s)
}

// read says that a scene has been shown for long enough.
type read struct{ at int }

// pace is how long a scene is shown: time to see it, and to read what is said.
func (r *Reel) pace() time.Duration {
	const (
		least, most = 1500 * time.Millisecond, 12 * time.Second
		aLetter     = 45 * time.Millisecond
	)
	letters := 0
	s := r.scenes[r.at]
	for _, w := range s.Words {
		for _, m := range w.Messages() {
			letters += len(r.p.Print(m))
		}
	}
	for _, said := range append(s.linesOf(s.Shown, r.w, true), s.Told...) {
		letters += len(said)
	}
	return min(most, least+time.Duration(letters)*aLetter)
}

func (r *Reel) tick() tea.Cmd {
	if r.halted || r.at >= len(r.scenes) {
		return nil
	}
	at := r.at
	return tea.Tick(r.pace(), func(time.Time) tea.Msg { return read{at} })
}

// Init begins to play.
func (r *Reel) Init() tea.Cmd { return r.tick() }

// Update takes a key, a new size, or that a scene has been read.
func (r *Reel) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		r.w, r.h = msg.Width, msg.Height
	case read:
		if msg.at == r.at && !r.halted {
			r.at++
			return r, r.tick()
		}
	case tea.KeyPressMsg:
		return r, r.key(msg.String())
	}
	return r, nil
}

func (r *Reel) key(k string) tea.Cmd {
	full := r.h - 2
	end := r.at == len(r.scenes)
	switch k {
	case "ctrl+c", "q", "esc":
		return tea.Quit
	case "ctrl+z":
		if term.CanStop() {
			return tea.Suspend
		}
	case "space", " ", "right", "enter":
		switch {
		case !end:
			r.at++
			r.halted = false
			return r.tick()
		case r.page.Top+full < len(r.page.Lines):
			r.page.Top += full
		case k == "enter":
			return tea.Quit
		}
	case "b", "left":
		switch {
		case end && r.page.Top > 0:
			r.page.Top = max(0, r.page.Top-full)
		case r.at > 0:
			r.at--
			r.halted = true
		}
	}
	return nil
}

// View draws the scene.
func (r *Reel) View() tea.View {
	s := Scene{Printer: r.p, Page: &r.page}
	if r.at < len(r.scenes) {
		s = r.scenes[r.at]
		s.Foot = r.p.Print(text.Say("reel.foot", "Space goes on   b goes back   q leaves   {n} of {all}", text.Count("n", r.at+1), text.Count("all", len(r.scenes))))
	}
	v := tea.NewView(Draw(s, r.w, r.h, r.color))
	v.AltScreen = true
	return v
}
