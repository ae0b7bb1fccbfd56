package drill

import (
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"sync"

	"shimwright/sim"
	"shimwright/sim/explore"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/rng"
	"shimwright/sim/text"
)

// A Kind is one sort of decision, by the word that is typed for it.
type Kind string

// The kinds of drill.
const (
	Carrier          Kind = "carrier"
	Hunting          Kind = "hunting"
	DepthMark        Kind = "depth-mark"
	CheckingDistance Kind = "checking-distance"
	SetUpBearing     Kind = "set-up-bearing"
	PatternDepth     Kind = "pattern-depth"
	PreloadShims     Kind = "preload-shims"
	NutStep          Kind = "nut-step"
	PinionTorque     Kind = "pinion-torque"
	StringScale      Kind = "string-scale"
	TorqueUnits      Kind = "torque-units"
	Adapter          Kind = "adapter"
	SideTotal        Kind = "side-total"
	SideShims        Kind = "side-shims"
	Adjusters        Kind = "adjusters"
	Backlash         Kind = "backlash"
	TotalTorque      Kind = "total-torque"
	Heat             Kind = "heat"
	Pattern          Kind = "pattern"
	TellApart        Kind = "tell-apart"
)

// A row is what there is to know of a kind.
type row struct {
	kind  Kind
	about text.Message // what it asks, in a line
	draw  func(*draft) (Drill, error)
	fits  func(Kind, family.Family) (bool, text.Message) // nil: every family; else with why not
}

// rows lists the kinds in the order of the job.
func rows() []row {
	return []row{
		{Carrier, text.Say("drill.kind.carrier", "keep or reject a carrier housing"), (*draft).carrier, nil},
		{Hunting, text.Say("drill.kind.hunting", "hunting set or not, and what it means for the marks"), (*draft).hunting, nil},
		{DepthMark, text.Say("drill.kind.depth-mark", "starting depth shim from the old shim and two depth marks"), (*draft).depthMark, needsMarks},
		{CheckingDistance, text.Say("drill.kind.checking-distance", "depth shim from a depth gauge reading"), (*draft).checkingDistance, nil},
		{SetUpBearing, text.Say("drill.kind.set-up-bearing", "depth shim for a set-up bearing of another height"), (*draft).setUpBearing, nil},
		{PatternDepth, text.Say("drill.kind.pattern-depth", "depth shim from two contact patterns"), (*draft).patternDepth, nil},
		{PreloadShims, text.Say("drill.kind.preload-shims", "preload shims on a solid spacer"), (*draft).preloadShims, needsSolid},
		{NutStep, text.Say("drill.kind.nut-step", "turn of the nut on a collapsible spacer for a torque"), (*draft).nutStep, needsCollapsible},
		{PinionTorque, text.Say("drill.kind.pinion-torque", "judge a pinion rotating torque, with or without the seal"), (*draft).pinionTorque, nil},
		{StringScale, text.Say("drill.kind.string-scale", "rotating torque from a string and a spring scale"), (*draft).stringScale, nil},
		{TorqueUnits, text.Say("drill.kind.torque-units", "a torque in another unit: lb-in, lb-ft, N·m"), (*draft).torqueUnits, nil},
		{Adapter, text.Say("drill.kind.adapter", "setting of a torque wrench with an adapter"), (*draft).adapter, nil},
		{SideTotal, text.Say("drill.kind.side-total", "total of the side shims from the end play"), (*draft).sideTotal, needsShims},
		{SideShims, text.Say("drill.kind.side-shims", "side shims for a change in backlash"), (*draft).sideShims, needsShims},
		{Adjusters, text.Say("drill.kind.adjusters", "notches of the bearing adjusters for a change in backlash"), (*draft).adjusters, needsAdjusters},
		{Backlash, text.Say("drill.kind.backlash", "judge four backlash readings"), (*draft).backlash, nil},
		{TotalTorque, text.Say("drill.kind.total-torque", "total rotating torque, side bearings and the axle ratio"), (*draft).totalTorque, nil},
		{Heat, text.Say("drill.kind.heat", "side bearing preload left in a warm aluminum housing"), (*draft).heat, needsAluminum},
		{Pattern, text.Say("drill.kind.pattern", "read a contact pattern: is the pinion or ring gear out"), (*draft).pattern, nil},
		{TellApart, text.Say("drill.kind.tell-apart", "the check that tells two faults apart"), (*draft).tellApart, nil},
	}
}

// Kinds lists the kinds in the order of the job.
func Kinds() []Kind {
	var out []Kind
	for _, r := range rows() {
		out = append(out, r.kind)
	}
	return out
}

// find returns the row of a kind. Errors: a kind there is not, with those there are.
func (k Kind) find() (row, error) {
	for _, r := range rows() {
		if strings.EqualFold(string(k), string(r.kind)) {
			return r, nil
		}
	}
	return row{}, text.Fail(nil, text.Say("drill.kind.unknown", "no drill is named {name}: there are {kinds}", text.Typed("name", strconv.Quote(string(k))), text.AllTyped("kinds", Kinds()...)))
}

// About says in a line what a kind asks.
func (k Kind) About() text.Message {
	r, _ := k.find()
	return r.about
}

// ParseKind reads a kind's name. Errors: a name there is not, with those there are.
func ParseKind(name string) (Kind, error) {
	r, err := Kind(name).find()
	return r.kind, err
}

// Fits says why a kind cannot be asked on a family, or returns nil.
func (k Kind) Fits(fam family.Family) error {
	r, err := k.find()
	if err != nil || r.fits == nil {
		return err
	}
	if ok, why := r.fits(k, fam); !ok {
		return text.Fail(nil, why)
	}
	return nil
}

