package session

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
		&YarnUsed{Yarn: '■', Grams: 18500, Metres: 1},
		&BallNoted{Yarn: 'x', Grams: 50000, Metres: 175000, DyeLot: "T 12"},
		&NoteClosed{Seq: 3},
	}
}
