package family_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/scenarios"
	"shimwright/scenarios/technician"
	"shimwright/sim/family"
	"shimwright/sim/longtest"
	"shimwright/sim/quantity"
	"shimwright/sim/text"
)

func given(t *testing.T, units quantity.System, typed map[string]string) (out []family.Given) {
	t.Helper()
	for _, f := range family.Figures() {
		if v, ok := typed[f.Name]; ok {
			g, err := f.Read(v, units)
			require.NoError(t, err, f.Name)
			out = append(out, g)
			delete(typed, f.Name)
		}
	}
	require.Empty(t, typed, "figures that there are not")
	return out
}

// Every way to build an axle can be begun, from nothing but its design and the size and teeth
// of its gears; each line says where its figure comes from.
func TestBeginEveryDesign(t *testing.T) {
	most := longtest.Pick(6, 18)
	n := 0
	for _, preload := range []string{"collapsible-spacer", "solid-spacer"} {
		for _, shim := range []string{"under-inner-cone", "behind-inner-cup", "under-cage-flange"} {
			for _, side := range []string{"outside-shims", "inside-shims", "bearing-adjusters"} {
				if n++; n%3 != 0 && most < 18 {
					continue
				}
				for _, size := range []struct{ ring, pinion, diameter string }{{"41", "11", "8.8in"}, {"39", "10", "330mm"}, {"", "", ""}}[:longtest.Pick(2, 3)] {
					figures := map[string]string{"pinion-preload": preload, "depth-shim": shim, "side-adjustment": side}
					if size.ring != "" {
						figures["ring-teeth"], figures["pinion-teeth"], figures["ring-diameter"] = size.ring, size.pinion, size.diameter
					}
					name := fmt.Sprint(figures)
					file, err := family.Begin("MINE", given(t, quantity.Inch, figures), text.Printer{})
					if !assert.NoError(t, err, "%s: %s", name, said(err)) {
						continue
					}
					f, err := family.Parse(file, "mine.yaml")
					require.NoError(t, err, name)
					assert.Equal(t, preload, string(f.Design.Preload))
					assert.Equal(t, shim, string(f.Design.DepthShim))
					assert.Equal(t, side, string(f.Design.SideAdjust))
					everyLineSaysWhy(t, string(file))
				}
			}
		}
	}
}

// A family that was begun can be practiced on at once: a careful technician finishes whole jobs
// of every design.
func TestBegunFamiliesAreWorked(t *testing.T) {
	for _, shipped := range family.Shelf()[longtest.Pick(8, 0):] {
		d := shipped.Design
		file, err := family.Begin("MINE", given(t, quantity.Inch, map[string]string{"pinion-preload": string(d.Preload), "depth-shim": string(d.DepthShim),
			"side-adjustment": string(d.SideAdjust), "case-entry": string(d.Entry), "ring-teeth": "40", "pinion-teeth": "11", "ring-diameter": "9in", "backlash": "0.006-0.010in"}), text.Printer{})
		require.NoError(t, err, "%s: %s", shipped.Code, said(err))
		f, err := family.Parse(file, "mine.yaml")
		require.NoError(t, err)
		for seed := range uint64(longtest.Pick(1, 3)) {
			j, err := scenarios.Order{Family: f, Kind: scenarios.WholeJob}.Generate(seed + 1)
			require.NoError(t, err, "%s: %s", shipped.Code, said(err))
			s, err := j.Stand()
			require.NoError(t, err)
			require.NoError(t, technician.Work(s, j.Card.Known, technician.Competent()), "as %s, job %d", shipped.Code, seed+1)
		}
	}
}

func said(err error) string {
	if err == nil {
		return ""
	}
	return text.Printer{}.Error(err)
}

