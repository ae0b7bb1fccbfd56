// Package cost is the table of what everything costs when an attempt is graded: work,
// parts, faults found late, axles that come back, and damage, all in shop minutes.
//
// Default is the program's own table. Work and parts in it are those of the bench
// (package shop) and faults found late are those of the catalogue (package fault), so
// that no figure is written down twice; the rest stands in Default. An instructor who
// wants other prices writes the default out, changes lines in it and grades with that:
// Text writes a table with a remark to every line, Read reads one back.
//
// # Units and limits
//
// Minutes are minutes of work; what a part or a customer's trust costs is counted as the
// work it would pay for. A risk is a chance between 0 and 1. Every line has its limits,
// which Read tells when they are broken.
//
// # What it does not hold
//
// What is believed of the axle (package grading/inference) and how often a fault occurs (the card).
// Points of the acceptance list are no minutes. The clock of the bench keeps the minutes of package
// shop whatever an attempt is graded with.
//
// All figures are estimates of common practice; what labor guides give stands in sim/shop. What they have to satisfy
// together is tested by package grading/stakes.
package cost
