package session

import (
	"encoding/binary"
	"fmt"
	"math"
	"reflect"
	"unicode/utf8"

	"strandwise/floats"
)

// Every number is an unsigned varint of the fewest bytes that hold it; text is its
// length in bytes and then UTF-8; several yes-or-no facts share one number. Each
// value has one encoding only, so reading and writing are inverse both ways.

// maxInt is the largest number a field may hold: it fits an int everywhere.
const maxInt = math.MaxInt32

// wire takes values to the bytes of an event, or from them: what an event is made of is said
// once. After the first fault of reading all it gives is zero; end reports that fault.
type wire struct {
	b       []byte
	writing bool
	at      int    // while reading: where the next value begins
	fault   string // empty while all is well
}

// fail keeps the first fault, with where it was met.
func (w *wire) fail(fault string) {
	if w.fault == "" {
		w.fault = fault
	}
}

// end reports the fault met, or bytes left over.
func (w *wire) end(k Kind) error {
	if w.at < len(w.b) {
		w.fail("bytes are left over")
	}
	if w.fault == "" {
		return nil
	}
	return &MalformedError{Kind: k, Offset: w.at, Fault: w.fault}
}

// event takes the fields of an event in the order in which its type has them; where that is not all there is
// to its bytes, the event has a method.
func (w *wire) event(e Event, k Kind) {
	if own, is := e.(interface{ fields(w *wire, k Kind) }); is {
		own.fields(w, k)
		return
	}
	for _, v := range reflect.ValueOf(e).Elem().Fields() {
		switch field := v.Addr().Interface().(type) {
		case *int:
			w.int(field)
		case *Milli:
			w.int((*int)(field))
		case *uint64:
			w.uint(field)
		case *rune:
			w.symbol(field)
		case *string:
			w.text(field)
		case *floats.Method:
			w.method(field)
		case *[]Mark:
			w.marks(field)
		case interface{ fields(w *wire) }: // changes, a grip
			field.fields(w)
		default:
			panic(fmt.Sprintf("session: no bytes are known for a %T, a field of %T", field, e))
		}
	}
}

// uint takes a number: of an event, of a piece in its store.
func (w *wire) uint(v *uint64) {
	if w.writing {
		w.b = binary.AppendUvarint(w.b, *v)
		return
	}
	if *v = 0; w.fault != "" {
		return
	}
	read, n := binary.Uvarint(w.b[w.at:])
	switch {
	case n == 0:
		w.fail("it ends too soon")
	case n < 0:
		w.fail("a number is too large")
	case n > 1 && w.b[w.at+n-1] == 0:
		w.fail("a number has a needless byte")
	default:
		w.at, *v = w.at+n, read
	}
}

// number takes a number from 0 to most; fault says what a larger one is.
func number[T ~int | ~int32 | ~uint8](w *wire, v *T, most uint64, fault string) {
	wide := uint64(*v)
	if w.uint(&wide); w.writing {
		return
	}
	if wide > most {
		w.fail(fault)
		wide = 0
	}
	*v = T(wide)
}

func (w *wire) int(v *int) { number(w, v, maxInt, "a number is too large") }

func (w *wire) method(v *floats.Method) { number(w, v, uint64(floats.Twist), "an unknown method") }

func (w *wire) symbol(v *rune) {
	number(w, v, utf8.MaxRune, "a symbol is not a character")
	if !w.writing && !utf8.ValidRune(*v) {
		w.fail("a symbol is not a character")
	}
}

// count takes how many items follow, each of at least size bytes.
func (w *wire) count(n, size int) int {
	wide := uint64(n)
	if w.uint(&wide); !w.writing && wide > uint64((len(w.b)-w.at)/size) {
		w.fail("it ends too soon")
		return 0
	}
	return int(wide)
}

// flags takes yes-or-no facts as one number, the first as its lowest bit.
func (w *wire) flags(facts ...*bool) {
	all := uint64(0)
	for i, yes := range facts {
		if *yes {
			all |= 1 << i
		}
	}
	if w.uint(&all); w.writing {
		return
	}
	if all>>len(facts) != 0 {
		w.fail("an unknown flag is set")
		all = 0
	}
	for i := range facts {
		*facts[i] = all>>i&1 != 0
	}
}

func (w *wire) text(s *string) {
	n := w.count(len(*s), 1)
	switch {
	case w.writing:
		w.b = append(w.b, *s...)
	case !utf8.Valid(w.b[w.at : w.at+n]):
		w.fail("text is not UTF-8")
	default:
		*s, w.at = string(w.b[w.at:w.at+n]), w.at+n
	}
}

func (w *wire) hash(h *[32]byte) {
	switch {
	case w.writing:
		w.b = append(w.b, h[:]...)
	case len(w.b)-w.at < len(h):
		w.fail("it ends too soon")
	case w.fault == "":
		w.at += copy(h[:], w.b[w.at:])
	}
}

// list takes a list of items of at least size bytes each, an empty one as nil.
func list[T any](w *wire, items *[]T, size int, item func(*T)) {
	if n := w.count(len(*items), size); !w.writing && n > 0 {
		*items = make([]T, n)
	}
	for i := range *items {
		item(&(*items)[i])
	}
}
