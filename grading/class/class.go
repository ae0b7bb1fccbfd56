// Package class adds up the attempts of a class: who scored what, which decisions cost most,
// which misconceptions the acts speak for, and which attempts are the same act for act. It
// opens no axle: a class is about decisions. It reads no files and says nothing itself.
package class

import (
	"cmp"
	"crypto/sha256"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"

	"shimwright/grading"
	"shimwright/grading/cost"
	"shimwright/grading/debrief"
	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

// An Attempt is one that was handed in.
type Attempt struct {
	Pupil  string
	File   string // its name, by which it is told from others
	Record *attempt.Record
	Err    error // why there is no record
}

// A Row is one attempt, graded.
type Row struct {
	Pupil  string         `json:"pupil"`
	File   string         `json:"file"`
	Family string         `json:"family"`
	Kind   scenarios.Kind `json:"kind,omitempty"`
	Seed   uint64         `json:"seed,string"`
	Terms
	SignedOff     bool                `json:"signed_off"` // no: the attempt is open
	Score         int                 `json:"score"`
	Counted       bool                `json:"counted"` // in the mean of scores
	Areas         []grading.AreaScore `json:"areas"`   // those in which something was decided
	Minutes       float64             `json:"shop_minutes"`
	PartsMinutes  float64             `json:"parts_as_minutes"`
	Lost          float64             `json:"minutes_lost"`
	Dearest       *Dearest            `json:"dearest,omitempty"`
	Lesson        string              `json:"lesson,omitempty"`
	CriticalUnmet int                 `json:"critical_items_not_met"`
	Misconception string              `json:"misconception,omitempty"` // its code, where it is sure
	Believes      text.Message        `json:"-"`                       // the misconception in words
	SpeakFor      []int               `json:"acts_for_it,omitempty"`   // the acts that speak for it
	ByKind        []Kind              `json:"lost_by_kind,omitempty"`
}

// Terms are what a row was worked on and when; a Group is what of it scores are added up under.
type (
	Terms = debrief.Terms
	Group = debrief.Group
)

// AreaScore returns the score of an area, and whether anything was decided in it.
func (r Row) AreaScore(a grading.Area) (score int, ok bool) {
	i := slices.IndexFunc(r.Areas, func(s grading.AreaScore) bool { return s.Area == a })
	if i < 0 {
		return 0, false
	}
	return r.Areas[i].Score, true
}

// Dearest is the decision of an attempt that lost most.
type Dearest struct {
	Act  int     `json:"act"`
	Did  string  `json:"did"`
	Lost float64 `json:"minutes_lost"`
}

// A Kind is a kind of decision: what was done, in which area.
type Kind struct {
	Did  string       `json:"did"` // the act without its amounts
	Area grading.Area `json:"area"`
	Lost float64      `json:"minutes_lost"`       // minutes; of a class the mean of all attempts
	In   int          `json:"attempts,omitempty"` // of a class: attempts in which it cost something
}

// A Mean is a mean of those attempts that have the figure.
type Mean struct {
	Value float64 `json:"value"`
	Of    int     `json:"attempts"`
	Sure  float64 `json:"plus_minus,omitempty"` // of a person's scores: grading.Surety.PlusMinus of so many jobs
}

// AreaMean is the mean score of an area.
type AreaMean struct {
	Area grading.Area `json:"area"`
	Mean
}

// A PersonMean is the mean of a person's scores on one group of terms that count.
type PersonMean struct {
	Pupil string `json:"pupil"`
	Group
	Mean
}

// Means are the means of a class.
type Means struct {
	Score  Mean         `json:"score"`  // of those that count
	People []PersonMean `json:"people"` // in the order of the rows
	Areas  []AreaMean   `json:"areas"`
	Work   Mean         `json:"shop_minutes"`
	Lost   Mean         `json:"minutes_lost"`
}

// Held is a misconception and how many attempts speak for it.
type Held struct {
	ID       string       `json:"id"`
	Believes text.Message `json:"-"`
	Attempts int          `json:"attempts"`
}

// A Trouble is an attempt that could not be graded, and why.
type Trouble struct {
	Pupil string       `json:"pupil,omitempty"`
	File  string       `json:"file"`
	Why   text.Message `json:"why"`
	Err   error        `json:"-"`
}

// A Class is what a set of attempts comes to.
type Class struct {
	Rows           []Row              `json:"attempts"`
	Means          *Means             `json:"means,omitempty"` // nil without an attempt
	Dear           []Kind             `json:"cost_most,omitempty"`
	Misconceptions []Held             `json:"misconceptions,omitempty"`
	Same           [][]string         `json:"same_attempt,omitempty"` // files with the same acts on the same job
	Trouble        []Trouble          `json:"not_graded,omitempty"`
	Costs          *grading.CostsUsed `json:"costs,omitempty"`             // nil for the program's own
	Absent         []string           `json:"nothing_graded,omitempty"`    // pupils of whom nothing is graded, in order
	Strangers      []string           `json:"not_on_the_roster,omitempty"` // pupils that a roster does not have
	Passed         []string           `json:"passed_over,omitempty"`       // files that are no attempts and were not meant to be
}

// Areas lists the areas that a class has scores for, in the order of a report.
func Areas() []grading.Area {
	return []grading.Area{grading.Looking, grading.Depth, grading.Preload, grading.Sides, grading.Stopping}
}

// Grade is GradeEach of attempts that are all there.
func Grade(attempts []Attempt, costs cost.Table, units quantity.System, done func(n int)) Class {
	return GradeEach(len(attempts), func(i int) Attempt { return attempts[i] }, costs, units, done)
}

// GradeEach grades so many attempts at a table of costs, in any order, and adds them up. It
// grades as many at once as there are processors, and loads each only then, so that a large
// class takes no more room than a small one. done is told after each how many are graded, one
// call at a time. units is for the texts that a grade still holds. What cannot be graded is
// among the trouble.
func GradeEach(n int, load func(i int) Attempt, costs cost.Table, units quantity.System, done func(n int)) Class {
	type graded struct {
		pupil, file string
		key         string // the same for the same acts on the same job; "" for no act
		row         Row
		err         error
	}
	var jobs jobs
	all := make([]graded, n)
	var next, ready int
	var hold sync.Mutex
	take := func() (i int, ok bool) {
		hold.Lock()
		defer hold.Unlock()
		next++
		return next - 1, next <= n
	}
	var workers sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), n) {
		workers.Go(func() {
			for i, ok := take(); ok; i, ok = take() {
				a := load(i)
				g := graded{pupil: a.Pupil, file: a.File, key: keyOf(a)}
				g.row, g.err = grade(a, &jobs, costs, units)
				all[i] = g
				hold.Lock()
				ready++
				done(ready)
				hold.Unlock()
			}
		})
	}
	workers.Wait()
	var rows []Row
	var trouble []Trouble
	var same [][]string
	at := map[string]int{}
	for _, g := range all {
		if g.err != nil {
			trouble = append(trouble, Trouble{g.pupil, g.file, text.Reason(g.err), g.err})
		} else {
			rows = append(rows, g.row)
		}
		if g.key == "" {
			continue
		}
		i, ok := at[g.key]
		if !ok {
			i = len(same)
			at[g.key] = i
			same = append(same, nil)
		}
		same[i] = append(same[i], g.file)
	}
	same = slices.DeleteFunc(same, func(names []string) bool { return len(names) < 2 })
	if len(same) == 0 {
		same = nil
	}
	c := New(rows, same, trouble)
	if !costs.IsDefault() {
		c.Costs = &grading.CostsUsed{Name: costs.Name, Mark: costs.Mark()}
	}
	return c
}

