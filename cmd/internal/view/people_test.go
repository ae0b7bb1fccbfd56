package view

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/mattn/go-runewidth"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"shimwright/grading"
	"shimwright/grading/debrief"
	"shimwright/grading/reveal"
	"shimwright/scenarios"
	"shimwright/scenarios/scenariostest"
	"shimwright/scenarios/technician"
	"shimwright/sim"
	"shimwright/sim/act"
	"shimwright/sim/family"
	"shimwright/sim/gauge"
	"shimwright/sim/history"
	"shimwright/sim/longtest"
	"shimwright/sim/quantity"
	"shimwright/sim/setup"
	"shimwright/sim/text"
)

// widths are the narrowest and widest that are written for, and the usual one.
var widths = []int{40, 80, 100}

// jobs is how many jobs the cards are looked at for; a third as many are worked by
// every kind of hand.
var jobs = longtest.Pick[uint64](4, 12)

var bothUnits = []quantity.System{quantity.Inch, quantity.Metric}

// anyAttribute matches every sequence that sets colors or weight, and nothing else.
var anyAttribute = regexp.MustCompile("\x1b\\[[0-9;]*m")

// checkPage fails on lines that are too wide, blanks at their ends, characters that
// act on the terminal, and color where none may be.
func checkPage(t *testing.T, out string, p Pen, what string) {
	t.Helper()
	count := runewidth.Condition{}
	text := out
	if p.Color {
		text = anyAttribute.ReplaceAllString(out, "")
	}
	for line := range strings.SplitSeq(text, "\n") {
		if w := count.StringWidth(line); w > p.Width {
			t.Errorf("%s at %d: %d columns: %q", what, p.Width, w, line)
		}
		if line != strings.TrimRight(line, " ") && !p.Color {
			t.Errorf("%s at %d: blanks at the end of %q", what, p.Width, line)
		}
	}
	if i := strings.IndexFunc(text, func(r rune) bool { return r != '\n' && dangerous(r) }); i >= 0 {
		t.Errorf("%s: control character in %q", what, text[max(0, i-20):min(len(text), i+20)])
	}
}

func pens() []Pen {
	var out []Pen
	for _, w := range widths {
		out = append(out, Pen{Width: w}, Pen{Width: w, Color: true})
	}
	return out
}

// A told job is one that a technician has worked, with all that was shown.
type told struct {
	job   scenarios.Job
	stand *sim.Stand
	outs  []history.Step
}

func (b *told) Do(a act.Act) (history.Step, error) {
	o, err := b.stand.Do(a)
	if err == nil {
		b.outs = append(b.outs, o)
	}
	return o, err
}

func (b *told) Status() history.Status { return b.stand.Status() }

func work(t *testing.T, fam family.Family, seed uint64, h technician.Habits) *told {
	t.Helper()
	job, err := scenariostest.Generate(fam, seed)
	require.NoError(t, err)
	stand, err := job.Stand()
	require.NoError(t, err)
	b := &told{job: job, stand: stand}
	// A clumsy hand may be stopped by the bench; what it did until then is shown
	// all the same.
	_ = technician.Work(b, job.Card.Known, h)
	require.NotEmpty(t, b.outs)
	return b
}

// worked lists the jobs that a technician works: the usual family's, and one of each other
// way of building an axle. In a short run only the careful one works those.
func worked(name string) []numbered {
	var out []numbered
	for seed := range max(1, jobs/3) {
		out = append(out, numbered{family.Beech(), seed})
	}
	if name != "careful" && !longtest.On() {
		return out
	}
	for _, f := range family.Shelf() {
		if d := f.Design; d.Preload == family.SolidSpacer && d.SideAdjust != family.OutsideShims || d.DepthShim == family.UnderCageFlange {
			out = append(out, numbered{f, 1})
		}
	}
	return out
}

type numbered struct {
	fam  family.Family
	seed uint64
}

var techs = map[string]technician.Habits{
	"careful":       {},
	"one wrong way": {WrongMoveOnce: true},
	"signs turned":  {SignsTurned: true},
	"blind":         {NeverMeasures: true},
}

