// Command shimwright is a practice bench for setting up a drive axle's ring and
// pinion.
package main

import (
	"os"
	"time"

	"shimwright/cmd/internal/cli"
	"shimwright/cmd/internal/term"
)

func main() {
	s := term.System()
	s.Clock = time.Now
	os.Exit(cli.Main(s, os.Args[1:]))
}
