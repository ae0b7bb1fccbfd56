//go:build !js

package screen

import (
	"errors"
	"os"
	"os/signal"
	"syscall"

	tea "charm.land/bubbletea/v2"
	"github.com/charmbracelet/colorprofile"

	"shimwright/cmd/internal/term"
)

// Run shows a bench until it is left; a nil player is the process's own terminal. Errors: the
// model's, and those of the player.
func Run(m *Model, s term.Streams, play Player) error {
	if play == nil {
		play = OnTerminal
	}
	err := play(m, s)
	return errors.Join(m.Err(), err)
}

// OnTerminal is the player of the process's own terminal. A lost terminal, an interrupt and a
// request to end leave it too; every act is kept already.
func OnTerminal(m tea.Model, s term.Streams) error {
	profile := colorprofile.Ascii
	if s.Color {
		profile = colorprofile.ANSI256
	}
	p := tea.NewProgram(m, tea.WithInput(os.Stdin), tea.WithOutput(term.Muted(os.Stdout)), tea.WithColorProfile(profile), tea.WithFPS(120))
	hangs := make(chan os.Signal, 1)
	signal.Notify(hangs, syscall.SIGHUP)
	go func() {
		if _, ok := <-hangs; ok {
			p.Quit()
		}
	}()
	_, err := p.Run()
	signal.Stop(hangs)
	close(hangs)
	if errors.Is(err, tea.ErrInterrupted) || errors.Is(err, tea.ErrProgramKilled) {
		err = nil // left; what was done is kept
	}
	return err
}
