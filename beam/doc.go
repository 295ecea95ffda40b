// Package beam bends beams: a simple section of one length, or a part whose
// sections along a straight axis make one.
package beam
