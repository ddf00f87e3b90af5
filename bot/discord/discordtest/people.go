package discordtest

import (
	"slices"
	"strconv"
	"time"
)

// Permission is one bit, or several, of the platform's permissions.
type Permission uint64

// Guild is a server in the platform's sense: a group's place.
type Guild struct {
	ID, Name string
	s        *Server
	members  map[string]Permission // by person's id
	nicks    map[string]string     // likewise; none for those who have none
	channels []*Channel
}

// Channel is a text channel of a guild, or one person's direct messages with the bot.
type Channel struct {
	ID, Name string
	Guild    *Guild     // nil for direct messages
	With     *Person    // whose direct messages; nil in a guild
	bot      Permission // what the bot may here
}

// Person is a user of the platform.
type Person struct {
	ID     string
	Name   string // the name that is shown
	Locale string // "" is "en-GB"
	handle string
	dm     *Channel
	shy    bool // takes no direct messages
}

type people struct {
	guilds   map[string]*Guild
	channels map[string]*Channel
	persons  map[string]*Person
	order    []*Guild
}

func (p *people) init() {
	p.guilds, p.channels, p.persons = map[string]*Guild{}, map[string]*Channel{}, map[string]*Person{}
}

// Guild makes a guild that the bot is in.
func (s *Server) Guild(name string) *Guild {
	g := &Guild{ID: s.ids.old(bornGuilds), Name: name, s: s, members: map[string]Permission{}, nicks: map[string]string{}}
	s.mu.Lock()
	s.people.guilds[g.ID] = g
	s.people.order = append(s.people.order, g)
	s.mu.Unlock()
	s.deliver(&happening{kind: "GUILD_CREATE", intent: intentGuilds, guild: g.ID, whole: s.guildCreate(g)})
	return g
}

// User makes a user who is in no guild yet.
func (s *Server) User(name string) *Person {
	p := &Person{ID: s.ids.old(bornPeople), Name: name}
	s.mu.Lock()
	defer s.mu.Unlock()
	p.handle = "knitter_" + strconv.Itoa(len(s.people.persons)+1)
	s.people.persons[p.ID] = p
	return p
}

// DM is a person's direct messages with the bot.
func (s *Server) DM(p *Person) *Channel {
	s.mu.Lock()
	defer s.mu.Unlock()
	if p.dm == nil {
		p.dm = &Channel{ID: s.ids.old(bornDMs), With: p, bot: InDMs}
		s.people.channels[p.dm.ID] = p.dm
	}
	return p.dm
}

// Channel makes a text channel in which the bot may do all that a bot usually may.
func (g *Guild) Channel(name string) *Channel {
	s := g.s
	ch := &Channel{ID: s.ids.old(bornChannels), Name: name, Guild: g, bot: Usual}
	s.mu.Lock()
	s.people.channels[ch.ID] = ch
	g.channels = append(g.channels, ch)
	s.mu.Unlock()
	d := marshal(wireChannel{ID: ch.ID, Type: 0, GuildID: g.ID, Name: name})
	s.deliver(&happening{kind: "CHANNEL_CREATE", intent: intentGuilds, guild: g.ID, whole: d})
	return ch
}

// Member makes a new user who is a member of the guild, with the permissions that
// everybody has and those given.
func (g *Guild) Member(name string, more ...Permission) *Person {
	p := g.s.User(name)
	g.Admit(p, more...)
	return p
}

// Admit makes a user who is known already a member of this guild too, or gives a
// member other permissions: those that everybody has and those given. An
// administrator has all.
func (g *Guild) Admit(p *Person, more ...Permission) {
	may := Everybody
	for _, m := range more {
		may |= m
	}
	if may&Administrator != 0 {
		may = All
	}
	g.s.mu.Lock()
	defer g.s.mu.Unlock()
	g.members[p.ID] = may
}

// Call gives a member a nickname in this guild, by which she is shown there; "" takes
// it away.
func (g *Guild) Call(p *Person, nick string) {
	g.s.mu.Lock()
	defer g.s.mu.Unlock()
	g.nicks[p.ID] = nick
}

// Shard is the shard of so many that the guild's events go to.
func (g *Guild) Shard(count int) int { return shardOf(g.ID, count) }

func (ch *Channel) guildID() string {
	if ch.Guild == nil {
		return ""
	}
	return ch.Guild.ID
}

// sees says whether the person can see the channel. s.mu is held.
func (ch *Channel) sees(p *Person) bool {
	if ch.Guild == nil {
		return ch.With == p
	}
	_, in := ch.Guild.members[p.ID]
	return in
}

// at fails where the person is not in the channel: the platform has no such event.
func (s *Server) at(ch *Channel, p *Person) {
	s.helper()
	s.mu.Lock()
	in := ch.sees(p)
	s.mu.Unlock()
	if !in {
		s.fail("%s (%s) is not in channel %q (%s): admit her to its guild first", p.Name, p.ID, ch.Name, ch.ID)
	}
}

// guildsOf are the guilds of a shard, of so many.
func (s *Server) guildsOf(shard, count int) []*Guild {
	s.mu.Lock()
	defer s.mu.Unlock()
	return slices.DeleteFunc(slices.Clone(s.people.order), func(g *Guild) bool { return g.Shard(count) != shard })
}

// guildCreate is the data of GUILD_CREATE.
func (s *Server) guildCreate(g *Guild) []byte {
	s.mu.Lock()
	defer s.mu.Unlock()
	channels := make([]wireChannel, 0, len(g.channels))
	for _, ch := range g.channels {
		channels = append(channels, wireChannel{ID: ch.ID, Name: ch.Name})
	}
	return marshal(map[string]any{
		"id": g.ID, "name": g.Name, "unavailable": false, "large": false, "preferred_locale": "en-US",
		"joined_at": time.UnixMilli(bornGuilds).UTC(), "member_count": len(g.members) + 1,
		"channels": channels, "members": []any{}, "threads": []any{}, "presences": []any{}, "voice_states": []any{},
		"roles":    []any{map[string]any{"id": g.ID, "name": "@everyone", "permissions": Everybody.String()}},
		"features": []any{}, "emojis": []any{}, "stickers": []any{}, "guild_scheduled_events": []any{},
	})
}

// RefuseDM refuses direct messages to the person with 50007, as where she takes none.
func (s *Server) RefuseDM(p *Person) { s.setShy(p, true) }

// AllowDM takes RefuseDM back.
func (s *Server) AllowDM(p *Person) { s.setShy(p, false) }

func (s *Server) setShy(p *Person, shy bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	p.shy = shy
}

// Forbid takes from the bot the right to write in the channel (50013).
func (s *Server) Forbid(ch *Channel) { s.grant(ch, Usual&^SendMessages) }

// Hide takes from the bot the right to see the channel (50001), with all others that
// hang on it.
func (s *Server) Hide(ch *Channel) { s.grant(ch, 0) }

// Allow takes Forbid and Hide back.
func (s *Server) Allow(ch *Channel) { s.grant(ch, Usual) }

// Grant sets what the bot may do in the channel.
func (s *Server) Grant(ch *Channel, may Permission) { s.grant(ch, may) }

func (s *Server) grant(ch *Channel, may Permission) {
	s.mu.Lock()
	defer s.mu.Unlock()
	ch.bot = may
}
