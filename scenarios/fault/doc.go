// Package fault is the catalogue of fault states an axle on the bench can carry.
//
// A fault is a value: what it is called, where it comes from, what it does to the
// hidden state (never to a reading), what it is easily taken for, the act that
// tells it apart, how it is cured, how often it turns up, and which lesson covers
// it. Causes, signs and remedies are common practice with no source; sizes and
// base rates are invented for practice and disclosed on every job card.
package fault
