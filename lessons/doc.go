// Package lessons holds the course that goes with practice: one short Markdown text for
// each step of setting up a ring and pinion that is commonly got wrong, from the road
// test before the axle is opened to the first miles after.
//
// # Files
//
// Every file in text/ opens with a block between two lines "---", one "key: value" to a
// line:
//
//	id              the file's name without its ending
//	title           one line
//	about           one line: the subject
//	idea            one line: the tempting idea that the lesson answers
//	group           the part of the job
//	order           place in the course; all files together run from 1 up without a gap
//	skills          codes of what the lesson trains, joined by commas
//	misconceptions  ids of the misconceptions it answers, likewise
//	designs         codes of the families it is about, or "all"
//	try_family      the family of a job in which the subject comes up
//	try_seed        the number of that job
//	see             ids of related lessons; may be left out
//
// The order of the course and its groups come from these blocks alone. The body starts at
// second-level headings; whoever shows a lesson puts the title above it and the offer of
// the job below. The headings come in one order: aim, the idea, the trap (why the tempting
// idea tempts), worked example, on the bench, wrong and right, check yourself, take care,
// answer.
//
// # Figures
//
// Where a picture teaches, a block of package figure says what to compute. The figure is
// computed from the model whenever the lesson is shown, so it cannot go stale.
//
// # Words
//
// Acts stand between backquotes as they are typed at the bench. Words are the trade's own,
// spelling is that of the United States, and a text reads easily: see the tests.
//
// # Units
//
// Inch figures come first and the metric figure follows in brackets: in with mm,
// lb-in and lb-ft with N·m, lb with N. Conversions are rounded to the last digit
// shown. Sums are written out so that the terms shown add up to the result shown.
//
// # Numbers
//
// The axles in the examples are invented, and their figures are those of the families
// that come with the program. A figure from a public technical manual carries the
// manual's number and page in the text; all others are common shop practice or come from
// this program's own model and say so. A lesson is for learning the reasoning and never
// replaces the manual of a real axle.
//
// # Sources
//
//  1. TM 9-2320-289-34, paragraphs 6-5, 6-7, 6-8 and 6-17.
//  2. TM 9-2320-280-34, paragraph 19-3.
//  3. TM 9-2320-266-34, paragraph 19-5.
//  4. TM 5-3805-262-34, pages 4-228 and 4-230.
//  5. TM 5-3810-300-24&P2, page 4-256.
//  6. TM 10-3930-660-34, pages 8-28, 9-16, 9-20, 9-27 and 9-29.
//  7. TM 10-3930-638-24&P, pages 4-243 and 4-246.
//  8. TM 10-3930-653-14&P, page 4-181.
//  9. TM 10-3930-669-34, page 10-29.
//  10. TM 9-2320-363-34-2, page 17-32.
//  11. TM 9-2320-387-24-2, page 30-17.
//  12. TM 5-3805-260-24, page 3-243.
//  13. TM 5-3810-306-34, pages 8-28 and 8-34.
//  14. TM 5-3895-369-14, pages 5-407, 5-409 and 5-412.
//  15. TM 9-2320-283-34-2, pages 3-644 and 3-722.
//  16. TM 9-2320-279-34-1, page 9-65 and step 83 of the pattern check.
//  17. TM 9-2320-269-34-1, page 2-868.
//  18. TM 9-2320-260-34-1, pages 10-29 and 10-32.
//  19. TM 9-2320-302-20-2, work package 0209 00.
package lessons
