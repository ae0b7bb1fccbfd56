package class

import (
	"fmt"
	"slices"
	"strings"

	"shimwright/sim/act"
)

// A Near is a pair of attempts of different pupils whose acts are the same but for trifles.
// It is for a person to look at: two who keep to one procedure on one job come near each
// other honestly.
type Near struct {
	A    string `json:"a"` // files
	B    string `json:"b"`
	Same int    `json:"same_acts"` // in the same order
	Of   int    `json:"of_acts"`   // of the longer one
}

// What a near copy is: so many acts at least, and such a share of them the same, in order
// and with their amounts. Common practice, no source.
const (
	nearActs  = 8
	nearShare = 0.9
)

// NearCopies finds the near copies among attempts at jobs of one kind. The number of the job
// does not matter: amounts that were copied onto another axle are the clearest of all.
func NearCopies(attempts []Attempt) []Near {
	done := make([][]string, len(attempts))
	for i, a := range attempts {
		if a.Err == nil {
			for _, x := range a.Record.Acts() {
				if t := trace(x); t != "" {
					done[i] = append(done[i], t)
				}
			}
		}
	}
	var out []Near
	for i, a := range attempts {
		for k := i + 1; k < len(attempts); k++ {
			b := attempts[k]
			if a.Pupil == b.Pupil || len(done[i]) < nearActs || len(done[k]) < nearActs || a.Record.Header.Kind != b.Record.Header.Kind {
				continue
			}
			of := max(len(done[i]), len(done[k]))
			if float64(min(len(done[i]), len(done[k]))) < nearShare*float64(of) {
				continue
			}
			if same := inOrder(done[i], done[k]); float64(same) >= nearShare*float64(of) {
				out = append(out, Near{a.File, b.File, same, of})
			}
		}
	}
	return out
}

// trace is an act without what makes no difference: units and how an amount was written. ""
// for one that does nothing.
func trace(a act.Act) string {
	if a.Form == act.ExpectValue {
		return ""
	}
	var b strings.Builder
	fmt.Fprint(&b, int(a.Form), a.Choices)
	for _, e := range a.Amounts {
		if l, ok := e.Length(); ok {
			fmt.Fprintf(&b, " %.2fmm", l.MM())
		} else if t, ok := e.Torque(); ok {
			fmt.Fprintf(&b, " %.0fNmm", t.Nmm())
		} else {
			fmt.Fprintf(&b, " %g", e.Number)
		}
	}
	return b.String()
}

// inOrder is how many acts of one row stand in the other too, in the same order.
func inOrder(a, b []string) int {
	row := make([]int, len(b)+1)
	for _, x := range a {
		before := slices.Clone(row)
		for k, y := range b {
			if x == y {
				row[k+1] = before[k] + 1
			} else {
				row[k+1] = max(row[k], before[k+1])
			}
		}
	}
	return row[len(b)]
}
