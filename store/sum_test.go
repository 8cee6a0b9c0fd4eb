package store

import (
	"bytes"
	"hash/crc32"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The check value of CRC-32C for the digits 1 to 9 is E3069283 (from memory; the
// standard library's table must agree).
func TestSumsAreCRC32C(t *testing.T) {
	assert.Equal(t, uint32(0xE3069283), sumOf([]byte("123"), []byte("456789")))
	library := crc32.MakeTable(crc32.Castagnoli)
	assert.Equal(t, *library, tables[0])
	for _, size := range []int{0, 1, 7, 8, 9, 15, 16, 17, 4001, 200_000} {
		body := bytes.Repeat([]byte("harbor"), size/6+1)[:size]
		assert.Equal(t, crc32.Checksum(append([]byte("key"), body...), library), sumOf([]byte("key"), body), size)
	}
}
