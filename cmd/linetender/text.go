package main

import (
	"io"

	"linetender/calc"
	"linetender/calc/job"
)

// writeText prints a plan as the chat would word it, one message after the
// other.
func writeText(w io.Writer, sheet job.Sheet, plan calc.Plan) error {
	messages, err := newEngine(true).Tell(sheet, plan)
	if err != nil {
		return err
	}
	for i, m := range messages {
		text := m.Text() + "\n"
		if i > 0 {
			text = "\n" + text
		}
		if _, err := io.WriteString(w, text); err != nil {
			return err
		}
	}
	return nil
}
