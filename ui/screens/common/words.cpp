#include "ui/screens/common/words.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <limits>
#include <set>

#include "core/base/text.h"
#include "core/job/field_text.h"
#include "core/units/parse.h"
#include "core/units/show.h"
#include "core/words/words.h"

namespace tapwright::ui {
namespace {

char lower(char letter) {
    return static_cast<char>(std::tolower(static_cast<unsigned char>(letter)));
}

}  // namespace

std::string sentence_case(std::string text) {
    std::replace(text.begin(), text.end(), '_', ' ');
    if (!text.empty()) text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
    return text;
}

HeadroomWords headroom_words(const Margin& margin, Watts unrecorded) {
    const std::optional<Watts> headroom = margin.headroom_with(unrecorded);
    if (!headroom) return {"?", "limit not recorded", Tone::note};
    if (const std::optional<Watts> over = margin.over(unrecorded)) return {show(*over), "over the limit", Tone::stop};
    if (*headroom < Watts(0)) return {show(-*headroom), "into the reserve", Tone::warning};
    return {show(*headroom), "left", Tone::good};
}

std::string source_name(const Job& job, const Tightest& at) {
    if (at.kind == Kind::channel) return "channel " + name_of(job, job.all<Channel>()[at.place].id);
    if (at.kind == Kind::amplifier) return name_of(job, job.all<Amplifier>()[at.place].id);
    return name_of(job, job.all<Zone>()[at.place].id);
}

HeadroomWords headroom_words(const Job& job, const Derived& derived, std::uint32_t zone) {
    const Tightest at = tightest_on_the_way(derived, zone);
    HeadroomWords words = headroom_words(at.margin, at.unrecorded);
    if (at.kind == Kind::zone) return words;
    words.word += (words.tone == Tone::good ? " on " : " of ") + source_name(job, at);
    return words;
}

std::string load_words(const Margin& margin) {
    const std::string least = margin.basis == Basis::at_least ? "at least " : "";
    const std::string plan = margin.basis == Basis::planned ? ", partly planned" : "";
    if (!margin.limit) return least + show(margin.load) + plan;
    return least + show(margin.load) + " of " + show(*margin.limit) + plan;
}

Tone tone_of(Severity severity) {
    if (severity == Severity::stop) return Tone::stop;
    return severity == Severity::warn ? Tone::warning : Tone::note;
}

Shape shape_of(PointKind kind) {
    switch (kind) {
        case PointKind::speaker:
            return Shape::loudspeaker;
        case PointKind::attenuator:
            return Shape::attenuator;
        case PointKind::splice:
            return Shape::splice;
        case PointKind::other:
            break;
    }
    return Shape::other_point;
}

const char* kind_word(PointKind kind) {
    constexpr std::array words = {"Loudspeaker", "Attenuator", "Splice", "Other"};
    return words[static_cast<std::size_t>(kind)];
}

// Until its callers carry messages.
std::string kind_title(Kind kind, bool many) {
    return in_english(many ? titles_of(kind) : title_of(kind));
}

// Until its callers carry messages.
std::string field_title(const FieldInfo& field) {
    return in_english(title_of(field));
}

std::string choice_title(std::string_view word) {
    return sentence_case(std::string(word));
}

std::string visit_title(const Visit& visit) {
    const std::string purpose = visit.purpose ? choice_title(word(*visit.purpose)) : std::string("Visit");
    return visit.date ? purpose + ", " + visit.date->text : purpose;
}

namespace {

// "photo of C-104", for a record without a name of its own.
std::string nameless(const Job& job, Kind kind, const Id& id) {
    std::string noun(singular(kind));
    std::replace(noun.begin(), noun.end(), '_', ' ');
    for (const std::string_view key : {"about", "at"})
        if (const FieldInfo* field = find_field(kind, key))
            if (const Value about = job.get(kind, id, *field); about.text() && job.kind_of(Id(*about.text())))
                return noun + " of " + name_of(job, Id(*about.text()));
    return noun;
}

// Its name, or words that stand for one; empty where there are none.
std::string own_words(const Job& job, const Id& id) {
    constexpr std::size_t most_chars = 40;
    if (std::string name = name_of(job, id); name != id.text() || !job.kind_of(id)) return name;
    if (const Visit* visit = job.find<Visit>(id)) return visit_title(*visit);
    if (const Photo* photo = job.find<Photo>(id); photo && photo->caption) return cited(*photo->caption, most_chars);
    if (const Snag* snag = job.find<Snag>(id); snag && snag->text) return cited(*snag->text, most_chars);
    return {};
}

}  // namespace

std::string record_words(const Job& job, const Id& id) {
    std::string words = own_words(job, id);
    return words.empty() ? "the " + nameless(job, *job.kind_of(id), id) : words;
}

std::string record_title(const Job& job, const Id& id) {
    std::string words = own_words(job, id);
    return words.empty() ? sentence_case(nameless(job, *job.kind_of(id), id)) : words;
}

std::string share_words(const std::optional<Share>& share) {
    switch (share.value_or(Share::technician)) {
        case Share::owner:
            return "Owner may see it";
        case Share::technician:
            return "Technician may see it";
        case Share::private_:
            break;
    }
    return "Private";
}

std::string kept_words(const Job& job, const Id& id, const FieldInfo& field, const Value& value) {
    constexpr std::size_t most_chars = 60;
    if (field.name == "share") {
        for (const Share share : {Share::owner, Share::technician, Share::private_})
            if (value.text() && *value.text() == word(share)) return share_words(share);
        return share_words(std::nullopt);
    }
    const std::string what = field_title(field) + " of " + record_words(job, id);
    if (value.is_null()) return what + ": no longer recorded";
    return what + ", " + cited(text_of(field, value, length_units(job), &job), most_chars);
}

std::vector<const Room*> walking_order(const Job& job) {
    std::vector<const Room*> rooms;
    for (const Room& room : job.all<Room>()) rooms.push_back(&room);
    std::stable_sort(rooms.begin(), rooms.end(), [](const Room* first, const Room* second) {
        constexpr int last = std::numeric_limits<int>::max();
        return first->order.value_or(last) < second->order.value_or(last);
    });
    return rooms;
}

std::vector<const Point*> points_in(const Job& job, const Id& room) {
    std::vector<const Point*> points;
    for (const Point& point : job.all<Point>())
        if (point.room && *point.room == room) points.push_back(&point);
    return points;
}

bool is_speaker(const Point& point) {
    return point.kind == PointKind::speaker;
}

std::string next_label(const Job& job, std::string_view prefix) {
    const auto points = job.all<Point>();
    for (auto at = points.rbegin(); at != points.rend(); ++at) {
        if (!at->label || at->label->empty()) continue;
        const bool fits = prefix == "L-" ? is_speaker(*at) : at->label->starts_with(prefix);
        const char end = at->label->back();
        if (fits && end >= '0' && end <= '9') return label_after(job, *at->label);
    }
    return label_after(job, std::string(prefix) + "0");
}

std::string label_after(const Job& job, const std::string& label) {
    std::set<std::string> used;
    for (const Point& point : job.all<Point>())
        if (point.label) used.insert(*point.label);
    std::string next = label;
    do {
        // Counting up as on paper: a nine becomes a nought and carries.
        std::size_t at = next.size();
        while (at > 0 && next[at - 1] == '9') next[--at] = '0';
        if (at > 0 && next[at - 1] >= '0' && next[at - 1] < '9')
            next[at - 1] = static_cast<char>(next[at - 1] + 1);
        else
            next.insert(at, 1, '1');
    } while (used.contains(next));
    return next;
}

bool holds(std::string_view text, std::string_view part) {
    const auto same = [](char a, char b) { return lower(a) == lower(b); };
    return std::search(text.begin(), text.end(), part.begin(), part.end(), same) != text.end();
}

}  // namespace tapwright::ui
