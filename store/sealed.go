package store

import (
	"encoding/binary"
	"hash/crc32"
)

// Numbers are big-endian, so that keys in order of bytes are numbers in order.
var big = binary.BigEndian

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// valueFormat is the first byte of every value that has a head. There has been one.
const valueFormat = 1

func sumOf(key, body []byte) uint32 {
	return crc32.Update(crc32.Checksum(key, castagnoli), castagnoli, body)
}

func crcOf(sealed []byte) uint32 { return big.Uint32(sealed[len(sealed)-4:]) }

func key(n uint64) []byte { return big.AppendUint64(nil, n) }

// seal ends a value in the CRC-32C of its key and all before it.
func seal(key, body []byte) []byte {
	return big.AppendUint32(body[:len(body):len(body)], sumOf(key, body))
}

// unseal takes the checksum off; ok is false when it does not hold.
func unseal(key, sealed []byte) (body []byte, ok bool) {
	n := len(sealed) - 4
	if n < 0 || sumOf(key, sealed[:n]) != crcOf(sealed) {
		return nil, false
	}
	return sealed[:n:n], true
}

// encode seals a head, a struct of fixed size whose first byte is the format, and the rest.
func encode(key []byte, head any, rest []byte) []byte {
	body, _ := binary.Append(nil, big, head) // fails for what has no fixed size only
	return seal(key, append(body, rest...))
}

// decode reads into a head and gives the rest; ok is false where the checksum does not hold.
func decode(key, sealed []byte, head any) (rest []byte, ok bool) {
	body, ok := unseal(key, sealed)
	if !ok || len(body) == 0 || body[0] != valueFormat {
		return nil, false
	}
	n, err := binary.Decode(body, big, head)
	return body[n:], err == nil
}
