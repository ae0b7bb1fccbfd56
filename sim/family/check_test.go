package family_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"shimwright/sim/family"
	"shimwright/sim/text"
)

func say(m text.Message) string { return text.Printer{}.Print(m) }

// A change is one mistake made in a good file.
type change struct {
	of, old, new string // the family's code; what is replaced, once, by what
}

// One mistake of each kind, where it is named, and in what words.
func TestMistakesAreNamed(t *testing.T) {
	for _, c := range []struct {
		name       string
		made       change
		find       string // text that the reported line holds
		column     int
		what, want string
	}{
		{"unknown key", change{"BEECH", "  offset_mm: 38", "  offset_mm: 38\n  colour: 3"}, "colour: 3", 3, "gears: colour is not a key of this group", "take it out; shimwright family show CODE shows the keys"},
		{"misspelled key", change{"BEECH", "checking_distance_mm", "cheking_distance_mm"}, "cheking_distance_mm", 3, "specification: cheking_distance_mm is not a key", "checking_distance_mm"},
		{"another unit", change{"BEECH", "cap_bolts_lb_ft", "cap_bolts_lb_in_ft"}, "cap_bolts_lb_in_ft", 3, "not a key", "cap_bolts_lb_"},
		{"unknown key at the top", change{"BEECH", "code: BEECH", "code: BEECH\nnotez: x"}, "notez", 1, "notez is not a key", "notes"},
		{"unknown key in a specification", change{"BEECH", "{low: 0.47, high: 0.53}", "{low: 0.47, high: 0.53, mid: 0.5}"}, "mid: 0.5", 47, "specification: pattern_up_profile: mid is not a key", "low or high"},
		{"key twice", change{"BEECH", "  offset_mm: 38", "  offset_mm: 38\n  offset_mm: 39"}, "offset_mm: 39", 3, "a second time; the first is in line 25", "one of the two"},
		{"one thing in two units", change{"BEECH", "  offset_mm: 38", "  offset_mm: 38\n  offset_in: 1.5"}, "offset_in", 3, "offset_in repeats what offset_mm in line 25 says", "only one of the two"},
		{"missing key", change{"BEECH", "  runout_in: 0.0025\n", ""}, "specification:", 1, "the group specification has no runout_in or runout_mm", "back-face runout of the ring gear, total reading, between 0.0001969 and 0.03937 in"},
		{"missing group", change{"BEECH", "design:\n", "designs:\n"}, "designs:", 1, "designs is not a key", "design"},
		{"missing low", change{"BEECH", "{low: 0.47, high: 0.53}", "{high: 0.53}"}, "pattern_up_profile", 3, "the group specification: pattern_up_profile has no low", "{low: , high: }"},
		{"no notice", change{"BEECH", "invented: Invented for practice. No figure here belongs to a real axle; on the job the maker's manual decides.\n", ""}, "# An axle family", 1, "the file has no invented", "a sentence which says that the axle is invented"},
		{"notice that says nothing", change{"BEECH", "invented: Invented for practice. No figure here belongs to a real axle; on the job the maker's manual decides.", "invented: yes it is mine"}, "yes it is mine", 11, "invented does not say that the axle is invented", "no figure may be used"},
		{"text for a number", change{"BEECH", "checking_distance_mm: 62.58", "checking_distance_mm: tall"}, "tall", 25, `specification: checking_distance_mm holds the text "tall"`, "a number between 15 and 400 mm"},
		{"number in quotes", change{"BEECH", "checking_distance_mm: 62.58", `checking_distance_mm: "62.58"`}, "62.58", 25, "holds the text", "without quotes"},
		{"comma", change{"BEECH", "checking_distance_mm: 62.58", "checking_distance_mm: 62,58"}, "62,58", 25, `the text "62,58"`, "with a decimal point and not a comma"},
		{"nothing", change{"BEECH", "checking_distance_mm: 62.58", "checking_distance_mm:"}, "checking_distance_mm:", 3, "checking_distance_mm holds nothing", "between 15 and 400 mm"},
		{"list for a number", change{"BEECH", "checking_distance_mm: 62.58", "checking_distance_mm: [62, 63]"}, "[62", 3, "holds a list", "a number"},
		{"hexadecimal", change{"BEECH", "ring_teeth: 41", "ring_teeth: 0x29"}, "0x29", 15, "holds the number 0x29", "a number between 10 and 400"},
		{"no number", change{"BEECH", "checking_distance_mm: 62.58", "checking_distance_mm: .nan"}, ".nan", 25, "a number that cannot be measured", "between 15 and 400"},
		{"part of a tooth", change{"BEECH", "ring_teeth: 41", "ring_teeth: 41.5"}, "41.5", 15, "gears: ring_teeth is 41.5", "a whole number"},
		{"number for a specification", change{"BEECH", "{low: 0.47, high: 0.53}", "0.5"}, "pattern_up_profile", 23, "pattern_up_profile holds the number 0.5", "{low: , high: }"},
		{"number for a text", change{"BEECH", "code: BEECH", "code: 12"}, "code: 12", 7, "code holds the number 12", "capital letters"},
		{"number for a group", change{"BEECH", "stiffness:\n", "stiffness: 3\nstiff:\n"}, "stiffness: 3", 12, "stiffness holds the number 3", "a group of keys"},
		{"small letters in a code", change{"BEECH", "code: BEECH", "code: beech"}, "code: beech", 7, `code is "beech"`, "capital letters"},
		{"reference", change{"BEECH", "checking_distance_mm: 62.58", "checking_distance_mm: &h 62.58"}, "&h", 25, "a reference, which these files do not use", "a number"},
		{"word that is no choice", change{"BEECH", "housing: iron", "housing: irn"}, "irn", 12, `design: housing is "irn"`, "iron"},
		{"another word", change{"BEECH", "housing: iron", "housing: magnesium"}, "magnesium", 12, `housing is "magnesium"`, "iron or aluminum"},
		{"out of range", change{"BEECH", "checking_distance_mm: 62.58", "checking_distance_mm: 6258"}, "6258", 25, "checking_distance_mm is 6258", "between 15 and 400 mm"},
		{"out of range in inches", change{"BEECH", "case_flange_runout_in: 0.002", "case_flange_runout_in: 2"}, "case_flange_runout_in", 26, "case_flange_runout_in is 2", "between 0.0001969 and 0.03937 in"},
		{"upside down", change{"BEECH", "backlash_in: {low: 0.005, high: 0.008}", "backlash_in: {low: 0.008, high: 0.005}"}, "backlash_in", 22, "specification: backlash_in is reversed: low is 0.008, high is 0.005", "the smaller number as low"},
		{"spread upside down", change{"BEECH", "friction: {low: 0.10, high: 0.15}", "friction: {low: 0.15, high: 0.10}"}, "0.15, high: 0.10", 19, "is reversed", "smaller"},
		{"no room", change{"BEECH", "backlash_in: {low: 0.005, high: 0.008}", "backlash_in: {low: 0.005, high: 0.005}"}, "backlash_in", 22, "has no room: low and high are both 0.005", "above the low"},
		{"steps that do not end", change{"ELM", "high: 1.525, step: 0.075", "high: 1.5, step: 0.075"}, "high: 1.5,", 3, "does not end on a step: high is 1.5, and the steps reach 1.45 and 1.525", "high: 1.45 or 1.525 mm"},
		{"steps that do not end, inches", change{"BEECH", "{low: 0.040, high: 0.100, step: 0.002}", "{low: 0.040, high: 0.101, step: 0.002}"}, "0.101", 3, "high is 0.101, and the steps reach 0.1 and 0.102", "0.1 or 0.102 in"},
		{"step too wide", change{"BEECH", "{low: 0.020, high: 0.040, step: 0.001}", "{low: 0.020, high: 0.040, step: 0.050}"}, "0.050", 3, "a step that is larger than high minus low", "smaller"},
		{"too many sizes", change{"BEECH", "{low: 0.020, high: 0.040, step: 0.001}", "{low: 0.0200, high: 0.1400, step: 0.0002}"}, "0.1400", 3, "has 601 sizes", "at most 400"},
		{"tolerance under half a step", change{"BEECH", "depth_tolerance_in: 0.0025", "depth_tolerance_in: 0.0004"}, "depth_tolerance", 23, "no depth shim in stock may be within the tolerance: the shims come in steps of 0.0010 in (0.025 mm), the pinion depth may be off by 0.0004 in (0.010 mm) either way", "at least half a step"},
		{"side preload under a step", change{"BEECH", "{low: 0.006, high: 0.010}", "{low: 0.006, high: 0.007}"}, "side_preload", 3, "no side shim in stock may be within the specification: the shims come in steps of 0.0020 in (0.051 mm), the specification is 0.0010 in (0.025 mm) wide", "one step"},
		{"side preload under a notch", change{"ELM", "notches: 20", "notches: 10"}, "side_preload", 3, "one notch of an adjuster is 0.0079 in (0.200 mm)", "one step"},
		{"spread past the limit", change{"BEECH", "spread_limit_in: 0.015", "spread_limit_in: 0.008"}, "side_preload", 3, "may spread the housing past its limit", "not above spread_limit"},
		{"side shims with rings", change{"ELM", "  backlash_mm", "  side_shims_mm: {low: 1, high: 2, step: 0.1}\n  backlash_mm"}, "side_shims", 3, "side_shims_mm does not belong here: the design says bearing-adjusters", "no side shims"},
		{"adjusters without the design", change{"BEECH", "nut:\n", "adjusters: {notches: 20, pitch_mm: 2}\nnut:\n"}, "adjusters:", 1, "adjusters does not belong here: the design says outside-shims", "bearing-adjusters"},
		{"spacer of the other design", change{"BEECH", "pinion_preload: collapsible-spacer", "pinion_preload: solid-spacer"}, "collapsible_spacer:", 1, "collapsible_spacer does not belong here: the design says solid-spacer", "collapsible-spacer"},
		{"marks of a cage", change{"BEECH", "marks: plus-adds-shim", "marks: plus-thickens-cage-shim"}, "plus-thickens-cage-shim", 10, "the depth shim is not under a cage", "plus-takes-shim, plus-adds-shim or none"},
		{"marks of a shim under the cone", change{"ELM", "marks: plus-thickens-cage-shim", "marks: plus-adds-shim"}, "plus-adds-shim", 10, "the depth shim is under the cage flange", "plus-thickens-cage-shim or none"},
		{"packs short of line-to-line", change{"CEDAR", "preload_shims_in: {low: 0.020, high: 0.080, step: 0.001}", "preload_shims_in: {low: 0.020, high: 0.050, step: 0.001}"}, "preload_shims_in", 3, "the preload shims go from 0.0200 in (0.508 mm) to 0.0500 in (1.270 mm)", "below zero_end_play to above it"},
		{"ring smaller than pinion", change{"BEECH", "ring_teeth: 41", "ring_teeth: 11"}, "ring_teeth: 11", 15, "the ring gear has 11 teeth and the pinion 12", "more teeth than its pinion"},
		{"no pitch design", change{"BEECH", "cutter_radius_mm: 114", "cutter_radius_mm: 500"}, "pinion_spiral", 22, "the cutter radius must be between 47.7 and 467.1 mm", "a spiral, offset and cutter radius that go together"},
		{"no teeth", change{"BEECH", "pressure_angle_deg: 20", "pressure_angle_deg: 10"}, "gears:", 1, "cannot mesh", "teeth can be cut"},
		{"bore over outside", change{"BEECH", "bore_mm: 32", "bore_mm: 75"}, "outer:", 3, "larger than the bore", "one bearing"},
		{"axial factor", change{"BEECH", "axial_factor: 1.41", "axial_factor: 1.14"}, "side: {", 3, "an axial factor of 1.14 does not go with a contact angle of 16", "about 1.4"},
		{"torque out of reach of the nut", change{"BEECH", "nut_lb_ft: {low: 200, high: 450}", "nut_lb_ft: {low: 100, high: 150}"}, "pinion_torque_new", 3, "cannot be reached within the specification of the nut: it takes 263 lb-ft (357 N·m) to 274 lb-ft (372 N·m) at the nut", "another crush_load"},
		{"spacer flat before", change{"BEECH", "usable_crush_mm: 2.5", "usable_crush_mm: 0.3"}, "pinion_torque_new", 3, "the spacer is crushed flat", "usable_crush"},
		{"spacer that snaps", change{"BEECH", "peak_factor: {low: 1.02, high: 1.12}", "peak_factor: {low: 1.60, high: 1.80}"}, "spacer:", 1, "too fast for this spacer", "can be assembled"},
		{"torque specification under a shim", change{"CEDAR", "pinion_torque_new_lb_in: {low: 20, high: 40}", "pinion_torque_new_lb_in: {low: 30, high: 31}"}, "pinion_torque_new", 3, "they come in steps of 0.0010 in (0.025 mm)", "smaller steps"},
		{"nut too weak", change{"CEDAR", "nut_nm: {low: 270, high: 365}", "nut_nm: {low: 30, high: 40}"}, "solid_spacer:", 1, "less than the preload that the rotating torque needs", "assembled"},
		{"used torque above new", change{"BEECH", "pinion_torque_used_nm: {low: 0.9, high: 1.7}", "pinion_torque_used_nm: {low: 2.9, high: 3.7}"}, "pinion_torque_used", 3, "used bearings would need more torque, 25.7 lb-in (2.90 N·m) to 32.7 lb-in (3.70 N·m), than new bearings, 20.4 lb-in (2.30 N·m) to 30.1 lb-in (3.40 N·m)", "not swapped"},
		{"used rise above new", change{"BEECH", "total_torque_rise_used_nm: {low: 0.2, high: 0.6}", "total_torque_rise_used_nm: {low: 0.7, high: 0.9}"}, "total_torque_rise_used", 3, "used bearings would need more torque", "not swapped"},
		{"code already taken", change{"BEECH", "offset_mm: 38", "offset_mm: 37.9"}, "code: BEECH", 7, "code is BEECH, which is the code of a family that comes with the program", "a code of its own, such as BEECH-2"},
		{"shims of 0.2 in", change{"BEECH", "depth_shims_in: {low: 0.020, high: 0.040, step: 0.001}", "depth_shims_in: {low: 0.20, high: 0.40, step: 0.01}"}, "depth_shims_in", 25, "depth_shims_in: low is 0.20", "depth shims in stock: between 0.0007874 and 0.1575 in"},
		{"unit left out in an inch group", change{"BEECH", "runout_in: 0.0025", "runout: 0.0025"}, "runout: 0.0025", 3, "specification: runout is not a key of this group", "runout_in"},
		{"rise out of reach", change{"BEECH", "total_torque_rise_new_nm: {low: 0.4, high: 0.9}", "total_torque_rise_new_nm: {low: 1.4, high: 1.9}"}, "total_torque_rise_new", 3, "the specified side bearing preload adds 4.8 lb-in (0.55 N·m) to 7.2 lb-in (0.81 N·m) with new bearings", "another side_preload"},
	} {
		t.Run(c.name, func(t *testing.T) {
			good := fileOf(t, c.made.of)
			require.Equal(t, 1, strings.Count(good, c.made.old), "the test changes one place")
			bad := strings.Replace(good, c.made.old, c.made.new, 1)
			var got *family.Problem
			problems := family.Check([]byte(bad), "mine.yaml")
			for i, p := range problems {
				if strings.Contains(say(p.What), c.what) {
					got = &problems[i]
					break
				}
			}
			require.NotNil(t, got, "%v", problems)
			lines := strings.Split(bad, "\n")
			require.True(t, got.Line >= 1 && got.Line <= len(lines), "%v", got)
			assert.Contains(t, lines[got.Line-1], c.find, "%v", got)
			assert.Equal(t, c.column, got.Column, "%v", got)
			assert.Contains(t, say(got.Want), c.want)
			assert.Equal(t, "mine.yaml", got.File)
			_, err := family.Parse([]byte(bad), "mine.yaml")
			var all family.Problems
			require.ErrorAs(t, err, &all)
			assert.NotErrorIs(t, err, family.ErrNotFamily, "a family with mistakes is one")
		})
	}
}

