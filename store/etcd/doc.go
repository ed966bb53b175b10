// Package etcd keeps what linetender/store keeps, behind the same calls, in an
// etcd cluster instead of a file, so that several replicas of the program can
// work on it and a machine may die. It is a module of its own: the plain program
// links none of it.
//
// # What is promised
//
// All that package store promises, to which package contract holds both, and:
//
//   - A turn is one transaction of etcd. It compares where every stream ends
//     that it writes and the absence of the update's done mark, and then writes the
//     entries, the parcels and the mark, and takes the update out of the inbox.
//   - A transaction whose answer was lost is resolved before anything is tried
//     again: the done mark holds a token that only this one call wrote.
//   - A turn is never split. One that etcd can't take in one transaction, for its
//     number of parts or its bytes, is refused whole with [ErrLarge].
//   - Of the replicas that have joined ([Store.Join]), one at a time works on a chat:
//     what is the work of others doesn't show in its [Replica.Chats], [Replica.Next]
//     and [Replica.Due].
//
// # What is not
//
//   - [Store.Accept] of more arrivals than fit in a transaction is several of them, in
//     order, with the cursor in the last: a batch that broke off is delivered again, and
//     what is kept of it already is skipped.
//   - [Store.Rekey] of a chat with much on its way is several transactions as well.
//   - A replica that is cut off while a message of its own is under way can't call that
//     message back: whoever takes the chat over sends it again. State is exactly once,
//     delivery at least once, as ever.
//   - Clocks: leases run on the servers' clocks. A replica takes itself off a chat by its own
//     clock, a fifth of the lease's time ahead; a clock that runs slower than three
//     quarters of the servers' would defeat that.
//
// # How it is laid out
//
// Every key begins with the prefix of the address ("linetender/" if it has none).
// Every value but those of leases carries a checksum over the rest of its key and its bytes.
//
//	e/ stream, n       → the entries of the write that ended with entry n
//	n/ stream          → number of the last entry
//	s/ stream          → when, place in its turn         order of change = mod revision
//	h/ stream          → head
//	w/i/ update        → chat, when, place, body         what waits; order = create revision
//	w/o/ token, place  → chat, urgent, tries, not before, why, body
//	d/ update          → token, when                     done mark; goes with its lease
//	r/ chat, slot      → receipt
//	x/ token           → what was given up on
//	c/ source          → cursor, when
//	k/ secret          → bytes
//	m/format           → the format of all this
//	l/r/ replica       → that it is alive                goes with its lease
//	l/s/ shard         → the replica that works on it    goes with its lease
//	l/p/ post          → the replica that holds it       goes with its lease
//
// There is no counter that all writers would meet at: etcd's own revision is the
// order. A parcel's id is the revision that made it and its place among those that
// were made with it.
//
// What waits (w/) is mirrored in memory by a watch, so that looking for work asks
// nobody. The mirror may be behind; nothing is decided by it that a transaction
// doesn't compare again.
package etcd
