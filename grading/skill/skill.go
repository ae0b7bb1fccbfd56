package skill

import (
	"slices"

	"shimwright/grading"
	"shimwright/scenarios/misconception"
	"shimwright/sim/text"
)

// A Level is how much of a coach a person has in an area.
type Level int

// The levels, from most to least.
const (
	Shown Level = iota // the coach shows the way, and says something of each decision
	Half               // it does half of what it would show, and speaks where something cost or saved minutes
	Alone              // it speaks when it is asked
)

// Bounds of the levels.
const (
	SoundMin = 10.0 // minutes lost in an area, up to which a job with nothing open in it is sound
	FairMin  = 30.0 // and up to which, in the mean of the jobs, the coach does half
	Enough   = 2    // sound jobs one after another, to be left alone
	MostOld  = 6    // jobs looked at
)

// A Job is what the grade of a finished job says.
type Job struct {
	Areas         []grading.AreaScore // those in which something was decided
	Misconception string              // that its acts fit; "" for none
}

// Seen is what the last jobs show of an area.
type Seen struct {
	Jobs   int     // in which something was decided in it, up to Enough
	Lost   float64 // minutes a job, in the mean
	Level  Level
	Thinks bool // the acts of one of them fit a misconception of this area
}

// A Skill is what a person's last jobs show. The zero value is that of somebody who has
// finished none.
type Skill struct{ areas map[grading.Area]Seen }

// Of tells it from jobs, the last finished first.
func Of(jobs []Job) Skill {
	s := Skill{map[grading.Area]Seen{}}
	jobs = jobs[:min(len(jobs), MostOld)]
	for _, a := range grading.Areas() {
		var seen Seen
		good, missed, newest := 0, 0, false
		for _, j := range jobs {
			i := slices.IndexFunc(j.Areas, func(s grading.AreaScore) bool { return s.Area == a })
			// Whoever inspects as the procedure asks has decided nothing there.
			asked := a == grading.Looking && len(j.Areas) > 0
			if i < 0 && !asked || seen.Jobs == Enough {
				continue
			}
			score := grading.AreaScore{Area: a}
			if i >= 0 {
				score = j.Areas[i]
			}
			thinks := j.Misconception != "" && areaOf(j.Misconception) == a
			sound := score.Lost <= SoundMin && score.Missed == 0 && !thinks
			if sound {
				good++
			}
			if seen.Jobs == 0 {
				newest = sound
			}
			seen.Thinks = seen.Thinks || thinks
			seen.Lost += score.Lost
			seen.Jobs++
			missed += score.Missed
		}
		if seen.Jobs == 0 {
			continue
		}
		seen.Lost /= float64(seen.Jobs)
		switch {
		case good == Enough:
			seen.Level = Alone
		case newest, !seen.Thinks && missed == 0 && seen.Lost <= FairMin:
			seen.Level = Half
		}
		s.areas[a] = seen
	}
	return s
}

// In is what there is to see of an area; nothing, and Shown, where no job went into it.
func (s Skill) In(a grading.Area) Seen { return s.areas[a] }

// areaOf is the area of what a misconception is about.
func areaOf(id string) grading.Area {
	m, err := misconception.Find(id)
	if err != nil {
		return ""
	}
	return map[misconception.About]grading.Area{misconception.Depth: grading.Depth, misconception.Preload: grading.Preload, misconception.Sides: grading.Sides,
		misconception.Inspecting: grading.Looking, misconception.Proving: grading.Stopping}[m.About]
}

// name is what an area is called within a sentence.
func name(a grading.Area) text.Message {
	if a == grading.Stopping {
		return text.Say("skill.area.stopping", "the end of the job")
	}
	return a.Name()
}

// Message says in a sentence why the coach speaks or is silent in the areas of a job.
func (s Skill) Message(of ...grading.Area) text.Message {
	var speaks, less, silent []text.Message
	for _, a := range of {
		seen := s.In(a)
		m := name(a)
		switch {
		case seen.Level == Alone:
			silent = append(silent, m)
			continue
		case seen.Jobs == 0:
			m = text.Say("skill.new", "{area} (no finished job of yours has it yet)", text.Of("area", m))
		case seen.Thinks:
			m = text.Say("skill.thinks", "{area} (your last jobs fit a misconception there)", text.Of("area", m))
		case seen.Level == Shown:
			m = text.Say("skill.lost", "{area} ({lost} lost a job, or something not proved)", text.Of("area", m), text.Minutes("lost", seen.Lost))
		}
		if seen.Level == Half {
			less = append(less, m)
			continue
		}
		speaks = append(speaks, m)
	}
	if len(s.areas) == 0 {
		return text.Say("skill.first", "The coach speaks at every stage, because no job of yours is finished yet.")
	}
	all, some, none := text.All("all", speaks...), text.All("some", less...), text.All("none", silent...)
	switch {
	case len(speaks) > 0 && len(less) > 0 && len(silent) > 0:
		return text.Say("skill.three", "The coach speaks at {all}; where something costs minutes at {some}; and not unasked at {none}, where your last jobs were sound.", all, some, none)
	case len(speaks) > 0 && len(less) > 0:
		return text.Say("skill.all-some", "The coach speaks at {all}, and where something costs minutes at {some}.", all, some)
	case len(speaks) > 0 && len(silent) > 0:
		return text.Say("skill.all-none", "The coach speaks at {all}, and not unasked at {none}, where your last jobs were sound.", all, none)
	case len(less) > 0 && len(silent) > 0:
		return text.Say("skill.some-none", "The coach speaks where something costs minutes at {some}, and not unasked at {none}, where your last jobs were sound.", some, none)
	case len(speaks) > 0:
		return text.Say("skill.all", "The coach speaks at {all}.", all)
	case len(less) > 0:
		return text.Say("skill.some", "The coach speaks where something costs minutes, at {some}.", some)
	}
	return text.Say("skill.none", "The coach speaks when it is asked, because your last jobs were sound at {none}.", none)
}
