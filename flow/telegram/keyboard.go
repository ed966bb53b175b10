package telegram

import (
	"github.com/go-telegram/bot/models"

	"linetender/flow"
)

const (
	mostButtons = 100
	rowWidth    = 26 // units of labels that a narrow phone shows in one row without cutting
	rowButtons  = 3
)

// keyboard lays the choices out: short ones side by side, long ones on rows of their own. left is how many
// could not be offered as buttons; they can be typed.
func keyboard(m flow.Message) (markup *models.InlineKeyboardMarkup, left int) {
	var rows [][]models.InlineKeyboardButton
	width, count := 0, 0
	for _, c := range m.Choices {
		data, ok := buttonData(flow.Press{Session: m.Session, Revision: m.Revision, Choice: c.Choice})
		label := plain(c.Label)
		if !ok || label == "" || count == mostButtons {
			left++
			continue
		}
		count++
		b := models.InlineKeyboardButton{Text: label, CallbackData: data}
		n := units(label) + 2
		if last := len(rows) - 1; last >= 0 && width+n <= rowWidth && len(rows[last]) < rowButtons {
			rows[last] = append(rows[last], b)
			width += n
			continue
		}
		rows = append(rows, []models.InlineKeyboardButton{b})
		width = n
	}
	if len(rows) == 0 {
		return nil, left
	}
	return &models.InlineKeyboardMarkup{InlineKeyboard: rows}, left
}
