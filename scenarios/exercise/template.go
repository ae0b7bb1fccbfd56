package exercise

import (
	"fmt"
	"strings"

	"shimwright/scenarios"
	"shimwright/sim"
)

// Template is a file to begin an exercise of one's own from: it reads as it stands, and
// explains every key there is.
func Template() []byte {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	// Words of a list, a few to a line of comment.
	words := func(names []string) {
		const width = 76
		row := "#  "
		for i, n := range names {
			if i < len(names)-1 {
				n += ","
			}
			if len(row)+1+len(n) > width {
				line("%s", row)
				row = "#  "
			}
			row += " " + n
		}
		line("%s", row)
	}
	line("# An exercise of your own. Change what is here, take the # away from what you want")
	line("# to use, and look it over with: exercise check FILE")
	line("shimwright_exercise: %d", formatVersion)
	line("title: My exercise")
	line("about: What it is for, in a sentence or two.")
	line("")
	line("# Axle families by code (family list names them), or files of your own beside this one.")
	line("families: [BEECH]")
	line("")
	line("# Kinds of job, of:")
	var names []string
	for _, k := range scenarios.Kinds() {
		names = append(names, k.String())
	}
	words(names)
	line("kinds: [whole]")
	line("")
	line("# Which faults the parts may carry: %s, %s, %s or %s. The last two need a", allFaults, noFaults, onlyThese, oneOf)
	line("# fault_list; fault list names the faults. With %s each job carries one of them,", oneOf)
	line("# with %s now and then one or several, as often as the card says.", onlyThese)
	line("faults: %s", allFaults)
	line("# fault_list: [seal-tight, inner-cup-high]")
	line("")
	line("units: inch # or metric: what is shown and what a bare number means")
	line("")
	line("# Acts that this bench does without, of:")
	names = nil
	for _, l := range sim.MayBeLeftOff() {
		names = append(names, l.String())
	}
	words(names)
	line("# left_off: [measure depth]")
	line("")
	line("# Minutes of work and parts allowed. Parts are priced in minutes of work.")
	line("# minutes: 330")
	line("# parts_minutes: 60")
	line("")
	line("# Points of the debrief that weigh more or less than usual (%s).", join(scenarios.Weights()))
	line("# The points:")
	words(scenarios.Points())
	line("# weights:")
	line("#   build-sheet: major")
	line("")
	line("# How hard the jobs are: %s. Without it they are as they come.", strings.Join(Bands(), ", "))
	line("# difficulty: medium")
	line("")
	line("# full: lessons, what can be done now, where to begin. little: what can be done now.")
	line("# none: how acts are written.")
	line("help: full")
	line("")
	line("# What is told at sign-off. practice: everything. check: the score. exam: nothing")
	line("# until you grade the file. check and exam go with help: none.")
	line("mode: practice")
	line("")
	line("# What of the trade it is about, of:")
	words(taskIDs())
	line("# tasks: [pinion-depth, records]")
	line("# note: \"numbers of your own task list, with its year\"")
	line("")
	line("# The job numbers: a first one and, if you like, how many; or a list of them.")
	line("first_job: 1")
	line("# job_count: 24")
	line("# jobs: [7, 12, 31]")
	return []byte(b.String())
}

func join[T ~string](values []T) string {
	words := make([]string, len(values))
	for i, v := range values {
		words[i] = string(v)
	}
	return strings.Join(words, ", ")
}
