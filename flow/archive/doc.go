// Package archive carries logs from one store to another as JSON Lines: one
// file of text that other programs can read, and that comes back byte for byte.
//
// # The format
//
// Every line is one JSON object. The first says what the file is; entries of a
// stream follow in order, then its summary; the last line counts what was
// written, so that a file cut short shows.
//
//	{"linetender_log":1}
//	{"stream":"job/larch-42","n":1,"entry":{"v":1,"n":1,"at":…}}
//	{"stream":"job/larch-42","n":2,"entry":{"v":1,"n":2,"prev":"9f2c…","at":…}}
//	{"stream":"job/larch-42","entries":2,"head":{"v":1,"code":"larch-42",…}}
//	{"streams":1,"entries":2}
//
// entry and head hold the bytes as the store has them. Bytes that would not
// survive as JSON on one line stand as "entry64" or "head64" in base64. A
// stream without a summary has neither head nor head64.
//
// Streams come in the order of their last change, the oldest first, so that a
// store filled from the file lists them in the same order and exports the same
// file.
//
// # What is taken in
//
// [Read] takes a job only whole, and only if its chain holds: its entries and its
// summary are committed in one transaction or not at all. A job that is there
// already and equal, or there already and further on, is left alone; one that is
// there and different is refused. So an import that was broken off is simply
// run again. Both directions hold one job in memory at a time, and Read a few
// jobs that are committed together.
//
// Streams other than jobs (chats with their saved kits and their leave to talk, the
// door with its invitations) belong to one installation and say who may talk
// to it. They are written, and taken in, only when asked for.
package archive
