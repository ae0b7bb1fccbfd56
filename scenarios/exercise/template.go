package exercise

import (
	"fmt"
	"strings"

	"shimwright/scenarios"
	"shimwright/scenarios/attempt"
	"shimwright/sim"
	"shimwright/sim/datasheet"
	"shimwright/sim/text"
)

// Template is a file to begin an exercise of one's own from: it reads as it stands, and
// explains every key there is, in a printer's language.
func Template(p text.Printer) []byte {
	var b strings.Builder
	say := func(m text.Message) { b.WriteString(datasheet.Remark(p.Print(m))) }
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	words := func(names ...string) { b.WriteString(datasheet.RemarkList(names)) }

	say(text.Say("exercise.template.head", "An exercise of your own. Change what is here, and remove the # from what you want to use. Check it with: {command}", text.Typed("command", "shimwright exercise check FILE")))
	line("shimwright_exercise: %d", formatVersion)
	line("title: %s", quoted(p.Print(text.Say("exercise.template.title", "My exercise"))))
	line("about: %s", quoted(p.Print(text.Say("exercise.template.about", "What it is for, in a sentence or two."))))
	line("")
	say(text.Say("exercise.template.families", "Axle families by code (shimwright family list shows them), or files of your own in the same folder."))
	line("families: [BEECH]")
	line("")
	say(text.Say("exercise.template.kinds", "Kinds of job:"))
	var names []string
	for _, k := range scenarios.Kinds() {
		names = append(names, k.String())
	}
	words(names...)
	line("kinds: [whole]")
	line("")
	say(text.Say("exercise.template.faults", "Which faults the parts may have: {rules}. The last two need a fault_list; shimwright fault list shows the faults. With {oneof} each job has one of them, with {only} some jobs have one or more, as often as the job card says.",
		text.AnyTyped("rules", allFaults, noFaults, onlyThese, oneOf), text.Typed("oneof", oneOf), text.Typed("only", onlyThese)))
	line("faults: %s", allFaults)
	line("# fault_list: [seal-tight, inner-cup-high]")
	line("")
	say(text.Say("exercise.template.units", "inch or metric: the units that are shown, and that a number without a unit has"))
	line("units: inch")
	line("")
	say(text.Say("exercise.template.left-off", "Acts that this bench does without:"))
	names = nil
	for _, l := range sim.MayBeLeftOff() {
		names = append(names, l.String())
	}
	words(names...)
	line("# left_off: [measure depth]")
	line("")
	say(text.Say("exercise.template.budget", "Minutes of work and parts allowed. Parts are priced in minutes of work."))
	line("# minutes: 330")
	line("# parts_minutes: 60")
	line("")
	say(text.Say("exercise.template.weights", "Points of the debrief that count more or less than usual: {weights}. The points:", text.AnyTyped("weights", scenarios.Weights()...)))
	words(scenarios.Points()...)
	line("# weights:")
	line("#   sheet-complete: major")
	line("")
	say(text.Say("exercise.template.difficulty", "How hard the jobs are: {bands}. Leave it out for jobs of any difficulty.", text.AnyTyped("bands", Bands()...)))
	line("# difficulty: medium")
	line("")
	say(text.Say("exercise.template.help", "What the bench tells. With none, how acts are written; with little, also the acts that are possible now; with full, also lessons and where to begin; with coach, also after each decision what it cost and why, and acts can be taken back."))
	line("help: full")
	line("")
	say(text.Say("exercise.template.mode", "What is told at sign-off. practice: everything. check: the score. exam: nothing until you grade the file. Use help: none with check and exam."))
	line("mode: practice")
	line("")
	say(text.Say("exercise.template.open-job", "How a job counts that is not signed off: {ways}.", text.AnyTyped("ways", openJobs()...)))
	line("# open_job: zero")
	line("")
	say(text.Say("exercise.template.tasks", "The tasks of the trade that it is about:"))
	words(taskIDs()...)
	line("# tasks: [pinion-depth, records]")
	line("# note: %s", quoted(p.Print(text.Say("exercise.template.note", "the numbers of your own task list, with its year"))))
	line("")
	say(text.Say("exercise.template.jobs", "The job numbers: the first one and, if you like, how many; or a list of them."))
	line("first_job: 1")
	line("# job_count: 24")
	line("# jobs: [7, 12, 31]")
	return []byte(b.String())
}

// openJobs are the ways to count a job that is not signed off, as they are written.
func openJobs() []string {
	var out []string
	for _, o := range attempt.OpenJobs() {
		out = append(out, o.String())
	}
	return out
}