// refused says why a kind cannot be asked on a family.
func refused(k Kind, fam family.Family) []text.Arg {
	return []text.Arg{text.Typed("kind", string(k)), text.Typed("family", fam.Code)}
}

func needsMarks(k Kind, fam family.Family) (bool, text.Message) {
	return fam.Sheet.Marks.Known(), text.Say("drill.fits.marks", "drill {kind} needs an axle whose pinions carry depth marks; the pinions of {family} carry none", refused(k, fam)...)
}

func needsSolid(k Kind, fam family.Family) (bool, text.Message) {
	return fam.Design.Preload == family.SolidSpacer, text.Say("drill.fits.solid", "drill {kind} needs an axle with a solid spacer; {family} has a collapsible spacer", refused(k, fam)...)
}

func needsCollapsible(k Kind, fam family.Family) (bool, text.Message) {
	return fam.Design.Preload == family.CollapsibleSpacer, text.Say("drill.fits.collapsible", "drill {kind} needs an axle with a collapsible spacer; {family} has a solid spacer", refused(k, fam)...)
}

func needsShims(k Kind, fam family.Family) (bool, text.Message) {
	return fam.Design.SideAdjust != family.BearingAdjusters, text.Say("drill.fits.shims", "drill {kind} needs an axle with side shims; {family} has bearing adjusters", refused(k, fam)...)
}

func needsAdjusters(k Kind, fam family.Family) (bool, text.Message) {
	return fam.Design.SideAdjust == family.BearingAdjusters, text.Say("drill.fits.adjusters", "drill {kind} needs an axle with bearing adjusters; {family} has side shims", refused(k, fam)...)
}

// A Source is where a rule is from.
type Source struct {
	Where    text.Message `json:"where"`
	Strength Strength     `json:"strength"`
}

// A Strength is how far a source can be trusted.
type Strength string

// The strengths, as the tables of check values have them.
const (
	Published Strength = "published"
	Computed  Strength = "computed"
	Practice  Strength = "practice"
)

// Name is the strength in words.
func (s Strength) Name() text.Message {
	switch s {
	case Published:
		return text.Say("drill.strength.published", "published")
	case Computed:
		return text.Say("drill.strength.computed", "computed independently")
	}
	return text.Say("drill.strength.practice", "common practice, no source")
}

// A Wrong is an answer that a misconception leads to.
type Wrong struct {
	Misconception Misconception `json:"misconception"`
	Value         float64       `json:"value,omitempty"` // as Reply.Value
	Choice        int           `json:"choice"`          // as Reply.Choice
	Why           text.Message  `json:"why"`             // what the misconception overlooks
}

// A Step is one line of the working.
type Step struct {
	What   text.Message
	Figure Figure
}

// Message is the line: what is worked out, and how.
func (s Step) Message() text.Message {
	return text.Say("drill.step", "{what}: {sum}", text.Of("what", s.What), text.Shown("sum", equation{s.Figure}))
}

// MarshalJSON writes the line as code and values.
func (s Step) MarshalJSON() ([]byte, error) { return json.Marshal(s.Message()) }

// A Drill is one question with all that belongs to it.
type Drill struct {
	Kind     Kind                 `json:"kind"`
	Family   string               `json:"family"` // code
	Patterns []gauge.ToothPattern `json:"patterns,omitempty"`
	Asks     text.Message         `json:"asks"`
	Answer   Answer               `json:"answer"`
	Shows    text.Message         `json:"shows"`             // why the answer is right
	Working  []Step               `json:"working,omitempty"` // its arithmetic; the last step is the answer where that is an amount
	Wrongs   []Wrong              `json:"wrongs"`
	Lesson   string               `json:"lesson"`
	Source   Source               `json:"source"`
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
	r, err := it.Kind.find()
	if err != nil {
		return Drill{}, err
	}
	model := sync.OnceValues(func() (model, error) { return modelOf(it.Family) })
	const tries = 500
	for n := range tries {
		s := rng.Stream(it.Seed, fmt.Sprintf("drill/%s/%d/%d", it.Kind, it.N, n))
		p := &draft{Family: it.Family, Source: s, model: model}
		d, err := r.draw(p)
		if err == nil && n >= tries/2 {
			// Where the steps are coarse not every misconception can be told from the others.
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
	return Drill{}, text.Fail(nil, text.Say("drill.unclear", "family {family}: no clear question of the drill {kind} was found in {n} draws; its shim steps are coarse for its specs", text.Typed("family", it.Family.Code), text.Typed("kind", string(it.Kind)), text.Count("n", tries)))
}

// A draft is what a drill is made from.
type draft struct {
	family.Family
	rng.Source
	model func() (model, error) // worked out once, and only for drills that need it
}

// A model is the middle axle of a family, and what one change does to it.
type model struct {
	bench *explore.Bench
	gains sim.Gains // with new bearings
}

func modelOf(fam family.Family) (m model, err error) {
	if m.bench, err = explore.NewBench(fam); err != nil {
		return model{}, err
	}
	m.gains, err = sim.NominalGains(fam, false)
	return m, err
}

// named names the family of a draft in a text.
func (p *draft) named() text.Arg { return text.Typed("family", p.Code) }

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

// told returns the wrong answers that can be told from the right one and from those before
// them; none where the first, the one the drill is about, cannot.
func (d Drill) told() []Wrong {
	if d.Answer.IsChoice() {
		return d.Wrongs
	}
	const fromRight, fromOther = 1.5, 0.5 // tolerances
	var out []Wrong
	for i, w := range d.Wrongs {
		clear := abs(w.Value-d.Answer.Figure.Exact()) >= fromRight*d.Answer.Tolerance
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

// stocked tells that a size could be built from a row.
func stocked(s family.Stock, mm float64) bool {
	return mm >= s.LowMM && mm <= s.HighMM
}
