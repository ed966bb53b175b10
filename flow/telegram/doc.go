// Package telegram carries the conversation over the Telegram Bot API.
//
// Rules of this package:
//
//   - An update is durable in the inbox before the channel is told that it was received, by the
//     next poll's offset or by the webhook's 200. The bot library does it the other way round and
//     keeps no order, so it serves as a typed client only; the intake is here.
//   - What is to be said comes from the outbox, in order for each chat. Sending is at least
//     once: a process that dies between the channel's answer and the mark says that one thing
//     again. Edits that are repeated are harmless; "message is not modified" is success.
//   - Urgent parcels go ahead of all others, past the limits that this package keeps and past a send of
//     the same chat that hangs. What one has overtaken in its own chat is headed by that; a process that
//     has just begun does not know what was said before it, and heads nothing.
//   - A button carries its session, revision and choice; what is no longer open changes nothing.
//     Every press is answered, so that no phone is left waiting.
//   - Text goes out plain, without a parse mode: nothing that a person typed can become markup.
//   - The token is in the address of every call. No error and no log line of this package holds
//     an address, a body or words of a person; what the bot library reports is reworded first.
//
// Source of the channel's rules: the published Bot API 10.1 and its FAQ (limits of 30 messages a
// second over all, one a second in a chat, 20 a minute in a group).
package telegram
