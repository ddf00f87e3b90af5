package discordtest

import "strconv"

// The permissions that a test needs by name: Discord's developer documentation,
// "Permissions", bitwise permission flags. CreateEvents and PinMessages were looked
// up, the others are from memory.
const (
	KickMembers         Permission = 1 << 1
	Administrator       Permission = 1 << 3
	ManageChannels      Permission = 1 << 4
	ManageGuild         Permission = 1 << 5
	AddReactions        Permission = 1 << 6
	ViewChannel         Permission = 1 << 10
	SendMessages        Permission = 1 << 11
	ManageMessages      Permission = 1 << 13
	EmbedLinks          Permission = 1 << 14
	AttachFiles         Permission = 1 << 15
	ReadMessageHistory  Permission = 1 << 16
	MentionEveryone     Permission = 1 << 17
	UseExternalEmojis   Permission = 1 << 18
	ChangeNickname      Permission = 1 << 26
	UseCommands         Permission = 1 << 31
	ManageEvents        Permission = 1 << 33
	CreatePublicThreads Permission = 1 << 35
	SendInThreads       Permission = 1 << 38
	CreateEvents        Permission = 1 << 44
	SendVoiceMessages   Permission = 1 << 46
	PinMessages         Permission = 1 << 51
)

const (
	// Everybody is what a member may without any role.
	Everybody = ViewChannel | SendMessages | EmbedLinks | AttachFiles | ReadMessageHistory | AddReactions |
		UseExternalEmojis | ChangeNickname | UseCommands | SendInThreads | SendVoiceMessages

	// Usual is what a bot may in a channel where nothing was taken from it.
	Usual = ViewChannel | SendMessages | EmbedLinks | AttachFiles | ReadMessageHistory | UseCommands | SendInThreads |
		SendVoiceMessages

	// InDMs is what a bot may in direct messages.
	InDMs = Usual | AddReactions | UseExternalEmojis | MentionEveryone

	// All is every documented bit, 0 to 52 but 47 and 48 (from memory): what an administrator has.
	All Permission = 1<<53 - 1 - 1<<47 - 1<<48
)

// String is the decimal form in which the platform writes permissions.
func (p Permission) String() string { return strconv.FormatUint(uint64(p), 10) }
