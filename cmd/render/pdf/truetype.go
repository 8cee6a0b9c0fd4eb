package pdf

import (
	"encoding/binary"
	"errors"
	"maps"
	"math/bits"
	"slices"
)

// A TrueType file begins with its kind, how many tables it has and three numbers to search
// them by; then 16 bytes for each table, in the order of their tags: tag, checksum, place and
// length. Tables begin at multiples of 4.
const (
	headerLength = 12
	recordLength = 16
)

var errTables = errors.New("the tables of a font for a document are not where it says")

// tablesOf are the tables of a TrueType file by their tags.
func tablesOf(font []byte) (map[string][]byte, error) {
	if len(font) < headerLength {
		return nil, errTables
	}
	count := int(binary.BigEndian.Uint16(font[4:]))
	if len(font) < headerLength+count*recordLength {
		return nil, errTables
	}
	tables := map[string][]byte{}
	for i := range count {
		record := font[headerLength+i*recordLength:]
		place, length := uint64(binary.BigEndian.Uint32(record[8:])), uint64(binary.BigEndian.Uint32(record[12:]))
		if place+length > uint64(len(font)) {
			return nil, errTables
		}
		tables[string(record[:4])] = font[place : place+length]
	}
	return tables, nil
}

// assemble is a TrueType file of tables.
func assemble(tables map[string][]byte) []byte {
	tags := slices.Sorted(maps.Keys(tables))
	font := header(len(tags))
	var body []byte
	head := -1
	for _, tag := range tags {
		place := headerLength + len(tags)*recordLength + len(body)
		data := tables[tag]
		if tag == "head" {
			data, head = unsummed(data), place
		}
		font = append(font, tag...)
		for _, v := range []int{int(checksum(data)), place, len(data)} {
			font = binary.BigEndian.AppendUint32(font, uint32(v))
		}
		body = append(body, data...)
		body = append(body, make([]byte, -len(body)&3)...)
	}
	font = append(font, body...)
	if head >= 0 {
		binary.BigEndian.PutUint32(font[head+adjustment:], 0xb1b0afba-checksum(font))
	}
	return font
}

// header begins a file of some tables. The numbers to search by are 16 times the largest power
// of two within the count, which power that is, and 16 times the rest.
func header(count int) []byte {
	power := bits.Len(uint(count)) - 1
	within := recordLength << power
	b := []byte{0, 1, 0, 0}
	for _, v := range []int{count, within, power, count*recordLength - within} {
		b = binary.BigEndian.AppendUint16(b, uint16(v))
	}
	return b
}

// adjustment is where in table head stands what brings the sum of the whole file to a certain
// number; it counts as 0 in the table's own sum.
const adjustment = 8

// unsummed is a table head without it.
func unsummed(head []byte) []byte {
	head = slices.Clone(head)
	clear(head[adjustment : adjustment+4])
	return head
}

// checksum adds a table up as numbers of 4 bytes, zeros filling up the last.
func checksum(data []byte) uint32 {
	sum := uint32(0)
	for len(data) >= 4 {
		sum += binary.BigEndian.Uint32(data)
		data = data[4:]
	}
	var rest [4]byte
	copy(rest[:], data)
	return sum + binary.BigEndian.Uint32(rest[:])
}
