package exercise

import (
	"path/filepath"
	"slices"
	"strings"

	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim"
	"shimwright/sim/datasheet"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/quantity"
	"shimwright/sim/shop"
	"shimwright/sim/text"
)

const formatVersion = 1

func kind() datasheet.Kind {
	return datasheet.Kind{Key: "shimwright_exercise", Version: formatVersion, Name: text.Say("exercise.file", "an exercise file"),
		Groups: []string{"kinds", "first_job", "jobs"}, See: "shimwright exercise show NAME --file", Foreign: ErrNotExercise}
}

// Limits of what an exercise may hold.
const (
	mostFamilies = 10
	mostJobs     = 200
	mostNumber   = 1e9
	mostMinutes  = 10_000
	mostTitle    = 60
	mostAbout    = 400
	mostNote     = 200
)

// The words of the faults key.
const (
	allFaults = "all"
	noFaults  = "none"
	onlyThese = "only"
	oneOf     = "one-of"
)

// Parse reads the text of an exercise; file is its file's name, for messages and to find
// families in files beside it. Any bytes will do as text. Errors: datasheet.Problems.
func Parse(written []byte, file string) (Exercise, error) {
	return ParseWith(written, file, func(name string) ([]byte, error) {
		if !filepath.IsAbs(name) {
			name = filepath.Join(filepath.Dir(file), filepath.FromSlash(name))
		}
		return datasheet.ReadFile(name)
	})
}

// ParseWith is Parse of an exercise whose families are read by a function of the names that
// it gives them.
func ParseWith(written []byte, file string, family func(name string) ([]byte, error)) (Exercise, error) {
	r, b := datasheet.Read(written, file, kind())
	if b == nil {
		return Exercise{}, datasheet.Problems(r.Problems())
	}
	e := Exercise{Name: NameOf(file)}
	e.Title, _ = b.Text("title", text.Say("exercise.want.title", "the title of the exercise"), mostTitle, false)
	e.About, _ = b.Text("about", text.Say("exercise.want.about", "what the exercise is for, in a sentence or two"), mostAbout, false)
	e.readJobs(b, family)
	e.Off = leftOff(b)
	e.Units = quantity.Inch
	if b.Choice("units", text.Say("exercise.want.units", "the units that are shown, and that a number without a unit has"), quantity.Inch.String(), quantity.Metric.String()) == quantity.Metric.String() {
		e.Units = quantity.Metric
	}
	span := datasheet.Between(1, mostMinutes)
	e.Budget.Minutes = shop.Minutes(b.Spare("minutes", text.Say("exercise.want.minutes", "the minutes of work allowed"), datasheet.Plain(), span))
	e.Budget.Parts = shop.Minutes(b.Spare("parts_minutes", text.Say("exercise.want.parts-minutes", "the parts allowed, in minutes of work"), datasheet.Plain(), span))
	e.Weights = weightsOf(b)
	if b.Entry("difficulty") != nil {
		e.Band = b.Choice("difficulty", text.Say("exercise.want.difficulty", "how hard the jobs are"), Bands()...)
	} else {
		b.Allow("difficulty")
	}
	e.Help = helpOf(b)
	e.Mode = modeOf(b)
	e.Open = openOf(b)
	for _, i := range b.Words("tasks", text.Say("exercise.want.tasks", "the tasks of the trade that it is about"), len(Tasks()), true, taskIDs()...) {
		e.Tasks = append(e.Tasks, i.Text)
	}
	e.Note, _ = b.Text("note", text.Say("exercise.want.note", "a note of your own, such as the numbers of your task list with its year"), mostNote, true)
	e.readNumbers(b)
	b.Done()
	if b.Clean() {
		e.validate(b)
	}
	if p := r.Problems(); len(p) > 0 {
		datasheet.Sort(p)
		return Exercise{}, datasheet.Problems(p)
	}
	return e, nil
}

