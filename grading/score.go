package grading

import (
	"math"
	"slices"

	"shimwright/grading/acceptance"
	"shimwright/scenarios"
	"shimwright/sim/text"
)

// A Formula is how a score comes about: all of its figures, so that who prints them and who
// reckons with them cannot differ. Points and weights are out of 100.
type Formula struct {
	// What Right and Cost count in the score, in hundredths. Cost counts for no more than
	// Right: cheap work is worth no more than what it proves.
	RightWeight int `json:"right_weight"`
	CostWeight  int `json:"cost_weight"`

	// Right is 100 less these for each line of the acceptance list that is not proved.
	Critical int `json:"critical_points"`
	Major    int `json:"major_points"`
	Minor    int `json:"minor_points"`

	// Cost is 100 less so many points for each charged minute beyond an allowance.
	AllowanceMin    float64 `json:"allowance_minutes"`
	PointsPerMinute float64 `json:"points_per_minute"`

	// What a score is at most: with a critical line not proved; with a
	// critical or major line contradicted; while the job is not signed off.
	UnprovedMost     int `json:"unproved_at_most"`
	ContradictedMost int `json:"contradicted_at_most"`
	OpenMost         int `json:"open_at_most"`
}

// TheFormula is the program's own. Its figures are the project's judgement.
func TheFormula() Formula {
	return Formula{RightWeight: 60, CostWeight: 40, Critical: 25, Major: 10, Minor: 3,
		AllowanceMin: 4, PointsPerMinute: 1, UnprovedMost: 75, ContradictedMost: 49, OpenMost: 49}
}

// PointsOf is what a line of a severity takes off Right.
func (f Formula) PointsOf(w scenarios.Weight) int {
	switch w {
	case scenarios.Critical:
		return f.Critical
	case scenarios.Major:
		return f.Major
	case scenarios.Minor:
		return f.Minor
	}
	return 0
}

// Messages say the formula, a sentence each.
func (f Formula) Messages() []text.Message {
	n := func(name string, v int) text.Arg { return text.Count(name, v) }
	return []text.Message{
		text.Say("score.formula", "Score = {right} % of Right + {cost} % of Cost, to the nearest whole number. Cost counts for no more than Right.", n("right", f.RightWeight), n("cost", f.CostWeight)),
		text.Say("score.right", "Right is 100 less {critical} points for each critical line of the acceptance list that is not proved, {major} for each major one and {minor} for each minor one; it is never below 0.",
			n("critical", f.Critical), n("major", f.Major), n("minor", f.Minor)),
		text.Say("score.cost", "Cost is 100 less {points} for each minute charged beyond the first {allowance}; it is never below 0.",
			text.Number("points", f.PointsPerMinute, -1), text.Minutes("allowance", f.AllowanceMin)),
		text.Say("score.caps", "The score is at most {unproved} where a critical line is not proved, at most {contradicted} where a critical or major line is contradicted, and at most {open} while the job is not signed off.",
			n("unproved", f.UnprovedMost), n("contradicted", f.ContradictedMost), n("open", f.OpenMost)),
	}
}

// A Hold is why a score is held at a figure.
type Hold string

// The holds.
const (
	NotHeld          Hold = ""
	HeldUnproved     Hold = "unproved"
	HeldContradict   Hold = "contradicted"
	HeldNotSignedOff Hold = "not-signed-off"
)

// A Taken is what one line of the acceptance list took off Right.
type Taken struct {
	Line   string `json:"line"`
	Points int    `json:"points"`
}

// A Sum is a score as it adds up: from the parts that are printed anybody gets the same.
type Sum struct {
	Taken      []Taken `json:"taken_off_right"`
	Right      int     `json:"right"`
	ChargedMin float64 `json:"charged_minutes"` // to a tenth
	Cost       int     `json:"cost"`
	Counted    int     `json:"cost_counted"` // Cost, or Right where that is less
	Whole      int     `json:"whole"`        // both weighed, before anything holds it
	Hold       Hold    `json:"held_by,omitempty"`
	Most       int     `json:"at_most,omitempty"`
	Score      int     `json:"score"`
}

// Sum makes a score of the acceptance list and of the minutes charged.
func (f Formula) Sum(lines []acceptance.Line, chargedMin float64, signedOff bool) Sum {
	s := Sum{Taken: []Taken{}, Right: 100, ChargedMin: math.Round(10*math.Max(chargedMin, 0)) / 10}
	unproved, contradicted := false, false
	for _, l := range lines {
		if !l.Missed() {
			continue
		}
		points := f.PointsOf(l.Severity)
		if points > 0 {
			s.Taken = append(s.Taken, Taken{l.ID, points})
		}
		s.Right -= points
		unproved = unproved || l.HoldsBack()
		contradicted = contradicted || l.Outcome == acceptance.Contradicted && (l.Severity == scenarios.Critical || l.Severity == scenarios.Major)
	}
	s.Right = max(s.Right, 0)
	s.Cost = max(0, int(math.Round(100-f.PointsPerMinute*math.Max(0, s.ChargedMin-f.AllowanceMin))))
	s.Counted = min(s.Cost, s.Right)
	s.Whole = (f.RightWeight*s.Right + f.CostWeight*s.Counted + 50) / 100
	s.Score = s.Whole
	hold := func(so bool, why Hold, most int) {
		if so && (s.Hold == NotHeld || most < s.Most) {
			s.Hold, s.Most = why, most
		}
	}
	hold(unproved, HeldUnproved, f.UnprovedMost)
	hold(contradicted, HeldContradict, f.ContradictedMost)
	hold(!signedOff, HeldNotSignedOff, f.OpenMost)
	if s.Hold != NotHeld {
		s.Score = min(s.Score, s.Most)
	}
	return s
}

// Messages say how the score adds up, a line each.
func (s Sum) Messages(f Formula) []text.Message {
	var out []text.Message
	points := 0
	for _, t := range s.Taken {
		points += t.Points
	}
	out = append(out,
		text.Say("sum.right", "Right {right}: 100 less {points} {points:point|points} for {n} {n:line|lines} of the acceptance list not proved", text.Count("right", s.Right), text.Count("points", points), text.Count("n", len(s.Taken))),
		text.Say("sum.cost", "Cost {cost}: 100 less {each} for each of {charged} charged minutes beyond {allowance}", text.Count("cost", s.Cost),
			text.Number("each", f.PointsPerMinute, -1), text.Number("charged", s.ChargedMin, 1), text.Number("allowance", f.AllowanceMin, -1)),
		text.Say("sum.whole", "{rightshare} % of {right} and {costshare} % of {cost} make {whole}", text.Count("rightshare", f.RightWeight), text.Count("right", s.Right),
			text.Count("costshare", f.CostWeight), text.Count("cost", s.Counted), text.Count("whole", s.Whole)))
	if s.Counted < s.Cost {
		out = slices.Insert(out, 2, text.Say("sum.counted", "Cost counts for no more than Right: {right}", text.Count("right", s.Right)))
	}
	if s.Score < s.Whole {
		out = append(out, s.Hold.message(s.Most))
	}
	return out
}

func (h Hold) message(most int) text.Message {
	at := text.Count("most", most)
	switch h {
	case HeldUnproved:
		return text.Say("sum.held-unproved", "held at {most}: a critical line of the acceptance list is not proved", at)
	case HeldContradict:
		return text.Say("sum.held-contradicted", "held at {most}: a line of the acceptance list is contradicted", at)
	case HeldNotSignedOff:
		return text.Say("sum.held-open", "held at {most}: the job is not signed off", at)
	}
	return text.Message{}
}
