package telegram

import (
	"context"
	"fmt"
	"log/slog"
	"net/http"
	"strconv"
	"strings"
	"sync/atomic"
	"time"

	tg "github.com/go-telegram/bot"
	"github.com/go-telegram/bot/models"

	"linetender/flow"
	"linetender/flow/wording"
)

// publicServer is the channel's own Bot API server.
const publicServer = "https://api.telegram.org"

// Config is what a Channel needs.
type Config struct {
	Token    string
	Server   string       // address of a self-hosted Bot API server; empty for the channel's own
	HTTP     *http.Client // nil for one of its own
	Commands []Command    // the menu
	Inbox    Inbox
	Outbox   Outbox
	Log      *slog.Logger // nil for none
	Limits   *Limits      // nil for those that the channel asks for

	// Render, when not nil, makes what a message is to show, from the log. It is called at each try.
	Render func(context.Context, flow.Show) (flow.Shown, error)

	// Behind, when not nil, shows what is queued behind a parcel of a chat and is not urgent, at most
	// limit of it and until visit returns false. What a later message makes pointless is then left out.
	Behind func(chat string, parcel uint64, limit int, visit func(body []byte) bool) error

	// Photos is the folder in which the pictures that people send are kept; empty for none.
	Photos string

	// Words are what the channel says by itself; nil for English.
	Words *wording.Book

	// Alarm, when not nil, gives what must be said at once to an arrival that can't be kept; empty for nothing.
	Alarm func(flow.Arrival) string

	// Reach, when not nil, gives the chats that such an arrival concerns, its own among them.
	Reach func(flow.Arrival) []string
}

// Command is one entry of the channel's menu: a name of a-z, 0-9 and _, and what it does.
type Command struct {
	Name string
	Does string
}

// Inbox keeps what has arrived.
//
// Accept keeps the arrivals of a source and its cursor, durably, before it returns, and drops those it has
// seen before; cursor 0 leaves the cursor as it is. Cursor returns the source's cursor and when it was set.
type Inbox interface {
	Accept(source string, cursor int64, arrivals []flow.Arrival) error
	Cursor(source string) (cursor int64, at time.Time, err error)
}

// Channel is the program's account on the channel.
type Channel struct {
	token    string
	server   string
	client   client
	api      *tg.Bot
	inbox    Inbox
	commands []Command
	log      *slog.Logger
	me       account
	presses  *presses
	cries    *cries
	homes    *homes
	sender   *Sender
	render   func(context.Context, flow.Show) (flow.Shown, error)
	behind   func(chat string, parcel uint64, limit int, visit func(body []byte) bool) error
	words    *wording.Book
	album    album
	now      func() time.Time
	read     atomic.Pointer[map[string]update] // what was just polled, by key: while it is made known, nobody need read it again
}

// New makes a Channel; nothing is called yet. The errors are meant for the operator and do not
// hold the token.
func New(c Config) (*Channel, error) {
	if err := checkToken(c.Token); err != nil {
		return nil, err
	}
	server := c.Server
	if server == "" {
		server = publicServer
	}
	server, err := checkServer(server)
	if err != nil {
		return nil, err
	}
	ch := &Channel{
		token: c.Token, server: server, client: newClient(c.HTTP), inbox: c.Inbox,
		commands: c.Commands, log: c.Log, render: c.Render, behind: c.Behind, words: c.Words, now: time.Now,
		album: album{dir: c.Photos},
	}
	if ch.words == nil {
		ch.words = wording.English()
	}
	if ch.log == nil {
		ch.log = slog.New(slog.DiscardHandler)
	}
	// The library's error handler may be given addresses and bodies: what matters reaches us as an
	// error of the call.
	ch.api, err = tg.New(c.Token, tg.WithSkipGetMe(), tg.WithServerURL(server),
		tg.WithHTTPClient(callTime, ch.client), tg.WithErrorsHandler(func(error) {}))
	if err != nil {
		return nil, fmt.Errorf("the bot library does not take the settings")
	}
	id, _, _ := strings.Cut(c.Token, ":")
	ch.me.id, err = strconv.ParseInt(id, 10, 64)
	if err != nil {
		return nil, fmt.Errorf("the token must begin with the bot's number")
	}
	ch.presses = &presses{answer: ch.answerPress}
	ch.cries = &cries{words: c.Alarm, reach: c.Reach}
	ch.homes = newHomes(c.Inbox, ch.source)
	limits := c.Limits
	if limits == nil {
		limits = &Limits{All: Rate{time.Second / 25, 5}, Chat: Rate{time.Second, 3}, Group: Rate{time.Minute / 12, 8}}
	}
	ch.sender = newSender(ch, c.Outbox, *limits)
	return ch, nil
}

