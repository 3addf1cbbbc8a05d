#include "ui/screens/readings/fault_parts.h"

#include <algorithm>

#include "core/words/faults_text.h"
#include "ui/screens/common/cautions.h"
#include "ui/screens/common/places.h"
#include "ui/screens/common/words.h"
#include "ui/widgets/widgets.h"

namespace tapwright::ui {
namespace {

constexpr std::size_t most_suspects = 12;

bool is_of_run(FaultKind kind) {
    return kind == FaultKind::broken || kind == FaultKind::joint || kind == FaultKind::leak;
}

}  // namespace

std::vector<Suspect> suspects_of(const Job& job, const Diagnosis& diagnosis, std::size_t shown) {
    std::vector<Suspect> suspects;
    std::vector<std::pair<std::uint32_t, double>> chances;  // one a suspect: its point
    for (std::size_t i = 0; i < shown; ++i)
        for (const Fault& fault : diagnosis.causes()[i].faults) {
            if (fault.points.empty()) continue;
            const std::uint32_t point = fault.points.front();
            const auto known =
                std::find_if(chances.begin(), chances.end(), [&](const auto& one) { return one.first == point; });
            if (known != chances.end()) {
                known->second += diagnosis.causes()[i].chance;
                Suspect& suspect = suspects[static_cast<std::size_t>(known - chances.begin())];
                suspect.is_run = suspect.is_run || is_of_run(fault.kind);
                continue;
            }
            if (chances.size() == most_suspects) continue;
            chances.emplace_back(point, diagnosis.causes()[i].chance);
            suspects.push_back({job.all<Point>()[point].id, is_of_run(fault.kind), Message(), Message()});
        }
    for (std::size_t i = 0; i < suspects.size(); ++i) {
        suspects[i].figure = chance_in_words(std::min(chances[i].second, 1.0));
        suspects[i].word = Message("suspect, {chance}", {{"chance", suspects[i].figure}});
    }
    return suspects;
}

bool found_tap(Context& context, Shared& shared, std::string_view name, const Id& id) {
    const Job& job = context.session->job();
    const Point& point = *job.find<Point>(id);
    const Argument label = entered(name_of(job, id));
    caution_box(context, shared, "fault.opening", CautionMoment::opening, id);
    section_title(context, Message(label));
    const SpeakerType* type = job.find<SpeakerType>(point.type);
    std::vector<Watts> taps = type && type->taps_w ? *type->taps_w : std::vector<Watts>();
    std::sort(taps.begin(), taps.end());
    std::vector<Choice> choices;
    choices.reserve(taps.size() + 1);
    for (const Watts tap : taps)
        choices.push_back(
            {tap, point.tap_w == tap ? Message("as recorded") : Message(), Tone::plain, !context.read_only});
    choices.push_back({Message("Bypass"), Message(), Tone::plain, !context.read_only, "bypass"});
    const int tapped = choice_row(context, name, choices, -1);
    if (tapped < 0) return false;
    if (static_cast<std::size_t>(tapped) == taps.size()) {
        shared.ask(context, {setting(Kind::point, id, {{"wired", "low_z"}})},
                   Message("{point} found on its bypass setting", {{"point", label}}));
        return true;
    }
    const Watts tap = taps[static_cast<std::size_t>(tapped)];
    shared.ask(context,
               {adding(Kind::reading, {{"at", id.text()}, {"quantity", "tap_w"}, {"value", tap.value()}}),
                setting(Kind::point, id, {{"tap_w", tap.value()}})},
               Message("{point} found on {tap}", {{"point", label}, {"tap", tap}}));
    return true;
}

void set_heard(Context& context, Shared& shared, const Id& point, Heard heard) {
    shared.ask(
        context, {setting(Kind::point, point, {{"heard", std::string(word(heard))}})},
        Message("{point}: {heard}", {{"point", entered(name_of(context.session->job(), point))}, {"heard", heard}}));
}

namespace {

void set_all_playing(Context& context, Shared& shared, const Measurement& walk) {
    const Job& job = context.session->job();
    ChangeList changes;
    for (const std::uint32_t point : walk.heard)
        changes.push_back(setting(Kind::point, job.all<Point>()[point].id, {{"heard", std::string(word(Heard::ok))}}));
    const auto count = static_cast<std::int64_t>(changes.size());
    shared.ask(context, std::move(changes),
               plural("{count} loudspeaker heard playing", "{count} loudspeakers heard playing", count));
}

// Where one of several is silent, the walk test notes which.
void walk_keys(Context& context, Shared& shared, const Measurement& walk) {
    const float width = share_of_foot(context, 2);
    const auto count = static_cast<std::int64_t>(walk.heard.size());
    if (button(context, "fault.all_play", plural("{count} plays", "All {count} play", count),
               {.width = width, .shape = Shape::loudspeaker, .most_lines = 2, .changes = true}))
        set_all_playing(context, shared, walk);
    beside(context);
    if (button(context, "fault.some_silent", Message("Some are silent"),
               {.width = width, .shape = Shape::cross, .most_lines = 2}))
        context.requests.open(walk_test_screen(shared, context.session->job().all<Point>()[walk.heard.front()].room));
}

}  // namespace

void heard_keys(Context& context, Shared& shared, const Measurement& next) {
    if (!next.heard.empty()) return walk_keys(context, shared, next);
    const Argument place = entered(name_of(context.session->job(), next.at));
    const float width = share_of_foot(context, 2);
    if (button(context, "fault.plays", Message("{point} plays", {{"point", place}}),
               {.width = width, .shape = Shape::loudspeaker, .most_lines = 2, .changes = true}))
        set_heard(context, shared, next.at, Heard::ok);
    beside(context);
    if (button(context, "fault.silent", Message("{point} silent", {{"point", place}}),
               {.width = width, .shape = Shape::cross, .most_lines = 2, .changes = true}))
        set_heard(context, shared, next.at, Heard::silent);
}

}  // namespace tapwright::ui
