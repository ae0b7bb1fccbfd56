// Package fault holds every fault state that an axle on the bench can come with.
//
// A fault is a value: its texts, its rate and sizes, the axles and jobs that can bring it,
// what it does to the hidden state, whether it is still there, what cures it and what the
// cure does, which inspection finds it, what it is mistaken for, and what a reasoner may
// believe of it before and after a reading. Each area of the job is a file; All lists them.
// Whatever else speaks of faults (cards, tables, the catalogue, the bench, the grader) is
// derived from here.
//
// Causes, signs and remedies are common practice unless a source is named. Rates, sizes and
// what a fault costs when it is found late are chosen for practice: no statistics of faults
// in axles stand behind them.
package fault
