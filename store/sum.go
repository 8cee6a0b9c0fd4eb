package store

import (
	"encoding/binary"
	"hash/crc32"
)

// The checksum of the store is CRC-32C. The standard library has it in a quick form, which
// takes a quarter of a millisecond to make ready, and in one byte by byte, which takes 3 ns
// for each: both too long at every start of a program that sums up some ten kilobytes. So
// eight bytes are taken at a time, by eight tables, of which the first is the common one:
// table i tells what a byte does to the sum once i more bytes have followed it (Kounavis and
// Berry, "Novel table lookup-based algorithms for high-performance CRC generation", 2008;
// from memory). The library's sums are the same.

// tables are what a byte does to the sum.
var tables = sumTables()

func sumTables() *[8]crc32.Table {
	t := &[8]crc32.Table{}
	for i := range t[0] {
		sum := uint32(i)
		for range 8 {
			odd := sum & 1
			sum = sum>>1 ^ odd*crc32.Castagnoli
		}
		t[0][i] = sum
	}
	for i := range t[0] {
		sum := t[0][i]
		for k := 1; k < len(t); k++ {
			sum = t[0][sum&0xff] ^ sum>>8
			t[k][i] = sum
		}
	}
	return t
}

// sumOf is the CRC-32C of a key and what belongs to it.
func sumOf(key, body []byte) uint32 { return ^addSum(addSum(^uint32(0), key), body) }

// addSum goes on with an inverted sum.
func addSum(sum uint32, b []byte) uint32 {
	t := tables
	for ; len(b) >= 8; b = b[8:] {
		low, high := sum^binary.LittleEndian.Uint32(b), binary.LittleEndian.Uint32(b[4:])
		sum = t[7][low&0xff] ^ t[6][low>>8&0xff] ^ t[5][low>>16&0xff] ^ t[4][low>>24] ^
			t[3][high&0xff] ^ t[2][high>>8&0xff] ^ t[1][high>>16&0xff] ^ t[0][high>>24]
	}
	for _, c := range b {
		sum = t[0][byte(sum)^c] ^ sum>>8
	}
	return sum
}