// Start asks the channel who the program is there, and registers the menu. It tries until it
// succeeds, ctx ends, or the channel refuses the token ([ErrToken]).
func (c *Channel) Start(ctx context.Context) error {
	if err := c.album.tidy(); err != nil {
		c.log.Warn("what is left of pictures can't be removed", "err", err)
	}
	var me *models.User
	err := c.persist(ctx, "getMe", func(ctx context.Context) (err error) {
		me, err = c.api.GetMe(ctx)
		return err
	})
	if err != nil {
		return err
	}
	c.me = account{id: me.ID, name: me.Username, sees: me.CanReadAllGroupMessages}
	c.log.Info("connected to the channel", "bot", c.me.name, "group_privacy", !c.me.sees)
	if len(c.commands) == 0 {
		return nil
	}
	menu := &tg.SetMyCommandsParams{}
	for _, cmd := range c.commands {
		menu.Commands = append(menu.Commands, models.BotCommand{Command: cmd.Name, Description: cmd.Does})
	}
	return c.persist(ctx, "setMyCommands", func(ctx context.Context) error {
		_, err := c.api.SetMyCommands(ctx, menu)
		return err
	})
}

// Name is the program's user name on the channel, known after Start.
func (c *Channel) Name() string { return c.me.name }

// Decode is flow.Desk.Decode for the arrivals of this channel. Start must have succeeded.
func (c *Channel) Decode(a flow.Arrival) (flow.Input, bool, error) {
	u, known := c.justRead(a.Key)
	if !known {
		var err error
		if u, err = readUpdate(a.Body); err != nil {
			return flow.Input{}, false, err
		}
	}
	in, ok := c.me.input(u, a.At)
	if ok {
		in.Chat = a.Chat // the name under which the chat was first met
	}
	return in, ok, nil
}

// tell makes known what has come, as it was read.
func (c *Channel) tell(arrived func([]flow.Arrival), list []flow.Arrival, read map[string]update) {
	if len(list) == 0 || arrived == nil {
		return
	}
	c.read.Store(&read)
	defer c.read.CompareAndSwap(&read, nil)
	arrived(list)
}

func (c *Channel) justRead(key string) (u update, ok bool) {
	if read := c.read.Load(); read != nil {
		u, ok = (*read)[key]
	}
	return u, ok
}

// source names this account in the inbox.
func (c *Channel) source() string { return scheme + strconv.FormatInt(c.me.id, 10) }

// arrival writes an update down for the inbox; false if it belongs to no chat.
func (c *Channel) arrival(u update, raw []byte) (a flow.Arrival, ok bool, err error) {
	if err := c.homes.meet(u); err != nil {
		return flow.Arrival{}, false, err
	}
	id, thread, ok := u.chat()
	if !ok {
		return flow.Arrival{}, false, nil
	}
	if id, err = c.homes.first(id); err != nil {
		return flow.Arrival{}, false, err
	}
	return flow.Arrival{
		Key:  c.source() + "/" + strconv.FormatInt(u.ID, 10),
		Chat: ChatKey(id, thread), At: c.now().UTC(), Body: raw,
	}, true, nil
}

// persist calls until it succeeds; of the channel's refusals it accepts none, but gives up on
// those that will not change.
func (c *Channel) persist(ctx context.Context, what string, call func(context.Context) error) error {
	wait := newBackoff()
	for {
		one, cancel := context.WithTimeout(ctx, callTime)
		t := judge(call(one))
		cancel()
		switch {
		case t == nil:
			return nil
		case t.kind == badToken, t.kind == refused && what == "getMe": // a malformed token is not found
			return ErrToken
		case t.kind == refused, t.kind == gone:
			return fmt.Errorf("%s: %w", what, t)
		}
		pause := max(t.after, wait.NextBackOff())
		c.log.Warn("the channel does not answer as it should; trying again", "method", what, "why", t.why, "wait", pause)
		if !rest(ctx, pause) {
			return ctx.Err()
		}
	}
}
