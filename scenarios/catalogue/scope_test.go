package catalogue

import (
	"shimwright/sim/text"
)

// A How says how the bench has something that goes wrong in the trade.
type How string

// The ways.
const (
	AsFault   How = "fault"
	AsMistake How = "mistake"
	AsAct     How = "act"
	InExplore How = "explore"
	NotHere   How = "none"
)

// Hows lists them from the most to the least.
func Hows() []How { return []How{AsFault, AsMistake, AsAct, InExplore, NotHere} }

// Name returns what the way is called.
func (h How) Name() text.Message {
	switch h {
	case AsFault:
		return text.Say("catalogue.how.fault", "a fault the axle can come with")
	case AsMistake:
		return text.Say("catalogue.how.mistake", "a mistake of the previous technician")
	case AsAct:
		return text.Say("catalogue.how.act", "something a trainee can do")
	case InExplore:
		return text.Say("catalogue.how.explore", "on the open bench only")
	case NotHere:
		return text.Say("catalogue.how.none", "not at all")
	}
	return text.Verbatim(string(h))
}

// A Trouble is one thing that goes wrong in the trade. At is the entry's id, the act, or
// why the bench does not have it.
type Trouble struct {
	Name text.Message
	How  How
	At   text.Message
}

// Scope lists what goes wrong in the trade, from common practice and manuals, with what the
// bench makes of it: every entry, then what is no entry.
func Scope() []Trouble {
	var out []Trouble
	for _, e := range All() {
		how := AsFault
		if e.Kind == Mistake {
			how = AsMistake
		}
		out = append(out, Trouble{e.Name, how, text.Verbatim(e.ID)})
	}
	act := func(name text.Message, line string) { out = append(out, Trouble{name, AsAct, text.Verbatim(line)}) }
	act(text.Say("catalogue.act.old-mark", "the old pinion mark left out of the calculation"), "fit depth-shim")
	act(text.Say("catalogue.act.preload-shims", "preload shims left as they were after a depth change"), "fit preload-shims")
	act(text.Say("catalogue.act.wrong-way", "a side shim moved the wrong way"), "fit side-shims")
	act(text.Say("catalogue.act.adjusters", "bearing adjusters not turned by the same number of notches"), "turn ring-gear-adjuster")
	act(text.Say("catalogue.act.one-place", "backlash read at one place only"), "measure backlash 1")
	act(text.Say("catalogue.act.no-load", "contact pattern rolled without load"), "roll gears free")
	act(text.Say("catalogue.act.compound", "too much marking compound on the teeth"), "paint teeth thick")
	act(text.Say("catalogue.act.units", "inch and metric confused in a shim"), "fit depth-shim")
	act(text.Say("catalogue.act.lengthwise", "a pattern at toe or heel corrected with the depth shim"), "fit depth-shim")

	out = append(out, Trouble{text.Say("catalogue.explore.hot", "an axle measured hot"), InExplore,
		text.Say("catalogue.explore.hot.why", "axles of jobs stand at shop temperature")})

	none := func(name, why text.Message) { out = append(out, Trouble{name, NotHere, why}) }
	none(text.Say("catalogue.none.mixed", "bearing cups and cones mixed between sides"), text.Say("catalogue.none.mixed.why", "bearings are alike but for their height"))
	none(text.Say("catalogue.none.wrong-bearing", "a shim under the wrong bearing"), text.Say("catalogue.none.wrong-bearing.why", "the act says where its shim goes"))
	none(text.Say("catalogue.none.flank", "drive side and coast side confused"), text.Say("catalogue.none.flank.why", "the bench names the sides"))
	none(text.Say("catalogue.none.timing", "timing marks not paired"), text.Say("catalogue.none.timing.why", "all teeth of a gear are alike"))
	none(text.Say("catalogue.none.bores", "bearing bores out of line"), text.Say("catalogue.none.bores.why", "nothing on the bench would cure it"))
	none(text.Say("catalogue.none.lock", "the lock of a bearing adjuster missing"), text.Say("catalogue.none.lock.why", "locks are not modeled"))
	none(text.Say("catalogue.none.screw", "the thrust screw touching the ring gear"), text.Say("catalogue.none.screw.why", "the axles have no thrust screw"))
	none(text.Say("catalogue.none.clutches", "limited-slip clutches felt as rotating torque"), text.Say("catalogue.none.clutches.why", "the cases have no differential inside"))
	none(text.Say("catalogue.none.oil", "the wrong oil, or none, before the first run"), text.Say("catalogue.none.oil.why", "the job ends at the bench"))
	return out
}