func (e *Exercise) readJobs(b *datasheet.Block, read func(string) ([]byte, error)) {
	for _, i := range b.Words("families", text.Say("exercise.want.families", "the axle families, by code or by file"), mostFamilies, false) {
		c, err := choose(i.Text, read)
		if err != nil {
			want := text.Say("exercise.want.family", "the code of a family, or the file of one without mistakes")
			var codes []string
			for _, f := range family.Shelf() {
				codes = append(codes, f.Code)
			}
			if near, ok := datasheet.Nearest(strings.ToUpper(i.Text), codes); ok && filepath.Ext(i.Text) == "" {
				want = text.Verbatim(near)
			}
			b.SayItem(i, text.Reason(err), want)
			continue
		}
		if slices.ContainsFunc(e.Families, func(o Chosen) bool { return o.Family.Code == c.Family.Code }) {
			b.SayItem(i, text.Say("exercise.family-twice", "families holds {code} a second time", text.Typed("code", c.Family.Code)),
				text.Say("exercise.want.family-once", "each family once; a family of your own has a code of its own"))
			continue
		}
		e.Families = append(e.Families, c)
	}
	var names []string
	for _, k := range scenarios.Kinds() {
		names = append(names, k.String())
	}
	for _, i := range b.Words("kinds", text.Say("exercise.want.kinds", "the kinds of job"), len(names), false, names...) {
		if k, err := scenarios.ParseKind(i.Text); err == nil {
			e.Kinds = append(e.Kinds, k)
		}
	}
	rule := b.Choice("faults", text.Say("exercise.want.faults", "which faults the parts may have"), allFaults, noFaults, onlyThese, oneOf)
	if rule == "" {
		b.Allow("fault_list") // nobody can say whether it belongs here
		return
	}
	if rule != onlyThese && rule != oneOf {
		b.Unwanted("fault_list", text.Say("exercise.no-fault-list", "faults is {rule}", text.Typed("rule", rule)), text.Say("exercise.want.no-fault-list", "no fault_list; or faults: only; or faults: one-of"))
		e.Faults.None = rule == noFaults
		return
	}
	var all []string
	for f := range fault.Each() {
		all = append(all, string(f.ID))
	}
	var ids []fault.ID
	for _, i := range b.Words("fault_list", text.Say("exercise.want.fault-list", "the faults, by their names in shimwright fault list"), len(all), false, all...) {
		ids = append(ids, fault.ID(i.Text))
	}
	if rule == onlyThese {
		e.Faults.Only = ids
		return
	}
	e.Faults = scenarios.FaultRule{None: true, OneOf: ids}
}

// choose finds a family by its code, or reads its file.
func choose(name string, read func(string) ([]byte, error)) (Chosen, error) {
	if f, err := family.Shipped(name); err == nil {
		return Chosen{Name: f.Code, Family: f}, nil
	}
	if filepath.Ext(name) == "" {
		return Chosen{}, &family.UnknownError{Code: name}
	}
	written, err := read(name)
	if err != nil {
		return Chosen{}, text.Fail(err, text.Say("exercise.family-file", "the family file {file} cannot be opened", text.Typed("file", name)))
	}
	f, err := family.Parse(written, name)
	if err != nil {
		return Chosen{}, text.Fail(err, text.Say("exercise.family-mistakes", "the family file {file} has mistakes; {command} names them", text.Typed("file", name), text.Typed("command", "shimwright family check")))
	}
	return Chosen{Name: name, Family: f, Text: string(written)}, nil
}

func leftOff(b *datasheet.Block) []sim.LeftOff {
	var names []string
	for _, l := range sim.MayBeLeftOff() {
		names = append(names, l.String())
	}
	var out []sim.LeftOff
	for _, i := range b.Words("left_off", text.Say("exercise.want.left-off", "the acts that this bench does without"), len(names), true, names...) {
		if l, err := sim.ParseLeftOff(i.Text); err == nil {
			out = append(out, l)
		}
	}
	return out
}

