package reveal

import (
	"fmt"
	"strings"

	"shimwright/scenarios"
	"shimwright/scenarios/mistake"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/quantity"
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
func Key(job scenarios.Job, units quantity.System) ([]string, error) {
	x, _ := truth.Open(job.Sealed())
	var out []string
	p := text.NewPrinter(units, text.Overlay{})
	if job.Card.Kind == scenarios.PreviousWork {
		made, err := mistook(x.Mistake)
		switch {
		case err != nil:
			return nil, err
		case made == nil:
			out = append(out, "The previous technician made no mistake: the axle is to be signed as it is.")
		default:
			out = append(out, fmt.Sprintf("Mistake of the previous technician: %s. %s Told by: %s Remedy: %s", p.Print(made.Name), p.Print(made.Shows), p.Print(made.Told), p.Print(made.Remedy)))
		}
	}
	for _, c := range x.Faults {
		f, err := fault.Find(c.ID)
		if err != nil {
			return nil, err
		}
		name := p.Print(f.Name)
		if size := p.Print(f.Size.Amount(c.Size)); size != "" {
			name += " (" + size + ")"
		}
		out = append(out, fmt.Sprintf("Fault: %s. Told by: %s Remedy: %s", name, p.Print(f.Told), p.Print(f.Remedy)))
	}
	if len(x.Faults) == 0 {
		out = append(out, "No fault in the parts.")
	}
	out = append(out, fmt.Sprintf("Right depth shim, everything seated: %s.", quantity.Millimetres(x.IdealShimMM).Show(units)))
	if job.Card.Family.Design.Preload == family.SolidSpacer && job.Card.Kind != scenarios.DepthJob {
		out = append(out, fmt.Sprintf("Preload shims for neither preload nor end play, with that shim in: %s; thinner preload shims are more preload.", quantity.Millimetres(x.ZeroPlayPreloadShimMM).Show(units)))
	}
	if sides := rightSides(job, x, units); sides != "" {
		out = append(out, sides)
	}
	return out, nil
}

// rightSides says what side shims would give no play and no preload, ring gear in place.
func rightSides(job scenarios.Job, x truth.Axle, units quantity.System) string {
	if x.RingGearZeroMM == 0 || job.Card.Kind == scenarios.DepthJob || job.Card.Kind == scenarios.PreloadJob {
		return ""
	}
	show := func(mm float64) string { return quantity.Millimetres(mm).Show(units) }
	w := job.Card.Family.Sheet.SidePreload
	return fmt.Sprintf("Side shims that just touch with the ring gear at its place, cones seated: ring-gear side %s, opposite side %s; preload puts %s on the two together.",
		show(x.RingGearZeroMM), show(x.OppositeZeroMM), strings.Join([]string{show(w.LowMM), show(w.HighMM)}, " to "))
}
