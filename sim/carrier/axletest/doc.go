// Package axletest holds what the tests of the mechanics packages share: one
// complete default axle with every number written out, and a comparison with the check
// values of testdata/checks/mechanics.csv. Only tests import it.
//
// Units are those of the packages it fills in: millimetres, newtons, N/mm, newton
// millimetres.
//
// Where the numbers come from: bearing sizes, contact angles and Y are those of
// common inch bearings as listed in bearing catalogues. Roller counts, roller
// lengths, stiffnesses, friction and spacer loads are assumed; they were chosen so
// that the load ratings, the housing spread and the nut torques come out where
// catalogues and manuals put them.
package axletest
