// Package reveal tells, after sign-off, what the axle really was: the fault states
// it carried, what is left of them, where every line of the sheet truly ended, what
// would have happened to it in service, and where luck helped or hurt. It is the only
// part of grading that opens the sealed state, and nothing in it feeds back into a
// score.
//
// The service part compares the axle, with every cup and cone seated that would seat
// in use, with the same parts set to the middle of their sheet, both worked out by
// sim/service under one stated duty. It has no sentence without a number of that
// model behind it, and says each time that it is no forecast. An axle within its
// sheet gets one sentence.
package reveal
