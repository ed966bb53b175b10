package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"linetender/calc/sum"
)

func newSum(s streams) *cobra.Command {
	return &cobra.Command{
		Use:   "sum [NAME key=value ...]",
		Short: "Answer one question of the trade, with its working",
		Long: `Answer one question of the trade outside a job and print the result with its working and source as JSON.
Without a name, list the sums there are and how each is called.

Values are written as a person writes them: 5,200 lb, 24 mm, 1 in 4. Quote a value that has a blank in it.`,
		Example: `  linetender sum
  linetender sum side-pull force='838 N' angle='7 deg'
  linetender sum block-load tension='4 kN' angle='60 deg'
  linetender sum slope of='1 in 4'`,
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			var names []string
			for _, name := range sum.Names() {
				about, _ := usageOf(name)
				names = append(names, name+"\t"+about)
			}
			return names, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return listSums(s.out)
			}
			values, err := keyValues(c, args[1:])
			if err != nil {
				return err
			}
			result, err := sum.Run(args[0], values)
			if err != nil {
				return err
			}
			text, err := encode(result, "  ")
			if err != nil {
				return err
			}
			_, err = s.out.Write(text)
			return err
		},
	}
}

// usageOf returns what a sum answers and a call that works.
func usageOf(name string) (about, such string) {
	lines := strings.Split(sum.Usage(name), "\n")
	if len(lines) < 3 {
		return "", ""
	}
	return lines[1], strings.TrimPrefix(lines[2], "such as ")
}

func listSums(out io.Writer) error {
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	for _, name := range sum.Names() {
		about, such := usageOf(name)
		fmt.Fprintf(w, "%s\t%s\tlinetender %s\n", name, about, such)
	}
	return w.Flush()
}

// keyValues reads key=value arguments.
func keyValues(c *cobra.Command, args []string) (map[string]string, error) {
	values := make(map[string]string, len(args))
	for _, arg := range args {
		key, value, ok := strings.Cut(arg, "=")
		if !ok || key == "" {
			return nil, wrongCall("%s: %q is no key=value; write one such as of='1 in 4', quoted where it has a blank", c.CommandPath(), arg)
		}
		if _, twice := values[key]; twice {
			return nil, wrongCall("%s: %s is given twice; give it once", c.CommandPath(), key)
		}
		values[key] = value
	}
	return values, nil
}
