package grading

// Average is the mean over a normal variable that prices are taken with.
var Average = average