// Teeth that are eased off by more than the backlash bind somewhere in a turn.
func TestGearsThatBind(t *testing.T) {
	bad := strings.NewReplacer("length_mm: 0.060, profile_mm: 0.025", "length_mm: 0.300, profile_mm: 0.300",
		"backlash_in: {low: 0.005, high: 0.008}", "backlash_in: {low: 0.0008, high: 0.0020}").Replace(beechText(t))
	problems := family.Check([]byte(bad), "x")
	require.Len(t, problems, 1)
	assert.Contains(t, say(problems[0].What), "the gears bind somewhere in a turn")
	assert.Contains(t, strings.Split(bad, "\n")[problems[0].Line-1], "backlash_in")
}

// Mistakes in different places are all named at once, in the order of the file.
func TestAllMistakesAtOnce(t *testing.T) {
	bad := beechText(t)
	for _, c := range [][2]string{
		{"code: BEECH", "code: beech"}, {"housing: iron", "housing: wood"}, {"offset_mm: 38", "ofset_mm: 38"},
		{"{low: 0.005, high: 0.008}", "{low: 0.008, high: 0.005}"}, {"high: 0.040, step: 0.001", "high: 0.0405, step: 0.001"},
		{"  runout_in: 0.0025\n", ""}, {"rollers: 17", "rollers: many"}, {"threads_per_inch: 14", "threads_per_inch: 1400"}, {"usable_crush_mm: 2.5", "usable_crush_mm: -2"},
	} {
		require.Equal(t, 1, strings.Count(bad, c[0]), c[0])
		bad = strings.Replace(bad, c[0], c[1], 1)
	}
	problems := family.Check([]byte(bad), "x")
	require.Len(t, problems, 9, "%v", problems)
	for i, p := range problems[1:] {
		assert.LessOrEqual(t, problems[i].Line, p.Line)
	}
	// Gears and bearings are looked at though other groups have mistakes.
	bad = strings.NewReplacer("housing: iron", "housing: wood", "cutter_radius_mm: 114", "cutter_radius_mm: 500", "axial_factor: 1.41", "axial_factor: 1.14").Replace(beechText(t))
	assert.Len(t, family.Check([]byte(bad), "x"), 3)
}

