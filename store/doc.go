// Package store keeps what the conversation must not lose: the logs of the
// sessions, the updates that came in and are not yet worked on, and the parcels
// that are to be sent. It keeps bytes, in order, durably, in one bbolt file, and
// knows nothing of what the bytes mean.
//
// # What is promised
//
//   - A call that changes something returns nil only once the change would survive
//     the loss of power. It happens whole or not at all, as if it were a transaction of
//     its own; changes that wait at the same time share one on the disk.
//   - An update is worked on once. Its [Arrival] Key is remembered from [Store.Accept]
//     on, so a redelivered update is skipped; [Store.Commit] removes it from the inbox,
//     marks it done, appends what it led to and queues the answers, all in one
//     transaction. A second Commit for the same update is refused with [ErrDone].
//   - Two writers of a stream can't both win: Commit compares the number of the last
//     entry that the writer saw, and refuses the later one with [ErrMoved].
//   - Entries of a stream are numbered 1, 2, 3, … without gaps and never change, but
//     by [Store.Redact], which takes a person's data out of them.
//   - Arrivals of a chat come out in the order they were accepted. Parcels of a chat
//     are due in the order they were committed, urgent ones first.
//   - A parcel is due until it is marked by [Store.Sent] or [Store.Drop]. A process that
//     dies between a send and its mark sends that one parcel again: delivery is at
//     least once, and the sender makes a repeat harmless.
//   - Every stored value carries a checksum over its key and its bytes. A flipped bit in
//     it is [ErrCorrupt], never a plausible value.
//   - Every byte slice handed out is the caller's own copy, and callers may change
//     what they handed in once the call has returned.
//
// # What is not
//
//   - After an error other than ErrMoved, ErrDone and [ErrFull] from Commit, the turn may
//     have been written all the same (the disk failed after the write and before the
//     confirmation). The done mark resolves it: commit again, and ErrDone says it was.
//   - A disk that failed once is not trusted again: until the file is reopened, every
//     later change is refused with [ErrFailed].
//   - Done marks are kept for [Options].Keep and then pruned, a few with each commit,
//     though never the latest 4096 of them, whatever the clock says.
//   - Damage to the pages that bbolt keeps its keys in is found by [Store.Check], which
//     reads them without trust, and at opening as far as opening reads. A process that
//     runs into such a page later may end on the spot: it writes nothing more.
//   - One process at a time: the file is locked, and a second opener gets [ErrLocked]. No
//     network file systems: their locks can't be relied on.
//   - The file doesn't shrink; [Compact] makes it small again.
//   - Power lost while a root page is written takes the store back to the transaction
//     before, which is the one last acknowledged. Later damage to the newer of the two root
//     pages looks the same and can't be told from it: it costs the last transaction.
//
// # How it is laid out
//
// All keys are big-endian, so order on disk is order of speech. A chat or stream
// name in a key is preceded by its length in two bytes.
//
//	meta      what            → value                 format of the file
//	entries   stream, n       → entry
//	streams   stream          → last, change, when, head
//	changes   change          → stream                streams in order of last change
//	sources   source          → cursor, when
//	inbox     chat, seq       → key, when, body
//	updates   key             → waiting: seq, chat; or done
//	done      n               → when, key             done marks by age
//	outbox    id              → chat, urgent, tries, not before, why, body
//	queue     chat, class, id →                       unsent of a chat, urgent first
//	front     class, id       → not before, chat      first unsent of every chat
//	receipts  chat, slot      → receipt
//	dead      n               → what was buried or dropped, and why
//	secrets   name            → bytes
//
// [Store.Check] holds all of them against each other.
//
// Another engine can take bbolt's place behind the same calls: they speak in std
// types and unnamed structs, hold no transaction open between calls, and never
// call back into the caller while one is open. Package linetender/store/etcd, a
// module of its own, is one; package contract is what each must keep.
package store
