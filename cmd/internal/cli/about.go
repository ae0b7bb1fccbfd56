package cli

import (
	"cmp"
	"errors"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/store"
	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/scenarios"
	"shimwright/sim/text"
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

func (b built) lines(p text.Printer) [][2]string {
	commit := cmp.Or(b.Commit, p.Print(text.Say("cli.about.not-known-built-without", "not known: built without a repository")))
	if b.Modified {
		commit += p.Print(text.Say("cli.about.changed-since", ", changed since"))
	}
	out := [][2]string{{p.Print(text.Say("cli.about.version", "Version")), b.Version}, {p.Print(text.Say("cli.about.commit", "Commit")), commit}}
	if b.Date != "" {
		out = append(out, [2]string{p.Print(text.Say("cli.about.date", "Date")), b.Date})
	}
	return append(out, [2]string{p.Print(text.Say("cli.about.model", "Model")), p.Print(text.Say("cli.about.attempt-files-another-model", "{model} (attempt files of another model are not graded)", text.Typed("model", b.Model)))}, [2]string{p.Print(text.Say("cli.about.built", "Built with")), b.Go}, [2]string{p.Print(text.Say("cli.about.system", "System")), b.System})
}

func newVersion(s term.Streams) *cobra.Command {
	var l look
	var asJSON bool
	c := &cobra.Command{
		Use:    "version",
		Hidden: true, // the first help fits a small screen
		Short:  s.Print(text.Say("cli.about.which-program-this-doctor", "Which program this is; doctor says what it finds here")),
		Long: s.Print(text.Say("cli.about.say-which-program-this", `Say which program this is: version, commit, model, what it was built with and for. The
command doctor says besides what it finds on this machine.`)),
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
			return tellLines(s.Out, b.lines(p.Printer), p)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, s.Print(text.Say("cli.about.write-json-instead-text", "write JSON instead of text")))
	l.addFlags(s, c)
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
		Short:  s.Print(text.Say("cli.about.what-program-finds-terminal", "What the program finds: terminal, letters, data folder, version")),
		Long: s.Print(text.Say("cli.about.say-what-program-finds", `Say what the program finds on this machine, for whoever asks for help with it: the
terminal and what it can do, letters to read, the folder of attempts and whether
it can be written to, and the version. Nothing is sent anywhere and nothing is changed.`)),
		Example: "  shimwright doctor",
		Args:    takes(0, 0, ""),
		RunE: func(*cobra.Command, []string) error {
			p, err := l.pen(s)
			if err != nil {
				return err
			}
			info, _ := debug.ReadBuildInfo()
			lines := append(buildOf(info).lines(p.Printer), terminalOf(s, os.Getenv)...)
			lines = append(lines, lettersToSee(p.Printer)...)
			return tellLines(s.Out, append(lines, folderLines(p.Printer, data)...), p)
		},
	}
	addDataFlag(s, c, &data)
	l.addFlags(s, c)
	return c
}

// terminalOf says what of a terminal there is.
func terminalOf(s term.Streams, env func(string) string) [][2]string {
	yes := map[bool]string{true: s.Print(text.Say("cli.about.yes", "yes")), false: s.Print(text.Say("cli.about.no", "no"))}
	size := s.Print(text.Say("cli.about.none-output-goes-file", "none: the output goes to a file or a pipe"))
	if s.Height > 0 {
		size = s.Print(text.Say("cli.about.columns-lines", "{width} columns, {height} lines", text.Count("width", s.Width), text.Count("height", s.Height)))
	}
	out := [][2]string{
		{s.Print(text.Say("cli.about.terminal", "Terminal")), cmp.Or(env("TERM"), s.Print(text.Say("cli.about.term-not-set", "TERM is not set")))},
		{s.Print(text.Say("cli.about.size", "Size")), size},
		{s.Print(text.Say("cli.about.full-screen", "Full screen")), yes[s.Moves]},
		{s.Print(text.Say("cli.about.color", "Color")), yes[s.Color]},
		{s.Print(text.Say("cli.about.letters", "Letters")), cmp.Or(env("LC_ALL"), env("LC_CTYPE"), env("LANG"), s.Print(text.Say("cli.about.no-locale-set", "no locale is set")))},
	}
	if env("NO_COLOR") != "" {
		out = append(out, [2]string{"NO_COLOR", s.Print(text.Say("cli.about.set-no-color-shown", "set: no color is shown"))})
	}
	return out
}

// lettersToSee are what the pictures of a terminal are made of.
func lettersToSee(p text.Printer) [][2]string {
	return [][2]string{
		{p.Print(text.Say("cli.about.blocks", "Blocks")), p.Print(text.Say("cli.about.should-be-six-blocks", "░▒▓█▀▄ should be six blocks, light to full; if not, use --plain"))},
		{p.Print(text.Say("cli.about.lines", "Lines")), p.Print(text.Say("cli.about.should-be-piece-table", "┌─┬─┐│├┼┤ should be a piece of a table"))},
		{p.Print(text.Say("cli.about.signs", "Signs")), p.Print(text.Say("cli.about.should-be-plus-minus", "± ° · × should be plus-minus, degree, dot, times"))},
	}
}

// folderLines say where attempts are kept, how many, and whether another can be.
func folderLines(p text.Printer, named string) [][2]string {
	folder := named
	if folder == "" {
		var err error
		if folder, err = store.DataFolder(); err != nil {
			return [][2]string{{p.Print(text.Say("cli.about.data-folder", "Data folder")), p.Print(text.Say("cli.about.none", "none: {why}", text.Cause("why", err)))}}
		}
	}
	out := [][2]string{{p.Print(text.Say("cli.about.data-folder", "Data folder")), folder}}
	kept, err := store.KeptIn(folder)
	if err != nil {
		return append(out, [2]string{p.Print(text.Say("cli.about.attempts", "Attempts")), p.Print(text.Say("cli.about.cannot-be-listed", "cannot be listed: {why}", text.Cause("why", err)))})
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
	out = append(out, [2]string{p.Print(text.Say("cli.about.attempts", "Attempts")), p.Print(text.Say("cli.about.them-open-trouble", "{kept}, of them open {open}, in trouble {troubled}", text.Count("kept", len(kept)), text.Count("open", open), text.Count("troubled", troubled)))})
	return append(out, [2]string{p.Print(text.Say("cli.about.room-for-more", "Room for more")), writable(p, folder)})
}

// writable tries whether a file can be made in a folder, or in the nearest one that is there,
// and leaves none.
func writable(p text.Printer, folder string) string {
	at := folder
	for {
		if _, err := os.Stat(at); !errors.Is(err, os.ErrNotExist) || at == filepath.Dir(at) {
			break
		}
		at = filepath.Dir(at)
	}
	f, err := os.CreateTemp(at, ".doctor-*")
	if err != nil {
		return p.Print(text.Say("cli.about.no-2", "no: {why}", text.Cause("why", err)))
	}
	f.Close()
	if err := os.Remove(f.Name()); err != nil {
		return p.Print(text.Say("cli.about.yes-but-nothing-can", "yes, but nothing can be removed: {why}", text.Cause("why", err)))
	}
	if at != folder {
		return p.Print(text.Say("cli.about.yes-folder-made-when", "yes; the folder is made when it is needed"))
	}
	return p.Print(text.Say("cli.about.yes", "yes"))
}
