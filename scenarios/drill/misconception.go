package drill

// An Idea is a tempting thought that leads to a wrong answer.
type Misconception string

// The ideas that drills can tell by their answers.
const (
	SignTurned       Misconception = "sign-turned"
	NewMarkOnly      Misconception = "new-mark-only"
	MarksAdded       Misconception = "marks-added"
	OtherMarkUnit    Misconception = "other-mark-unit"
	MarkForgotten    Misconception = "mark-forgotten"
	OneToOne         Misconception = "one-to-one"
	GainTurned       Misconception = "gain-turned"
	OneSideOnly      Misconception = "one-side-only"
	ThickTightens    Misconception = "thick-tightens"
	PreloadShimsLeft Misconception = "pack-left"
	NewForUsed       Misconception = "new-for-used"
	SealIgnored      Misconception = "seal-ignored"
	SpacerBack       Misconception = "spacer-comes-back"
	Diameter         Misconception = "diameter-for-radius"
	FeetForInches    Misconception = "feet-for-inches"
	AdapterIgnored   Misconception = "adapter-ignored"
	AdapterAdds      Misconception = "adapter-turned"
	AlwaysLonger     Misconception = "adapter-always-longer"
	RatioIgnored     Misconception = "ratio-ignored"
	RatioTurned      Misconception = "ratio-turned"
	RatioForAll      Misconception = "ratio-for-all"
	MeanIsEnough     Misconception = "mean-is-enough"
	OneIsEnough      Misconception = "one-is-enough"
	NearEnough       Misconception = "near-enough"
	ShimRunout       Misconception = "shim-the-runout"
	PerfectFigure    Misconception = "perfect-figure"
	LengthIsDepth    Misconception = "length-is-depth"
	FlanksMirror     Misconception = "flanks-mirror"
	NextShim         Misconception = "next-shim"
	OtherQuestion    Misconception = "other-question"
)

// String says the idea as a person would who has it.
func (i Misconception) String() string {
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
	case PreloadShimsLeft:
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
