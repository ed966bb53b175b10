package telegram

import (
	"strconv"
	"strings"

	"linetender/flow"
)

// dataVersion starts the data of every button, so that a later release can tell its buttons
// from those that are on phones already.
const dataVersion = "1"

// longestData is what the channel carries in a button, in bytes.
const longestData = 64

// buttonData writes down what a button stands for. False means that it is more than a button holds,
// or that session has a colon.
func buttonData(p flow.Press) (data string, ok bool) {
	data = dataVersion + ":" + p.Session + ":" + strconv.FormatUint(p.Revision, 10) + ":" + p.Choice
	return data, len(data) <= longestData && !strings.Contains(p.Session, ":") && p.Choice != ""
}

// readButtonData is the inverse of buttonData. Data that this release did not write gives the zero Press,
// which no question has open: to the conversation it is an old button.
func readButtonData(data string) flow.Press {
	f := strings.SplitN(data, ":", 4)
	if len(data) > longestData || len(f) != 4 || f[0] != dataVersion || f[3] == "" {
		return flow.Press{}
	}
	revision, err := strconv.ParseUint(f[2], 10, 64)
	if err != nil || f[2] != strconv.FormatUint(revision, 10) {
		return flow.Press{}
	}
	return flow.Press{Session: f[1], Revision: revision, Choice: f[3]}
}
