package main

import (
	"io"
	"strings"

	"github.com/spf13/cobra"
)

// shells are the shells a completion script is written for, with the call
// that writes it.
var shells = []struct {
	name  string
	write func(*cobra.Command, io.Writer) error
}{
	{"bash", func(root *cobra.Command, w io.Writer) error { return root.GenBashCompletionV2(w, true) }},
	{"zsh", func(root *cobra.Command, w io.Writer) error { return root.GenZshCompletion(w) }},
	{"fish", func(root *cobra.Command, w io.Writer) error { return root.GenFishCompletion(w, true) }},
	{"powershell", func(root *cobra.Command, w io.Writer) error { return root.GenPowerShellCompletionWithDesc(w) }},
}

func newCompletion(s streams) *cobra.Command {
	names := make([]string, len(shells))
	for i, sh := range shells {
		names[i] = sh.name
	}
	right := "name one shell: " + strings.Join(names, ", ")
	return &cobra.Command{
		Use:       "completion bash|zsh|fish|powershell",
		Short:     "Print the completion script for a shell",
		Long:      "Print the script that lets a shell complete the program's commands and flags. Load it once for the running shell as below, or write it to where the shell keeps its completions.",
		Example:   "  source <(linetender completion bash)\n  source <(linetender completion zsh)\n  linetender completion fish | source\n  linetender completion powershell | Out-String | Invoke-Expression",
		ValidArgs: names,
		Args:      exactly(1, right),
		RunE: func(c *cobra.Command, args []string) error {
			for _, sh := range shells {
				if sh.name == args[0] {
					return sh.write(c.Root(), s.out)
				}
			}
			return wrongCall("%s: %q is no shell it writes for; %s", c.CommandPath(), args[0], right)
		},
	}
}
