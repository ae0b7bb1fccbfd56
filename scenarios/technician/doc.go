// Package technician works a job from the first inspection to sign-off, seeing only what a
// trainee sees: the job card, and what each act shows.
//
// The reference technician does what a manual's procedure asks, in its order: inspections;
// depth by marks and gauge; on an axle whose spacer is crushed, a mock-up with depth and
// contact pattern before the crush; pinion bearing preload; side bearing preload with
// backlash, runout first; total rotating torque; the contact pattern once more after the last
// change; the build sheet; sign-off. It proves that a job can be finished and plays the
// demonstration. A pattern confirms the gauge: one that stands just outside is made again, and
// the depth shim is changed only where all readings together, each as closely as it tells, put
// the pattern outside. An axle that somebody else has signed for is read first, and comes apart
// as far as it reads wrong. GoOn takes up a job where somebody else has left it, on what was read so far.
//
// A Policy is where another technician departs from it. All that is known of an axle is read
// from its status and from the steps so far; nothing follows the acts a second time.
package technician