// keyOf is the same for the same acts, one at least, at the same job on the same terms,
// whenever they were done.
func keyOf(a Attempt) string {
	if a.Err != nil || len(a.Record.Entries) == 0 {
		return ""
	}
	h := sha256.New()
	for _, did := range a.Record.Entries {
		fmt.Fprintf(h, "%s %d\n", did.Act, did.Back)
	}
	return a.Record.Header.JobMark() + string(h.Sum(nil))
}

// made is a job that attempts were made at, and the gains that they are graded by.
type made struct {
	job   scenarios.Job
	gains sim.Gains
}

// jobs are the jobs of a class, each made when it is first asked for, and once: a class works
// the same few. Where it works many, those asked for longest ago are let go.
type jobs struct {
	hold  sync.Mutex
	made  map[string]func() (made, error)
	order []string // the last asked for at the end
}

// kept is how many jobs are held at once.
const kept = 24

func (j *jobs) of(h attempt.Header) (made, error) {
	key := h.JobMark()
	j.hold.Lock()
	if j.made == nil {
		j.made = map[string]func() (made, error){}
	}
	get, ok := j.made[key]
	if !ok {
		get = sync.OnceValues(func() (m made, err error) {
			if m.job, err = h.Order.Generate(h.Seed); err == nil {
				m.gains, err = grading.GainsOf(m.job.Card)
			}
			return m, err
		})
		j.made[key] = get
	} else {
		j.order = slices.DeleteFunc(j.order, func(k string) bool { return k == key })
	}
	j.order = append(j.order, key)
	if len(j.order) > kept {
		delete(j.made, j.order[0])
		j.order = j.order[1:]
	}
	j.hold.Unlock()
	return get()
}

