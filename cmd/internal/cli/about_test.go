package cli

import (
	"runtime/debug"
	"testing"

	"github.com/stretchr/testify/assert"

	"shimwright/cmd/internal/term"
	"shimwright/scenarios"
	"shimwright/sim/text"
)

// The version says commit, date and whether the source was changed, where the build knows.
func TestWhatWasBuilt(t *testing.T) {
	b := buildOf(&debug.BuildInfo{Main: debug.Module{Version: "v1.2.3"}, Settings: []debug.BuildSetting{
		{Key: "vcs.revision", Value: "0123abc"}, {Key: "vcs.time", Value: "2031-02-03T04:05:06Z"}, {Key: "vcs.modified", Value: "true"}, {Key: "GOAMD64", Value: "v3"}}})
	assert.Equal(t, "v1.2.3", b.Version)
	assert.Equal(t, scenarios.ModelVersion, b.Model)
	assert.Contains(t, b.System, " v3")
	assert.Equal(t, [2]string{"Commit", "0123abc, changed since"}, b.lines(text.Printer{})[1])
	assert.Equal(t, [2]string{"Date", "2031-02-03T04:05:06Z"}, b.lines(text.Printer{})[2])
	assert.Equal(t, "(devel)", buildOf(nil).Version)
	assert.Contains(t, buildOf(nil).lines(text.Printer{})[1][1], "not known")
}

func TestTheTerminalIsTold(t *testing.T) {
	env := map[string]string{"TERM": "xterm", "LANG": "pl_PL.UTF-8", "NO_COLOR": "1"}
	got := terminalOf(term.Streams{Width: 100, Height: 30, Moves: true}, func(name string) string { return env[name] })
	assert.Equal(t, [][2]string{{"Terminal", "xterm"}, {"Size", "100 columns, 30 lines"}, {"Full screen", "yes"}, {"Color", "no"},
		{"Letters", "pl_PL.UTF-8"}, {"NO_COLOR", "set: no color is shown"}}, got)
}
