// Package site writes the web bench as a folder of files, for a web space or a disk: the
// program runs in the page, and attempts stay in the browser.
package site

import (
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"shimwright/cmd/internal/web"
)

//go:embed static
var files embed.FS

// Program is the bench for a page: what runs, and the script that it needs of the same Go.
type Program struct{ Wasm, Exec []byte }

// Build makes the program from its source, which the folder must be in. Errors say what is
// missing.
func Build(ctx context.Context, folder string) (p Program, err error) {
	run := func(env []string, args ...string) (string, error) {
		c := exec.CommandContext(ctx, "go", args...)
		c.Dir, c.Env = folder, append(os.Environ(), env...)
		var said bytes.Buffer
		c.Stderr = &said
		out, err := c.Output()
		if err != nil {
			return "", fmt.Errorf("go %s: %w: %s", args[0], err, strings.TrimSpace(said.String()))
		}
		return strings.TrimSpace(string(out)), nil
	}
	if module, err := run(nil, "list", "-m"); err != nil || module != "shimwright" {
		return p, errors.Join(errors.New("the page is made from the program's source: do this in the folder that holds it, with Go installed"), err)
	}
	tmp, err := os.MkdirTemp("", "shimwright-site-")
	if err != nil {
		return p, err
	}
	defer os.RemoveAll(tmp)
	out := filepath.Join(tmp, "bench.wasm")
	if _, err := run([]string{"GOOS=js", "GOARCH=wasm"}, "build", "-trimpath", "-ldflags=-s -w", "-o", out, "shimwright/cmd/wasm"); err != nil {
		return p, err
	}
	root, err := run(nil, "env", "GOROOT")
	if err != nil {
		return p, err
	}
	if p.Wasm, err = os.ReadFile(out); err != nil {
		return p, err
	}
	p.Exec, err = os.ReadFile(filepath.Join(root, "lib", "wasm", "wasm_exec.js"))
	return p, err
}

// Write writes the folder, which it makes where there is none.
func Write(folder string, p Program) error {
	var packed bytes.Buffer
	z, err := gzip.NewWriterLevel(&packed, gzip.BestCompression)
	if err != nil {
		return err
	}
	if _, err := z.Write(p.Wasm); err != nil {
		return err
	}
	if err := z.Close(); err != nil {
		return err
	}
	all := web.Files()
	all["wasm_exec.js"] = p.Exec
	all["bench.wasm.gz"] = packed.Bytes()
	all["bench.wasm.js"] = []byte(`globalThis.shimwrightProgram = "` + base64.StdEncoding.EncodeToString(packed.Bytes()) + "\";\n")
	if err := fs.WalkDir(files, "static", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		all[filepath.Base(path)], err = files.ReadFile(path)
		return err
	}); err != nil {
		return err
	}
	sum := sha256.New()
	for _, name := range []string{"bench.css", "bench.js", "site.js", "index.html", "bench.wasm.gz"} {
		sum.Write(all[name])
	}
	const letters = 16
	all["sw.js"] = bytes.ReplaceAll(all["sw.js"], []byte("shimwright-VERSION"), []byte("shimwright-"+hex.EncodeToString(sum.Sum(nil))[:letters]))
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	for name, data := range all {
		if err := os.WriteFile(filepath.Join(folder, name), data, 0o644); err != nil {
			return err
		}
	}
	return nil
}
