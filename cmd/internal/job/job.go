// Package job is what is asked for when a job is: the family, kind and faults, by name, and
// the command that asks for the same again.
package job

import (
	"errors"
	"fmt"
	"strings"

	"shimwright/cmd/internal/exit"
	"shimwright/cmd/internal/term"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim/datasheet"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/rng"
	"shimwright/sim/text"
)

// What stands for families.
const (
	UsualFamily = "BEECH" // where none is named
	AnyFamily   = "any"   // the job's number picks one
	File        = "FILE"  // stands for a file whose name is not known
)

// What stands for rules of faults.
const (
	UsualFaults = "usual"
	NoFaults    = "none"
)

// An Asked is the family, kind and faults of a job.
type Asked struct {
	family.Family
	Kind   scenarios.Kind
	Faults scenarios.FaultRule
	Text   string // what its file said, of a family from a person's own file
	Name   string // what --family takes for it
}

// Order is the order of a job without an exercise.
func (a Asked) Order() scenarios.Order {
	return scenarios.Order{Family: a.Family, Kind: a.Kind, Faults: a.Faults}
}

// ParseFaults reads a rule of faults: usual, none, or names with commas between.
func ParseFaults(text string) scenarios.FaultRule {
	switch strings.ToLower(text) {
	case UsualFaults:
		return scenarios.FaultRule{}
	case NoFaults:
		return scenarios.FaultRule{None: true}
	}
	r := scenarios.FaultRule{None: true}
	for _, name := range Listed(text) {
		r.OneOf = append(r.OneOf, fault.ID(strings.ToLower(name)))
	}
	return r
}

// Listed splits a list with commas, without blanks and empty parts.
func Listed(text string) []string {
	var out []string
	for part := range strings.SplitSeq(text, ",") {
		if part = strings.TrimSpace(part); part != "" {
			out = append(out, part)
		}
	}
	return out
}

// faultsAsked is what --faults takes for a rule; "" for the usual one, and for one that only
// an exercise can ask for.
func faultsAsked(r scenarios.FaultRule) string {
	switch {
	case !r.None || r.Only != nil:
		return ""
	case len(r.OneOf) == 0:
		return NoFaults
	}
	names := make([]string, len(r.OneOf))
	for i, id := range r.OneOf {
		names[i] = string(id)
	}
	return strings.Join(names, ",")
}

// Find finds what is asked for by the names of a family, a kind of job and a rule of
// faults; the seed matters where the family is to be any.
func Find(name, kind, faults string, seed uint64) (Asked, error) {
	k, err := scenarios.ParseKind(strings.ToLower(kind))
	if err != nil {
		return Asked{}, exit.Usage(err)
	}
	a, err := findAxle(name, seed)
	if err != nil {
		return Asked{}, err
	}
	a.Kind, a.Faults = k, ParseFaults(faults)
	if err := a.Order().Validate(); err != nil {
		return Asked{}, exit.Usage(err)
	}
	return a, nil
}

func findAxle(name string, seed uint64) (Asked, error) {
	if strings.EqualFold(name, AnyFamily) {
		shelf := family.Shelf()
		name = shelf[rng.Stream(seed, "any-family").Whole(len(shelf))].Code
	}
	if f, err := family.Shipped(name); err == nil {
		return Asked{Family: f, Name: f.Code}, nil
	}
	f, err := FindFamily(name)
	if err != nil {
		return Asked{}, err
	}
	text, err := datasheet.ReadFile(name)
	if err != nil {
		return Asked{}, exit.Usage(err)
	}
	return Asked{Family: f, Text: string(text), Name: name}, nil
}

// FindFamily finds a family by code or file, and says in one line what is wrong.
func FindFamily(name string) (family.Family, error) {
	f, err := family.FindAny(name)
	var wrong family.Problems
	switch {
	case errors.As(err, &wrong):
		return f, text.Fail(err, text.Say("job.own-family", "{why}; family check names them all", text.Cause("why", err)))
	case err != nil:
		return f, exit.Usage(err)
	}
	return f, nil
}

// Of is what an attempt record was begun on, which holds all of it.
func Of(h attempt.Header) Asked {
	a := Asked{Family: h.Family, Kind: h.Kind, Faults: h.Faults, Text: h.FamilyText, Name: h.Family.Code}
	if a.Text != "" {
		a.Name = File
	}
	return a
}

// Differs says how the family a record holds is not the one asked for, or "".
func (a Asked) Differs(asked Asked) text.Message {
	switch {
	case a.Code != asked.Code:
		return text.Say("job.differs.family", "on {is}, not {asked}", text.Typed("is", a.Code), text.Typed("asked", asked.Code))
	case a.Text == asked.Text:
		return text.Message{}
	case asked.Text == "":
		return text.Say("job.differs.own", "on {code} from a file, not the {code} that comes with the program", text.Typed("code", a.Code))
	}
	return text.Say("job.differs.file", "on another {code} than {name} describes now", text.Typed("code", a.Code), text.Typed("name", asked.Name))
}

// Practice is the command, without the program's name, that starts a job on the family.
func (a Asked) Practice(seed uint64) string {
	more := ""
	if a.Kind != scenarios.WholeJob {
		more = fmt.Sprintf(" --kind %s", a.Kind)
	}
	if f := faultsAsked(a.Faults); f != "" {
		more += " --faults " + f
	}
	return fmt.Sprintf("practice --family %s%s --seed %d", term.Quote(a.Name), more, seed)
}

// Again is the command that starts a job to try something again on: of this family, from
// its file too, or of one of the program's by its code.
func (a Asked) Again(code string, seed uint64) string {
	if code != a.Code {
		a = Asked{Kind: a.Kind, Name: code}
	}
	a.Faults = scenarios.FaultRule{}
	return a.Practice(seed)
}

// FileName is the name of an attempt file of a job, unless its owner gives it another.
func (a Asked) FileName(seed uint64) string { return "shimwright-" + a.Short(seed) + ".jsonl" }

// Short names a job in the names of files.
func (a Asked) Short(seed uint64) string {
	var words []string
	if a.Name != UsualFamily {
		words = append(words, strings.ToLower(a.Code))
	}
	if a.Kind != scenarios.WholeJob {
		words = append(words, a.Kind.String())
	}
	switch {
	case len(a.Faults.OneOf) > 0:
		words = append(words, string(a.Faults.OneOf[0]))
	case a.Faults.None:
		words = append(words, "sound")
	}
	if len(words) == 0 {
		words = []string{"job"}
	}
	return fmt.Sprintf("%s-%d", strings.Join(words, "-"), seed)
}

// ShortOf is Short of the job a record is of: of an exercise its name and number.
func ShortOf(h attempt.Header) string {
	if h.Exercise != "" {
		return fmt.Sprintf("%s-%d", h.Exercise, h.Seed)
	}
	return Of(h).Short(h.Seed)
}
