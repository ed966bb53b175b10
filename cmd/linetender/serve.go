package main

import (
	"errors"
	"io"
	"io/fs"
	"log/slog"
	"net"
	"net/url"
	"os"
	"strings"
	"time"

	"github.com/spf13/cobra"
)

const (
	tokenEnv   = "LINETENDER_TOKEN"
	chatScheme = "telegram/"
	hookSecret = "telegram/webhook" // its name in the store
	drainTime  = 10 * time.Second   // for answers still to be sent at a stop
	hookTime   = 30 * time.Second   // for one posted update, in and out
)

type serveOptions struct {
	data, store, tokenFile, apiURL, webhook, listen, metrics, logAs string
	anyone, photos                                                  bool
	keep                                                            int // days; 0 is for ever
}

func newServe(s streams) *cobra.Command {
	var o serveOptions
	c := &cobra.Command{
		Use:   "serve",
		Short: "Hold the conversation on Telegram",
		Long: `Hold the conversation on Telegram until SIGTERM or Ctrl-C; what is being answered then is answered first.

The bot's token comes from ` + tokenEnv + ` or from the file that --token-file names. Only invited chats are let in:
the owner sends the code that is printed at the start, others a code that the owner hands out.

The program asks the channel for messages. With --webhook the channel posts them to that address instead, and
--listen says where the program takes them from whatever speaks TLS in front of it.`,
		Example: `  linetender serve --token-file token
  linetender serve --token-file token --anyone
  linetender serve --token-file token --webhook https://bot.example.org/hook --listen 127.0.0.1:8443
  linetender serve --token-file token --api-url http://127.0.0.1:8081`,
		Args: noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			if err := fromEnvironment(c); err != nil {
				return err
			}
			return serve(c, o, s)
		},
	}
	dataFlag(c, &o.data)
	f := c.Flags()
	f.StringVar(&o.store, "store", "", "keep the jobs at `ADDRESS`, such as etcd://10.0.0.1,10.0.0.2, with other replicas (default: in the data folder)")
	f.StringVar(&o.tokenFile, "token-file", "", "read the bot's token from `FILE` (default: "+tokenEnv+")")
	f.StringVar(&o.webhook, "webhook", "", "have the channel post to this https `URL`, with --listen")
	f.StringVar(&o.listen, "listen", "", "take what is posted at `ADDR`, such as 127.0.0.1:8443, with --webhook")
	f.StringVar(&o.apiURL, "api-url", "", "use the Bot API server at this `URL` instead of the channel's own")
	f.BoolVar(&o.anyone, "anyone", false, "let any chat start a job")
	f.StringVar(&o.metrics, "metrics", "", "answer /metrics and /health at `ADDR`, such as 127.0.0.1:9177 (default: nowhere)")
	f.StringVar(&o.logAs, "log", "text", "write the log as `FORM`: text or json")
	f.BoolVar(&o.photos, "keep-photos", false, "keep a copy of every picture that is sent, in the data folder")
	f.IntVar(&o.keep, "keep", 0, "remove what nobody has touched for so many `DAYS`: jobs, a chat's words, what was given up on (0: never)")
	return c
}

// check refuses options that cannot be meant.
func (o serveOptions) check(c *cobra.Command) error {
	if (o.webhook == "") != (o.listen == "") {
		return wrongCall("%s: --webhook and --listen belong together; give both, such as --webhook https://bot.example.org/hook --listen 127.0.0.1:8443", c.CommandPath())
	}
	if o.webhook != "" {
		if u, err := url.Parse(o.webhook); err != nil || u.Scheme != "https" || u.Host == "" {
			return wrongCall("%s: --webhook %q is no https address; write one such as https://bot.example.org/hook", c.CommandPath(), o.webhook)
		}
		if _, _, err := net.SplitHostPort(o.listen); err != nil {
			return wrongCall("%s: --listen %q is no address with a port; write one such as 127.0.0.1:8443", c.CommandPath(), o.listen)
		}
	}
	if o.keep < 0 {
		return wrongCall("%s: --keep %d is no number of days; write one such as 90, or 0 for ever", c.CommandPath(), o.keep)
	}
	if _, _, err := net.SplitHostPort(o.metrics); o.metrics != "" && err != nil {
		return wrongCall("%s: --metrics %q is no address with a port; write one such as 127.0.0.1:9177", c.CommandPath(), o.metrics)
	}
	if o.logAs != "" && o.logAs != "text" && o.logAs != "json" {
		return wrongCall("%s: --log %q is no form of a log; write text or json", c.CommandPath(), o.logAs)
	}
	if u, err := url.Parse(o.apiURL); o.apiURL != "" && (err != nil || u.Scheme != "http" && u.Scheme != "https" || u.Host == "") {
		return wrongCall("%s: --api-url %q is no http address; write one such as http://127.0.0.1:8081", c.CommandPath(), o.apiURL)
	}
	return nil
}

// token reads the bot's token. No message of it shows any part of one.
func (o serveOptions) token(c *cobra.Command) (string, error) {
	if o.tokenFile == "" {
		token := strings.TrimSpace(os.Getenv(tokenEnv))
		if token == "" {
			return "", wrongCall("%s: there is no token; put the one from @BotFather into a file and name it with --token-file, or into %s", c.CommandPath(), tokenEnv)
		}
		return token, nil
	}
	text, err := os.ReadFile(o.tokenFile)
	if err != nil {
		cause := err
		var path *fs.PathError
		if errors.As(err, &path) {
			cause = path.Err
		}
		return "", wrongCall("%s: the token file %s cannot be read (%v); name the file that holds the token from @BotFather", c.CommandPath(), o.tokenFile, cause)
	}
	token := strings.TrimSpace(string(text))
	if token == "" {
		return "", wrongCall("%s: the token file %s is empty; put the token from @BotFather into it", c.CommandPath(), o.tokenFile)
	}
	return token, nil
}

func (o serveOptions) logger(w io.Writer) *slog.Logger {
	if o.logAs == "json" {
		return slog.New(slog.NewJSONHandler(w, nil))
	}
	return slog.New(slog.NewTextHandler(w, nil))
}
