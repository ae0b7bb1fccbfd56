// Package checkstest reads the tables of outside figures in testdata/checks, and keeps
// what the model gives for them beside them. Only tests import it.
//
// A table is a CSV file with the columns id, input, expected, tolerance, unit, source
// and strength (testdata/checks/README.md says what stands in each). Figures are in the
// row's own unit; the package converts nothing.
//
// # What the model gives
//
// A test that works a row's figure out reports it with Ledger.Gives. The figures of
// one package's tests are kept in testdata/checks/given, in a file with the name of the
// package's folder. A figure that has moved by more than a millionth of itself
// fails the test, as any golden file would; the flag -given writes the file anew:
//
//	go test ./sim/mesh -given
//
// A ledger holds no opinion of the figure. Whether it agrees with the row is the row's
// business (Row.Agrees), and the test's.
//
// # The document
//
// testdata/checks/CHECKS.md sets every row beside what the model gives for it and is
// written by this package's own test (-update). A row that the model does not answer,
// or answers differently, has a remark in testdata/checks/remarks.csv that says why;
// a row without either fails the test, and so does a remark that nothing needs.
package checkstest
