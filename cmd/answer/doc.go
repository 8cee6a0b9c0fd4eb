// Package answer is what commands answer: a struct for each, whose JSON is what programs
// read and whose Document is what people do. Words stand nowhere else. It asks the domain
// and writes nothing.
package answer