func TestWhatIsNoFamily(t *testing.T) {
	beech := beechText(t)
	for _, c := range []struct{ name, text, what, want string }{
		{"nothing", "", "is empty", "shimwright_family: 1"},
		{"remarks only", "# hello\n", "is empty", "shimwright_family: 1"},
		{"prose", "dear all\n", "not a list of keys", "shimwright_family: 1"},
		{"a list", "- 1\n- 2\n", "not a list of keys", "shimwright_family: 1"},
		{"something else", "a: 1\nb: 2\n", "not an axle family", "shimwright_family: 1"},
		{"not UTF-8", "code: \xff\n", "UTF-8", "plain text"},
		{"control character", "code: A\x1b[31m\n", "control character", "plain text"},
		{"tab", "design:\n\tmarks: none\n", "cannot be read past this point", "not tabs"},
		{"open bracket", strings.Replace(beech, "high: 0.53}", "high: 0.53", 1), "cannot be read", "one key per line"},
		{"long line", "a: " + strings.Repeat("x", 2000), "the line has", "at most 1000"},
		{"too large", strings.Repeat("# x\n", 20_000), "bytes", "at most 32768"},
		{"nested", "a: " + strings.Repeat("[", 100), "too many brackets", "one level"},
		{"two families", beech + "---\n" + beech, "a second document", "one document per file"},
		{"another version", strings.Replace(beech, "shimwright_family: 1", "shimwright_family: 2", 1), "version 2", "version 1"},
	} {
		problems := family.Check([]byte(c.text), "x")
		require.Len(t, problems, 1, "%s: %v", c.name, problems)
		assert.Contains(t, say(problems[0].What), c.what, c.name)
		assert.Contains(t, say(problems[0].Want), c.want, c.name)
		assert.Positive(t, problems[0].Line)
		assert.Positive(t, problems[0].Column)
		_, err := family.Parse([]byte(c.text), "x")
		assert.ErrorIs(t, err, family.ErrNotFamily, c.name)
	}
	// The mark of text and line ends of other systems do no harm.
	for _, same := range []string{"\ufeff" + beech, strings.ReplaceAll(beech, "\n", "\r\n")} {
		f, err := family.Parse([]byte(same), "x")
		require.NoError(t, err)
		assert.Equal(t, family.Beech(), f)
	}
	// A family that lacks only its first key is still one.
	problems := family.Check([]byte(strings.Replace(beech, "shimwright_family: 1\n", "", 1)), "x")
	require.Len(t, problems, 1)
	assert.Contains(t, say(problems[0].What), "the file has no shimwright_family")
	assert.NotErrorIs(t, family.Problems(problems), family.ErrNotFamily)
}

