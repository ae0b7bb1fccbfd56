package grading

import (
	"math"

	"shimwright/grading/acceptance"
	"shimwright/grading/cost"
	"shimwright/grading/misconception"
	"shimwright/scenarios"
	"shimwright/sim/shop"
	"shimwright/sim/text"
)

// An Area is a kind of decision that is scored together.
type Area string

// The areas of a job.
const (
	Looking  Area = "inspecting and measuring"
	Depth    Area = "pinion depth"
	Preload  Area = "pinion preload"
	Sides    Area = "side bearings and backlash"
	Stopping Area = "deciding it is done"
)

// Areas lists the areas in the order of the job.
func Areas() []Area { return []Area{Looking, Depth, Preload, Sides, Stopping} }

// Name returns what the area is called.
func (a Area) Name() text.Message {
	switch a {
	case Looking:
		return text.Say("area.inspecting", "inspecting and measuring")
	case Depth:
		return text.Say("area.depth", "pinion depth")
	case Preload:
		return text.Say("area.preload", "pinion preload")
	case Sides:
		return text.Say("area.sides", "side bearings and backlash")
	}
	return text.Say("area.stopping", "deciding it is done")
}

// An AreaScore sums up one area.
type AreaScore struct {
	Area      Area    `json:"area"`
	Decisions int     `json:"decisions"`
	Lost      float64 `json:"minutes_lost"`
	Missed    int     `json:"lines_not_proved"` // of the acceptance list
	Score     int     `json:"score"`            // 0..100, by the formula of the whole on its own lines and minutes
}

// CostsUsed names a table of costs that is not the program's own.
type CostsUsed struct {
	Name string `json:"name"`
	Mark string `json:"mark"` // of its figures, whatever it is called: cost.Table.Mark
}

// A Report is the grade of an attempt. It holds nothing of the hidden state.
type Report struct {
	Model        string            `json:"model"`
	Seed         uint64            `json:"-"`
	Costs        *CostsUsed        `json:"costs,omitempty"` // nil for the program's own
	SignedOff    bool              `json:"signed_off"`
	Score        int               `json:"score"` // 0..100: that of Sum
	Sum          Sum               `json:"sum"`   // how it adds up
	Areas        []AreaScore       `json:"areas"`
	Lines        []Line            `json:"ledger"`   // every act
	Start        float64           `json:"expected"` // minutes that the job was expected to take when it was handed out
	Decisions    []Decision        `json:"decisions"`
	Acceptance   []acceptance.Line `json:"acceptance"`
	Lost         float64           `json:"minutes_lost"`
	Minutes      shop.Minutes      `json:"shop_minutes"`
	PartsMinutes shop.Minutes      `json:"parts_as_minutes"`
	Lesson       string            `json:"lesson"`
	Weakest      int               `json:"weakest_decision"` // index into Decisions, -1 if all were sound

	Misconception misconception.Finding `json:"idea"` // what may have been thought
	// What the trainee said they would read; not part of the score.
	Expectations []Expectation `json:"expectations,omitempty"`
}

// areaOfLine is the area that a line of the acceptance list belongs to, so that no area is
// called right in which nothing was read.
func areaOfLine(id string) Area {
	switch id {
	case "pattern", "depth":
		return Depth
	case "pinion-torque", "nut", "nut-torque":
		return Preload
	case "total-torque", "side-rise", "backlash", "backlash-variation", "runout", "caps", "match-marks", "housing-spread":
		return Sides
	case "found-wrong":
		return Looking
	}
	return Stopping
}

// hundredths rounds to a hundredth; the hair keeps a half of one from falling either way by the
// last bit on different machines.
func hundredths(x float64) float64 { return math.Round(float64(x*100)*(1+1e-12)) / 100 }

// close fills in scores, weakest decision and lesson.
func (r *Report) close(costs cost.Table, formula Formula, byArea map[Area]float64) {
	for _, a := range Areas() {
		s := AreaScore{Area: a}
		for _, d := range r.Decisions {
			if d.Area == a {
				s.Decisions++
			}
		}
		s.Lost = byArea[a]
		r.Lost += s.Lost
		if s.Decisions == 0 {
			continue
		}
		s.Lost = hundredths(math.Max(s.Lost, 0))
		var lines []acceptance.Line
		for _, l := range r.Acceptance {
			if areaOfLine(l.ID) == a {
				lines = append(lines, l)
				if l.Missed() {
					s.Missed++
				}
			}
		}
		s.Score = formula.Sum(lines, s.Lost, true).Score
		r.Areas = append(r.Areas, s)
	}
	r.Lost = hundredths(math.Max(r.Lost, 0))
	r.Sum = formula.Sum(r.Acceptance, r.Lost, r.SignedOff)
	r.Score = r.Sum.Score
	r.Weakest = -1
	worst := costs.AllowanceMin
	for i, d := range r.Decisions {
		if d.Lost > worst {
			worst, r.Weakest = d.Lost, i
		}
	}
	r.chooseLesson(costs)
}

func (r *Report) chooseLesson(costs cost.Table) {
	for _, o := range []acceptance.Outcome{acceptance.Contradicted, acceptance.Open} {
		for _, l := range r.Acceptance {
			if l.Outcome == o && l.Severity == scenarios.Critical && r.SignedOff && (r.Weakest < 0 || r.Decisions[r.Weakest].Lost < costs.ComebackMin/4) {
				r.Lesson = l.Lesson
				return
			}
		}
	}
	if r.Weakest >= 0 {
		// An idea that explains the acts comes before what cost most.
		if r.Misconception.Sure {
			r.Lesson = r.Misconception.Misconceptions[0].Lesson
			return
		}
		r.Lesson = r.Decisions[r.Weakest].Lesson
		return
	}
	for _, l := range r.Acceptance {
		if l.Missed() && r.SignedOff {
			r.Lesson = l.Lesson
			return
		}
	}
}
