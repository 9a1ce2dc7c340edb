// Package judge turns evidence into findings and findings into a verdict: PASS, FAIL or UNPROVEN.
//
// It stands at the end of the analysis. The readings, the cycle found in them and what weakens them as
// evidence come in as a Case; what the part stands and what the user asks come in as Settings; a
// CycleJudgement goes out, in which every check stands once and in a fixed order:
//
//  1. max-temp: the peak of either ring against the tolerance limit of the part.
//  2. ring-diff: the largest difference between the rings (parts with two rings only).
//  3. need-temp: whether the bore became as warm as its seat needs (when a need was given).
//  4. record: whether anything is missing from the record that could change one of the answers.
//  5. magnetism: the residual field after warming, only when a reading of it was given.
//
// # Decision rules
//
// y is the measured value, L the tolerance limit, U the expanded uncertainty (terms of JCGM 106:2012
// and of the GUM, JCGM 100:2008). The value is rounded to whole reading steps, then compared; equality
// accepts.
//
//	strict      PASS if y <= L - U, FAIL if y > L,     else UNPROVEN   (guarded acceptance)
//	three-zone  PASS if y <= L - U, FAIL if y > L + U, else UNPROVEN   (guarded acceptance and rejection)
//	simple      PASS if y <= L,     else FAIL                          (simple acceptance, shared risk)
//
// A needed temperature is the mirror image. Under no rule does a value beyond the limit pass.
//
// # Missing evidence
//
// A gap, an open probe or a log that stopped too early touches only the checks whose answer it could
// change. How far it could is bounded by how fast the part was seen to warm: what could have happened
// in the stretch that was not seen is compared with the acceptance limit. What was seen stays seen: a
// limit exceeded is a FAIL and a needed temperature reached is a PASS, whatever is missing elsewhere.
package judge
