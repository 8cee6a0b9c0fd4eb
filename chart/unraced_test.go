//go:build !race

package chart

const slower = 1
