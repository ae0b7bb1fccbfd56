package cli

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"shimwright/cmd/internal/term"
	"shimwright/cmd/internal/view"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/scenarios/fault"
	"shimwright/sim/family"
	"shimwright/sim/rng"
)

const (
	usualFamily = "BEECH" // where none is named
	anyFamily   = "any"   // the job's number picks one
	aFile       = "FILE"  // stands for a file whose name is not known
)

// axle is the family, kind and faults of a job, and how it is asked for again.
type axle struct {
	family.Family
	kind   scenarios.Kind
	faults scenarios.FaultRule
	text   string // what its file said, of a family from a person's own file
	name   string // what --family takes for it
}

// order is the order of a job without an exercise.
func (a axle) order() scenarios.Order {
	return scenarios.Order{Family: a.Family, Kind: a.kind, Faults: a.faults}
}

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

func addFaultsFlag(c *cobra.Command, faults *string) {
	c.Flags().StringVar(faults, "faults", usualFaults, "`FAULTS`: usual, none, or names with commas between, of which the job carries one")
}

// The words of --faults.
const (
	usualFaults = "usual"
	noFaults    = "none"
)

// parseFaults reads what --faults asks for.
func parseFaults(text string) scenarios.FaultRule {
	switch strings.ToLower(text) {
	case usualFaults:
		return scenarios.FaultRule{}
	case noFaults:
		return scenarios.FaultRule{None: true}
	}
	r := scenarios.FaultRule{None: true}
	for _, name := range listed(text) {
		r.OneOf = append(r.OneOf, fault.ID(strings.ToLower(name)))
	}
	return r
}

// faultsAsked is what --faults takes for a rule; "" for the usual one, and for one that only
// an exercise can ask for.
func faultsAsked(r scenarios.FaultRule) string {
	switch {
	case !r.None || r.Only != nil:
		return ""
	case len(r.OneOf) == 0:
		return noFaults
	}
	names := make([]string, len(r.OneOf))
	for i, id := range r.OneOf {
		names[i] = string(id)
	}
	return strings.Join(names, ",")
}

// findJob finds what --family, --kind and --faults ask for.
func findJob(name, kind, faults string, seed uint64) (axle, error) {
	k, err := scenarios.ParseKind(strings.ToLower(kind))
	if err != nil {
		return axle{}, usageError{err}
	}
	a, err := findAxle(name, seed)
	if err != nil {
		return axle{}, err
	}
	a.kind, a.faults = k, parseFaults(faults)
	if err := a.order().Validate(); err != nil {
		return axle{}, usageError{err}
	}
	return a, nil
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
	a := axle{Family: h.Family, kind: h.Kind, faults: h.Faults, text: h.FamilyText, name: h.Family.Code}
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
	more := ""
	if a.kind != scenarios.WholeJob {
		more = fmt.Sprintf(" --kind %s", a.kind)
	}
	if f := faultsAsked(a.faults); f != "" {
		more += " --faults " + f
	}
	return fmt.Sprintf("practice --family %s%s --seed %d", term.Quote(a.name), more, seed)
}

// like returns the axle of a try-again job: this one, or one of the program's where the
// job is on another family.
func (a axle) like(code string) axle {
	if code != a.Code {
		return axle{kind: a.kind, name: code}
	}
	a.faults = scenarios.FaultRule{}
	return a
}

// title names a job for people: its family, what kind it is unless it is the whole job, and
// its number after what stands between.
func (a axle) title(between string, seed uint64) string {
	kind := ""
	if a.kind != scenarios.WholeJob {
		kind = ", " + view.KindTitle(a.kind)
	}
	return fmt.Sprintf("%s%s%s%d", a.Code, kind, between, seed)
}

// jobName is what the name of an attempt file of a job holds of it, unless its owner gave
// it another.
func jobName(h attempt.Header) string {
	if h.Exercise != "" {
		return fmt.Sprintf("%s-%d", h.Exercise, h.Seed)
	}
	return axleOf(h).job(h.Seed)
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
	switch {
	case len(a.faults.OneOf) > 0:
		words = append(words, string(a.faults.OneOf[0]))
	case a.faults.None:
		words = append(words, "sound")
	}
	if len(words) == 0 {
		words = []string{"job"}
	}
	return fmt.Sprintf("%s-%d", strings.Join(words, "-"), seed)
}
