// Package store keeps logs of opaque records in one bbolt file, chained and checked, so that
// nothing acknowledged is lost and nothing damaged is taken for good. It knows no knitting: what
// a record means is its caller's affair. It never prints, exits or logs.
//
// # The file
//
// Pages of 4 KiB on every system. The buckets at the top:
//
//	meta      schema, store id, time made, writer version, summary
//	heads     8-byte id -> UID, number and CRC of the last event, CRC of the info
//	pieces    8-byte id -> a bucket with `info` and the bucket `log`
//	log       8-byte number -> event
//	charts    SHA-256 -> the chart's bytes as they were read
//	settings  name -> value
//	cache     name -> value and CRC: disposable, in no chain and no export
//
// Numbers are 8 bytes, big-endian, from the bucket's own sequence, taken in the transaction that
// uses them; ids and event numbers begin at 1 and are never used again. An event is never
// rewritten or deleted; only a whole piece can be removed, with charts that no log names any
// more. Values begin with a format byte and end in a CRC-32C over the key and all before it. piece.go
// tells the form of an event, head.go how every part vouches for another, from the file's header
// down to the first event of a log.
//
// # What a transaction covers
//
// One View sees one committed state, one Update is one commit: events of several pieces, charts,
// settings and cached values are saved together or not at all. An Update whose function fails, or
// changes nothing, writes nothing. A step costs two disk barriers, three when the file grows, and
// a read costs none and leaves every byte of the file as it was; the one exception is a store of
// an older schema, which is raised at its first opening, after a verified backup.
//
// # What a crash leaves
//
// A kill or a power cut at any moment leaves the state before or after the commit, never one
// between; a success that was returned lasts. Create, backups, Restore and Salvage write a
// temporary file (its name begins with a dot, nothing reads it, and a later change takes it away
// when it is a day old), sync it, give it its name, and sync the folder, so that under a final
// name there is nothing or a whole file. Restore has no moment without a store. When the disk
// reports a fault during a commit the outcome is unknown until the next reading (ClassUnknown).
//
// # Locks and lifetimes
//
// No file is open between calls. Readers share the file's lock, a writer has it alone; each tries
// every 2 ms or so for 2 s in all (ClassBusy). Once the lock is had the file must still be the
// one at the path, since Restore puts another in its place; else all begins anew. The lock is
// held from before the file is examined until it is closed; a function given to View or Update
// must not wait for a person, and is given up after 10 s. A Tx is good only inside that function,
// and only for one goroutine; the function runs in a goroutine of its own. What a Tx hands out is a
// copy and outlives it.
//
// # Damage
//
// bbolt trusts its file. So before it opens one, the two headers, the length and
// the free list are examined (page.go), and before it follows a page all pages in use are
// walked once (survey.go); what still faults is caught (work.go). Damage is an error of
// ClassDamaged that names the piece and the event where it is in one, other pieces
// stay usable, and the file is left alone. One bad header is a Warning for reads and
// changes, and damage for Check, Export and Backup, which would hide it. Check
// reads everything; Salvage puts whatever vouches for itself into a new file.
package store
