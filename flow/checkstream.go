package flow

import (
	"errors"
	"fmt"
	"strings"
)

// CheckStream reports whether this release can read the entries of a stream
// that is no job: a chat, or the door.
func CheckStream(name string, entries [][]byte) error {
	switch chat, is := strings.CutPrefix(name, chatStream("")); {
	case is:
		return listed(entries).Replay(name, 0, newChat(chat).fold)
	case name == doorStream:
		_, err := readDoor(listed(entries))
		return err
	}
	return fmt.Errorf("%q is no stream of this program", name)
}

// listed is a log of one stream that stands in memory.
type listed [][]byte

// Commit is never called: what reads a listed log writes nothing.
func (listed) Commit(Turn) ([]uint64, error) { return nil, errors.New("this log is for reading") }

// Replay visits the entries, whatever the stream is called.
func (l listed) Replay(_ string, after uint64, visit func(uint64, []byte) error) error {
	for i := int(after); i < len(l); i++ {
		if err := visit(uint64(i+1), l[i]); err != nil {
			return err
		}
	}
	return nil
}
