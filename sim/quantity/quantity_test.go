package quantity_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"shimwright/sim/quantity"
)

// The pairs are the conversions of a government manual's own table, as far as it
// prints them: TM 9-2320-289-34 gives 0.010 in beside 0.254 mm and 0.003 in
// beside 0.076 mm; the torque factors are NIST SP 811 (from memory).
func TestConversionsAgreeWithPrintedPairs(t *testing.T) {
	assert.InDelta(t, 0.254, quantity.Inches(0.010).MM(), 1e-12)
	assert.InDelta(t, 0.076, quantity.Thou(3).MM(), 0.0005)
	assert.InDelta(t, 112.984829, quantity.InchPounds(1).Nmm(), 1e-6)
	assert.InDelta(t, 1355.817948, quantity.FootPounds(1).Nmm(), 1e-6)
	assert.InDelta(t, 12, quantity.FootPounds(1).InchPounds(), 1e-12)
	assert.InDelta(t, 4.4482216152605, quantity.PoundsForce(1).N(), 0)
	assert.InDelta(t, 1, quantity.Force(4.4482216152605).PoundsForce(), 1e-12)
}

func TestShow(t *testing.T) {
	assert.Equal(t, "0.0065 in", quantity.Inches(0.0065).Show(quantity.Inch))
	assert.Equal(t, "0.165 mm", quantity.Inches(0.0065).Show(quantity.Metric))
	assert.Equal(t, "0.0000 in", quantity.Millimetres(-0.0001).Show(quantity.Inch), "no negative zero on a build sheet")
	assert.Equal(t, "+0.0030 in", quantity.Thou(3).ShowSigned(quantity.Inch))
	assert.Equal(t, "22.5 lb-in", quantity.InchPounds(22.5).ShowRotating(quantity.Inch))
	assert.Equal(t, "300 lb-ft", quantity.FootPounds(300).ShowFastener(quantity.Inch))
	assert.Equal(t, "407 N·m", quantity.FootPounds(300).ShowFastener(quantity.Metric))
}

func TestParseEntered(t *testing.T) {
	for text, want := range map[string]quantity.Entered{
		"0.030in":   {Number: 0.030, Unit: quantity.UnitInch},
		"30 thou":   {Number: 30, Unit: quantity.UnitThou},
		".76 MM":    {Number: 0.76, Unit: quantity.UnitMM},
		"0,762 mm":  {Number: 0.762, Unit: quantity.UnitMM},
		"250 lb-ft": {Number: 250, Unit: quantity.UnitFootLb},
		"28 N·m":    {Number: 28, Unit: quantity.UnitNm},
		"-15 deg":   {Number: -15, Unit: quantity.UnitDegree},
	} {
		got, err := quantity.ParseEntered(text, "")
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	got, err := quantity.ParseEntered("0.76", quantity.UnitMM)
	require.NoError(t, err)
	assert.Equal(t, quantity.UnitMM, got.Unit)
	for _, bad := range []string{"", "abc", "1e3in", "NaN", "1.2.3mm", "1.2,3mm", "5 furlongs", "7", "99999999mm", "+-3in"} {
		_, err := quantity.ParseEntered(bad, "")
		var e *quantity.Error
		require.ErrorAs(t, err, &e, bad)
		assert.Equal(t, bad, e.Typed)
		want, unit := quantity.NoAmount, ""
		switch bad {
		case "7":
			want = quantity.NoUnit
		case "5 furlongs":
			want, unit = quantity.UnknownUnit, "furlongs"
		case "1.2,3mm":
			want, unit = quantity.UnknownUnit, ",3mm"
		case "1e3in":
			want, unit = quantity.UnknownUnit, "e3in"
		}
		assert.Equal(t, want, e.Fault, bad)
		assert.Equal(t, unit, e.Unit, bad)
	}
}

func TestWhatIsWrittenReadsBackTheSame(t *testing.T) {
	units := []quantity.Unit{quantity.UnitInch, quantity.UnitThou, quantity.UnitMM, quantity.UnitInchLb, quantity.UnitFootLb, quantity.UnitNm, quantity.UnitDegree, quantity.UnitTurn}
	rapid.Check(t, func(t *rapid.T) {
		e := quantity.Entered{Number: float64(rapid.IntRange(-9999999, 9999999).Draw(t, "n")) / 10000, Unit: rapid.SampledFrom(units).Draw(t, "unit")}
		got, err := quantity.ParseEntered(e.String(), "")
		if err != nil || got != e {
			t.Fatalf("%v -> %q -> %v, %v", e, e.String(), got, err)
		}
	})
}

func TestParseSystem(t *testing.T) {
	s, err := quantity.ParseSystem(" Metric ")
	require.NoError(t, err)
	assert.Equal(t, quantity.Metric, s)
	_, err = quantity.ParseSystem("cubits")
	assert.Equal(t, &quantity.Error{Fault: quantity.NoSystem, Typed: "cubits"}, err)
}

// Whatever is typed, an amount that is read is finite, no larger than a person types, and
// reads back as itself.
func FuzzParseEntered(f *testing.F) {
	for _, s := range []string{"0.030in", "30 thou", "0,76 mm", "-5 deg", "250 lb·ft", "1e400", "NaN", ".", "+.5nm", "1.2,3", "-0", "6 share"} {
		f.Add(s, "in")
		f.Add(s, "")
	}
	f.Fuzz(func(t *testing.T, typed, fallback string) {
		e, err := quantity.ParseEntered(typed, quantity.Unit(fallback))
		if err != nil {
			if err.Error() == "" {
				t.Fatalf("%q: an error without a word", typed)
			}
			return
		}
		if !(math.Abs(e.Number) <= 1e6) {
			t.Fatalf("%q reads as %v", typed, e)
		}
		if fallback != "" {
			return // any unit, made up or not
		}
		again, err := quantity.ParseEntered(e.String(), "")
		if err != nil || again != e {
			t.Fatalf("%q -> %q -> %v, %v", typed, e, again, err)
		}
	})
}
