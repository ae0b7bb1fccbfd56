// Package peopletest holds simulated technicians for tests of the grade: legitimate schools of
// work that differ from the reference technician's, hostile ones that try to earn a score
// without doing the job, those who hold a misconception or make mistakes, and mixtures of
// these. Play is the one way to have any of them work a job; what it does depends on the
// person and the job's number alone.
package peopletest
