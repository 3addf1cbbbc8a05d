#include "ui/screens/rooms/duplicate.h"

#include <algorithm>
#include <array>
#include <map>

#include "ui/screens/common/words.h"

namespace tapwright::ui {
namespace {

constexpr std::array room_fields = {"floor",   "use",    "length_m", "width_m",   "height_m",  "ear_height_m",
                                    "ceiling", "plenum", "access",   "noise_dba", "wanted_dba"};
constexpr std::array point_fields = {"kind", "x_m", "y_m", "cable", "type", "planned_tap_w", "tap_w", "wired"};
// Of a run inside the room. One that comes from elsewhere is another run for the copy, from another place.
constexpr std::array run_fields = {"feed_side", "length_m"};

// The text in front of the number it ends in.
std::string_view stem_of(std::string_view text) {
    while (!text.empty() && text.back() >= '0' && text.back() <= '9') text.remove_suffix(1);
    return text;
}

Map copied(const Job& job, Kind kind, const Id& id, const auto& names) {
    Map fields;
    for (const char* name : names)
        if (Value value = job.get(kind, id, *find_field(kind, name)); !value.is_null())
            fields.emplace_back(name, std::move(value));
    return fields;
}

}  // namespace

std::string name_after(const Job& job, const std::string& name) {
    constexpr std::size_t most_digits = 6;
    std::string stem(stem_of(name));
    const std::string digits = name.substr(stem.size());
    long number = digits.empty() || digits.size() > most_digits ? 1 : std::stol(digits);
    if (digits.empty() || digits.size() > most_digits) stem = name + " ";
    const auto rooms = job.all<Room>();
    for (;;) {
        std::string next = stem + std::to_string(++number);
        if (std::none_of(rooms.begin(), rooms.end(), [&](const Room& room) { return room.name == next; })) return next;
    }
}

ChangeList duplicate_of(const Job& job, const Id& room, IdMaker& ids) {
    tapwright::Change copy = adding(Kind::room, copied(job, Kind::room, room, room_fields));
    copy.id = ids.make(Kind::room);
    copy.fields.emplace_back("name", name_after(job, name_of(job, room)));
    const Id made = copy.id;
    ChangeList changes = {std::move(copy)};
    const std::vector<const Point*> points = points_in(job, room);
    std::map<Id, Id> twins;
    for (const Point* point : points) twins.emplace(point->id, ids.make(Kind::point));
    std::map<std::string, std::string, std::less<>> last;  // label of each stem
    for (const Point* point : points) {
        tapwright::Change twin = adding(Kind::point, copied(job, Kind::point, point->id, point_fields));
        twin.id = twins.at(point->id);
        twin.fields.emplace_back("room", made.text());
        if (point->label) {
            std::string& label = last[std::string(stem_of(*point->label))];
            label = label_after(job, label.empty() ? *point->label : label);
            twin.fields.emplace_back("label", label);
        }
        if (const auto feed = point->fed_from ? twins.find(*point->fed_from) : twins.end(); feed != twins.end()) {
            for (auto& field : copied(job, Kind::point, point->id, run_fields)) twin.fields.push_back(std::move(field));
            twin.fields.emplace_back("fed_from", feed->second.text());
        }
        changes.push_back(std::move(twin));
    }
    return changes;
}

}  // namespace tapwright::ui
