// Package view turns what the bench, the grader and the lessons say into text for a
// person: job card, outcomes of acts, build sheet, debrief and Markdown. It takes
// the width, the units and whether color may be used from its caller, and it alone
// imports glamour. Color and pictures never carry anything that the words do not.
package view
