package acceptance

import (
	"math"
	"strings"

	"shimwright/sim/act"
	"shimwright/sim/gauge"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// A Dimension is what an amount is of.
type Dimension int

// The dimensions.
const (
	NoAmount Dimension = iota
	Length             // mm
	Rotating           // N·mm, of a shaft that turns
	Fastener           // N·mm, of a nut
	Share              // of the tooth, 0 root to 1 top
	Minutes
)

// String is the dimension's code in JSON, with its unit.
func (d Dimension) String() string {
	return [...]string{"none", "length-mm", "rotating-nmm", "fastener-nmm", "share", "minutes"}[d]
}

// MarshalText writes the code.
func (d Dimension) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// arg is an amount of the dimension as a value of a text.
func (d Dimension) arg(name string, v float64) text.Arg {
	switch d {
	case Rotating:
		return text.Torque(name, quantity.Torque(v))
	case Fastener:
		return text.Fastener(name, quantity.Torque(v))
	case Share:
		return text.Number(name, math.Round(1000*v)/1000, -1)
	case Minutes:
		return text.Minutes(name, v)
	}
	return text.Length(name, quantity.Millimetres(v))
}

// A Why says what an outcome hangs on.
type Why int

// The whys. Inside is that of a proved line with a figure, Done of one without.
const (
	NoWhy Why = iota
	Inside
	Done
	Confirmed // outside by no more than can be told, by several readings
	Unsure    // outside, by no more than can be told
	Outside   // surely
	NeverRead
	Stale
	CapsSnug
	Breakaway
	Greased
	NotKnownOiled
	NotTurned
	NotBraked
	ThickCoat
	TooFewPlaces
	NotSquare
	PinionLoose // not held while backlash was read
	ToolWasOff
	NotInspected
	LeftWrong
	CapsNotTorqued
	BackedOff
	NeverTightened
	Overspread
	NotWritten
	WrittenUnread
	WrittenOtherwise
	OverBudget
	NotYet
)

// Evidence is what an outcome was made from. Amounts are in the unit of Of; Low and High are
// the specification, Read is what decides, Written what the build sheet says.
type Evidence struct {
	Why     Why           `json:"why"`
	Step    int           `json:"act,omitempty"`    // number of the act; 0: none
	Before  bool          `json:"before,omitempty"` // the act was done before the trainee came to the job
	Kind    gauge.Kind    `json:"kind,omitempty"`
	Finding gauge.Finding `json:"finding,omitempty"`
	Line    act.Option    `json:"sheet_line,omitempty"`
	Of      Dimension     `json:"of,omitempty"`
	Read    float64       `json:"read,omitempty"`
	Low     float64       `json:"low,omitempty"`
	High    float64       `json:"high,omitempty"`
	Unsure  float64       `json:"expanded_uncertainty,omitempty"`
	Written float64       `json:"written,omitempty"`
}

// Message says what the evidence shows; the zero Message where there is nothing to show.
func (e Evidence) Message() text.Message {
	m := e.Why.say(e)
	switch {
	case m.IsZero() || e.Step == 0:
		return m
	case e.Before:
		return text.Say("evidence.before", "{what} (read before this job began)", text.Of("what", m))
	}
	return text.Say("evidence.at", "{what} (act {n})", text.Of("what", m), text.Count("n", e.Step))
}

// String is the why's code in JSON.
func (w Why) String() string {
	if w == NoWhy {
		return "none"
	}
	return strings.TrimPrefix(w.say(Evidence{Why: w, Of: Length}).Code(), "why.")
}

// MarshalText writes the code.
func (w Why) MarshalText() ([]byte, error) { return []byte(w.String()), nil }

func (w Why) say(e Evidence) text.Message {
	read, low, high := e.Of.arg("read", e.Read), e.Of.arg("low", e.Low), e.Of.arg("high", e.High)
	of := text.Of("reading", e.Kind.Name())
	line := text.Typed("line", strings.ReplaceAll(string(e.Line), "-", " "))
	switch w {
	case Inside:
		return text.Say("why.inside", "{reading} {read}, specification {low} to {high}", of, read, low, high)
	case Confirmed:
		return text.Say("why.confirmed", "{reading} {read}, the mean of several, which is inside {low} to {high} as closely as they tell ({unsure})", of, read, low, high, e.Of.arg("unsure", e.Unsure))
	case Done:
		return text.Say("why.done", "shown")
	case Unsure:
		return text.Say("why.unsure", "{reading} {read} lies outside {low} to {high} by less than the reading can tell ({unsure})", of, read, low, high, e.Of.arg("unsure", e.Unsure))
	case Outside:
		return text.Say("why.outside", "{reading} {read}, specification {low} to {high}", of, read, low, high)
	case NeverRead:
		return text.Say("why.never-read", "{reading} was not read", of)
	case Stale:
		return text.Say("why.stale", "{reading} was not read again after the last change", of)
	case CapsSnug:
		return text.Say("why.caps-snug", "{reading} was read with the caps only snug", of)
	case Breakaway:
		return text.Say("why.breakaway", "{reading} was read as it broke loose, not while turning", of)
	case Greased:
		return text.Say("why.greased", "{reading} was read on bearings packed in grease", of)
	case NotKnownOiled:
		return text.Say("why.not-known-oiled", "{reading} was read on bearings that nobody had inspected or washed", of)
	case NotTurned:
		return text.Say("why.not-turned", "{reading} was read straight after the nut moved, before the pinion was turned", of)
	case NotBraked:
		return text.Say("why.not-braked", "the pattern was rolled without a brake on the ring gear")
	case ThickCoat:
		return text.Say("why.thick-coat", "the pattern was made with a thick coat")
	case TooFewPlaces:
		return text.Say("why.too-few-places", "backlash was read at fewer than three places")
	case NotSquare:
		return text.Say("why.not-square", "backlash was read with the plunger not square to the tooth at the heel")
	case PinionLoose:
		return text.Say("why.pinion-loose", "backlash was read with the pinion free to turn")
	case ToolWasOff:
		return text.Say("why.tool-was-off", "{reading} was read before its instrument was found to be off", of)
	case NotInspected:
		return text.Say("why.not-inspected", "the match marks of the caps were not inspected")
	case LeftWrong:
		return text.Say("why.left-wrong", "found and left: {finding}", text.Of("finding", e.Finding.Message()))
	case CapsNotTorqued:
		return text.Say("why.caps-not-torqued", "the cap bolts are only snug")
	case BackedOff:
		return text.Say("why.backed-off", "the nut of the final assembly was loosened and not taken past where it was")
	case NeverTightened:
		return text.Say("why.never-tightened", "the nut of the final assembly has not been tightened")
	case Overspread:
		return text.Say("why.overspread", "the housing was spread past its limit")
	case NotWritten:
		return text.Say("why.not-written", "the build sheet has no {line}", line)
	case WrittenUnread:
		return text.Say("why.written-unread", "the build sheet has {line} {written}, and it was not read", line, e.Of.arg("written", e.Written))
	case WrittenOtherwise:
		return text.Say("why.written-otherwise", "the build sheet has {line} {written}, and it is {read}", line, e.Of.arg("written", e.Written), read)
	case OverBudget:
		return text.Say("why.over-budget", "{read} were spent, and {high} are allowed", read, high)
	case NotYet:
		return text.Say("why.not-yet", "the work has not come to it")
	}
	return text.Message{}
}
