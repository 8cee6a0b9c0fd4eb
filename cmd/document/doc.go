// Package document is what an answer says, as a list of blocks, and the writers of blocks:
// text for a terminal, plain sentences for a speech program, an HTML page, a PDF. In comes a
// Document, which knows nothing of where it is going; out go bytes. The writers know blocks
// and nothing of the commands that made them, so that every sentence and every number of an
// answer exists once, whoever reads it.
package document
