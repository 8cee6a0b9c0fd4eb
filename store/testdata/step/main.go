// Step is the store's part of one command: "read" verifies the whole log of a
// piece, "list" the list of pieces, "step" appends an event.
package main

import (
	"context"
	"fmt"
	"os"
	"strconv"
	"time"

	"strandwise/store"
)

func main() {
	s := store.At(os.Args[2], store.Options{})
	id, err := strconv.ParseUint(os.Args[3], 10, 64)
	if err == nil {
		err = work(s, os.Args[1], store.PieceID(id))
	}
	if err != nil {
		panic(err)
	}
	fmt.Println("57: 3 oat, 11 fjord")
}

func work(s *store.Store, what string, id store.PieceID) error {
	switch what {
	case "step":
		return s.Update(context.Background(), func(tx *store.Tx) error {
			_, err := tx.Append(id, store.Record{Kind: 1, Time: time.Now(), Payload: []byte("57: 3 oat, 11 fjord")})
			return err
		})
	case "list":
		return s.View(context.Background(), func(tx *store.Tx) error {
			ids, err := tx.Pieces()
			for _, id := range ids {
				if _, err := tx.Info(id); err != nil {
					return err
				}
			}
			return err
		})
	}
	return s.View(context.Background(), func(tx *store.Tx) error {
		for _, err := range tx.Records(id) {
			if err != nil {
				return err
			}
		}
		return nil
	})
}
