package drill

// An Idea is a tempting thought that leads to a wrong answer.
type Idea string

// The ideas that drills can tell by their answers.
const (
	SignTurned     Idea = "sign-turned"
	NewMarkOnly    Idea = "new-mark-only"
	MarksAdded     Idea = "marks-added"
	OtherMarkUnit  Idea = "other-mark-unit"
	MarkForgotten  Idea = "mark-forgotten"
	OneToOne       Idea = "one-to-one"
	GainTurned     Idea = "gain-turned"
	OneSideOnly    Idea = "one-side-only"
	ThickTightens  Idea = "thick-tightens"
	PackLeft       Idea = "pack-left"
	NewForUsed     Idea = "new-for-used"
	SealIgnored    Idea = "seal-ignored"
	SpacerBack     Idea = "spacer-comes-back"
	Diameter       Idea = "diameter-for-radius"
	FeetForInches  Idea = "feet-for-inches"
	AdapterIgnored Idea = "adapter-ignored"
	AdapterAdds    Idea = "adapter-turned"
	AlwaysLonger   Idea = "adapter-always-longer"
	RatioIgnored   Idea = "ratio-ignored"
	RatioTurned    Idea = "ratio-turned"
	RatioForAll    Idea = "ratio-for-all"
	MeanIsEnough   Idea = "mean-is-enough"
	OneIsEnough    Idea = "one-is-enough"
	NearEnough     Idea = "near-enough"
	ShimRunout     Idea = "shim-the-runout"
	PerfectFigure  Idea = "perfect-figure"
	LengthIsDepth  Idea = "length-is-depth"
	FlanksMirror   Idea = "flanks-mirror"
	NextShim       Idea = "next-shim"
	OtherQuestion  Idea = "other-question"
)

// String says the idea as a person would who has it.
func (i Idea) String() string {
	switch i {
	case SignTurned:
		return "the wrong way round"
	case NewMarkOnly:
		return "the new mark alone gives the change"
	case MarksAdded:
		return "both marks go on the same way"
	case OtherMarkUnit:
		return "marks are always thousandths, or always hundredths of a millimetre"
	case MarkForgotten:
		return "the height on the sheet is this pinion's, whatever its mark"
	case OneToOne:
		return "backlash changes by as much as the ring gear moves"
	case GainTurned:
		return "the ring gear moves less than the backlash changes"
	case OneSideOnly:
		return "a shim on one side is enough"
	case ThickTightens:
		return "a thicker pack tightens the bearings"
	case PackLeft:
		return "a shim behind the cup leaves the pack alone"
	case NewForUsed:
		return "one drag window does for new and used bearings"
	case SealIgnored:
		return "the seal does not matter"
	case SpacerBack:
		return "what was turned too far can be turned back"
	case Diameter:
		return "pull times diameter"
	case FeetForInches:
		return "lb-in and lb-ft are the same"
	case AdapterIgnored:
		return "an adapter changes nothing"
	case AdapterAdds:
		return "multiply where one divides"
	case AlwaysLonger:
		return "an adapter always lengthens the lever"
	case RatioIgnored:
		return "what the sides take is felt whole at the pinion"
	case RatioTurned:
		return "multiply by the ratio where one divides, or the reverse"
	case RatioForAll:
		return "the ratio goes for the whole total"
	case MeanIsEnough:
		return "the mean alone decides"
	case OneIsEnough:
		return "one good reading settles the rest"
	case NearEnough:
		return "nearly inside the window is inside"
	case ShimRunout:
		return "a shim cures a gear that swings"
	case PerfectFigure:
		return "inside the window is not good enough"
	case LengthIsDepth:
		return "toe and heel tell the pinion's depth"
	case FlanksMirror:
		return "the flanks go opposite ways up and down"
	case NextShim:
		return "the next shim will put it right"
	case OtherQuestion:
		return "any careful reading will do"
	}
	return string(i)
}
