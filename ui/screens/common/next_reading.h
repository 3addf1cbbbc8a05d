// The key to the reading that halves where a fault can be: "Measure at L-4".
#pragma once

#include <map>
#include <string_view>

#include "core/readings/next_place.h"
#include "ui/screens/common/cached.h"
#include "ui/screens/common/places.h"

namespace tapwright::ui {

// The newest judged reading of ohms at a place; nothing where there is none.
std::optional<std::uint32_t> newest_ohms_at(const Session& session, const Id& at);

// Belongs to a screen.
class NextReading {
public:
    // Where the newest reading at that place asks for another one somewhere else: the key, which opens that reading.
    // Marks NAME.
    void draw(Context& context, std::string_view name, const Id& at, ReadingEntry& entry);

private:
    std::optional<Id> next_at(const Session& session, const Id& at);

    Seen<> seen_;
    std::map<std::string, std::optional<Id>> known_;  // by place
};

}  // namespace tapwright::ui