func TestCardsFit(t *testing.T) {
	for seed := range jobs {
		job, err := scenariostest.Generate(family.Beech(), seed)
		require.NoError(t, err)
		for _, units := range bothUnits {
			for _, p := range pens() {
				what := fmt.Sprintf("card %d, %s", seed, units)
				out := Card(job.Card, p.In(units))
				checkPage(t, out, p, what)
				assert.Contains(t, flat(out), p.Print(family.Notice()), what)
				assert.Contains(t, flat(out), p.Print(job.Card.Complaint), what)
				assert.Equal(t, out, Card(job.Card, p.In(units)), "%s: twice the same", what)
				if units == quantity.Metric {
					assert.NotRegexp(t, `\d (in|lb-in|lb-ft)\b`, flat(out), what)
				} else {
					assert.NotRegexp(t, `\d (mm|N·m)\b`, flat(out), what)
				}
			}
		}
	}
}

// cardOf makes the card a job on an axle of any family would have, by hand.
func cardOf(f family.Family) scenarios.Card {
	k := technician.Known{Sheet: f.Sheet, OldDepthShim: quantity.Millimetres(f.Sheet.DepthShims.LowMM), OldMark: quantity.Thou(2), NewMark: quantity.Thou(-3),
		OldPreloadShims: quantity.Millimetres(f.Design.Solid.PreloadShims.LowMM)}
	if f.Design.SideAdjust != family.BearingAdjusters {
		k.OldRingGearShim, k.OldOppositeShim = quantity.Millimetres(f.Sheet.SideShims.LowMM), quantity.Millimetres(f.Sheet.SideShims.HighMM)
	}
	return scenarios.Card{Seed: 12345, Family: f, Vehicle: text.Say("test.vehicle", "ranch pickup, seldom loaded"), Complaint: text.Say("test.complaint", "whines under power"), Known: k,
		Rates: []scenarios.Rate{{Name: text.Say("test.seal", "pinion seal lip turned under"), Rate: 0.07}}}
}

