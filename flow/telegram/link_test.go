package telegram

import (
	"strings"
	"testing"

	"linetender/flow/telegram/apitest"
)

func TestALinkBringsItsCodeBack(t *testing.T) {
	polling(t, func(t *testing.T, g *ground, _ func() error) {
		const code = "acorn-alder-amber-apron-07"
		link := g.ch.Link(code)
		if want := "https://t.me/" + apitest.BotName + "?start=" + code; link != want {
			t.Fatalf("link %q, want %q", link, want)
		}
		// What the channel sends when the link is opened; in a group it names the bot.
		ann := g.srv.User(4, "Ann")
		for _, sent := range []apitest.Sent{
			ann.Private().Say("/start " + code),
			ann.Private().Say("/start@" + apitest.BotName + " " + code),
			g.srv.Group(-7, "Ditch", ann).Seat(ann).Say("/start@" + apitest.BotName + " " + code),
		} {
			if in, ok := decoded(t, g, sent.Update); !ok || in.Text != "/start "+code || !in.Direct {
				t.Errorf("%v %+v", ok, in)
			}
		}
		for _, bad := range []string{"", "two words", "ümlaut", strings.Repeat("a", 65)} {
			if got := g.ch.Link(bad); got != "" {
				t.Errorf("code %q gives %q", bad, got)
			}
		}
	})
	if got := setUp(t).ch.Link("larch-42"); got != "" {
		t.Errorf("before the name is known a link is %q", got)
	}
}
