package main

import (
	"os"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// envOf is the variable of the environment that sets a flag: --token-file is
// LINETENDER_TOKEN_FILE.
func envOf(flag string) string {
	return "LINETENDER_" + strings.ToUpper(strings.ReplaceAll(flag, "-", "_"))
}

// fromEnvironment sets the flags of a command that were not given on the call
// from the environment.
func fromEnvironment(c *cobra.Command) error {
	var wrong error
	c.Flags().VisitAll(func(f *pflag.Flag) {
		value := os.Getenv(envOf(f.Name))
		if f.Changed || value == "" || f.Name == "help" || f.Name == "data" || wrong != nil {
			return // --data has its own order of precedence
		}
		if err := c.Flags().Set(f.Name, value); err != nil {
			wrong = wrongCall("%s: %s=%q does not fit --%s; %s", c.CommandPath(), envOf(f.Name), value, f.Name, helpHint(c))
		}
	})
	return wrong
}