// A card has the lines that its family's design has and no others. What each design
// has is in the family files; marks follow setup.MarkConvention.
func TestCardsOfAllFamilies(t *testing.T) {
	fams := family.Shelf()
	require.Len(t, fams, 10)
	seen := map[string]bool{} // by what was looked for: whether some family has it
	for _, f := range fams {
		has := func(yes bool, text, want string) {
			seen[want] = seen[want] || yes
			assert.Equal(t, yes, strings.Contains(text, want), "%s: %q in %s", f.Code, want, text)
		}
		c, d := cardOf(f), f.Design
		all := flat(Card(c, Pen{Width: 80}))
		has(f.Sheet.Marks.Known(), all, "What marks mean")
		has(f.Sheet.Marks.Known(), all, "A depth mark is accurate to")
		has(!f.Sheet.Marks.Known(), all, "none: start with the shim that came out")
		has(f.Sheet.Marks == setup.PlusAddsShim, all, "a plus mark asks for that much less")
		has(f.Sheet.Marks.Known() && f.Sheet.Marks != setup.PlusAddsShim, all, "a plus mark asks for that much more")
		has(d.DepthShim == family.UnderCageFlange, all, "thicker = shallower")
		has(d.DepthShim == family.BehindInnerCup, all, "Depth shim behind the inner pinion bearing cup")
		has(d.DepthShim == family.UnderInnerCone, all, "Depth shim under the inner pinion bearing cone")
		has(d.Preload == family.SolidSpacer, all, "Spacer solid")
		has(d.Preload == family.CollapsibleSpacer, all, "Spacer collapsible")
		has(d.Preload == family.CollapsibleSpacer, all, "crushes")
		has(d.SideAdjust == family.BearingAdjusters, all, "one notch moves a bearing cup")
		has(d.SideAdjust != family.BearingAdjusters, all, "Old side shims")
		has(d.SideAdjust == family.InsideShims, all, "Side shims inside")
		has(d.SideAdjust == family.OutsideShims, all, "Side shims outside")
		// What the grader takes to be known is told, by the same figures.
		mm := func(mm float64) string { return quantity.Millimetres(mm).Show(quantity.Inch) }
		has(!f.Sheet.Marks.Known(), all, "Pinions without marks differ by about "+mm(scenarios.UnmarkedSDMM))
		has(d.Preload == family.SolidSpacer, all, "Old preload shims ")
		assert.Equal(t, d.Preload == family.SolidSpacer, strings.Contains(all, "Old preload shims "+mm(f.Design.Solid.PreloadShims.LowMM)), f.Code)
		has(d.Preload == family.SolidSpacer, all, "are right to about "+mm(scenarios.OldPreloadShimsSDMM))
		has(d.Preload == family.SolidSpacer && d.DepthShim == family.BehindInnerCup, all, "The old preload shims, with the old depth shim, are right")
		has(d.Preload == family.SolidSpacer && d.DepthShim == family.BehindInnerCup, all, "a thicker one needs as much more in preload shims")
		has(d.SideAdjust == family.BearingAdjusters, all, "Bearing adjusters taken out")
		has(d.SideAdjust == family.BearingAdjusters, all, between(Pen{}, mm(scenarios.RingPlayMM.Low), mm(scenarios.RingPlayMM.High))+" of end play")
		has(d.SideAdjust == family.BearingAdjusters, all, between(Pen{}, mm(scenarios.RingAwayMM.Low), mm(scenarios.RingAwayMM.High))+" too far away")
		has(d.Entry == family.Spreader, all, "the case goes in with a spreader")
		used := c
		used.UsedGears = true
		again := flat(Card(used, Pen{Width: 80}))
		assert.Contains(t, again, "the set ran at "+mm(f.Sheet.Backlash.Mid())+": set it back to that")
		assert.Contains(t, again, "(about where this set ran)")
		assert.NotContains(t, again, "new ring and pinion")
		has(d.DriveFlank == family.Concave, all, "loads the concave side")
		has(d.Housing == family.Aluminum, all, "aluminum: preload drops as it warms")
		has(d.ToothForm == family.FaceHobbed, all, "face-hobbed; modeled here as")
		for _, units := range bothUnits {
			for _, p := range pens() {
				what := fmt.Sprintf("card of %s, %s", f.Code, units)
				whole, notice := Card(c, p.In(units)), flat(p.Print(family.Notice()))
				checkPage(t, whole, p, what)
				if units == quantity.Metric {
					assert.NotRegexp(t, `\d (in|lb-in|lb-ft)\b`, strings.ReplaceAll(flat(whole), sentence(f.Notes), ""), what)
				}
				for _, part := range CardParts(c.Kind) {
					text, ok := CardPart(c, part, p.In(units))
					require.True(t, ok)
					for _, line := range strings.Split(strings.TrimSpace(text), "\n") {
						if !strings.Contains(notice, flat(line)) {
							assert.Contains(t, whole, line, "%s: %s is part of the whole", what, part)
						}
					}
					if p.Width >= 80 {
						// 24 lines, less the line typed and the prompt with the empty line above it.
						assert.LessOrEqual(t, strings.Count(text, "\n"), 21, "%s, %s", what, part)
					}
				}
			}
		}
		_, ok := CardPart(c, "nosuch", Pen{Width: 80})
		assert.False(t, ok)
	}
	for want, somewhere := range seen {
		assert.True(t, somewhere, "no family has %q", want)
	}
}

func TestRangesHaveTheirUnitOnce(t *testing.T) {
	assert.Equal(t, "0.0050 to 0.0080 in", between(Pen{}, "0.0050 in", "0.0080 in"))
	assert.Equal(t, "2.5 N·m to 4 lb-in", between(Pen{}, "2.5 N·m", "4 lb-in"))
}

// What shows how an axle stands has the parts of its design, and no others.
func TestStatusOfAllDesigns(t *testing.T) {
	st := history.Status{Pinion: history.PinionFinal, PreloadShims: quantity.Inches(0.052), Spread: quantity.Inches(0.01), CaseIn: true, RingGearNotches: 1, OppositeNotches: -2.5}
	for _, f := range family.Shelf() {
		text := Status(f.Design, st, Pen{})
		assert.Equal(t, f.Design.SideAdjust == family.BearingAdjusters, strings.Contains(text, "ring-gear adjuster in 1 notch, opposite out 2.5 notches"), "%s: %s", f.Code, text)
		assert.Contains(t, text, "preload shims 0.0520 in")
		assert.Contains(t, text, "housing spread 0.0100 in")
		assert.NotContains(t, Status(f.Design, history.Status{}, Pen{}), "adjuster", "not before they are run up")
	}
}

func TestRingReadings(t *testing.T) {
	for notches, want := range map[float64]string{3: "    adjuster turned in 3 notches\n", -0.5: "    adjuster turned out 0.5 notches\n", 1: "    adjuster turned in 1 notch\n", 0: "    adjuster turned not at all\n"} {
		assert.Equal(t, want, Reading(gauge.Reading{Kind: gauge.AdjusterTurn, Notches: notches}, Pen{Width: 80}))
	}
}

