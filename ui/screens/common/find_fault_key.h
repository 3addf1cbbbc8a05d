// The key "Find the fault", wherever something does not fit: a reading, a silent loudspeaker, load nobody recorded.
#pragma once

#include <map>
#include <string>
#include <string_view>

#include "ui/screens/common/cached.h"
#include "ui/screens/common/places.h"

namespace tapwright::ui {

// The newest judged reading of ohms at a place; nothing where there is none.
std::optional<std::uint32_t> newest_ohms_at(const Session& session, const Id& at);

// The zone whose line a fault can be sought on from there; an empty id where there is none: not traced, an output, a
// fire or emergency line.
Id line_to_search(const Session& session, const Id& at);

// Belongs to a screen.
class FindFaultKey {
public:
    explicit FindFaultKey(Shared& shared) : shared_(shared) {}

    // The key where the newest reading at that place does not fit. Marks NAME. Returns: whether there is one.
    bool draw_at_reading(Context& context, std::string_view name, const Id& at);
    // The key where that loudspeaker was heard silent.
    void draw_at_silent(Context& context, std::string_view name, const Id& point);
    // The key where a reading of that zone shows load that nobody recorded.
    void draw_at_unrecorded(Context& context, std::string_view name, const Id& zone);
    // The key for a line: line_to_search(). Returns: whether there is one.
    bool draw(Context& context, std::string_view name, const Id& line);

private:
    bool fits(const Session& session, const Id& at);

    Shared& shared_;
    Seen<> seen_;
    std::map<std::string, bool> fits_;  // by place
};

}  // namespace tapwright::ui
