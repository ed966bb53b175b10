package main

import (
	"github.com/spf13/cobra"
)

// newHelp replaces cobra's help command, which answers an unknown topic on
// standard output with exit status 0.
func newHelp() *cobra.Command {
	return &cobra.Command{
		Use:     "help [COMMAND]",
		Short:   "Say how a command is used",
		Long:    "Say how the program, or the named command, is used, with examples.",
		Example: "  linetender help\n  linetender help plan\n  linetender help log show",
		ValidArgsFunction: func(c *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			at, rest, err := c.Root().Find(args)
			if err != nil || len(rest) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			var names []string
			for _, sub := range at.Commands() {
				if sub.IsAvailableCommand() {
					names = append(names, sub.Name()+"\t"+sub.Short)
				}
			}
			return names, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(c *cobra.Command, args []string) error {
			at := c.Root()
			for _, word := range args {
				next := child(at, word)
				if next == nil {
					return unknownCommand(at, word)
				}
				at = next
			}
			at.InitDefaultHelpFlag()
			return at.Help()
		},
	}
}

func child(c *cobra.Command, name string) *cobra.Command {
	for _, sub := range c.Commands() {
		if sub.Name() == name || sub.HasAlias(name) {
			return sub
		}
	}
	return nil
}
