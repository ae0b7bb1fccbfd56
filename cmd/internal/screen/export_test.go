package screen

import (
	"strings"

	"shimwright/sim/act"
)

// KeyOf is the key of the entry that can be chosen and begins with a label.
func (m *Model) KeyOf(label string) string {
	for _, e := range m.scene.entries() {
		if !e.off && strings.HasPrefix(e.label, label) {
			return e.key
		}
	}
	return ""
}

// KeyOfForm is the key of an act in the open group.
func (m *Model) KeyOfForm(f act.Form) string {
	for _, e := range m.scene.entries() {
		if !e.off && e.does == pickForm && e.form == f {
			return e.key
		}
	}
	return ""
}

// KeyOfRound is the key of a round.
func (m *Model) KeyOfRound(id string) string { return roundKeys()[id] }