// A reading of one value is not told as one of several.
func TestOneValueIsNotEach(t *testing.T) {
	one := gauge.Reading{Kind: gauge.Depth, Lengths: []quantity.Length{quantity.Inches(2.46)}, StdMM: 0.01}
	assert.NotContains(t, Reading(one, Pen{Width: 80}), "each")
	one.Lengths = append(one.Lengths, quantity.Inches(2.47))
	assert.Contains(t, Reading(one, Pen{Width: 80}), ", each +/- 0.0008 in")
}

// The largest number a job can have does not break the page.
func TestCardOfALongNumber(t *testing.T) {
	job, err := scenariostest.Generate(family.Beech(), 18446744073709551615)
	require.NoError(t, err)
	for _, p := range pens() {
		checkPage(t, Card(job.Card, p), p, "card")
	}
}

func TestOutcomesFit(t *testing.T) {
	for name, h := range techs {
		for _, j := range worked(name) {
			b := work(t, j.fam, j.seed, h)
			for i, o := range b.outs {
				for _, units := range bothUnits {
					for _, p := range pens() {
						what := fmt.Sprintf("job %d on %s, %s hand, act %d %s, %s", j.seed, j.fam.Code, name, i+1, o.Act, units)
						checkPage(t, Outcome(o, p.In(units)), p, what)
						for _, r := range o.Readings {
							checkPage(t, Reading(r, p.In(units)), p, what+", read again")
						}
					}
				}
			}
			for _, units := range bothUnits {
				for _, p := range pens() {
					st := b.Status()
					checkPage(t, Wrap(Status(b.job.Card.Family.Design, st, p.In(units)), p.Width, "  ")+Wrap(Spent(st, scenarios.Budget{}, p.Printer), p.Width, "  "), p, "status")
				}
			}
		}
	}
}

func debriefText(t *testing.T, d debrief.Debriefing, p Pen) string {
	t.Helper()
	text, err := NewDebrief(d, DebriefWith{Printer: p.Printer, Again: again, Full: d.Last != nil}).Text(p)
	require.NoError(t, err)
	return text
}

// again stands for the command that tries a lesson again.
func again(debrief.Again) string { return "shimwright practice --seed 8" }

func TestDebriefsFit(t *testing.T) {
	signed, faults := 0, 0
	for name, h := range techs {
		for i, j := range worked(name) {
			b := work(t, j.fam, j.seed, h)
			// A short run writes one debrief in inches and the next metric.
			for _, units := range longtest.Pick(bothUnits[i%2:i%2+1], bothUnits) {
				rep, err := grading.Grade(b.job.Card, b.outs, units)
				require.NoError(t, err)
				var rev *reveal.Reveal
				if rep.SignedOff {
					r, err := reveal.Of(b.job, b.stand, rep)
					require.NoError(t, err)
					rev = &r
					signed++
					faults += len(r.Faults)
				}
				for _, p := range pens() {
					what := fmt.Sprintf("debrief of job %d on %s, %s hand, %s", j.seed, j.fam.Code, name, units)
					out := debriefText(t, debrief.New(b.job, rep, rev, b.outs, true), p.In(units))
					checkPage(t, out, p, what)
					words := flat(out)
					assert.Contains(t, words, fmt.Sprintf("Debrief: %d out of 100", rep.Score), what)
					assert.Equal(t, rev != nil, strings.Contains(words, "What the axle really was"), what)
					if rev == nil {
						continue
					}
					for _, s := range rev.Service.Says {
						assert.Contains(t, words, p.In(units).Print(s), what)
					}
					foreign := `\d (mm|N·m|N·mm)\b`
					if units == quantity.Metric {
						foreign = `\d (in|lb-in|lb-ft)\b`
					}
					_, truth, _ := strings.Cut(words, p.Print(truthTitle))
					truth, _, _ = strings.Cut(truth, "The last contact pattern") // a lesson gives both units
					assert.NotRegexp(t, foreign, truth, what)
				}
			}
		}
	}
	assert.Positive(t, signed)
	assert.Positive(t, faults, "some of these axles carry a fault to tell of")
}

