package telegram

import (
	"strconv"
	"strings"
)

const scheme = "telegram/"

// ChatKey names a chat for the conversation: telegram/ID, or telegram/ID/THREAD for a topic of a
// group, which has a session of its own.
func ChatKey(id, thread int64) string {
	key := scheme + strconv.FormatInt(id, 10)
	if thread != 0 {
		key += "/" + strconv.FormatInt(thread, 10)
	}
	return key
}

// readChatKey is the inverse of ChatKey.
func readChatKey(key string) (id, thread int64, ok bool) {
	rest, ok := strings.CutPrefix(key, scheme)
	if !ok {
		return 0, 0, false
	}
	first, second, topic := strings.Cut(rest, "/")
	id, err := strconv.ParseInt(first, 10, 64)
	if err != nil || id == 0 {
		return 0, 0, false
	}
	if topic {
		if thread, err = strconv.ParseInt(second, 10, 64); err != nil || thread <= 0 {
			return 0, 0, false
		}
	}
	return id, thread, true
}

func personKey(id int64) string { return scheme + strconv.FormatInt(id, 10) }
