// Package acceptance is the list of the trade that decides whether an axle may be signed for:
// a row for each thing that has to be right and shown to be right, and what the steps of a
// job prove of it.
//
// A line comes out Proved, Open or Contradicted. A reading proves its line when it was taken
// as the row asks, nothing it depends on has been changed since, and what was read lies
// inside the printed specification: inside is inside. A reading outside by no more than its
// expanded uncertainty (k = 2) shows neither and leaves the line open; one that lies further
// out contradicts it. Every outcome carries the evidence it was made from.
//
// The list sees what anyone at the bench has seen and nothing else: the card and the steps.
// It prices nothing; package grading makes a score of it.
package acceptance