func grade(a Attempt, jobs *jobs, costs cost.Table, units quantity.System) (Row, error) {
	if a.Err != nil {
		return Row{}, a.Err
	}
	m, err := jobs.of(a.Record.Header)
	if err != nil {
		return Row{}, err
	}
	job := m.job
	stand, outs, err := attempt.ReplayOn(job, a.Record)
	if err != nil {
		return Row{}, err
	}
	if err := debrief.MayGrade(a.Record.Header.Mode, stand.Status().SignedOff); err != nil {
		if a.Record.Header.Open == attempt.AsItStands {
			return Row{}, err
		}
		st := stand.Status()
		score, counted := Counts(a.Record.Header.Open, 0, false)
		return Row{Terms: debrief.TermsOf(a.Record), Pupil: a.Pupil, File: a.File, Family: job.Card.Family.Code, Kind: job.Card.Kind, Seed: job.Card.Seed, Score: score, Counted: counted,
			Areas: []grading.AreaScore{}, Minutes: float64(st.Minutes), PartsMinutes: float64(st.PartsMinutes)}, nil
	}
	r := grading.GradeWith(m.gains, costs, job.Card, outs, units)
	score, counted := Counts(a.Record.Header.Open, r.Score, r.SignedOff)
	row := Row{Counted: counted, Terms: debrief.TermsOf(a.Record), Pupil: a.Pupil, File: a.File, Family: job.Card.Family.Code, Kind: job.Card.Kind, Seed: job.Card.Seed, SignedOff: r.SignedOff, Score: score,
		Areas: r.Areas, Minutes: float64(r.Minutes), PartsMinutes: float64(r.PartsMinutes), Lost: r.Lost, Lesson: r.Lesson}
	if r.Weakest >= 0 {
		d := r.Decisions[r.Weakest]
		row.Dearest = &Dearest{d.Act, d.Did, d.Lost}
	}
	for _, l := range r.Acceptance {
		if r.SignedOff && l.Missed() && l.Severity == scenarios.Critical {
			row.CriticalUnmet++
		}
	}
	if r.Misconception.Sure {
		m := r.Misconception.Misconceptions[0]
		row.Misconception, row.Believes, row.SpeakFor = m.ID, m.Believes, m.Acts
	}
	for _, d := range r.Decisions {
		row.add(formName(outs[d.Act-1].Act.Form), d.Area, d.Lost)
	}
	return row, nil
}

// Counts returns what a job goes down with in a class, and whether it goes into the mean:
// with its score, or, left open, as its exercise says.
func Counts(rule attempt.OpenJob, score int, signedOff bool) (int, bool) {
	switch {
	case signedOff || rule == attempt.AsItStands:
		return score, true
	case rule == attempt.CountsNothing:
		return 0, true
	}
	return score, false
}

// formName is an act without its blanks.
func formName(f act.Form) string {
	name, _, _ := strings.Cut(f.String(), " {")
	return name
}

func (r *Row) add(did string, area grading.Area, lost float64) {
	i := slices.IndexFunc(r.ByKind, func(k Kind) bool { return k.Did == did && k.Area == area })
	if i < 0 {
		i = len(r.ByKind)
		r.ByKind = append(r.ByKind, Kind{Did: did, Area: area})
	}
	r.ByKind[i].Lost += lost
}

// New adds up graded attempts, in any order.
func New(rows []Row, same [][]string, trouble []Trouble) Class {
	c := Class{Rows: slices.Clone(rows), Same: same, Trouble: trouble}
	if c.Rows == nil {
		c.Rows = []Row{}
	}
	slices.SortStableFunc(c.Rows, func(a, b Row) int {
		return cmp.Or(strings.Compare(a.Pupil, b.Pupil), CompareJobs(a, b), strings.Compare(a.File, b.File))
	})
	c.means()
	c.costMost()
	c.held()
	for _, t := range trouble {
		if t.Pupil != "" && !slices.ContainsFunc(c.Rows, func(r Row) bool { return r.Pupil == t.Pupil }) {
			c.Absent = append(c.Absent, t.Pupil)
		}
	}
	slices.Sort(c.Absent)
	c.Absent = slices.Compact(c.Absent)
	return c
}

