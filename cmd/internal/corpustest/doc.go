// Package corpustest grades a corpus of attempts whose acts are kept and compares what comes of
// them with what is kept beside: readings, grades, pages and pictures, byte for byte. It is run
// on every kind of machine; what differs on one of them is found here and mended at its source.
package corpustest