// Leaving out any line, or changing any number, is either harmless or complained of
// in place; it is never a panic and never a family with a hole in it.
func TestNoLineCanBeLost(t *testing.T) {
	for _, code := range []string{"BEECH", "ELM"} {
		lines := strings.Split(fileOf(t, code), "\n")
		for i, line := range lines {
			trim := strings.TrimSpace(line)
			if trim == "" || strings.HasPrefix(trim, "#") {
				continue
			}
			rest := append(append([]string(nil), lines[:i]...), lines[i+1:]...)
			problems := family.Check([]byte(strings.Join(rest, "\n")), "x")
			// Wrapped words may lose a line unnoticed, and the notes all of them; no
			// other key may go.
			if key, _, ok := strings.Cut(trim, ":"); !ok || strings.Contains(key, " ") || key == "notes" {
				continue
			}
			assert.NotEmpty(t, problems, "%s without %q", code, line)
		}
	}
}

func TestAnyNumberInAnyPlace(t *testing.T) {
	lines := strings.Split(beechText(t), "\n")
	rapid.Check(t, func(t *rapid.T) {
		i := rapid.IntRange(0, len(lines)-1).Draw(t, "line")
		key, _, ok := strings.Cut(lines[i], ":")
		if !ok || strings.HasPrefix(key, "#") {
			return
		}
		x := rapid.OneOf(rapid.Float64(), rapid.Float64Range(-10, 1000)).Draw(t, "number")
		out := append([]string(nil), lines...)
		out[i] = fmt.Sprintf("%s: %v", key, x)
		for _, p := range family.Check([]byte(strings.Join(out, "\n")), "x") {
			if p.Line < 1 || p.Column < 1 || say(p.What) == "" || say(p.Want) == "" {
				t.Fatalf("%#v", p)
			}
		}
	})
}

