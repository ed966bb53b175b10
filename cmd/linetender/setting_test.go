package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// settings is the table of all flags and variables, as the README has it.
func settings() string {
	var b strings.Builder
	b.WriteString("| command | flag | environment | what it does |\n|---|---|---|---|\n")
	var walk func(c *cobra.Command)
	walk = func(c *cobra.Command) {
		c.LocalNonPersistentFlags().VisitAll(func(f *pflag.Flag) {
			if f.Name == "help" || f.Name == "data" && c.HasParent() {
				return // --data is the same everywhere
			}
			env := ""
			if f.Name == "data" {
				env = "`" + dataEnv + "`"
			} else if c.Name() == "serve" || c.Name() == "doctor" {
				env = "`" + envOf(f.Name) + "`"
			}
			kind, usage := pflag.UnquoteUsage(f)
			flag := "`--" + f.Name
			if kind != "" {
				flag += " " + kind
			}
			fmt.Fprintf(&b, "| %s | %s` | %s | %s |\n", c.CommandPath(), flag, env, usage)
		})
		for _, sub := range c.Commands() {
			walk(sub)
		}
	}
	walk(newRoot(streams{}))
	fmt.Fprintf(&b, "| linetender serve, doctor | | `%s` | the bot's token, where no token file is named |\n", tokenEnv)
	b.WriteString("| linetender | | `NO_COLOR` | anything: no colours in the terminal |\n")
	return b.String()
}

// TestSettingsTable holds the README's table to the program's flags.
func TestSettingsTable(t *testing.T) {
	if want := settings(); !strings.Contains(readFile(t, readmePath), want) {
		t.Errorf("the README lacks this table:\n%s", want)
	}
}
