// Package apitest is a messaging channel on loopback for tests: it speaks the HTTP side of the
// Bot API, keeps what each chat shows, and is strict.
//
// Every call is checked against a table of the published API (methods, required and known fields,
// types, lengths) and against the rules that the API states beside its tables: text of at most
// 4,096 UTF-16 units once its entities are taken out, captions of 1,024, callback answers of 200,
// callback data of 1 to 64 bytes, at most 100 buttons, command syntax, picture sizes. A call
// that breaks one gets the error that the channel would give and is noted as a violation, which
// fails the test unless the test takes it with TakeViolations. What happens in ordinary life is
// answered as the channel answers it and is no violation: a message that is not modified, one that
// is gone, a chat that blocked the bot, a group that became a supergroup.
//
// Updates are kept until they are confirmed, by getUpdates with a higher offset or by a webhook's
// 2xx, and only then dropped. Redeliver repeats one all the same, as channels do.
//
//	srv := apitest.New(t)
//	ann := srv.User(11, "Ann").Private()
//	ann.Say("/start")
//	... the program answers ...
//	ann.Press(srv.Last(ann.Chat()).ID, "Yes")
//
// With InMemory no socket is opened, so that a test inside testing/synctest can let hours of
// rate limits and retry_after pass at once.
//
// Limits of the likeness: only HTML is parsed as a parse mode (MarkdownV2 is a violation), topics
// are passed through but not managed, inline mode, payments and channels do not exist.
package apitest
