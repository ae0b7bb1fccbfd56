package gauge

// A ToothPattern is what marking compound shows on one flank of a ring gear
// tooth, as a person sees it: how much of the compound the pinion moved, cell
// by cell.
//
// Column 0 is the toe (inner, small end) and the last column the heel; row 0
// is the root end of the working depth and the last row the tooth top. Ink is
// stored row by row and runs from 0 (compound untouched) to 1 (rubbed bright).
type ToothPattern struct {
	Flank      string    `json:"flank"` // "drive" or "coast"
	Crossed    bool      `json:"-"`     // drive is the concave flank here and coast the convex one
	Cols       int       `json:"cols"`
	Rows       int       `json:"rows"`
	Ink        []float64 `json:"-"`
	CenterS    float64   `json:"center_toe_to_heel"` // 0 toe, 1 heel; center of the rubbed area as the eye judges it
	CenterT    float64   `json:"center_root_to_top"` // 0 root end, 1 top
	LengthPart float64   `json:"length_share"`       // share of the face the pattern spans
	HeightPart float64   `json:"height_share"`       // share of the working depth the pattern spans
	AreaPart   float64   `json:"area_share"`         // share of the flank rubbed
}

// At returns the ink of the cell in the given column (toe first) and row (root
// first), or 0 outside the tooth.
func (p ToothPattern) At(col, row int) float64 {
	if col < 0 || row < 0 || col >= p.Cols || row >= p.Rows || row*p.Cols+col >= len(p.Ink) {
		return 0
	}
	return p.Ink[row*p.Cols+col]
}
