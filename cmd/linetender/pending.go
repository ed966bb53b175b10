package main

import (
	"errors"

	"github.com/spf13/cobra"
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
