package keep

import (
	_ "github.com/charmbracelet/glamour"
	_ "github.com/charmbracelet/glamour/ansi"
	_ "github.com/mattn/go-runewidth"
	_ "github.com/rogpeppe/go-internal/testscript"
	_ "github.com/spf13/cobra"
	_ "github.com/stretchr/testify/assert"
	_ "github.com/stretchr/testify/require"
	_ "golang.org/x/term"
	_ "pgregory.net/rapid"
)
