package service

import (
	"errors"
	"math"

	"shimwright/sim/mesh"
)

// meshNPerMM2 is the mean stiffness of meshing teeth per mm of face: 20 N/(mm·µm)
// [5].
const meshNPerMM2 = 20_000

// freeFilmMM is the compound of the print without load, a thin coat.
const freeFilmMM = 0.006

// The grid on which a loaded flank is added up.
const gridCols, gridRows = 48, 24

func (p Parts) flank(c *mesh.Contact, s Setting, f mesh.Flank, ringNmm float64, r Result) (Flank, error) {
	load, err := p.carry(c, s, f, ringNmm)
	if err != nil {
		return Flank{}, err
	}
	if err := c.Move(s.At); err != nil {
		return Flank{}, err
	}
	blank := p.Gears.Blank()
	lead := c.Lead(f)
	gain, err := leadGains(c, f, s.At)
	if err != nil {
		return Flank{}, err
	}
	if err := c.Move(s.At); err != nil {
		return Flank{}, err
	}
	arm := blank.RingMeanRadiusMM
	out := Flank{
		Free: c.Pattern(f, freeFilmMM), LoadedAt: load.at, OppositeN: load.force.sizeN(),
		ErrorRad: lead.PeakToPeakRad(), ErrorMM: lead.PeakToPeakRad() * arm,
		OncePerTurnMM: math.Abs(gain[2]) * s.RunoutTIRMM * arm,
		Pinion:        p.pairOf(load.pinion, p.Inner, p.Outer, r.PinionRPM, r.Duty.OilCst),
		Case:          p.pairOf(load.sides, p.Back, p.Tooth, r.RingHz*60, r.Duty.OilCst),
	}
	if err := c.Move(load.at); err != nil {
		if errors.Is(err, mesh.ErrPosition) {
			out.Separates = true
			return out, nil
		}
		return Flank{}, err
	}
	sep := c.Separation(f, gridCols, gridRows, nil)
	squeeze := squeezeMM(sep, out.OppositeN, blank.Data.FaceWidthMM)
	out.Loaded = c.Pattern(f, squeeze)
	out.Toe, out.Heel, out.Root, out.Top = edges(sep, squeeze)
	if !out.Free.Empty && !out.Loaded.Empty {
		out.MovesMM = (out.Loaded.CenterS - out.Free.CenterS) * blank.Data.FaceWidthMM
	}
	return out, nil
}

// nearest returns the least separation in each column of the grid.
func nearest(sep []float64) [gridCols]float64 {
	var out [gridCols]float64
	for col := range out {
		out[col] = math.Inf(1)
		for row := range gridRows {
			out[col] = math.Min(out[col], sep[row*gridCols+col])
		}
	}
	return out
}

// squeezeMM returns how far the teeth must be pressed together to carry a force,
// each mm of face being a spring of its own that takes load once its gap has
// closed [5]: sum of k b (squeeze − gap) over the face. The sum rises with the
// squeeze, so it is walked from the smallest gap up.
func squeezeMM(sep []float64, forceN, faceMM float64) float64 {
	gap := nearest(sep)
	want := forceN / (meshNPerMM2 * faceMM / gridCols)
	low, high := math.Inf(1), 0.0
	for _, g := range gap {
		low = math.Min(low, g)
	}
	high = low + want
	for range 60 {
		mid, sum := (low+high)/2, 0.0
		for _, g := range gap {
			sum += math.Max(0, mid-g)
		}
		if sum < want {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// edges returns the load at the ends of the face and of the depth as a part of the
// greatest anywhere.
func edges(sep []float64, squeeze float64) (toe, heel, root, top float64) {
	peak := 0.0
	at := func(row, col int) float64 { return math.Max(0, squeeze-sep[row*gridCols+col]) }
	for row := range gridRows {
		for col := range gridCols {
			peak = math.Max(peak, at(row, col))
		}
	}
	if peak == 0 {
		return 0, 0, 0, 0
	}
	for row := range gridRows {
		toe, heel = math.Max(toe, at(row, 0)/peak), math.Max(heel, at(row, gridCols-1)/peak)
	}
	for col := range gridCols {
		root, top = math.Max(root, at(0, col)/peak), math.Max(top, at(gridRows-1, col)/peak)
	}
	return toe, heel, root, top
}
