package class

import (
	"shimwright/grading/cost"
	"shimwright/grading/skill"
	"shimwright/scenarios/attempt"
	"shimwright/sim/quantity"
)

// SkillOf tells from one person's attempts, the last worked first, how much of a coach that
// person still needs. Only jobs that were signed off in practice count: what a check or an
// examination came to is not for a coach to tell. An attempt that cannot be graded is passed over.
func SkillOf(attempts []Attempt) skill.Skill {
	var some []Attempt
	for _, a := range attempts {
		if len(some) < skill.MostOld && a.Err == nil && a.Record.Signed() && a.Record.Header.Mode == attempt.Practice {
			some = append(some, a)
		}
	}
	jobs := map[string]skill.Job{}
	for _, r := range Grade(some, cost.Default(), quantity.Inch, func(int) {}).Rows {
		jobs[r.File] = skill.Job{Areas: r.Areas, Misconception: r.Misconception}
	}
	var ordered []skill.Job
	for _, a := range some {
		if j, ok := jobs[a.File]; ok {
			ordered = append(ordered, j)
		}
	}
	return skill.Of(ordered)
}
