package session

import (
	"encoding/binary"
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/floats"
)

func TestEveryKindIsThereOnce(t *testing.T) {
	seen := map[Kind]bool{}
	for _, e := range samples() {
		seen[kindOf(e)] = true
	}
	for k := range Kind(len(kinds)) {
		assert.Equal(t, k >= KindCastOn, k.known(), k)
		assert.Equal(t, k.known(), seen[k], "a sample of %v", k)
		assert.Equal(t, k.known(), kinds[k].of != nil, "a decoder of %v", k)
	}
}

func TestEncodeDecode(t *testing.T) {
	for _, e := range samples() {
		kind, payload := Encode(e)
		assert.EqualValues(t, kindOf(e), kind)
		got, err := Decode(kind, payload)
		require.NoError(t, err, "%v", e)
		assert.Equal(t, e, got)
	}
}

// The bytes of every kind are fixed for good: stores out there hold them.
func TestBytesStay(t *testing.T) {
	cases := []struct {
		event Event
		want  string
	}{
		{&RowKnit{Row: 12, Shown: []Mark{{6, 1}, {18, 1}}, Used: []Mark{{6, 1}, {18, 1}}}, "\x0c\x00\x02\x01\x0d\x18"},
		{&RowKnit{Row: 12, Shown: []Mark{{6, 1}}, Used: []Mark{{7, 1}}, Unwitnessed: true}, "\x0c\x03\x01\x01\x0d\x01\x01\x0f"},
		{&Ripped{Rows: 300}, "\xac\x02"},
		{&HoldChanged{Grip{Method: "twist"}}, "\x00\x00\x05twist\x00"},
		{&Noted{Text: "pier", Row: 2}, "\x04pier\x02"},
		{&Paused{Stitch: 7}, "\x07"},
		{&BoundOff{}, ""},
		{&Undone{Seq: 4}, "\x04"},
		{&Redone{Seq: 5}, "\x05"},
		{&Renamed{Name: "pier"}, "\x04pier"},
		{&Replanned{Limit: 5, Gauge: "20/4in"}, "\x05\x0620/4in\x00"},
		{&YarnUsed{Yarn: 'x', Grams: 1, Meters: 2}, "\x78\x01\x02"},
		{&BallNoted{Yarn: 'x', Grams: 1, Meters: 2, DyeLot: "9"}, "\x78\x01\x02\x019"},
		{&NoteClosed{Seq: 4}, "\x04"},
		{&BallsCleared{Yarn: 'x'}, "\x78"},
		{&Pressed{Event: &Undone{Seq: 4}, Press: "b81f"}, "\x04b81f\x08\x04"},
		{
			&RowKnit{Row: 12, Shown: []Mark{{6, 1}, {18, 1}}, Used: []Mark{{8, 1}}, Changes: &Changes{Moved: []Move{{Mark{6, 1}, Mark{8, 1}}}, Missed: []Mark{{18, 1}}}},
			"\x0c\x00\x02\x01\x0d\x18" + "\x01\x01\x0d" + "\x08\x01" + "\x01\x01\x25" + "\x00",
		},
		{&RowBegun{Row: 12, Stitch: 7, Shown: []Mark{{6, 1}}, Method: floats.Twist}, "\x0c\x07\x01\x01\x01\x0d"},
		{&Together{Events: 3}, "\x03"},
		{&LowerSet{Place: "left middle"}, "\x0bleft middle"},
		{&RowCorrected{Row: 12, Changes: Changes{Missed: []Mark{{6, 1}}}}, "\x0c" + "\x00" + "\x01\x01\x0d" + "\x00"},
		{
			&CastOn{Name: "b", Parts: []PartRef{{Name: "p", Plain: 'x', Rows: 4}}, Limit: 6, Grip: Grip{Hold: "h", Carry: "c", Method: "m", Dominant: "d"}, RestLimit: 2},
			"\x01b\x01\x01p" + string(make([]byte, 32)) + "\x00\x00\x78\x04" + "\x00\x06\x00\x00" + "\x01h\x01c\x01m\x01d\x02" + "\x00\x00",
		},
		{
			&Replanned{Parts: []PartRef{{Name: "p", Plain: 'x', Rows: 4, Adds: -3, Beside: []PartRef{{Name: "s", Steek: 5}}}}},
			"\x00\x00\x01" + "\x01p" + string(make([]byte, 32)) + "\x00\x00\x78\x04" + "\x00\x03\x00" +
				"\x01" + "\x01s" + string(make([]byte, 32)) + "\x00\x00\x00\x00" + "\x00\x00\x05\x00",
		},
	}
	for _, c := range cases {
		_, payload := Encode(c.event)
		assert.Equal(t, []byte(c.want), append([]byte{}, payload...), "%v", kindOf(c.event))
	}
}

