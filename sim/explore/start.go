package explore

import (
	"embed"
	"strings"

	"shimwright/sim/text"
)

// start holds a file of each kind to start from.
//
//go:embed start/*.yaml
var start embed.FS

// StartKinds lists the kinds of files that can be started from.
func StartKinds() []string { return []string{"gears", "parts"} }

// StartFile returns a file to start from: a whole invented case with a remark at every
// key. The error says what kinds there are.
func StartFile(kind string) ([]byte, error) {
	for _, k := range StartKinds() {
		if strings.EqualFold(kind, k) {
			return start.ReadFile("start/" + k + ".yaml")
		}
	}
	return nil, text.Fail(nil, text.Say("explore.start.unknown", "there is no file of {kind} to start from: there are {kinds}", text.Quoted("kind", kind), text.AllTyped("kinds", StartKinds()...)))
}

// startCommand shows the keys of a kind.
func startCommand(kind string) string { return "shimwright explore start " + kind }
