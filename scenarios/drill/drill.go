package drill

import (
	"errors"
	"fmt"
	"strings"

	"shimwright/sim"
	"shimwright/sim/explore"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/rng"
)

// A Kind is one sort of decision.
type Kind string

// The kinds of drill.
const (
	Mark         Kind = "mark"
	Height       Kind = "height"
	PreloadShims Kind = "pack"
	Drag         Kind = "drag"
	StringScale  Kind = "cord"
	Adapter      Kind = "adapter"
	Split        Kind = "split"
	Notches      Kind = "slots"
	Backlash     Kind = "backlash"
	Total        Kind = "total"
	Print        Kind = "print"
	Apart        Kind = "apart"
)

// Kinds lists the kinds in the order of the job.
func Kinds() []Kind {
	return []Kind{Mark, Height, PreloadShims, Drag, StringScale, Adapter, Split, Notches, Backlash, Total, Print, Apart}
}

// About says in a line what a kind asks.
func (k Kind) About() string {
	switch k {
	case Mark:
		return "depth shim from the old shim and two marks"
	case Height:
		return "depth shim from the height that a gauge reads"
	case PreloadShims:
		return "pack of a solid spacer, after a drag reading or another cup shim"
	case Drag:
		return "is this drag right: window, seal, new or used"
	case StringScale:
		return "torque from a cord and a spring scale"
	case Adapter:
		return "what to set on a torque wrench with an adapter"
	case Split:
		return "side shims for a change of backlash"
	case Notches:
		return "slots of threaded rings for a change of backlash"
	case Backlash:
		return "four backlash readings: accept, or what to do"
	case Total:
		return "total torque, pinion, sides and the ratio"
	case Print:
		return "read a print: pinion or ring gear, and what the other flank shows"
	case Apart:
		return "which look or reading tells two faults apart"
	}
	return ""
}

// ParseKind reads a kind's name. Errors: a name there is not, with those there are.
func ParseKind(name string) (Kind, error) {
	var names []string
	for _, k := range Kinds() {
		if strings.EqualFold(name, string(k)) {
			return k, nil
		}
		names = append(names, string(k))
	}
	return "", fmt.Errorf("no drill is called %q: there are %s", name, strings.Join(names, ", "))
}

// Fits says why a kind cannot be asked on a family, or returns nil.
func (k Kind) Fits(fam family.Family) error {
	d := fam.Design
	switch {
	case k == Mark && !fam.Sheet.Marks.Known():
		return fmt.Errorf("drill mark needs an axle whose pinions carry depth marks; those of %s carry none", fam.Code)
	case k == PreloadShims && d.Preload != family.SolidSpacer:
		return fmt.Errorf("drill pack needs an axle with a solid spacer; %s has a collapsible one", fam.Code)
	case k == Split && d.SideAdjust == family.BearingAdjusters:
		return fmt.Errorf("drill split needs an axle with side shims; %s has threaded rings (drill slots)", fam.Code)
	case k == Notches && d.SideAdjust != family.BearingAdjusters:
		return fmt.Errorf("drill slots needs an axle with threaded rings; %s has side shims (drill split)", fam.Code)
	}
	return nil
}

// A Source is where a rule is from.
type Source struct{ Where, Strength string }

// How far a source can be trusted, in the words of the tables of check values.
const (
	published = "published"
	computed  = "computed independently"
	practice  = "common practice, no source"
)

// A Wrong is an answer that an idea leads to.
type Wrong struct {
	Misconception Misconception
	Value         float64 // as Answer.Value
	Choice        int     // as Answer.Right
	Why           Text    // what the idea overlooks
}

// A Drill is one question with all that belongs to it.
type Drill struct {
	Kind     Kind
	Family   string // code
	Patterns []gauge.ToothPattern
	Asks     Text
	Answer   Answer
	Shows    Text // why the answer is right, with its arithmetic
	Wrongs   []Wrong
	Lesson   string
	Source   Source
}

// An Item is a drill that can be drawn: one place of a Plan.
type Item struct {
	Kind   Kind
	Family family.Family
	Seed   uint64
	N      int // counts from 1
}

// errAgain says that the figures drawn leave no clear question.
var errAgain = errors.New("draw again")

// Draw makes the drill. Errors: a kind that does not fit its family; a family whose
// model cannot be built.
func Draw(it Item) (Drill, error) {
	if err := it.Kind.Fits(it.Family); err != nil {
		return Drill{}, err
	}
	bench, err := explore.NewBench(it.Family)
	if err != nil {
		return Drill{}, err
	}
	gains, err := sim.NominalGains(it.Family, false)
	if err != nil {
		return Drill{}, err
	}
	const tries = 500
	for n := range tries {
		s := rng.Stream(it.Seed, fmt.Sprintf("drill/%s/%d/%d", it.Kind, it.N, n))
		p := &draft{Family: it.Family, Source: s, bench: bench, gains: gains}
		d, err := p.make(it.Kind)
		if err == nil && n >= tries/2 {
			// Where the steps are coarse not every idea can be told from the others.
			d.Wrongs = d.told()
		}
		if err == nil && (len(d.Wrongs) == 0 || len(d.told()) < len(d.Wrongs)) {
			err = errAgain
		}
		if errors.Is(err, errAgain) {
			continue
		}
		d.Kind, d.Family = it.Kind, it.Family.Code
		return d, err
	}
	return Drill{}, fmt.Errorf("family %s: no clear question of kind %s was found in %d draws; its steps are coarse for its windows", it.Family.Code, it.Kind, tries)
}

// A draft is what a drill is made from.
type draft struct {
	family.Family
	rng.Source
	bench *explore.Bench
	gains sim.Gains
}

func (p *draft) make(k Kind) (Drill, error) {
	switch k {
	case Mark:
		return p.mark()
	case Height:
		return p.height()
	case PreloadShims:
		return p.shims()
	case Drag:
		return p.torque()
	case StringScale:
		return p.stringScale()
	case Adapter:
		return p.adapter()
	case Split:
		return p.split()
	case Notches:
		return p.notches()
	case Backlash:
		return p.backlash()
	case Total:
		return p.total()
	case Print:
		return p.print()
	case Apart:
		return p.apart()
	}
	_, err := ParseKind(string(k))
	return Drill{}, err
}

// either is a throw of a coin.
func (p *draft) either() bool { return p.Whole(2) == 0 }

// sign is +1 or -1.
func (p *draft) sign() float64 {
	if p.either() {
		return 1
	}
	return -1
}

// among returns one of a row of shims.
func (p *draft) among(s family.Stock) float64 {
	sizes := s.Sizes()
	return sizes[p.Whole(len(sizes))]
}

// told returns the wrong ideas that can be told from the right answer and from those
// before them; none where the first, the one the drill is about, cannot.
func (d Drill) told() []Wrong {
	if d.Answer.Form == Choice {
		return d.Wrongs
	}
	const fromRight, fromOther = 1.5, 0.5 // tolerances
	var out []Wrong
	for i, w := range d.Wrongs {
		clear := abs(w.Value-d.Answer.Value) >= fromRight*d.Answer.Tolerance
		for _, o := range out {
			clear = clear && abs(w.Value-o.Value) >= fromOther*d.Answer.Tolerance
		}
		if clear {
			out = append(out, w)
		} else if i == 0 {
			return nil
		}
	}
	return out
}

// stocked tells that the answer and what an idea leads to could be built from a row.
func stocked(s family.Stock, mm float64) bool {
	return mm >= s.LowMM && mm <= s.HighMM
}
