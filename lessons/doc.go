// Package lessons holds the short lessons that go with practice: one Markdown
// text for each thing that is commonly got wrong when a ring and pinion are set
// up.
//
// A lesson has an id, a title, one line on what it is about, one line giving the
// tempting idea it answers, the axle family and the number of an exercise that
// brings the subject up, and a body. The body starts at second-level headings; whoever shows a lesson
// puts the title above it and the offer of that exercise below. Headings come in
// one order: what goes wrong, why, on the bench, worked example, check yourself,
// take care, answer.
//
// # Units
//
// Inch figures come first and the metric figure follows in brackets: in with mm,
// lb-in and lb-ft with N·m, lb with N. Conversions are rounded to the last digit
// shown.
//
// # Figures
//
// The axles in the examples are invented. A figure from a public technical
// manual carries the manual's number in the text; all others are common shop
// practice or come from this program's own model and say so. A lesson is for
// learning the reasoning and never replaces the manual of a real axle.
//
// # Files
//
// Every file in text/ opens with a block between two lines "---" holding the
// keys id, title, about, idea and try_seed, each once, as "key: value", and
// try_family where the exercise is not on BEECH. The id equals the file's name.
//
// # Designs
//
// Axles differ in where the depth shim lies, in what sets the pinion preload, and in
// what places the ring gear. What a lesson says as a rule holds for every axle, or the
// lesson says for which.
//
// # Sources
//
//  1. TM 9-2320-289-34, paragraphs 6-5, 6-7, 6-8 and 6-17.
//  2. TM 9-2320-280-34, paragraph 19-3.
//  3. TM 5-3805-262-34, paragraph 4-4.
//  4. TM 5-3810-300-24&P2, chapter 4.
//  5. TM 10-3930-660-34, chapters 8 and 9.
//  6. TM 10-3930-638-24&P, pages 4-243 and 4-246.
//  7. TM 10-3930-669-34, page 10-29.
//  8. TM 9-2320-363-34-2, chapters 16 and 17.
//  9. TM 5-3805-260-24, pages 3-243 to 3-245.
//  10. TM 5-3810-306-34, pages 8-34 and 8-42.
//  11. TM 5-3895-369-14, pages 5-409 and 5-412.
//  12. TM 9-2320-283-34-2, pages 3-644 and 3-722.
//  13. TM 9-2320-279-34-1, step 83 of the pattern check.
package lessons
