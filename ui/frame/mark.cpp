#include "ui/frame/mark.h"

#include <algorithm>
#include <cmath>

#include "core/job/json.h"

namespace tapwright::ui {

Area intersection(const Area& area, const Area& clip) {
    const float left = std::max(area.x, clip.x), top = std::max(area.y, clip.y);
    const float right = std::min(area.x + area.width, clip.x + clip.width);
    const float bottom = std::min(area.y + area.height, clip.y + clip.height);
    if (right <= left || bottom <= top) return {left, top, 0, 0};
    return {left, top, right - left, bottom - top};
}

void Marks::begin_frame() {
    marks_.clear();
    texts_.clear();
}

void Marks::add(Mark mark) {
    marks_.push_back(std::move(mark));
}

void Marks::add(TextPiece piece) {
    texts_.push_back(std::move(piece));
}

const Mark* Marks::find(std::string_view name) const {
    const auto found =
        std::find_if(marks_.rbegin(), marks_.rend(), [&](const Mark& mark) { return mark.name == name; });
    return found == marks_.rend() ? nullptr : &*found;
}

std::string Marks::json() const {
    List list;
    const auto whole = [](float pixels) { return Value(static_cast<double>(std::lround(pixels))); };
    for (const Mark& mark : marks_) {
        const Area& area = mark.area;
        list.push_back(Map{{"name", Value(mark.name)},
                           {"rect", List{whole(area.x), whole(area.y), whole(area.width), whole(area.height)}},
                           {"visible", Value(mark.visible())},
                           {"enabled", Value(mark.enabled)},
                           {"text", Value(mark.text)}});
    }
    return pretty_json(Value(std::move(list)));
}

}  // namespace tapwright::ui
