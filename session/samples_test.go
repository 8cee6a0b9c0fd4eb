package session

import "strandwise/floats"

// samples is at least one event of every kind, each of its fields in use.
func samples() []Event {
	marks := []Mark{{1, 0}, {6, 1}, {6, 2}, {140, 1}, {900, 4095}}
	return []Event{
		band(),
		&CastOn{
			Name: "right mitten", Parts: long(), Limit: 1, Item: Baby, Flat: true, Mirror: true,
			Grip:   Grip{Hold: "one-at-a-time", Carry: "rotating", Method: "twist", Dominant: "ö"},
			CopyOf: 1 << 60, Mirrored: true, FirstName: "left mitten",
		},
		&CastOn{Name: "cardigan", Parts: blocks(), Limit: 5, Grip: band().Grip},
		&Replanned{Parts: blocks()},
		&RowKnit{Row: 1},
		&RowKnit{Row: 300, Shown: marks, Used: marks},
		&RowKnit{Row: 300, Shown: marks, Used: marks[1:], Unwitnessed: true},
		&RowKnit{Row: 300, Shown: marks},
		&RowKnit{Row: 300, Used: marks},
		&Ripped{Rows: 12},
		&HoldChanged{Grip{Hold: "two-hands", Method: "twist"}},
		&Noted{Text: "slack\nat the pier", Row: 5},
		&Paused{Stitch: 77},
		&BoundOff{},
		&Undone{Seq: 1 << 40},
		&Redone{Seq: 9},
		&Replanned{Limit: 4, Gauge: "22x24/10cm", Parts: long()},
		&Replanned{Limit: 4},
		&Renamed{Name: "pier"},
		&YarnUsed{Yarn: '■', Grams: 18500, Meters: 1},
		&BallNoted{Yarn: 'x', Grams: 50000, Meters: 175000, DyeLot: "T 12"},
		&NoteClosed{Seq: 3},
		&RowKnit{
			Row: 7, Shown: []Mark{{6, 1}, {9, 1}, {18, 1}}, Used: []Mark{{4, 1}, {10, 1}, {30, 0}}, Unwitnessed: true,
			Changes: &Changes{Moved: []Move{{Mark{6, 1}, Mark{10, 1}}, {Mark{9, 1}, Mark{4, 1}}}, Missed: []Mark{{18, 1}}, Extra: []Mark{{30, 0}}},
		},
		&RowBegun{Row: 7, Stitch: 12, Shown: []Mark{{6, 1}}, Method: floats.Twist},
		&Together{Events: 5},
		&LowerSet{Place: "near strand"},
		&RowCorrected{Row: 7, Changes: Changes{Moved: []Move{{Mark{6, 1}, Mark{10, 1}}}, Missed: []Mark{{18, 1}}, Extra: []Mark{{30, 0}}}},
		&RowCorrected{Row: 8},
		&BallsCleared{Yarn: 'ö'},
		&Pressed{Event: &Noted{Text: "slack", Row: 5}, Press: "b81f"},
	}
}

// blocks are parts with all that came later: blocks side by side, a steek, shaped plain rows.
func blocks() []PartRef {
	edge := PartRef{Name: "edge", Hash: [32]byte{7}, Repeats: 1, Times: 4, Rows: 2}
	body := edge
	body.Beside = []PartRef{{Name: "lights", Hash: [32]byte{1, 2, 3}, Repeats: 12, Times: 1, Rows: 8}, edge, {Name: "steek", Steek: 5}}
	return []PartRef{{Name: "plain oat", Plain: '.', Rows: 2, Adds: 24}, body, {Name: "plain oat", Plain: '.', Rows: 1, Adds: -3}}
}
