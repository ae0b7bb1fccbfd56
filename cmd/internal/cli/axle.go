package cli

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/term"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim/family"
	"shimwright/sim/rng"
)

const (
	usualFamily = "BEECH" // where none is named
	anyFamily   = "any"   // the job's number picks one
	aFile       = "FILE"  // stands for a file whose name is not known
)

// axle is the family and kind of a job, and how it is asked for again.
type axle struct {
	family.Family
	kind scenarios.Kind
	text string // what its file said, of a family from a person's own file
	name string // what --family takes for it
}

// order is the order of a job without an exercise.
func (a axle) order() scenarios.Order { return scenarios.Order{Family: a.Family, Kind: a.kind} }

func addFamilyFlag(c *cobra.Command, name *string) {
	c.Flags().StringVar(name, "family", usualFamily, "axle `FAMILY`: a code, the file of one of your own, or any")
}

func addKindFlag(c *cobra.Command, kind *string) {
	var names []string
	for _, k := range scenarios.Kinds() {
		names = append(names, k.String())
	}
	c.Flags().StringVar(kind, "kind", scenarios.WholeInName, "`KIND` of job: "+strings.Join(names, ", "))
}

// findJob finds what --family and --kind ask for.
func findJob(name, kind string, seed uint64) (axle, error) {
	k, err := scenarios.ParseKind(strings.ToLower(kind))
	if err != nil {
		return axle{}, usageError{err}
	}
	a, err := findAxle(name, seed)
	a.kind = k
	return a, err
}

// findAxle finds the family that --family names for a job.
func findAxle(name string, seed uint64) (axle, error) {
	if strings.EqualFold(name, anyFamily) {
		shelf := family.Shelf()
		name = shelf[rng.Stream(seed, "any-family").Whole(len(shelf))].Code
	}
	if f, err := family.Shipped(name); err == nil {
		return axle{Family: f, name: f.Code}, nil
	}
	f, err := findFamily(name)
	if err != nil {
		return axle{}, err
	}
	text, err := family.ReadFile(name)
	if err != nil {
		return axle{}, usageError{err}
	}
	return axle{Family: f, text: string(text), name: name}, nil
}

// findFamily finds a family by code or file, and says in one line what is wrong.
func findFamily(name string) (family.Family, error) {
	f, err := family.FindAny(name)
	var wrong family.Problems
	switch {
	case errors.As(err, &wrong):
		return f, fmt.Errorf("%w; family check names them all", err)
	case err != nil:
		return f, usageError{err}
	}
	return f, nil
}

// axleOf is the family of an attempt record, which holds all of it.
func axleOf(h attempt.Header) axle {
	a := axle{Family: h.Family, kind: h.Kind, text: h.FamilyText, name: h.Family.Code}
	if a.text != "" {
		a.name = aFile
	}
	return a
}

// differs says how the family a record holds is not the one asked for, or "".
func (a axle) differs(asked axle) string {
	switch {
	case a.Code != asked.Code:
		return fmt.Sprintf("on %s, not %s", a.Code, asked.Code)
	case a.text == asked.text:
		return ""
	case asked.text == "":
		return fmt.Sprintf("on %s from a file, not the %s that comes with the program", a.Code, a.Code)
	}
	return fmt.Sprintf("on another %s than %s describes now", a.Code, asked.name)
}

// practice is the command that starts a job on the family.
func (a axle) practice(seed uint64) string {
	kind := ""
	if a.kind != scenarios.WholeJob {
		kind = fmt.Sprintf(" --kind %s", a.kind)
	}
	return fmt.Sprintf("practice --family %s%s --seed %d", term.Quote(a.name), kind, seed)
}

// like returns the axle of a try-again job: this one, or one of the program's where the
// job is on another family.
func (a axle) like(code string) axle {
	if code == a.Code {
		return a
	}
	return axle{kind: a.kind, name: code}
}

// job names a job on the family in the names of files.
func (a axle) job(seed uint64) string {
	var words []string
	if a.name != usualFamily {
		words = append(words, strings.ToLower(a.Code))
	}
	if a.kind != scenarios.WholeJob {
		words = append(words, a.kind.String())
	}
	if len(words) == 0 {
		words = []string{"job"}
	}
	return fmt.Sprintf("%s-%d", strings.Join(words, "-"), seed)
}
