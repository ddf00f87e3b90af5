package discord

import (
	"strings"
	"time"

	"github.com/bwmarrin/discordgo"

	"clew/bot/discord/rest"
	"clew/session"
)

// A request is one thing that somebody asked, however it was asked.
type request struct {
	member    session.Member
	user      string            // the user's id
	nick      string            // as she is shown to others; "" where that did not come
	server    string            // in the store's terms; empty in private
	channel   string            // where it was asked; never empty
	event     string            // the interaction's or the message's id
	came      time.Time         // when the gateway gave it
	answering *rest.Interaction // nil for a message
	manages   bool              // the platform says that the member may manage events in the server
	first     *first            // the first answer; nil for a message
}

// private says that only the member reads the channel.
func (r *request) private() bool { return r.server == "" }

// lateMost is the age up to which an interaction may be delivered again. An id
// that says it is older was made by another clock than the platform's.
const lateMost = time.Hour

// late says that so much of the time for a first answer is over that there may be
// none left. How old an interaction is when it comes, as after a cut, its id
// tells, by the platform's clock against this machine's: where they differ, a
// deferral is sent that was not needed, and nothing else.
func (r *request) late() bool {
	happened, err := discordgo.SnowflakeTimestamp(r.event)
	age := time.Since(happened)
	return err == nil && age > deferAfter && age < lateMost || time.Since(r.came) > deferAfter
}

// heldIn is the channel in the store's terms; in private there is none that
// anything is held in.
func (r *request) heldIn() string {
	if r.private() {
		return ""
	}
	return r.channel
}

// platformName is the platform's in the store, and platform what begins the names of
// its members and servers there.
const (
	platformName = "discord"
	platform     = platformName + ":"
)

func memberOf(user string) session.Member { return session.Member(platform + user) }

func serverOf(guild string) string {
	if guild == "" {
		return ""
	}
	return platform + guild
}

// managing are the permissions of those who may hold events: the platform
// counts an administrator as having all, and says so by that one alone where a
// permission is newer than the role.
const managing = discordgo.PermissionAdministrator | discordgo.PermissionManageEvents

// askedBy reads who asked by an interaction, and where. It says false for one
// that names nobody.
func askedBy(i *discordgo.Interaction, came time.Time) (*request, bool) {
	user := i.User
	r := &request{
		server: serverOf(i.GuildID), channel: i.ChannelID, event: i.ID, came: came,
		answering: &rest.Interaction{ID: i.ID, Token: i.Token, App: i.AppID},
	}
	if i.Member != nil {
		user, r.manages = i.Member.User, i.Member.Permissions&managing != 0
	}
	if user == nil || user.ID == "" || user.Bot {
		return nil, false
	}
	r.user, r.member, r.nick = user.ID, memberOf(user.ID), nickOf(i.Member, user)
	return r, true
}

// nickOf is how somebody is shown to others: by what she is called in the server,
// else by the name that she chose for herself, else by that of her account.
func nickOf(in *discordgo.Member, user *discordgo.User) string {
	if in != nil && in.Nick != "" {
		return in.Nick
	}
	return user.DisplayName()
}

// saidBy reads who wrote a message, and the words for the bot: the whole text
// in private, and what stands beside the bot's name where it was mentioned. It
// says false for a message that is nothing to the bot.
func saidBy(m *discordgo.Message, me string, came time.Time) (*request, string, bool) {
	switch {
	case m.Author == nil || m.Author.ID == "" || m.Author.Bot || m.Author.ID == me || m.WebhookID != "":
		return nil, "", false
	case m.Type != discordgo.MessageTypeDefault && m.Type != discordgo.MessageTypeReply:
		return nil, "", false
	}
	r := &request{member: memberOf(m.Author.ID), user: m.Author.ID, nick: nickOf(m.Member, m.Author), server: serverOf(m.GuildID), channel: m.ChannelID, event: m.ID, came: came}
	if !r.private() && !mentioned(m, me) {
		return nil, "", false
	}
	words := strings.NewReplacer("<@"+me+">", " ", "<@!"+me+">", " ").Replace(m.Content)
	return r, strings.TrimSpace(words), true
}

// mentioned says that a message names the bot, or answers it with a ping.
func mentioned(m *discordgo.Message, me string) bool {
	for _, user := range m.Mentions {
		if user != nil && user.ID == me {
			return true
		}
	}
	return false
}
