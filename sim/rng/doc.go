// Package rng is the only source of chance in the program: named, independent
// streams derived from one seed.
//
// Every use of chance has a label ("axle/depth", "reading/backlash/3"), and the
// label alone decides the stream. Taking one more reading therefore never changes
// another one, two trainees who do the same on the same job see the same numbers,
// and a record can be replayed from any point.
//
// A stream's 16-byte state is the head of SHA-256 over a format tag, the seed and
// the label. The generator is the PCG of golang.org/x/exp/rand, pinned by go.mod
// and frozen by a test; this package is the only one that imports it. Normal
// values are drawn by inverting the distribution function rather than by the
// library's rejection method, so that each draw uses exactly one number.
package rng
