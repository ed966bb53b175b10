package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"linetender/store"
)

func newMove(s streams) *cobra.Command {
	var data, to string
	var ahead bool
	c := &cobra.Command{
		Use:   "move",
		Short: "Bring all that the data folder keeps to another store",
		Long: `Bring all that the data folder keeps to the store at an address: jobs, chats, what waits and what is to be sent,
which updates have had their turn, and the rest. Nobody may work on the folder meanwhile, nor go on with it
afterwards. Every log is compared byte for byte with what is there already, so a move that was broken off is simply made again.

To be away for a moment only, first bring over what there is while the program goes on: make a backup, put it into
a folder of its own as ` + store.FileName + `, and move that with --ahead. Then stop the program, move its
folder, and start the replicas.`,
		Example: "  linetender move --to etcd://10.0.0.1,10.0.0.2,10.0.0.3\n  linetender move --ahead --data ./copy --to etcd://10.0.0.1,10.0.0.2,10.0.0.3",
		Args:    noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			if to == "" {
				return wrongCall("%s: say where to with --to, such as --to etcd://10.0.0.1,10.0.0.2,10.0.0.3", c.CommandPath())
			}
			dir, err := dataFolder(c, data)
			if err != nil {
				return err
			}
			said, err := move(c, dir, to, ahead)
			if err != nil {
				return err
			}
			_, err = fmt.Fprintln(s.out, said)
			return err
		},
	}
	dataFlag(c, &data)
	c.Flags().StringVar(&to, "to", "", "the `ADDRESS` of the store to bring it to")
	c.Flags().BoolVar(&ahead, "ahead", false, "the logs only, from a copy, while the program still works on the folder")
	return c
}

func move(c *cobra.Command, dir, address string, ahead bool) (said string, err error) {
	from, err := store.Open(dir, store.Options{ReadOnly: true})
	switch {
	case errors.Is(err, store.ErrMissing):
		return "", wrongCall("%s: no job is kept in %s; name the folder with --data", c.CommandPath(), dir)
	case errors.Is(err, store.ErrLocked):
		return "", fmt.Errorf("a running process keeps %s: stop it first, or move a backup of it with --ahead", dir)
	case err != nil:
		return "", err
	}
	defer func() { err = errors.Join(err, from.Close()) }()
	to, err := openKeeper(c, address, dir, "")
	if err != nil {
		return "", err
	}
	defer func() { err = errors.Join(err, to.Close()) }()
	return to.takeOver(from, ahead)
}