func TestDecodeRefusesShortAndLeftOverBytes(t *testing.T) {
	for _, e := range samples() {
		kind, payload := Encode(e)
		var fault *MalformedError
		for n := range payload {
			_, err := Decode(kind, payload[:n])
			require.ErrorAs(t, err, &fault, "%v cut to %d bytes", kindOf(e), n)
			assert.Equal(t, kindOf(e), fault.Kind)
		}
		_, err := Decode(kind, append(payload, 0))
		require.ErrorAs(t, err, &fault, "%v and one byte more", kindOf(e))
	}
}

func TestDecodeRefusesNewerKinds(t *testing.T) {
	for _, kind := range []uint16{0, uint16(len(kinds)), 99, 65535} {
		_, err := Decode(kind, nil)
		assert.Equal(t, &NewerError{Kind: kind}, err)
		assert.ErrorContains(t, err, "written by a newer version")
	}
}

func TestDecodeFaults(t *testing.T) {
	cases := []struct {
		fault string
		kind  Kind
		bytes []byte
	}{
		{"it ends too soon", KindPaused, nil},
		{"it ends too soon", KindRenamed, []byte("\x05pier")},
		{"bytes are left over", KindBoundOff, []byte{1}},
		{"a number is too large", KindPaused, binary.AppendUvarint(nil, maxInt+1)},
		{"a number is too large", KindUndone, []byte{255, 255, 255, 255, 255, 255, 255, 255, 255, 2}},
		{"a number has a needless byte", KindPaused, []byte{0x81, 0}},
		{"text is not UTF-8", KindRenamed, []byte("\x01\xff")},
		{"a symbol is not a character", KindYarnUsed, binary.AppendUvarint(nil, 0xD800)},
		{"an unknown flag is set", KindRowKnit, []byte{1, 4, 0}},
		{"the catches are given twice", KindRowKnit, []byte{1, 2, 0, 0}},
		{"catches are out of order", KindRowKnit, []byte{1, 0, 2, 1, 13, 0}},
		{"a yarn number is too large", KindRowKnit, []byte{1, 0, 1, 13, 13}},
		{"a catch is on no stitch or of no yarn", KindRowKnit, []byte{1, 0, 1, 1, 1}},
		{"a catch is on no stitch or of no yarn", KindRowKnit, []byte{1, 0, 1, 2, 5}},
	}
	for _, c := range cases {
		_, err := Decode(uint16(c.kind), c.bytes)
		var fault *MalformedError
		require.ErrorAs(t, err, &fault, c.fault)
		assert.Equal(t, c.fault, fault.Fault)
	}
	_, payload := Encode(band())
	payload[len(payload)-len("\x09two-hands\x08parallel\x05weave\x07pattern\x06\x00\x00")-2] = 9
	_, err := Decode(uint16(KindCastOn), payload)
	assert.ErrorContains(t, err, "an unknown kind of item")
}

func TestDecodeKeepsNothingOfThePayload(t *testing.T) {
	for _, e := range samples() {
		kind, payload := Encode(e)
		got, err := Decode(kind, payload)
		require.NoError(t, err)
		clear(payload)
		assert.Equal(t, e, got)
	}
}

func FuzzDecode(f *testing.F) {
	for _, e := range samples() {
		kind, payload := Encode(e)
		f.Add(kind, payload)
	}
	f.Add(uint16(99), []byte("tide"))
	f.Fuzz(func(t *testing.T, kind uint16, payload []byte) {
		e, err := Decode(kind, payload)
		if err != nil {
			var newer *NewerError
			var fault *MalformedError
			require.True(t, errors.As(err, &newer) || errors.As(err, &fault), "%T", err)
			return
		}
		again, bytes := Encode(e)
		require.Equal(t, kind, again)
		require.Equal(t, append([]byte{}, payload...), append([]byte{}, bytes...))
		_ = (&State{}).Check(e)
	})
}
