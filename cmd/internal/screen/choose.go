//go:build !js

package screen

import (
	"slices"

	tea "charm.land/bubbletea/v2"

	"shimwright/cmd/internal/term"
)

// A Player shows a model until it is left. Errors: those of the terminal.
type Player func(m tea.Model, s term.Streams) error

// A chooser waits for one of some keys.
type chooser struct {
	shown  string
	keys   []string
	chosen string
}

func (c *chooser) Init() tea.Cmd { return nil }

func (c *chooser) View() tea.View { return tea.NewView(c.shown) }

func (c *chooser) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	k, ok := msg.(tea.KeyPressMsg)
	switch {
	case !ok:
	case k.String() == "ctrl+c" || k.String() == "esc":
		return c, tea.Quit
	case slices.Contains(c.keys, k.String()):
		c.chosen = k.String()
		return c, tea.Quit
	}
	return c, nil
}

// Choose shows a text and waits for one of some keys; "" for leaving. A nil player is the
// process's own terminal.
func Choose(shown string, keys []string, s term.Streams, play Player) (string, error) {
	c := &chooser{shown: shown, keys: keys}
	if play == nil {
		play = OnTerminal
	}
	err := play(c, s)
	return c.chosen, err
}
