package cli

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"image/png"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"shimwright/cmd/internal/term"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"shimwright": func() { os.Exit(Main(term.System(), os.Args[1:])) },
	})
}

var update = flag.Bool("update", false, "write the texts the program gives now into the scripts")

// TestScripts runs the program as a person or a class script would, one topic to a
// script, and compares what it writes with the texts kept in the script.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join("..", "..", "..", "testdata", "script"),
		UpdateScripts:       *update,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Condition: func(cond string) (bool, error) {
			if cond == "root" {
				return os.Geteuid() == 0, nil
			}
			return false, fmt.Errorf("condition %q is not known", cond)
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits":     exits,
			"change":    change,
			"cut":       cut,
			"jsonkeys":  jsonKeys,
			"drawn":     drawn,
			"samefiles": sameFiles,
		},
	})
}

// exits CODE PROGRAM ARGS... runs a program that must end with that exit code.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE PROGRAM ARGS...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var ended *exec.ExitError
		if !errors.As(err, &ended) {
			ts.Fatalf("%v", err)
		}
		got = ended.ExitCode()
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

// change FILE OLD NEW replaces the one place where OLD stands.
func change(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: change FILE OLD NEW")
	}
	text := ts.ReadFile(args[0])
	if n := strings.Count(text, args[1]); n != 1 {
		ts.Fatalf("%q stands %d times in %s", args[1], n, args[0])
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.Replace(text, args[1], args[2], 1)), 0o600))
}

// cut FILE N drops the last N bytes.
func cut(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: cut FILE N")
	}
	n, err := strconv.Atoi(args[1])
	ts.Check(err)
	text := ts.ReadFile(args[0])
	if n > len(text) {
		ts.Fatalf("%s has only %d bytes", args[0], len(text))
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(text[:len(text)-n]), 0o600))
}

// jsonkeys IN OUT writes the path of every field of a JSON text, one a line.
func jsonKeys(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: jsonkeys IN OUT")
	}
	d := json.NewDecoder(strings.NewReader(ts.ReadFile(args[0])))
	var v any
	ts.Check(d.Decode(&v))
	if d.More() {
		ts.Fatalf("%s holds more than one JSON value", args[0])
	}
	paths := map[string]bool{}
	var walk func(path string, v any)
	walk = func(path string, v any) {
		switch v := v.(type) {
		case map[string]any:
			for k, inner := range v {
				paths[path+k] = true
				walk(path+k+".", inner)
			}
		case []any:
			for _, inner := range v {
				walk(strings.TrimSuffix(path, ".")+"[].", inner)
			}
		}
	}
	walk("", v)
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), []byte(strings.Join(slices.Sorted(maps.Keys(paths)), "\n")+"\n"), 0o600))
}

// drawn FOLDER checks with the standard library's decoders that the folder holds
// pictures and that each is a whole PNG or a well-formed SVG.
func drawn(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: drawn FOLDER")
	}
	names, err := filepath.Glob(filepath.Join(ts.MkAbs(args[0]), "*.???"))
	ts.Check(err)
	pictures := 0
	for _, name := range names {
		text := []byte(ts.ReadFile(name))
		switch filepath.Ext(name) {
		case ".png":
			pictures++
			_, err := png.Decode(bytes.NewReader(text))
			ts.Check(err)
			continue
		case ".svg":
			pictures++
		default:
			continue
		}
		d := xml.NewDecoder(bytes.NewReader(text))
		root := ""
		for {
			tok, err := d.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			ts.Check(err)
			if e, ok := tok.(xml.StartElement); ok && root == "" {
				root = e.Name.Local
			}
		}
		if root != "svg" {
			ts.Fatalf("%s: the outer element is %q", name, root)
		}
	}
	if pictures == 0 {
		ts.Fatalf("%s holds no picture", args[0])
	}
}

// samefiles FOLDER FOLDER checks that both hold the same names with the same bytes.
func sameFiles(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: samefiles FOLDER FOLDER")
	}
	contents := func(dir string) map[string]string {
		out := map[string]string{}
		entries, err := os.ReadDir(ts.MkAbs(dir))
		ts.Check(err)
		for _, e := range entries {
			out[e.Name()] = ts.ReadFile(filepath.Join(dir, e.Name()))
		}
		return out
	}
	if !maps.Equal(contents(args[0]), contents(args[1])) {
		ts.Fatalf("%s and %s differ", args[0], args[1])
	}
}
