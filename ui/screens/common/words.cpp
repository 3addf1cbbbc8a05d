#include "ui/screens/common/words.h"
#include "core/words/margin_text.h"
#include "core/words/place_name.h"

#include <limits>
#include <set>

#include "core/base/fold.h"
#include "core/base/sort.h"
#include "core/base/text.h"
#include "core/job/field_text.h"
#include "core/units/parse.h"
#include "core/units/show.h"
#include "core/words/place_name.h"

namespace tapwright::ui {
namespace {

// What is said of a limit alone, and the same where the limit is not the zone's own.
struct Headline {
    Message of_zone, of_source;
    Tone tone = Tone::plain;
    Message figure;
};

Headline headline(const Margin& margin, const Message& source) {
    const std::vector<Named> where = {{"source", source}};
    if (!margin.headroom)
        return {Message("limit not recorded"), Message(Pattern("limit of {source} not recorded"), where), Tone::note,
                code("?")};
    if (const std::optional<Watts> over = margin.over())
        return {Message("over the limit"), Message(Pattern("over the limit of {source}"), where), Tone::stop,
                rounded_up(*over)};
    if (*margin.headroom < Watts(0))
        return {Message("into the reserve"), Message(Pattern("into the reserve of {source}"), where), Tone::warning,
                rounded_up(-*margin.headroom)};
    // A tap that nobody recorded may take some of it: no green sign for a bound.
    if (margin.is_open_ended)
        return {Message("headroom"), Message(Pattern("headroom on {source}"), where), Tone::note, headroom_of(margin)};
    return {Message("headroom"), Message(Pattern("headroom on {source}"), where), Tone::good,
            rounded_down(*margin.headroom)};
}

}  // namespace

HeadroomWords headroom_words(const Margin& margin) {
    Headline line = headline(margin, Message());
    return {std::move(line.figure), std::move(line.of_zone), line.tone};
}

Message source_name(const Job& job, const Tightest& at) {
    if (at.kind == Kind::channel)
        return Message("output {output}", {{"output", entered(name_of(job, job.all<Channel>()[at.place].id))}});
    if (at.kind == Kind::amplifier) return entered(name_of(job, job.all<Amplifier>()[at.place].id));
    return entered(name_of(job, job.all<Zone>()[at.place].id));
}

HeadroomWords headroom_words(const Job& job, const Derived& derived, std::uint32_t zone) {
    const Tightest at = tightest_on_the_way(derived, zone);
    Headline line = headline(at.margin, source_name(job, at));
    return {std::move(line.figure), std::move(at.kind == Kind::zone ? line.of_zone : line.of_source), line.tone};
}

Message load_words(const Margin& margin) {
    if (!margin.limit) {
        if (margin.basis == Basis::at_least) return Message("at least {load}", {{"load", margin.load}});
        if (margin.basis == Basis::planned) return Message("{load}, partly planned", {{"load", margin.load}});
        return margin.load;
    }
    const std::vector<Named> figures = {{"load", margin.load}, {"limit", *margin.limit}};
    if (margin.basis == Basis::at_least) return Message(Pattern("at least {load} of {limit}"), figures);
    if (margin.basis == Basis::planned) return Message(Pattern("{load} of {limit}, partly planned"), figures);
    return Message(Pattern("{load} of {limit}"), figures);
}

Message amplifier_words(const Job& job, const Tightest& source) {
    const Message load = load_words(source.margin);
    if (source.kind == Kind::channel)
        return Message("Output {output}: {load}",
                       {{"output", entered(name_of(job, job.all<Channel>()[source.place].id))}, {"load", load}});
    return Message("{source}: {load}", {{"source", source_name(job, source)}, {"load", load}});
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

Message kind_word(PointKind kind) {
    switch (kind) {
        case PointKind::speaker:
            return Message("Loudspeaker");
        case PointKind::attenuator:
            return Message("Attenuator");
        case PointKind::splice:
            return Message("Joint (splice)");
        case PointKind::other:
            break;
    }
    return Message("Other part");
}

Message record_words(const Job& job, const Id& id) {
    return record_title(job, id);
}

Message share_words(const std::optional<Share>& share) {
    switch (share.value_or(Share::technician)) {
        case Share::owner:
            return Message("Owner may see it");
        case Share::technician:
            return Message("Technician may see it");
        case Share::private_:
            break;
    }
    return Message("Private");
}

Message kept_words(const Job& job, const Id& id, const FieldInfo& field, const Value& value) {
    constexpr std::size_t most_chars = 60;
    if (field.name == "share") {
        for (const Share share : {Share::owner, Share::technician, Share::private_})
            if (value.text() && *value.text() == word(share)) return share_words(share);
        return share_words(std::nullopt);
    }
    const Message record = record_words(job, id);
    if (value.is_null())
        return Message("{field} of {record} cleared", {{"field", title_of(field)}, {"record", record}});
    const bool is_note = field.form == FieldForm::text && value.text();
    const Message shown = is_note ? Message(entered(cited(*value.text(), most_chars))) : message_of(field, value, &job);
    return chosen_words(job, id, field, shown);
}

Message chosen_words(const Job& job, const Id& id, const FieldInfo& field, const Message& shown) {
    return Message("{field} of {record}: {value}",
                   {{"field", title_of(field)}, {"record", record_words(job, id)}, {"value", shown}});
}

std::vector<const Room*> walking_order(const Job& job) {
    std::vector<const Room*> rooms;
    for (const Room& room : job.all<Room>()) rooms.push_back(&room);
    sort_by(rooms, [](const Room* first, const Room* second) {
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
    return folds_into(text, part);
}

}  // namespace tapwright::ui
