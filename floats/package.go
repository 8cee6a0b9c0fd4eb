// Package floats finds the floats of a piece and decides where to catch them.
package floats
