// Package render turns domain values into text, JSON bodies and pictures on an
// io.Writer. It never opens the store and decides nothing about the knitting.
package render
