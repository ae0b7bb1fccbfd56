// Command handout makes the archives of the program for every system, with their checksums, in
// dist/archives. What lies in them beside the program, it writes into dist/handout. It is run in
// the folder of the source, a clean checkout; nothing is published. With -beside it makes no
// archives.
//
// The archives are made by goreleaser, run as it is from its module at the version below, by
// .goreleaser.yaml: it knows every system's kind of archive, and keeps times and owners out of
// them, so that two runs on one commit give the same bytes.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"

	"shimwright/cmd/internal/cli"
	"shimwright/cmd/internal/handout"
)

const (
	releaser = "github.com/goreleaser/goreleaser/v2@v2.15.1"
	source   = "."
)

func main() {
	beside := flag.Bool("beside", false, "write what lies beside the program, and make no archives")
	flag.Parse()
	err := errors.New("nothing but options is taken")
	if flag.NArg() == 0 {
		err = run(context.Background(), *beside)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "handout:", err)
		os.Exit(1)
	}
}

func run(ctx context.Context, beside bool) error {
	folder := filepath.Join(source, "dist", "handout")
	if err := os.RemoveAll(folder); err != nil { // what no longer belongs to it must not stay
		return err
	}
	committed, err := handout.CommitTime(ctx, source)
	if err != nil {
		return err
	}
	if !beside {
		if err := handout.Clean(ctx, source); err != nil {
			return err
		}
	}
	err = errors.Join(
		handout.Readme(source, folder),
		handout.Completions(cli.Commands(), filepath.Join(folder, "completions")),
		handout.Manual(cli.Commands(), committed, filepath.Join(folder, "man", "man1")),
		handout.Licenses(ctx, source, "./cmd/shimwright", handout.Platforms(), filepath.Join(folder, "licenses")),
	)
	if err != nil || beside {
		return err
	}
	c := exec.CommandContext(ctx, "go", "run", releaser, "release", "--snapshot", "--clean")
	c.Stdout, c.Stderr = os.Stdout, os.Stderr
	c.Env = append(os.Environ(),
		// It asks where the source was fetched from, and makes up a commit where there is no answer.
		"GIT_CONFIG_COUNT=1", "GIT_CONFIG_KEY_0=remote.origin.url", "GIT_CONFIG_VALUE_0=shimwright",
	)
	return c.Run()
}
