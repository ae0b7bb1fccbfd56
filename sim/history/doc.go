// Package history holds what anybody at the bench can see and feel, as values: the status of
// the axle before and after an act, the readings the act gave, what was felt doing it, and
// what it cost. A job is a list of Steps. The reference technician, the grader and the faces
// read it; none of them has to follow the acts again to know how the axle stands.
//
// Nothing here tells what is hidden in the axle.
package history
