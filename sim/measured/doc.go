// Package measured says what a group's own logs tell of parameters that nobody has measured
// elsewhere: loads of its dryer, weighings on its racks, tallies of what was cut. It knows no file.
//
// # Least squares (solve)
//
// A log is a list of readings. The model, at parameters θ (logarithms, so that intervals are of
// factors), expects something of each line, and r is how far what was read lies from that. How
// exactly a line can be read is worked out from the readings themselves: each is moved by its
// standard deviation, half of what it is rounded to, and what that does to r is added in squares to
// v. What is minimised is
//
//	S(θ) = Σ r²/(v + (τ g)²)
//
// g is what r does when the line's own rate is changed by its logarithm; τ is the spread of that rate
// from line to line beyond what readings explain: 0 where S, with τ = 0, is no larger than its
// degrees of freedom n − p, and else such that S = n − p (after Paule & Mandel 1982, from memory).
// The covariance of θ is s² (J'J)⁻¹ with J the derivatives of the terms and s² = S/(n − p); an interval
// of 95 % is θ ± t se, t Student's with n − p degrees of freedom. Checked by recovery: logs made
// with known parameters, read as exactly as a clerk reads, are fitted and their intervals counted.
//
// # What a log can carry (Estimate.Carried)
//
// A parameter whose interval is no narrower than what is documented is not taken from the log, and
// the answer says why. It then stands in the fit as documented, as one more reading: its middle the
// mode, its deviation that of the documented range; the intervals of the others are so much wider.
//
// # Ranges for a scenario (Estimate.Range)
//
// The mode is the estimate; low and high lie √6 standard errors off in the logarithm, because a
// triangle from −√6 to √6 has the standard deviation 1. With few lines the standard error is taken
// larger, by Student's over the normal quantile.
package measured
