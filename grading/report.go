package grading

import (
	"math"

	"shimwright/grading/cost"
	"shimwright/grading/misconception"
	"shimwright/sim/quantity"
	"shimwright/sim/shop"
)

// An Area is a kind of decision that is scored together.
type Area string

// The areas of a job.
const (
	Looking  Area = "looking and measuring"
	Depth    Area = "pinion depth"
	Preload  Area = "pinion preload"
	Sides    Area = "side bearings and backlash"
	Stopping Area = "deciding it is done"
)

// areas lists all areas with their weights, in the order of the report.
func areas() []struct {
	Area   Area
	Weight float64
} {
	return []struct {
		Area   Area
		Weight float64
	}{{Looking, 1}, {Depth, 1}, {Preload, 1}, {Sides, 1}, {Stopping, 1.5}}
}

// A Decision is one pivotal choice, judged on what was known when it was made.
type Decision struct {
	Act    int     `json:"act"` // number of the act in the attempt
	Did    string  `json:"did"`
	Area   Area    `json:"area"`
	Knew   string  `json:"knew"`
	Means  string  `json:"means"`
	Best   string  `json:"best"`
	Lost   float64 `json:"minutes_lost"` // expected, against the best choice
	Score  float64 `json:"score"`
	Lesson string  `json:"lesson"`
	// What it was weighed against, the cheapest first; none where there is but one way.
	Alternatives []Alternative `json:"alternatives,omitempty"`
}

// Band puts a decision's score into words.
func (d Decision) Band() string {
	switch {
	case d.Score >= 0.90:
		return "sound"
	case d.Score >= 0.60:
		return "small loss"
	case d.Score >= 0.30:
		return "large loss"
	}
	return "costly"
}

// An AreaScore sums up one area.
type AreaScore struct {
	Area      Area    `json:"area"`
	Decisions int     `json:"decisions"`
	Lost      float64 `json:"minutes_lost"`
	Score     int     `json:"score"` // 0..100
}

// CostsUsed names a table of costs that is not the program's own.
type CostsUsed struct {
	Name string `json:"name"`
	Mark string `json:"mark"` // of its figures, whatever it is called: cost.Table.Mark
}

// A Report is the grade of an attempt. It holds nothing of the hidden state.
type Report struct {
	Model        string       `json:"model"`
	Seed         uint64       `json:"-"`
	Costs        *CostsUsed   `json:"costs,omitempty"` // nil for the program's own
	SignedOff    bool         `json:"signed_off"`
	Score        int          `json:"score"` // 0..100
	Areas        []AreaScore  `json:"areas"`
	Decisions    []Decision   `json:"decisions"`
	Rubric       []Mark       `json:"rubric"`
	Lost         float64      `json:"minutes_lost"`
	Minutes      shop.Minutes `json:"shop_minutes"`
	PartsMinutes shop.Minutes `json:"parts_as_minutes"`
	Lesson       string       `json:"lesson"`
	LessonWhy    string       `json:"lesson_why"`
	Weakest      int          `json:"weakest_decision"` // index into Decisions, -1 if all were sound

	Misconception misconception.Finding `json:"idea"` // what may have been thought
	// What the trainee said they would read; not part of the score.
	Expectations []Expectation `json:"expectations,omitempty"`
}

// floorScore keeps one bad area from wiping out all others.
const floorScore = 0.02

func (p prices) scoreOf(lost float64) float64 {
	return math.Exp(-math.Max(0, lost-p.costs.AllowanceMin) / p.costs.FadeMin)
}

func hundredths(x float64) float64 { return math.Round(x*100) / 100 }

// close fills in scores, weakest decision and lesson.
func (r *Report) close(costs cost.Table) {
	log, weight := 0.0, 0.0
	for _, a := range areas() {
		s := AreaScore{Area: a.Area}
		beyond := 0.0
		for _, d := range r.Decisions {
			if d.Area == a.Area {
				s.Decisions++
				s.Lost += d.Lost
				beyond += math.Max(0, d.Lost-costs.AllowanceMin)
			}
		}
		if s.Decisions == 0 {
			continue
		}
		s.Lost = hundredths(s.Lost)
		v := math.Max(math.Exp(-hundredths(beyond)/costs.FadeMin), floorScore)
		s.Score = int(math.Round(100 * v))
		r.Areas = append(r.Areas, s)
		r.Lost += s.Lost
		log += a.Weight * math.Log(v)
		weight += a.Weight
	}
	r.Lost = hundredths(r.Lost)
	if weight > 0 {
		r.Score = int(math.Round(100 * math.Exp(hundredths(1000*log/weight)/1000)))
	}
	r.applyRubric()
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
	for _, m := range r.Rubric {
		if m.Outcome == NotMet && m.Severity == Critical && (r.Weakest < 0 || r.Decisions[r.Weakest].Lost < costs.ComebackMin/4) {
			r.Lesson, r.LessonWhy = m.Lesson, m.Evidence
			return
		}
	}
	if r.Weakest >= 0 {
		// An idea that explains the acts comes before what cost most.
		if r.Misconception.Sure {
			r.Lesson, r.LessonWhy = r.Misconception.Misconceptions[0].Lesson, r.Misconception.Misconceptions[0].Right.Code()
			return
		}
		d := r.Decisions[r.Weakest]
		r.Lesson, r.LessonWhy = d.Lesson, d.Best
		return
	}
	for _, m := range r.Rubric {
		if m.Outcome == NotMet {
			r.Lesson, r.LessonWhy = m.Lesson, m.Evidence
			return
		}
	}
}

// words writes amounts for the texts of a report.
type words struct{ units quantity.System }

func (w words) len(mm float64) string     { return quantity.Millimetres(mm).Show(w.units) }
func (w words) signed(mm float64) string  { return quantity.Millimetres(mm).ShowSigned(w.units) }
func (w words) torque(nmm float64) string { return quantity.Torque(nmm).ShowRotating(w.units) }
func (w words) tight(nmm float64) string  { return quantity.Torque(nmm).ShowFastener(w.units) }

// fit names interference or, below zero, end play.
func (w words) fit(mm float64) string {
	if mm < 0 {
		return w.len(-mm) + " of end play"
	}
	return w.len(mm) + " of interference"
}