// CallRoll holds a class against a roster of its pupils: who is on it and has nothing graded is
// absent, whoever is not on it a stranger. Capitals and blanks at the ends do not count.
func (c *Class) CallRoll(roster []string) {
	fold := func(s string) string { return strings.ToLower(strings.TrimSpace(s)) }
	on, has := map[string]bool{}, map[string]bool{}
	for _, name := range roster {
		on[fold(name)] = true
	}
	pupils := slices.Clone(c.Absent)
	for _, r := range c.Rows {
		pupils = append(pupils, r.Pupil)
	}
	for _, p := range pupils {
		has[fold(p)] = true
		if !on[fold(p)] && !slices.Contains(c.Strangers, p) {
			c.Strangers = append(c.Strangers, p)
		}
	}
	for _, name := range roster {
		if key := fold(name); key != "" && !has[key] {
			has[key] = true
			c.Absent = append(c.Absent, strings.TrimSpace(name))
		}
	}
	slices.Sort(c.Absent)
	slices.Sort(c.Strangers)
}

// CompareJobs orders rows by their jobs and terms: exercise, mode and help, family, kind, the
// rest of the terms, number. What it calls equal is the same job on the same terms, and nothing
// else is.
func CompareJobs(a, b Row) int {
	return cmp.Or(a.Group().Compare(b.Group()), strings.Compare(a.Family, b.Family), cmp.Compare(slices.Index(scenarios.Kinds(), a.Kind), slices.Index(scenarios.Kinds(), b.Kind)),
		strings.Compare(a.Mark, b.Mark), cmp.Compare(a.Seed, b.Seed))
}

func (c *Class) means() {
	if len(c.Rows) == 0 {
		return
	}
	mean := func(of func(Row) (float64, bool)) (m Mean) {
		sum := 0.0
		for _, r := range c.Rows {
			if v, ok := of(r); ok {
				sum, m.Of = sum+v, m.Of+1
			}
		}
		if m.Of > 0 {
			m.Value = sum / float64(m.Of)
		}
		return m
	}
	c.Means = &Means{
		Score: mean(func(r Row) (float64, bool) { return float64(r.Score), r.Counted }),
		Work:  mean(func(r Row) (float64, bool) { return r.Minutes, true }),
		Lost:  mean(func(r Row) (float64, bool) { return r.Lost, true }),
	}
	for _, r := range c.Rows {
		if !r.Counted {
			continue
		}
		n := len(c.Means.People)
		if n == 0 || c.Means.People[n-1].Pupil != r.Pupil || c.Means.People[n-1].Group != r.Group() {
			c.Means.People = append(c.Means.People, PersonMean{Pupil: r.Pupil, Group: r.Group()})
			n++
		}
		m := &c.Means.People[n-1].Mean
		m.Value = (m.Value*float64(m.Of) + float64(r.Score)) / float64(m.Of+1)
		m.Of++
		m.Sure = grading.TheSurety().PlusMinus(m.Of)
	}
	for _, a := range Areas() {
		c.Means.Areas = append(c.Means.Areas, AreaMean{a, mean(func(r Row) (float64, bool) {
			s, ok := r.AreaScore(a)
			return float64(s), ok
		})})
	}
}

// costMost is what each kind of decision cost on the mean of all attempts, the dearest
// first.
func (c *Class) costMost() {
	const most = 8
	var all Row
	in := map[[2]string]int{}
	for _, r := range c.Rows {
		for _, k := range r.ByKind {
			all.add(k.Did, k.Area, k.Lost)
			if k.Lost > debrief.Small {
				in[[2]string{k.Did, string(k.Area)}]++
			}
		}
	}
	for _, k := range all.ByKind {
		if k.Lost > debrief.Small {
			c.Dear = append(c.Dear, Kind{k.Did, k.Area, k.Lost / float64(len(c.Rows)), in[[2]string{k.Did, string(k.Area)}]})
		}
	}
	slices.SortFunc(c.Dear, func(a, b Kind) int {
		return cmp.Or(cmp.Compare(b.Lost, a.Lost), strings.Compare(a.Did, b.Did), cmp.Compare(a.Area, b.Area))
	})
	c.Dear = c.Dear[:min(most, len(c.Dear))]
}

// held counts the misconceptions, the most frequent first.
func (c *Class) held() {
	for _, r := range c.Rows {
		if r.Misconception == "" {
			continue
		}
		i := slices.IndexFunc(c.Misconceptions, func(h Held) bool { return h.ID == r.Misconception })
		if i < 0 {
			i = len(c.Misconceptions)
			c.Misconceptions = append(c.Misconceptions, Held{ID: r.Misconception, Believes: r.Believes})
		}
		c.Misconceptions[i].Attempts++
	}
	slices.SortFunc(c.Misconceptions, func(a, b Held) int {
		return cmp.Or(cmp.Compare(b.Attempts, a.Attempts), strings.Compare(a.ID, b.ID))
	})
}
