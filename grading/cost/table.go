package cost

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"

	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/fault"
	"shimwright/sim/history"
	"shimwright/sim/shop"
)

// A Table is what everything costs. The zero value prices nothing; begin with Default.
type Table struct {
	Name string // what its owner calls it; empty for the program's own

	// Marks. AllowanceMin is how far from the best a choice counts as good as the best;
	// FadeMin is what beyond it takes an area's score down by a factor e.
	AllowanceMin, FadeMin float64

	// An axle that comes back for a line of its sheet, for its side preload alone, or for
	// ring gear runout.
	ComebackMin, SideComebackMin, RunoutComebackMin float64
	// Chances that a pinion stack without its clamp, and caps that were never torqued,
	// bring the axle back.
	LooseClampRisk, LooseCapsRisk float64

	// Damage.
	StrippedNutMin, SpreadTooFarMin float64

	// What places round the ring gear, and designs, add to an act.
	PlaceMin, CupShimMin, CageShimMin, InsideShimsMin, SpreaderMin float64

	acts  map[act.Form]float64
	parts map[shop.Part]float64
	late  map[fault.ID]float64
}

// Default returns the program's own table.
func Default() Table {
	t := Table{
		AllowanceMin: 3, FadeMin: 20,
		ComebackMin: 240, SideComebackMin: 120, RunoutComebackMin: 240,
		LooseClampRisk: 0.9, LooseCapsRisk: 0.9,
		StrippedNutMin: 30, SpreadTooFarMin: 80,
		acts: map[act.Form]float64{}, parts: map[shop.Part]float64{}, late: map[fault.ID]float64{},
	}
	plain := family.Design{}
	for _, u := range act.Usages() {
		t.acts[u.Form] = float64(shop.TimeOf(plain, u.Form, 0))
	}
	more := func(d family.Design, f act.Form, places int) float64 {
		return float64(shop.TimeOf(d, f, places) - shop.TimeOf(plain, f, 0))
	}
	t.PlaceMin = more(plain, act.MeasureBacklash, 1)
	t.CupShimMin = more(family.Design{DepthShim: family.BehindInnerCup}, act.FitDepthShim, 0)
	t.CageShimMin = more(family.Design{DepthShim: family.UnderCageFlange}, act.FitDepthShim, 0)
	t.InsideShimsMin = more(family.Design{SideAdjust: family.InsideShims}, act.FitSideShims, 0)
	t.SpreaderMin = more(family.Design{Entry: family.Spreader}, act.RemoveCase, 0)
	for _, p := range shop.Parts() {
		t.parts[p] = float64(shop.PriceOf(p))
	}
	for f := range fault.Each() {
		t.late[f.ID] = float64(f.Late.Average)
	}
	return t
}

// TimeOf returns the minutes an act takes on an axle of a design. places is the number of
// places for a reading taken round the ring gear.
func (t Table) TimeOf(d family.Design, f act.Form, places int) float64 {
	minutes := t.acts[f]
	switch {
	case f == act.MeasureBacklash:
		minutes += float64(t.PlaceMin * float64(places))
	case f == act.FitDepthShim && d.DepthShim == family.BehindInnerCup:
		minutes += t.CupShimMin
	case f == act.FitDepthShim && d.DepthShim == family.UnderCageFlange:
		minutes += t.CageShimMin
	case f == act.FitSideShims && d.SideAdjust == family.InsideShims:
		minutes += t.InsideShimsMin
	case f == act.RemoveCase && d.Entry == family.Spreader:
		minutes += t.SpreaderMin
	}
	return minutes
}

// SureBeyond is how far outside of its spec, in halves of the spec, an axle surely comes back
// for it (estimate of this project).
const SureBeyond = 0.5

// ComesBack is the chance that an axle comes back for a value that truly lies so far from the
// middle of its spec, both in one unit: none inside, sure from SureBeyond halves outside on, in
// proportion between.
func ComesBack(off, half float64) float64 {
	return min(max(math.Abs(off)/half-1, 0)/SureBeyond, 1)
}

// PriceOf returns a part's price in minutes, 0 for what is no part.
func (t Table) PriceOf(p shop.Part) float64 { return t.parts[p] }

// Spent returns what an act took on an axle of a design: work, and parts, minutes.
func (t Table) Spent(d family.Design, o history.Step) (workMin, partsMin float64) {
	places := 0
	if o.Act.Form == act.MeasureBacklash && len(o.Act.Amounts) > 0 {
		places = int(o.Act.Amounts[0].Number)
	}
	for _, p := range o.Parts {
		partsMin += t.PriceOf(p)
	}
	return t.TimeOf(d, o.Act.Form, places), partsMin
}

// LateMin returns what a fault costs on average when it is found late or by the customer,
// minutes; 0 for one that is not in the catalogue.
func (t Table) LateMin(id fault.ID) float64 { return t.late[id] }

// IsDefault tells whether every figure is the program's own, whatever the table's name.
func (t Table) IsDefault() bool {
	own := Default()
	for _, g := range groups() {
		for _, r := range g.rows {
			if r.get(t) != r.get(own) {
				return false
			}
		}
	}
	return true
}

// Mark is a short code of the figures, the same for the same figures whatever the table
// is called: eight hexadecimal digits.
func (t Table) Mark() string {
	sum := sha256.New()
	for _, g := range groups() {
		for _, r := range g.rows {
			fmt.Fprintf(sum, "%s %s\n", g.key, r.line(t))
		}
	}
	const bytes = 4
	return hex.EncodeToString(sum.Sum(nil)[:bytes])
}