func everyLineSaysWhy(t *testing.T, file string) {
	t.Helper()
	_, body, _ := strings.Cut(file, "\ndesign:\n")
	before := ""
	for line := range strings.Lines(body) {
		if strings.HasPrefix(line, "  ") && !strings.HasPrefix(line, "   ") && !strings.HasPrefix(line, "  #") {
			assert.Regexp(t, `# (given|estimated: .+)`, before+line)
		}
		before = ""
		if strings.HasPrefix(line, "  #") {
			before = line
		}
	}
}

// A family begun from all that the sheet of a shipped one says has that sheet.
func TestBeginFromAWholeSheet(t *testing.T) {
	for _, f := range family.Shelf()[:longtest.Pick(4, 10)] {
		mm := func(x float64) string { return fmt.Sprintf("%.6gmm", x) }
		span := func(w family.Spec) string { return fmt.Sprintf("%.6g to %.6g mm", w.LowMM, w.HighMM) }
		nm := func(w family.TorqueSpec) string { return fmt.Sprintf("%.6g-%.6gNm", w.LowNmm/1000, w.HighNmm/1000) }
		stock := func(s family.Stock) string { return fmt.Sprintf("%.6g-%.6gmm by %.6gmm", s.LowMM, s.HighMM, s.StepMM) }
		s, d := f.Sheet, f.Design
		typed := map[string]string{
			"pinion-preload": string(d.Preload), "depth-shim": string(d.DepthShim), "side-adjustment": string(d.SideAdjust), "marks": s.Marks.String(),
			"drive-flank": string(d.DriveFlank), "housing": string(d.Housing), "case-entry": string(d.Entry),
			"ring-teeth": fmt.Sprint(s.RingTeeth), "pinion-teeth": fmt.Sprint(s.PinionTeeth), "ring-diameter": mm(f.Model.Gears.RingDiameterMM), "offset": mm(f.Model.Gears.OffsetMM),
			"checking-distance": mm(s.CheckingDistanceMM), "depth-tolerance": mm(s.DepthToleranceMM), "depth-shims": stock(s.DepthShims), "backlash": span(s.Backlash),
			"backlash-variation": mm(s.BacklashSpreadMM), "runout": mm(s.RunoutMM), "pinion-torque-new": nm(s.PinionTorqueNew), "pinion-torque-used": nm(s.PinionTorqueUsed),
			"total-torque-rise-new": nm(s.SideRiseNew), "total-torque-rise-used": nm(s.SideRiseUsed), "side-preload": span(s.SidePreload), "spread-limit": mm(s.SpreadLimitMM),
			"nut": fmt.Sprintf("%.6g-%.6gNm", s.NutLow.NewtonMetres(), s.NutHigh.NewtonMetres()), "cap-bolts": fmt.Sprintf("%.6gNm", s.CapTorque.NewtonMetres()),
		}
		if d.SideAdjust != family.BearingAdjusters {
			typed["side-shims"] = stock(s.SideShims)
		}
		if d.Preload == family.SolidSpacer {
			typed["preload-shims"] = stock(d.Solid.PreloadShims)
		}
		file, err := family.Begin("MINE", given(t, quantity.Metric, typed), text.Printer{})
		require.NoError(t, err, "%s: %s", f.Code, said(err))
		got, err := family.Parse(file, "mine.yaml")
		require.NoError(t, err, f.Code)
		assert.InDelta(t, s.CheckingDistanceMM, got.Sheet.CheckingDistanceMM, 1e-3, f.Code)
		assert.InDelta(t, s.Backlash.LowMM, got.Sheet.Backlash.LowMM, 1e-4, f.Code)
		assert.InDelta(t, s.PinionTorqueNew.Mid(), got.Sheet.PinionTorqueNew.Mid(), 0.1, f.Code)
		assert.InDelta(t, s.NutHigh.Nmm(), got.Sheet.NutHigh.Nmm(), 10, f.Code)
		assert.Equal(t, d.Preload, got.Design.Preload, f.Code)
		specification, _, _ := strings.Cut(string(file[strings.Index(string(file), "specification:"):]), "\nbearings:")
		assert.Equal(t, 3, strings.Count(specification, "# estimated"), "%s: pattern, case flange and seal are estimated", f.Code)
	}
}

