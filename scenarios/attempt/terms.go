package attempt

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strconv"

	"shimwright/scenarios"
	"shimwright/sim"
	"shimwright/sim/fault"
	"shimwright/sim/shop"
	"shimwright/sim/text"
)

// Mode says what a trainee is told at sign-off.
type Mode string

// The modes. The zero value is practice.
const (
	Practice       Mode = ""      // the whole debrief
	Check          Mode = "check" // the score and the list of points; no decisions, and not what the axle was
	Exam           Mode = "exam"  // nothing, until the instructor grades the file
	PracticeInName      = "practice"
)

// Modes lists the modes.
func Modes() []Mode { return []Mode{Practice, Check, Exam} }

// String returns the mode's name.
func (m Mode) String() string {
	if m == Practice {
		return PracticeInName
	}
	return string(m)
}

// Help says what the bench tells a trainee who asks, and unasked.
type Help string

// The levels of help. The zero value is full.
const (
	CoachHelp  Help = "coach"  // all of full help; at once after each decision what it cost and why; acts can be taken back
	FullHelp   Help = ""       // what can be done now, lessons, where to begin
	LittleHelp Help = "little" // what can be done now; no lessons, no word on where to begin
	NoHelp     Help = "none"   // how acts are written, and no more
	FullInName      = "full"
)

// Helps lists the levels of help, the most first.
func Helps() []Help { return []Help{CoachHelp, FullHelp, LittleHelp, NoHelp} }

// String returns the level's name.
func (h Help) String() string {
	if h == FullHelp {
		return FullInName
	}
	return string(h)
}

// Gives tells whether a level gives what takes another.
func (h Help) Gives(takes Help) bool {
	all := Helps()
	return slices.Index(all, h) <= slices.Index(all, takes)
}

// OpenJob says how a job that was not signed off counts where scores are added up.
type OpenJob string

// The ways to count one. The zero value is as it stands.
const (
	AsItStands       OpenJob = ""            // with the score it has so far
	CountsNothing    OpenJob = "zero"        // as a score of 0
	NotCounted       OpenJob = "not-counted" // not at all
	AsItStandsInName         = "as-it-stands"
)

// OpenJobs lists the ways.
func OpenJobs() []OpenJob { return []OpenJob{AsItStands, CountsNothing, NotCounted} }

// String returns the way's name.
func (o OpenJob) String() string {
	if o == AsItStands {
		return AsItStandsInName
	}
	return string(o)
}

// Name says how an open job counts.
func (o OpenJob) Name() text.Message {
	switch o {
	case CountsNothing:
		return text.Say("open-job.zero", "a job that is not signed off counts as 0")
	case NotCounted:
		return text.Say("open-job.not-counted", "a job that is not signed off is not counted")
	}
	return text.Say("open-job.as-it-stands", "a job that is not signed off counts with the score it has so far")
}

// Terms are what an attempt is made on besides its job. The zero value is free practice.
type Terms struct {
	Exercise string // its name; "" for none
	Digest   string // of what the exercise's file says, so that two of one name are told apart; "" for none
	Mode     Mode
	Help     Help
	Open     OpenJob
}

// Validate says what is wrong with terms: a mode or a level of help there is not, or help
// where the mode gives none.
func (t Terms) Validate() error {
	if !slices.Contains(Modes(), t.Mode) || !slices.Contains(Helps(), t.Help) {
		return text.Fail(nil, text.Say("terms.unknown", "there is no mode {mode} with help {help}", text.Quoted("mode", string(t.Mode)), text.Quoted("help", string(t.Help))))
	}
	if !slices.Contains(OpenJobs(), t.Open) {
		return text.Fail(nil, text.Say("terms.unknown-open-job", "there is no way {way} to count a job that is not signed off", text.Quoted("way", string(t.Open))))
	}
	if t.Mode != Practice && t.Help != NoHelp {
		return text.Fail(nil, text.Say("terms.help-in-mode", "a job in mode {mode} gives no help: its help must be none, not {help}", text.Typed("mode", t.Mode.String()), text.Typed("help", t.Help.String())))
	}
	return nil
}

// termsLine is what a head says of kind, faults, bench and terms: nothing for a whole job
// of free practice.
type termsLine struct {
	Kind     string                      `json:"kind,omitempty"`
	Faults   *faultsLine                 `json:"faults,omitempty"`
	Off      []string                    `json:"left_off,omitempty"`
	Minutes  float64                     `json:"minutes,omitempty"`
	Parts    float64                     `json:"parts_minutes,omitempty"`
	Weights  map[string]scenarios.Weight `json:"weights,omitempty"`
	Exercise string                      `json:"exercise,omitempty"`
	Digest   string                      `json:"exercise_digest,omitempty"`
	Mode     string                      `json:"mode,omitempty"`
	Help     string                      `json:"help,omitempty"`
	Open     string                      `json:"open_job,omitempty"`
}

type faultsLine struct {
	None  bool       `json:"none,omitempty"`
	Only  []fault.ID `json:"only,omitempty"`
	OneOf []fault.ID `json:"one_of,omitempty"`
}

func writeTerms(o scenarios.Order, t Terms) termsLine {
	l := termsLine{Kind: string(o.Kind), Minutes: float64(o.Budget.Minutes), Parts: float64(o.Budget.Parts), Weights: o.Weights,
		Exercise: t.Exercise, Digest: t.Digest, Mode: string(t.Mode), Help: string(t.Help), Open: string(t.Open)}
	r := o.Faults
	f := faultsLine{None: r.None || r.Only != nil && len(r.Only) == 0, Only: r.Only, OneOf: r.OneOf}
	if f.None || len(f.Only) > 0 || len(f.OneOf) > 0 {
		l.Faults = &f
	}
	for _, off := range o.Off {
		l.Off = append(l.Off, off.String())
	}
	return l
}

// read fills in an order and returns the terms. Errors: what writeTerms does not write.
func (l termsLine) read(o *scenarios.Order) (Terms, error) {
	o.Kind = scenarios.Kind(l.Kind)
	if l.Faults != nil {
		o.Faults = scenarios.FaultRule{None: l.Faults.None, Only: l.Faults.Only, OneOf: l.Faults.OneOf}
	}
	for _, name := range l.Off {
		off, err := sim.ParseLeftOff(name)
		if err != nil {
			return Terms{}, err
		}
		o.Off = append(o.Off, off)
	}
	o.Budget = scenarios.Budget{Minutes: shop.Minutes(l.Minutes), Parts: shop.Minutes(l.Parts)}
	o.Weights = l.Weights
	t := Terms{Exercise: l.Exercise, Digest: l.Digest, Mode: Mode(l.Mode), Help: Help(l.Help), Open: OpenJob(l.Open)}
	if err := t.Validate(); err != nil {
		return Terms{}, err
	}
	return t, o.Validate()
}

// DigestOf is the digest of an exercise by what its file says.
func DigestOf(file []byte) string {
	sum := sha256.Sum256(file)
	return hex.EncodeToString(sum[:])[:linkChars]
}

// TermsMark is short and the same for two attempts on the same family, kind of job, faults, bench,
// budget, weights and terms, and for no others: what differs in it is not compared.
func (h Header) TermsMark() string {
	const chars = 16
	return DigestOf(line(headerLine{Model: h.Model, Family: h.Family.Code, File: h.FamilyText, termsLine: writeTerms(h.Order, h.Terms)}))[:chars]
}

// JobMark is the same for two attempts at the same job on the same terms, and for no others.
func (h Header) JobMark() string { return h.TermsMark() + "-" + strconv.FormatUint(h.Seed, 10) }