// Color carries nothing that the words do not: the same page without color has
// the same words. Pictures are drawn in other characters and are left out.
func TestColorAddsNoWords(t *testing.T) {
	b := work(t, family.Beech(), 3, technician.Habits{WrongMoveOnce: true})
	rep, err := grading.Grade(b.job.Card, b.outs, quantity.Inch)
	require.NoError(t, err)
	for _, w := range widths {
		plain, loud := Pen{Width: w}, Pen{Width: w, Color: true}
		assert.Equal(t, Card(b.job.Card, plain), anyAttribute.ReplaceAllString(Card(b.job.Card, loud), ""))
		assert.Equal(t, debriefText(t, debrief.New(b.job, rep, nil, nil, false), plain), anyAttribute.ReplaceAllString(debriefText(t, debrief.New(b.job, rep, nil, nil, false), loud), ""))
		for _, o := range b.outs {
			if o.Act.Form == act.RollGears {
				continue
			}
			assert.Equal(t, Outcome(o, plain), anyAttribute.ReplaceAllString(Outcome(o, loud), ""))
		}
	}
	assert.Contains(t, Card(b.job.Card, Pen{Width: 80, Color: true}), "\x1b[1m")
}

// A pattern says where it stands in words and numbers with color and without.
func TestPatternsAreToldInWords(t *testing.T) {
	b := work(t, family.Beech(), 3, technician.Habits{})
	seen := 0
	for _, o := range b.outs {
		for _, r := range o.Readings {
			if len(r.Patterns) == 0 {
				continue
			}
			seen++
			for _, p := range pens() {
				out := flat(Outcome(o, p))
				for _, q := range r.Patterns {
					assert.Contains(t, out, fmt.Sprintf("%s: center %.2f from toe to heel, %.2f from root to top", q.Flank, q.CenterS, q.CenterT))
				}
				assert.Contains(t, out, "Drive: ")
				assert.Contains(t, out, "Coast: ")
			}
		}
	}
	assert.Positive(t, seen)
}

// capitals are the words that may stand with a capital inside a sentence: the
// invented family, manuals by number, units, and words set in capitals to be seen.
var capitals = map[string]bool{
	"BEECH": true, "TM": true, "N·m": true, "N·mm": true, "TIR": true, "STILL": true, "THERE": true,
	"DRIVE": true, "COAST": true, "V-blocks": true, "CAUTION": true, "O": true, "W": true, "Hz": true,
}

// No maker, model or person is named: inside a sentence nothing starts with a
// capital but the words above. Sentences start lines, follow a stop, or follow a
// name and its column.
func TestNothingIsNamed(t *testing.T) {
	inside := regexp.MustCompile(`[a-z0-9,;)] (\p{Lu}[\p{L}·-]*)`)
	look := func(what, out string) {
		for _, m := range inside.FindAllStringSubmatch(out, -1) {
			_, invented := family.FindAny(m[1])
			assert.True(t, capitals[m[1]] || invented == nil, "%s: %q in %q", what, m[1], m[0])
		}
	}
	for seed := range jobs {
		b := work(t, family.Beech(), seed, technician.Habits{WrongMoveOnce: true})
		p := Pen{Width: 100}
		look("card", Card(b.job.Card, p))
		for _, o := range b.outs {
			if o.Act.Form != act.RollGears { // a drawing has letters of its own
				look(o.Act.String(), Outcome(o, p))
			}
		}
		rep, err := grading.Grade(b.job.Card, b.outs, quantity.Inch)
		require.NoError(t, err)
		var rev *reveal.Reveal
		if rep.SignedOff {
			r, err := reveal.Of(b.job, b.stand, rep)
			require.NoError(t, err)
			rev = &r
		}
		look("debrief", debriefText(t, debrief.New(b.job, rep, rev, b.outs, true), p))
	}
}

// flat joins lines and drops color, so that a sentence is found wherever it was
// wrapped.
func flat(text string) string {
	return strings.Join(strings.Fields(anyAttribute.ReplaceAllString(text, "")), " ")
}

// The sheet gives what the geometry of the family's teeth gives.
func TestSheetGivesTheTravel(t *testing.T) {
	for _, f := range family.Shelf() {
		g, err := sim.NominalGains(f, false)
		require.NoError(t, err)
		p := NewPen(text.Printer{}, 200)
		want := fmt.Sprintf("%.2f of the ring gear's travel shows as backlash, %.2f of the pinion's", g.BacklashPerRing, g.BacklashPerPinion)
		assert.Contains(t, FamilyPage(f, p), want, f.Code)
	}
}
