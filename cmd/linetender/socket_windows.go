package main

import "io/fs"

// ownedPrivately takes what the system gives: a user's data and temporary
// folders are closed to other users by the lists that they inherit.
func ownedPrivately(fs.FileInfo) bool { return true }
