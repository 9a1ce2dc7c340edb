// Package joint answers what a shaft seat needs of the part that is warmed for it, and what uneven warming
// does to a bearing's internal clearance. It knows no logs and judges none: package judge compares its
// answers with what was measured.
//
// The questions in order:
//
//  1. How much larger than the bore can the shaft be? From ISO 286 shaft classes with ISO 492 (bearing bores) or
//     ISO 286 holes (hubs), or from measured sizes: Interference.
//  2. How much must the bore grow, and how warm is that? FindNeed: the largest interference plus the ease wanted
//     while slipping on, over the expansion of the part, with the shaft at its own temperature.
//  3. Does that stay below what the part stands? If not: how cold would the shaft have to be?
//  4. How much internal clearance is left while the inner ring is hotter than the outer, and after mounting?
//
// Where a figure is from, and how sure it is, stands in the tables (folder tables) and travels with every
// answer. The standards themselves were not read; the figures are those of published copies. Cells that the
// copies dispute are refused, not guessed.
package joint
