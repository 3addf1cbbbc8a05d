#include "ui/screens/rooms/add_room.h"

#include <algorithm>

#include "core/words/words.h"

namespace tapwright::ui {
namespace {

// "Room 4" where three rooms are recorded, or the next number that no room has.
std::string next_name(const Words& words, const Job& job) {
    const auto rooms = job.all<Room>();
    for (std::size_t number = rooms.size() + 1;; ++number) {
        std::string name = words.text(Message("Room {number}", {{"number", number}}));
        if (std::none_of(rooms.begin(), rooms.end(), [&](const Room& room) { return room.name == name; })) return name;
    }
}

}  // namespace

void AddRoom::draw(Context& context, const std::function<void(Context&, const Id&)>& made) {
    const bool was_open = open_;
    Draft& typed = shared_.drafts["rooms.name"];
    Sheet sheet(context, "rooms.new", Message("New room"), open_);
    if (was_open && !open_ && !typed.text.empty()) context.requests.say(Tone::note, draft_words(typed));
    if (!sheet) return;
    text_field(context, "rooms.name", Message("Name of the room"), "", typed,
               {.hint = Message("such as Dining room"), .focus = just_opened_, .is_new = true});
    just_opened_ = false;
    const std::string name = typed.text.empty() ? next_name(context.words, context.session->job()) : typed.text;
    if (!button(context, "rooms.add", Message("Add {room}", {{"room", entered(name)}}),
                {.kind = ButtonKind::primary, .shape = Shape::plus}))
        return;
    open_ = false;
    shared_.ask(context, {adding(Kind::room, {{"name", name}})}, Message("{room} added", {{"room", entered(name)}}),
                [this, &context, made](const std::vector<Id>& ids) {
                    shared_.drop_drafts("rooms.name");
                    shared_.room = ids.front();
                    made(context, ids.front());
                });
}

}  // namespace tapwright::ui
