// Package sensitivity tells which inputs of a model move what comes out of it, and by how much.
// An input is what nobody has measured, known as a distribution; it enters a design as a number
// u from 0 to 1, its rank, of which the distribution's quantile makes the input's value.
//
// Three steps, each by itself:
//
//  1. a design gives points of the unit cube: Points alone, Morris.Points, Sobol.Points;
//  2. whoever owns the model works it out at each point, in order. Trials does so for seasons of
//     drystalk, all points in the same seasons;
//  3. the design reads the results: Morris.Effects, Sobol.Indices.
//
// Screen twenty inputs with Morris (10 to 20 trajectories), then ask for Sobol' indices of the
// five to eight that remain. Same seed, same points, same indices, to the last bit.
//
// Sources: McKay, Beckman & Conover 1979, Technometrics 21, 239 (Latin hypercube); Owen 2017,
// arXiv:1706.02808 (Halton, scrambled); Morris 1991, Technometrics 33, 161; Campolongo, Cariboni
// & Saltelli 2007, Environmental Modelling & Software 22, 1509 (mu*); Sobol' 2001, Mathematics
// and Computers in Simulation 55, 271; Saltelli et al. 2010, Computer Physics Communications 181,
// 259; Jansen 1999, Computer Physics Communications 117, 35; Homma & Saltelli 1996, Reliability
// Engineering & System Safety 52, 1 (total indices).
package sensitivity
