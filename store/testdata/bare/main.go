// Bare does the least any saved step costs: it prints a line and, when a file is
// named, writes 4 KiB in place twice, each followed by a barrier.
package main

import (
	"fmt"
	"os"
	"syscall"
	"time"
)

func main() {
	if len(os.Args) > 1 {
		f, err := os.OpenFile(os.Args[1], os.O_RDWR, 0)
		if err != nil {
			panic(err)
		}
		var block [4096]byte
		for at := range 2 {
			block[0] = byte(time.Now().UnixNano())
			if _, err := f.WriteAt(block[:], int64(at)*4096); err != nil {
				panic(err)
			}
			if err := syscall.Fdatasync(int(f.Fd())); err != nil {
				panic(err)
			}
		}
	}
	fmt.Println("57: 3 oat, 11 fjord")
}
