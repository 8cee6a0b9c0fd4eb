//go:build !race

package picture

const slower = 1
