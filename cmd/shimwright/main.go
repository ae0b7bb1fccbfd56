// Command shimwright is a practice bench for setting up a drive axle's ring and
// pinion.
package main

import (
	"os"

	"shimwright/cmd/internal/cli"
	"shimwright/cmd/internal/term"
)

func main() {
	os.Exit(cli.Main(term.System(), os.Args[1:]))
}
