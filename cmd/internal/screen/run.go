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

// Run shows a model on the process's own terminal until it is left. A lost terminal, an
// interrupt and a request to end leave it too; every act is kept already. Errors: the
// model's, and those of the terminal.
func Run(m *Model, s term.Streams) error {
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
	return errors.Join(m.Err(), err)
}
