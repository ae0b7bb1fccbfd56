// Package validity holds the statistics by which the grade is judged: whether it tells good
// technicians from bad, how far a few jobs can be relied on, and whether the misconceptions it
// names are those at work. Its tests have a panel of simulated technicians work a few jobs
// and, on request, many, and write what came of it:
//
//	go test ./grading/validity -run TestReport -report -timeout 2h
//
// A table of scores has a row for each person and a column for each job, every person on
// every job, one score a cell. Scores are points; nothing else here has a unit.
//
// Persons by jobs, crossed, from the mean squares of a two-way analysis of variance:
//
//	var(person) = (MS person - MS rest) / jobs
//	var(job)    = (MS job - MS rest) / persons
//	var(rest)   = MS rest
//	G(n)   = var(person) / (var(person) + var(rest)/n)             ranking
//	Phi(n) = var(person) / (var(person) + (var(job) + var(rest))/n) passing a mark
//
//	jobs for a G of g = g/(1-g) var(rest)/var(person)
//
// Negative variances count as zero. With one form G equals Cronbach's alpha.
//
// Beside each score stands what the work came to in truth: minutes, parts, and a comeback
// where the finished axle misses its sheet. The grader never sees it; the tests do, and by
// it tell the misconceptions that do harm from those that a later reading puts right.
//
// What it cannot say: simulated persons differ by what was programmed, so their
// reliability is not reliability with people. It shows only that the scoring is not what
// stands in the way.
//
// Sources: R. L. Brennan, Generalizability Theory (2001), chapters 2 and 6 for the design;
// J. A. Hanley and B. J. McNeil, Radiology 143 (1982) 29-36, for the area under the curve
// (from memory).
package validity
