package session

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/chart"
)

var plural = chart.Counted

// Listed joins words as a sentence does, the last with its own word: a, b and c.
func Listed(words []string, last string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	end := len(words) - 1
	return strings.Join(words[:end], ", ") + " " + last + " " + words[end]
}

// Ranges writes ascending numbers, three and more in a row as one: 1 to 4, 6.
func Ranges(numbers []int) []string {
	var words []string
	for i := 0; i < len(numbers); {
		end := i + 1
		for end < len(numbers) && numbers[end] == numbers[end-1]+1 {
			end++
		}
		if end-i > 2 {
			words = append(words, fmt.Sprintf("%d to %d", numbers[i], numbers[end-1]))
			i = end
			continue
		}
		words = append(words, fmt.Sprint(numbers[i]))
		i++
	}
	return words
}

// RowWord is what one pass over the stitches is called: a round in the round, else a row.
func RowWord(round bool) string {
	if round {
		return "round"
	}
	return "row"
}

// Gathered puts together what has the same key, in the order of the first of each.
func Gathered[T any, K comparable](all []T, key func(T) K) (groups [][]T) {
	index := map[K]int{}
	for _, one := range all {
		k := key(one)
		at, known := index[k]
		if !known {
			at, index[k] = len(groups), len(groups)
			groups = append(groups, nil)
		}
		groups[at] = append(groups[at], one)
	}
	return groups
}

// mapped is what is made of each member of a list; nil of none.
func mapped[A, B any](all []A, made func(A) B) (list []B) {
	for _, one := range all {
		list = append(list, made(one))
	}
	return list
}

func without[T any](all, others []T, compare func(a, b T) int) []T {
	others = slices.SortedFunc(slices.Values(others), compare)
	var left []T
	for _, one := range slices.SortedFunc(slices.Values(all), compare) {
		if _, found := slices.BinarySearchFunc(others, one, compare); !found {
			left = append(left, one)
		}
	}
	return left
}
