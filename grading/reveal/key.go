package reveal

import (
	"shimwright/scenarios"
	"shimwright/scenarios/mistake"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/text"
	"shimwright/sim/truth"
)

// A Mistook is what the previous technician did wrong.
type Mistook struct {
	Name   text.Message `json:"name"`
	Shows  text.Message `json:"shows"`
	Told   text.Message `json:"told_by"`
	Remedy text.Message `json:"remedy"`
	Missed text.Message `json:"if_missed"`
}

func mistook(id string) (*Mistook, error) {
	if id == "" {
		return nil, nil
	}
	m, err := mistake.Find(id)
	if err != nil {
		return nil, err
	}
	return &Mistook{m.Name, m.Shows, m.Told, m.Remedy, m.Missed}, nil
}

// Key says for the instructor, a line each, what a job's axle really is: what a trainee
// sees only after sign-off, and after an examination not before it is graded. It is for a
// file that the instructor keeps, never for a screen.
func Key(job scenarios.Job) ([]text.Message, error) {
	x, _ := truth.Open(job.Sealed())
	var out []text.Message
	if job.Card.Kind == scenarios.PreviousWork {
		made, err := mistook(x.Mistake)
		switch {
		case err != nil:
			return nil, err
		case made == nil:
			out = append(out, text.Say("key.no-mistake", "The previous technician made no mistake: the axle is to be signed as it is."))
		default:
			out = append(out, text.Say("key.mistake", "Mistake of the previous technician: {name}. {shows} Told by: {told} Remedy: {remedy}",
				text.Of("name", made.Name), text.Of("shows", made.Shows), text.Of("told", made.Told), text.Of("remedy", made.Remedy)))
		}
	}
	for _, c := range x.Faults {
		f, err := fault.Find(c.ID)
		if err != nil {
			return nil, err
		}
		name := f.Name
		if size := f.Size.Amount(c.Size); !size.IsZero() {
			name = text.Say("key.fault-and-size", "{name} ({size})", text.Of("name", f.Name), text.Of("size", size))
		}
		out = append(out, text.Say("key.fault", "Fault: {name}. Told by: {told} Remedy: {remedy}", text.Of("name", name), text.Of("told", f.Told), text.Of("remedy", f.Remedy)))
	}
	if len(x.Faults) == 0 {
		out = append(out, text.Say("key.no-fault", "No fault in the parts."))
	}
	out = append(out, text.Say("key.depth-shim", "Right depth shim, everything seated: {shim}.", length("shim", x.IdealShimMM)))
	if job.Card.Family.Design.Preload == family.SolidSpacer && job.Card.Kind != scenarios.DepthJob {
		out = append(out, text.Say("key.preload-shims", "Preload shims for neither preload nor end play, with that shim in: {shims}; thinner preload shims are more preload.", length("shims", x.ZeroPlayPreloadShimMM)))
	}
	if sides := rightSides(job, x); !sides.IsZero() {
		out = append(out, sides)
	}
	return out, nil
}

// rightSides says what side shims would give no play and no preload, ring gear in place.
func rightSides(job scenarios.Job, x truth.Axle) text.Message {
	if x.RingGearZeroMM == 0 || job.Card.Kind == scenarios.DepthJob || job.Card.Kind == scenarios.PreloadJob {
		return text.Message{}
	}
	w := job.Card.Family.Sheet.SidePreload
	return text.Say("key.side-shims", "Side shims that just touch with the ring gear at its place, cones seated: ring-gear side {ring_gear}, opposite side {opposite}; preload puts {low} to {high} on the two together.",
		length("ring_gear", x.RingGearZeroMM), length("opposite", x.OppositeZeroMM), length("low", w.LowMM), length("high", w.HighMM))
}
