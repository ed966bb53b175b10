// Linetender is the chat partner that a small crew texts when a heavy vehicle
// has to come out of a ditch or off a slope by rope, blocks, anchors and
// whatever puller is there.
//
// The program holds the conversation in a terminal (no command) or on a
// messaging channel (serve), reckons one case or many from files (plan),
// answers quick sums (sum) and prints what was said and decided (log). This
// package is flags and wiring: it decides nothing about a pull.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	// A second signal ends the program at once, whatever it still waits for.
	context.AfterFunc(ctx, stop)
	code := run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}