// What is refused names what was wrong and what would be right.
func TestBeginRefuses(t *testing.T) {
	p := text.NewPrinter(quantity.Inch, text.Overlay{})
	for _, x := range []struct{ name, typed, said string }{
		{"backlash", "wide", `backlash is "wide"; needed: a figure written like 0.005-0.008in`},
		{"backlash", "0.005in", `a figure written like 0.005-0.008in`},
		{"backlash", "5-8lb-in", `a figure written like`},
		{"depth-shims", "0.020-0.040in", `0.020-0.040 by 0.001in`},
		{"marks", "big", "plus-takes-shim"},
		{"ring-teeth", "many", "41"},
	} {
		for _, f := range family.Figures() {
			if f.Name != x.name {
				continue
			}
			_, err := f.Read(x.typed, quantity.Inch)
			require.Error(t, err, x)
			assert.Contains(t, p.Error(err), x.said)
		}
	}
	for said, typed := range map[string]map[string]string{
		"backlash":                  {"backlash": "0.008-0.005in"},
		"teeth of the ring gear":    {"ring-teeth": "4"},
		"ring_diameter_in is 1000":  {"ring-diameter": "1000in"}, // and so are sizes estimated from it
		"pinion 41":                 {"ring-teeth": "40", "pinion-teeth": "41"},
		"the code of a family":      {},
		"under the cage flange":     {"depth-shim": "under-cage-flange", "marks": "plus-adds-shim"},
		"within the specification":  {"nut": "5-6lb-ft"},
		"specified torque with new": {"pinion-torque-new": "300-400lb-in", "nut": "100-110lb-ft"},
	} {
		code := "MINE"
		if len(typed) == 0 {
			code = "BEECH"
		}
		_, err := family.Begin(code, given(t, quantity.Inch, typed), p)
		if assert.Error(t, err, said) {
			assert.Contains(t, p.Error(err), said)
			assert.Contains(t, p.Error(err), "needed: ")
		}
	}
}

// Amounts are read in both systems and in the ways that manuals write them.
func TestFiguresAreRead(t *testing.T) {
	for _, x := range []struct {
		name, typed string
		units       quantity.System
		line        string
	}{
		{"backlash", "0.005-0.008in", quantity.Metric, "backlash_in: {low: 0.005, high: 0.008}"},
		{"backlash", "5 to 8 thou", quantity.Metric, "backlash_in: {low: 0.005, high: 0.008}"},
		{"backlash", "0,13 - 0,20", quantity.Metric, "backlash_mm: {low: 0.13, high: 0.2}"},
		{"backlash", "0.005..0.008", quantity.Inch, "backlash_in: {low: 0.005, high: 0.008}"},
		{"nut", "200-450 ft-lb", quantity.Metric, "nut_lb_ft: {low: 200, high: 450}"},
		{"nut", "270–610 N·m", quantity.Inch, "nut_nm: {low: 270, high: 610}"},
		{"pinion-torque-new", "20-30", quantity.Inch, "pinion_torque_new_lb_in: {low: 20, high: 30}"},
		{"cap-bolts", "75Nm", quantity.Inch, "cap_bolts_nm: 75"},
		{"depth-shims", "0.020-0.040 by 0.001in", quantity.Inch, "depth_shims_in: {low: 0.02, high: 0.04, step: 0.001}"},
	} {
		file, err := family.Begin("MINE", given(t, x.units, map[string]string{x.name: x.typed}), text.Printer{})
		if assert.NoError(t, err, "%s: %s", x.typed, said(err)) {
			assert.Contains(t, string(file), "  "+x.line+" # given\n")
		}
	}
	for _, f := range family.Figures() {
		for _, units := range []quantity.System{quantity.Inch, quantity.Metric} {
			_, err := f.Read(f.Like(units), units)
			assert.NoError(t, err, f.Name)
		}
	}
}
