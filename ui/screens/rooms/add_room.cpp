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
    Sheet sheet(context, "rooms.new", Message("New room"), open_);
    if (!sheet) return;
    const FieldEvent event = text_field(context, "rooms.name", Message("Name of the room"), "", name_,
                                        {.hint = Message("such as Dining room"), .focus = just_opened_});
    just_opened_ = false;
    const std::string name = name_.text.empty() ? next_name(context.words, context.session->job()) : name_.text;
    const bool tapped = button(context, "rooms.add", Message("Add {room}", {{"room", entered(name)}}),
                               {.kind = ButtonKind::primary, .shape = Shape::plus});
    if (!tapped && !(event == FieldEvent::commit && !name_.text.empty())) return;
    open_ = false;
    name_ = {};
    context.requests.after_frame([this] { name_ = {}; });
    shared_.ask(context, {adding(Kind::room, {{"name", name}})}, Message("{room} added", {{"room", entered(name)}}),
                [this, &context, made](const std::vector<Id>& ids) {
                    shared_.room = ids.front();
                    made(context, ids.front());
                });
}

}  // namespace tapwright::ui
