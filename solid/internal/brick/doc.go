// Package brick is the element of package solid: a brick with material in a part of
// it, and its stiffness.
//
// The element is the eight-node brick with the nine incompatible bending modes
// of Wilson, Taylor, Doherty and Ghaboussi (1973) in the consistent form of
// Taylor, Beresford and Wilson (1976): the gradient of a mode is taken less its
// mean over the material in the cell, so that the modes do no work on a uniform
// stress and the patch test holds in cells that the surface cuts as well. The
// modes are condensed out.
//
// Every integrand of the element stiffness is a polynomial of degree two at
// most in each of the cell coordinates xi, eta, zeta in [-1, 1]. The 27 moments
//
//	M[9i+3j+k] = (1/8) integral over the material of xi^i eta^j zeta^k, i,j,k <= 2
//
// therefore hold all that a cell needs to know of the surface in it.
//
// Lengths are mm, moduli and stresses MPa, stiffnesses N/mm.
//
// # Reading order
//
//	stiffness  brick.go
//	stress     hooke.go
//	functions  shapes.go
package brick
