// Package answer is what the commands answer: one struct an answer, whose JSON is its machine
// form and whose Document is its words. In come facts of the domain and the store; out go structs and
// documents. It writes nothing: how blocks look is a matter of package document.
package answer
