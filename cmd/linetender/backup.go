package main

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"linetender/store"
)

const backupQuestion = "/backup"

func newBackup(s streams) *cobra.Command {
	var data string
	c := &cobra.Command{
		Use:   "backup FILE",
		Short: "Write a copy of all that is kept, also while serving",
		Long: `Write a copy of all that the data folder keeps, as it is at one moment, to a new FILE. A process that serves
meanwhile goes on; it writes the copy itself. The copy is checked through before it gets its name, and never
takes the place of another file.

To go back to it, stop the program and put the file in the data folder as ` + store.FileName + `.`,
		Example: "  linetender backup monday.db\n  linetender backup /mnt/away/monday.db --data ./sessions",
		Args:    exactly(1, "name the one file to write the copy to, such as monday.db"),
		RunE: func(c *cobra.Command, args []string) error {
			dir, err := dataFolder(c, data)
			if err != nil {
				return err
			}
			path, err := filepath.Abs(args[0])
			if err != nil {
				return err
			}
			if err := backUp(c.Context(), dir, path); err != nil {
				return err
			}
			_, err = fmt.Fprintln(s.out, oneLine(path))
			return err
		},
	}
	dataFlag(c, &data)
	return c
}

// newLogBackup is the same by the word by which a log is looked for.
func newLogBackup(s streams) *cobra.Command {
	c := newBackup(s)
	c.Example = strings.ReplaceAll(c.Example, "linetender backup", "linetender log backup")
	return c
}

// backUp copies the store in dir to path, or has the process do it that holds
// the store.
func backUp(ctx context.Context, dir, path string) error {
	st, err := store.Open(dir, store.Options{ReadOnly: true})
	switch {
	case errors.Is(err, store.ErrMissing):
		return wrongCall("linetender backup: nothing is kept in %s yet; name the folder with --data", dir)
	case errors.Is(err, store.ErrLocked):
		return askHolder(ctx, dir, backupQuestion+"?"+url.Values{"file": {path}}.Encode(), err)
	case err != nil:
		return err
	}
	return inTheCall(errors.Join(st.Backup(path), st.Close()))
}

// askHolder puts a question to the process that holds the store, where only
// yes or no counts.
func askHolder(ctx context.Context, dir, question string, locked error) error {
	var told strings.Builder
	err := askHatch(ctx, dir, question, &told)
	var refusal *hatchRefusal
	switch {
	case errors.Is(err, errNobody):
		return locked
	case errors.As(err, &refusal) && refusal.status == http.StatusConflict:
		return &callError{refusal.said}
	}
	return err
}

// inTheCall makes it a fault of the call that a file is there already.
func inTheCall(err error) error {
	if errors.Is(err, store.ErrExists) {
		return &callError{err.Error()}
	}
	return err
}

// backupRoute lets another call of the program, by the same user, have the
// store copied.
func backupRoute(mux *http.ServeMux, st Store) {
	mux.HandleFunc(backupQuestion, func(w http.ResponseWriter, r *http.Request) {
		file, ok := st.(*store.Store)
		if !ok {
			http.Error(w, "the jobs are kept at "+st.Path()+"; have that backed up by its own means, such as etcdctl snapshot save", http.StatusConflict)
			return
		}
		path := r.FormValue("file")
		if !filepath.IsAbs(path) {
			http.Error(w, "the file to write to must be named from the root", http.StatusBadRequest)
			return
		}
		err := file.Backup(path)
		switch {
		case errors.Is(err, store.ErrExists):
			http.Error(w, err.Error(), http.StatusConflict)
		case err != nil:
			http.Error(w, err.Error(), http.StatusInternalServerError)
		}
	})
}

const checkQuestion = "/check"

// checkRoute lets doctor have a store checked through that is held. A check
// holds writers up, and a stop may be on its way: a copy is checked instead.
func checkRoute(mux *http.ServeMux, st Store) {
	mux.HandleFunc(checkQuestion, func(w http.ResponseWriter, _ *http.Request) {
		if err := checkCopy(st); err != nil {
			http.Error(w, err.Error(), http.StatusInternalServerError)
		}
	})
}

func checkCopy(st Store) error {
	file, ok := st.(*store.Store)
	if !ok {
		return st.Check()
	}
	dir, err := os.MkdirTemp(filepath.Dir(file.Path()), ".doctor-*")
	if err != nil {
		return err
	}
	return errors.Join(file.Backup(filepath.Join(dir, store.FileName)), os.RemoveAll(dir))
}
