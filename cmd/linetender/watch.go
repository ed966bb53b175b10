package main

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"linetender/flow"
)

// wakeful is how long ago a job may have had its last turn and still want
// another though nobody speaks.
const wakeful = 7 * 24 * time.Hour

// watchJobs tells a desk that has just begun what the open jobs wait for, whose
// lead is in a chat of the given scheme; empty for any.
func watchJobs(st Store, desk *flow.Desk, scheme string, now time.Time) error {
	past := errors.New("older than what can want a turn")
	err := st.Streams(flow.JobStream(""), "", true, func(_ string, head []byte, _ uint64, changed time.Time) error {
		if now.Sub(changed) > wakeful {
			return past
		}
		h, err := flow.DecodeHead(head)
		if err != nil || h.Wake == "" || h.State == flow.Closed || !strings.HasPrefix(h.Chat, scheme) {
			return nil // a head that can't be read is told of where its job is worked on
		}
		if at, err := time.Parse(time.RFC3339, h.Wake); err == nil {
			desk.Watch(h.Code, h.Chat, at)
		}
		return nil
	})
	if err != nil && !errors.Is(err, past) {
		return fmt.Errorf("look for jobs that want a turn: %w", err)
	}
	return nil
}
