package cli

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/scenarios"
)

// built is what a program knows of how it was built.
type built struct {
	Version  string `json:"version"`            // of the module; "(devel)" from a copy of the source
	Commit   string `json:"commit,omitempty"`   // "": not built from a repository
	Date     string `json:"date,omitempty"`     // of the commit
	Modified bool   `json:"modified,omitempty"` // the source differed from the commit
	Model    string `json:"model"`              // files of attempts hold it; another one grades them otherwise
	Go       string `json:"go"`
	System   string `json:"system"`
}

func buildOf(info *debug.BuildInfo) built {
	b := built{Version: "(devel)", Model: scenarios.ModelVersion, Go: runtime.Version(), System: runtime.GOOS + "/" + runtime.GOARCH}
	if info == nil {
		return b
	}
	b.Version = cmp.Or(info.Main.Version, b.Version)
	for _, s := range info.Settings {
		switch s.Key {
		case "vcs.revision":
			b.Commit = s.Value
		case "vcs.time":
			b.Date = s.Value
		case "vcs.modified":
			b.Modified = s.Value == "true"
		case "GOAMD64", "GOARM64":
			b.System += " " + s.Value
		}
	}
	return b
}

func (b built) lines() [][2]string {
	commit := cmp.Or(b.Commit, "not known: built without a repository")
	if b.Modified {
		commit += ", changed since"
	}
	out := [][2]string{{"Version", b.Version}, {"Commit", commit}}
	if b.Date != "" {
		out = append(out, [2]string{"Date", b.Date})
	}
	return append(out, [2]string{"Model", b.Model + " (attempt files of another model are not graded)"}, [2]string{"Built with", b.Go}, [2]string{"System", b.System})
}

func newVersion(s term.Streams) *cobra.Command {
	var l look
	var asJSON bool
	c := &cobra.Command{
		Use:     "version",
		Hidden:  true, // the first help fits a small screen
		Short:   "Which program this is; doctor says what it finds here",
		Long:    "Say which program this is: version, commit, model, what it was built with and for. The\ncommand doctor says besides what it finds on this machine.",
		Example: "  shimwright version\n  shimwright doctor",
		Args:    takes(0, 0, ""),
		RunE: func(*cobra.Command, []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			info, _ := debug.ReadBuildInfo()
			b := buildOf(info)
			if asJSON {
				return writeJSON(s.Out, b)
			}
			return tellLines(s.Out, b.lines(), p)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "write JSON instead of text")
	l.addFlags(c)
	return c
}

func tellLines(w io.Writer, lines [][2]string, p view.Pen) error {
	const column = 16
	for _, line := range lines {
		if _, err := io.WriteString(w, p.Field(line[0], view.Visible(line[1]), column)); err != nil {
			return err
		}
	}
	return nil
}

func newDoctor(s term.Streams) *cobra.Command {
	var l look
	var data string
	c := &cobra.Command{
		Use:    "doctor",
		Hidden: true, // as version, which names it
		Short:  "What the program finds: terminal, letters, data folder, version",
		Long: `Say what the program finds on this machine, for whoever asks for help with it: the
terminal and what it can do, letters to read, the folder of attempts and whether
it can be written to, and the version. Nothing is sent anywhere and nothing is changed.`,
		Example: "  shimwright doctor",
		Args:    takes(0, 0, ""),
		RunE: func(*cobra.Command, []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			info, _ := debug.ReadBuildInfo()
			lines := append(buildOf(info).lines(), terminalOf(s, os.Getenv)...)
			lines = append(lines, lettersToSee()...)
			return tellLines(s.Out, append(lines, folderLines(data)...), p)
		},
	}
	addDataFlag(c, &data)
	l.addFlags(c)
	return c
}

// terminalOf says what of a terminal there is.
func terminalOf(s term.Streams, env func(string) string) [][2]string {
	yes := map[bool]string{true: "yes", false: "no"}
	size := "none: the output goes to a file or a pipe"
	if s.Height > 0 {
		size = fmt.Sprintf("%d columns, %d lines", s.Width, s.Height)
	}
	out := [][2]string{
		{"Terminal", cmp.Or(env("TERM"), "TERM is not set")},
		{"Size", size},
		{"Full screen", yes[s.Moves]},
		{"Color", yes[s.Color]},
		{"Letters", cmp.Or(env("LC_ALL"), env("LC_CTYPE"), env("LANG"), "no locale is set")},
	}
	if env("NO_COLOR") != "" {
		out = append(out, [2]string{"NO_COLOR", "set: no color is shown"})
	}
	return out
}

// lettersToSee are what the pictures of a terminal are made of.
func lettersToSee() [][2]string {
	return [][2]string{
		{"Blocks", "░▒▓█▀▄ should be six blocks, light to full; if not, use --plain"},
		{"Lines", "┌─┬─┐│├┼┤ should be a piece of a table"},
		{"Signs", "± ° · × should be plus-minus, degree, dot, times"},
	}
}

// folderLines say where attempts are kept, how many, and whether another can be.
func folderLines(named string) [][2]string {
	folder := named
	if folder == "" {
		var err error
		if folder, err = store.DataFolder(); err != nil {
			return [][2]string{{"Data folder", "none: " + err.Error()}}
		}
	}
	out := [][2]string{{"Data folder", folder}}
	kept, err := store.KeptIn(folder)
	if err != nil {
		return append(out, [2]string{"Attempts", "cannot be listed: " + err.Error()})
	}
	open, troubled := 0, 0
	for _, k := range kept {
		switch {
		case k.Open():
			open++
		case k.Err != nil:
			troubled++
		}
	}
	out = append(out, [2]string{"Attempts", fmt.Sprintf("%d, of them open %d, in trouble %d", len(kept), open, troubled)})
	return append(out, [2]string{"Room for more", writable(folder)})
}

// writable tries whether a file can be made in a folder, or in the nearest one that is there,
// and leaves none.
func writable(folder string) string {
	at := folder
	for {
		if _, err := os.Stat(at); !errors.Is(err, os.ErrNotExist) || at == filepath.Dir(at) {
			break
		}
		at = filepath.Dir(at)
	}
	f, err := os.CreateTemp(at, ".doctor-*")
	if err != nil {
		return "no: " + strings.TrimSpace(err.Error())
	}
	f.Close()
	if err := os.Remove(f.Name()); err != nil {
		return "yes, but nothing can be removed: " + err.Error()
	}
	if at != folder {
		return "yes; the folder is made when it is needed"
	}
	return "yes"
}
