package main

import (
	"errors"
	"io"

	"github.com/spf13/cobra"

	"linetender/calc"
	"linetender/flow/telegram"
)

var errPending = errors.New("not in this build yet")

func newTalk(s streams) *cobra.Command {
	var data string
	c := &cobra.Command{Use: "linetender", Short: "Plan a vehicle recovery by rope, blocks and anchors, in conversation", Args: noArgs,
		RunE: func(c *cobra.Command, _ []string) error { _, _ = dataFolder(c, data); return errPending }}
	dataFlag(c, &data)
	return c
}
func newSum(s streams) *cobra.Command {
	return &cobra.Command{Use: "sum", RunE: func(*cobra.Command, []string) error { return errPending }}
}
func writeText(w io.Writer, p calc.Plan) error { return errPending }

const jobPrefix = "job/"

func menu() []telegram.Command { return nil }

func (v *service) greet() error { return nil }
