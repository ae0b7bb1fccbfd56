// Package mistake lists what a previous technician may have done wrong on an axle that was
// signed off all the same: a trainee finds the axle finished and has to tell. Each mistake is
// one value: its texts, where it can be made, where it is known from, and the policy by which
// a simulated technician makes it. To add one, write its function beside those of its part of
// the job and its line in All.
//
// What a trainee is taught to do instead stands in the lesson. How often a mistake comes up
// is chosen for practice: all that an axle can have come up alike.
package mistake