// FuzzCheck hands any bytes to the checker.
func FuzzCheck(f *testing.F) {
	for _, code := range []string{"BEECH", "CEDAR", "JUNIPER"} {
		f.Add([]byte(fileOf(f, code)))
	}
	for _, s := range []string{"", "a", "a: b", "? a\n: b", "&a [*a]", "<<: *x", "!!int 3", "---\n...\n---", "%YAML 1.2\n---\na: 1", "a: |\n  b", "{a: 1, b: }", "gears: {a: [1, {b: c}]}\nsheet: 3", "gears:\n  &a b: *a\n"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		problems := family.Check(data, "x")
		fam, err := family.Parse(data, "x")
		if (err == nil) != (len(problems) == 0) {
			t.Fatal("Check and Parse differ")
		}
		for _, p := range problems {
			if p.Line < 1 || p.Column < 1 || say(p.What) == "" || say(p.Want) == "" {
				t.Fatalf("%#v", p)
			}
		}
		if err == nil {
			if _, err := fam.Reach(false); err != nil {
				t.Fatal(err)
			}
		}
	})
}

// A code has digits and hyphens after its first letter.
func TestCodesWithDigits(t *testing.T) {
	for code, ok := range map[string]bool{"BEECH-2": true, "X09": true, "B_2": false, "2B": false, "-B": false, "B/": false, "B:": false, "B@": false, "B[": false} {
		problems := family.Check([]byte(strings.Replace(fileOf(t, "BEECH"), "code: BEECH", "code: '"+code+"'", 1)), "x")
		assert.Equal(t, ok, len(problems) == 0, "%s: %v", code, problems)
	}
}