func helpOf(b *datasheet.Block) attempt.Help {
	var names []string
	for _, h := range attempt.Helps() {
		names = append(names, h.String())
	}
	got := b.Choice("help", text.Say("exercise.want.help", "what the bench tells a trainee"), names...)
	for _, h := range attempt.Helps() {
		if h.String() == got {
			return h
		}
	}
	return attempt.FullHelp
}

func modeOf(b *datasheet.Block) attempt.Mode {
	var names []string
	for _, m := range attempt.Modes() {
		names = append(names, m.String())
	}
	got := b.Choice("mode", text.Say("exercise.want.mode", "what is told at sign-off"), names...)
	for _, m := range attempt.Modes() {
		if m.String() == got {
			return m
		}
	}
	return attempt.Practice
}

func (e *Exercise) readNumbers(b *datasheet.Block) {
	if b.Entry("jobs") == nil {
		e.First = uint64(b.Whole("first_job", text.Say("exercise.want.first-job", "the first job number; or jobs, a list of them"), 0, mostNumber))
		if b.Entry("job_count") != nil {
			e.Count = b.Whole("job_count", text.Say("exercise.want.job-count", "how many job numbers there are from the first on"), 1, mostNumber)
		} else {
			b.Allow("job_count")
		}
		return
	}
	listed, one := text.Say("exercise.jobs-listed", "jobs lists the job numbers already"), text.Say("exercise.want.one-of-two", "only one of the two")
	b.Unwanted("first_job", listed, one)
	b.Unwanted("job_count", listed, one)
	for _, i := range b.Wholes("jobs", text.Say("exercise.want.jobs", "the job numbers"), mostJobs, false, datasheet.Between(0, mostNumber)) {
		e.Seeds = append(e.Seeds, uint64(i.Number))
	}
}

// openOf reads how a job counts that was not signed off.
func openOf(b *datasheet.Block) attempt.OpenJob {
	const key = "open_job"
	if b.Entry(key) == nil {
		b.Allow(key)
		return attempt.AsItStands
	}
	if name := b.Choice(key, text.Say("exercise.want.open-job", "how a job counts that is not signed off"), openJobs()...); name != attempt.AsItStandsInName {
		return attempt.OpenJob(name)
	}
	return attempt.AsItStands
}

// weightsOf reads what weighs more or less than usual.
func weightsOf(b *datasheet.Block) map[string]scenarios.Weight {
	const key = "weights"
	if b.Entry(key) == nil {
		b.Allow(key)
		return nil
	}
	var words []string
	for _, w := range scenarios.Weights() {
		words = append(words, string(w))
	}
	sub := b.Sub(key, text.Say("exercise.want.weights", "points that count more or less than usual, as sheet-complete: major"))
	out := map[string]scenarios.Weight{}
	for _, id := range scenarios.Points() {
		if sub.Entry(id) == nil {
			sub.Allow(id)
		} else if w := sub.Choice(id, text.Say("exercise.want.weight", "how much the point counts"), words...); w != "" {
			out[id] = scenarios.Weight(w)
		}
	}
	sub.Done()
	if len(out) == 0 {
		return nil
	}
	return out
}

// validate holds what follows from several keys: every family has to be able to do every
// kind of job with these faults, and a mode to go with the help.
func (e *Exercise) validate(b *datasheet.Block) {
	if err := e.Terms().Validate(); err != nil {
		b.Say(b.Entry("help"), text.Reason(err), text.Say("exercise.want.no-help", "help: none; or mode: practice"))
	}
	said := map[error]bool{}
	for _, c := range e.Families {
		for _, k := range e.Kinds {
			err := e.on(c, k).Validate()
			if err == nil || said[err] {
				continue
			}
			said[err] = true
			at := b.Entry("fault_list")
			if at == nil {
				at = b.Entry("left_off")
			}
			if at == nil {
				at = b.Entry("kinds")
			}
			b.Say(at, text.Reason(err), text.Say("exercise.want.together", "a fault, a family and a kind that go together, and a way to measure torque"))
		}
	}
}
