#include "ui/frame/mark.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "core/base/sort.h"
#include "core/job/json.h"

namespace tapwright::ui {
namespace {

constexpr std::array<std::string_view, 14> role_words = {"none",         "text",   "heading",  "status", "alert",
                                                         "image",        "button", "row",      "place",  "text field",
                                                         "number field", "switch", "checkbox", "radio"};

bool lies_in(const Area& inner, const Area& outer) {
    const float x = inner.x + inner.width / 2, y = inner.y + inner.height / 2;
    return x >= outer.x && x <= outer.x + outer.width && y >= outer.y && y <= outer.y + outer.height;
}

// Marks of one window that say what is written inside them.
class Sayers {
public:
    explicit Sayers(const std::vector<Mark>& marks) {
        for (const Mark& mark : marks)
            if (mark.role != Role::none) says_.push_back(&mark);
        sort_by(says_, is_before);
    }
    // Whether one of them lies around `area`.
    bool say(const Area& area, unsigned window) const {
        return any_around(area, window, [](const Mark&) { return true; });
    }
    // The same of touchable ones other than `self`.
    bool touchable_around(const Mark& self) const {
        return any_around(self.area, self.window, [&](const Mark& each) { return each.touchable && &each != &self; });
    }

private:
    static bool is_before(const Mark* a, const Mark* b) { return a->window < b->window; }
    template <class Counts>
    bool any_around(const Area& area, unsigned window, const Counts& counts) const {
        Mark key;
        key.window = window;
        const auto [first, end] = std::equal_range(says_.begin(), says_.end(), &key, is_before);
        return std::any_of(first, end, [&](const Mark* each) { return counts(*each) && lies_in(area, each->area); });
    }
    std::vector<const Mark*> says_;
};

bool is_words(const Mark& mark) {
    return mark.role == Role::text || mark.role == Role::heading;
}

Mark mark_of(const TextPiece& piece, std::size_t number, PartKind kind) {
    Mark mark{
        "text." + std::to_string(number), piece.area, intersection(piece.area, piece.clip), true, false, piece.full};
    mark.role = piece.is_heading ? Role::heading : Role::text;
    if (piece.is_heading) mark.level = kind == PartKind::list || kind == PartKind::beside ? 3 : 2;
    mark.part = piece.part;
    mark.window = piece.window;
    return mark;
}

}  // namespace

std::string_view word(Role role) {
    return role_words[static_cast<std::size_t>(role)];
}

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
    parts_.resize(1);
    groups_.resize(1);
    abouts_.resize(1);
    where_ = {};
    top_dialog_ = 0;
}

void Marks::add(Mark mark) {
    mark.part = where_.part;
    mark.group = where_.group;
    mark.about = where_.about;
    marks_.push_back(std::move(mark));
}

void Marks::add(TextPiece piece) {
    piece.part = where_.part;
    piece.is_said = where_.is_said;
    piece.marks_before = marks_.size();
    texts_.push_back(std::move(piece));
}

std::uint16_t Marks::new_part(PartKind kind, std::string_view name) {
    parts_.push_back({kind, std::string(name)});
    const auto part = static_cast<std::uint16_t>(parts_.size() - 1);
    if (kind == PartKind::dialog) top_dialog_ = part;
    return part;
}

std::uint16_t Marks::new_group(std::string_view name) {
    groups_.emplace_back(name);
    return static_cast<std::uint16_t>(groups_.size() - 1);
}

std::uint16_t Marks::new_about(std::string words) {
    abouts_.push_back(std::move(words));
    return static_cast<std::uint16_t>(abouts_.size() - 1);
}

const Mark* Marks::find(std::string_view name) const {
    const auto found =
        std::find_if(marks_.rbegin(), marks_.rend(), [&](const Mark& mark) { return mark.name == name; });
    return found == marks_.rend() ? nullptr : &*found;
}

std::vector<Mark> Marks::reading() const {
    const Sayers sayers(marks_);
    std::vector<Mark> all;
    all.reserve(marks_.size() + texts_.size());
    std::vector<std::string> headings(parts_.size()), hints(groups_.size());
    std::size_t text = 0, said = 0;
    const auto add_texts = [&](std::size_t before) {
        for (; text < texts_.size() && texts_[text].marks_before <= before; ++text) {
            const TextPiece& piece = texts_[text];
            if (piece.is_said || sayers.say(piece.area, piece.window)) continue;
            all.push_back(mark_of(piece, ++said, parts_[piece.part].kind));
            if (piece.is_heading) headings[piece.part] = piece.full;
        }
    };
    for (std::size_t i = 0; i < marks_.size(); ++i) {
        add_texts(i);
        Mark mark = marks_[i];
        // What a group of choices is about stands right before it, else it is what the heading says.
        const bool begins = mark.group != 0 && hints[mark.group].empty();
        const bool is_near = begins && !all.empty() && is_words(all.back()) && all.back().part == mark.part;
        if (begins) hints[mark.group] = is_near ? all.back().text : headings[mark.part];
        if (mark.group != 0 && mark.hint.empty()) mark.hint = hints[mark.group];
        if (!mark.touchable && mark.role == Role::text && sayers.touchable_around(marks_[i])) mark.role = Role::none;
        if (mark.touchable && mark.about != 0) mark.label = abouts_[mark.about] + ": " + mark.said();
        all.push_back(std::move(mark));
    }
    add_texts(marks_.size());
    sort_by(all, [&](const Mark& a, const Mark& b) { return parts_[a.part].kind < parts_[b.part].kind; });
    return all;
}

std::string Marks::json() const {
    List list;
    const auto whole = [](float pixels) { return Value(static_cast<double>(std::lround(pixels))); };
    for (const Mark& mark : reading()) {
        const Area& area = mark.area;
        Map map{{"name", Value(mark.name)},
                {"rect", List{whole(area.x), whole(area.y), whole(area.width), whole(area.height)}},
                {"visible", Value(mark.visible())},
                {"enabled", Value(mark.enabled)},
                {"text", Value(mark.text)},
                {"role", Value(std::string(word(mark.role)))},
                {"touchable", Value(mark.touchable)}};
        const auto say = [&](const char* key, const std::string& words) {
            if (!words.empty()) map.emplace_back(key, Value(words));
        };
        const auto tell = [&](const char* key, bool is_so) {
            if (is_so) map.emplace_back(key, Value(true));
        };
        say("label", mark.label);
        const bool is_field = mark.role == Role::text_field || mark.role == Role::number_field;
        if (is_field) map.emplace_back("value", Value(mark.value));
        say("hint", mark.hint);
        say("problem", mark.problem);
        if (mark.level > 0) map.emplace_back("level", Value(static_cast<double>(mark.level)));
        tell("on", mark.is_on);
        if (mark.opens) map.emplace_back("open", Value(mark.is_open));
        tell("focused", is_focused(mark));
        tell("behind", is_behind(mark));
        tell("by_place", mark.by_place);
        tell("long", mark.is_long);
        say("part", part_name(mark));
        tell("dialog", part_kind(mark) == PartKind::dialog);
        say("group", group_name(mark));
        list.push_back(std::move(map));
    }
    return pretty_json(Value(std::move(list)));
}

}  // namespace tapwright::ui
