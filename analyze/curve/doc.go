// Package curve estimates what a warming or cooling trace says of the body behind it: the first-order
// curve of a rise, the largest value of a trace, two coupled rings, a probe's lag, a cooling part.
//
// # First order
//
// A lumped body with heat capacity C, heated with constant power P and losing heat in proportion to
// its excess temperature, follows
//
//	T(t) = T0 + r0 phi(k, t - t0),   phi(k, x) = (1 - exp(-k x))/k,   phi(0, x) = x
//
// with the start temperature T0, the initial rate r0 = P/C and the decay rate k = 1/(time constant).
// The final temperature is T0 + r0/k. Real warming cycles are short against the time constant and
// nearly straight, so k is often not determined while T0, r0 and everything inside the data are. These
// three parameters stay smooth through k = 0 (a straight line) and beyond (a rise that speeds up).
//
// For a fixed k the model is linear in T0 and r0. One search along k therefore finds the least-squares
// solution (variable projection), and the same one-dimensional function gives the profile intervals.
//
// # Honesty
//
// The plain least-squares solution and its classical errors always stand beside the result
// (FirstOrder.Classical). The intervals that are printed are wider: residuals are seldom independent,
// and f^2 = (1 + r)/(1 - r) with r the corrected lag-1 correlation says how many samples one
// independent sample costs. A status says what the data determine; it never changes an interval.
//
// # The rest
//
// Largest and Smallest read extreme values from a local curve (batch path). Run only where asked: RingsEstimator
// fits two coupled rings together and answers how long to wait after switch-off; Cooling fits Newton's law
// to a cooling part and answers how long the bore stays warm enough; DeadTime and EstimateProbeLag are
// options for probes that see the heat late. Every interval they print has a coverage test, every
// refusal a test of what would have gone wrong.
//
// # Speed
//
// The samples are read twice. The first reading turns them into polynomial moments of at most 32
// blocks, from which the sums of the least-squares problem follow to rounding error for any k; the
// second computes the residuals at the solution. Nothing is allocated.
package curve
