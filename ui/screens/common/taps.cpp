#include "ui/screens/common/taps.h"

#include <algorithm>
#include <cmath>

#include "core/findings/findings.h"
#include "core/units/parse.h"
#include "core/words/findings_text.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {
namespace {

// Offered where no type says which taps there are: common practice, no single source.
constexpr double common_taps[] = {0.5, 1, 2, 2.5, 3, 5, 6, 10, 15, 20, 30};

bool is_limit(const Finding& finding) {
    const FindingCode code = code_of(finding);
    return code == FindingCode::zone_over_limit || code == FindingCode::channel_over_limit ||
           code == FindingCode::amplifier_over_limit || code == FindingCode::drawn_above_max ||
           code == FindingCode::attenuator_over_rating;
}

// The same tap, though one was noted in fewer digits: 0.63 W and 0.625 W.
bool same_tap(Watts one, Watts other) {
    return std::abs(one.value() - other.value()) < 0.0051;
}

bool is_figure(std::string_view text, Watts tap) {
    const Result<double> watts = parse_number(text, Unit::watt);
    return watts && same_tap(Watts(*watts), tap);
}

}  // namespace

void TapChoice::look(Context& context, const std::vector<Id>& points, const Id& type, const Map& new_fields) {
    session_ = context.session;
    if (!seen_.still(*session_, points, type, new_fields)) {
        points_ = points;
        new_fields_ = new_fields;
        begin(*session_, type);
    }
    const auto next =
        std::find_if(options_.begin(), options_.end(), [](const Option& each) { return !each.worked_out; });
    if (next == options_.end()) return;
    if (frame_ != context.frame) work_out(*next);
    frame_ = context.frame;
    context.requests.another_frame();
}

void TapChoice::begin(const Session& session, const Id& type) {
    options_.clear();
    std::vector<Watts> taps;
    const SpeakerType* speaker = session.job().find<SpeakerType>(type);
    if (speaker && speaker->taps_w)
        taps = *speaker->taps_w;
    else
        for (const double watts : common_taps) taps.emplace_back(watts);
    std::sort(taps.begin(), taps.end());
    for (const Watts tap : taps) {
        Option& option = options_.emplace_back();
        option.watts = tap;
        option.label = tap;
        option.detail = code("…");
    }
    if (!speaker || !speaker->tap_marks) return;
    for (Option& each : options_)
        for (const auto& [watts, words] : *speaker->tap_marks)
            if (is_figure(watts, each.watts) && !is_figure(words, each.watts))
                each.label = Message("{tap}, {mark}", {{"tap", each.watts}, {"mark", entered(words)}});
}

const Message& TapChoice::warning(int index) {
    Option& option = options_[static_cast<std::size_t>(index)];
    if (!option.worked_out) work_out(option);
    return option.warning;
}

void TapChoice::work_out(Option& made) const {
    made.worked_out = true;
    made.detail = {};
    ChangeList changes;
    for (const Id& point : points_) changes.push_back(setting(Kind::point, point, {{"tap_w", made.watts.value()}}));
    if (points_.empty()) {
        Map fields = new_fields_;
        fields.emplace_back("tap_w", made.watts.value());
        changes.push_back(adding(Kind::point, fields));
    }
    const Result<Proposal> proposal =
        session_->propose(Command{.changes = changes, .fill_in = true, .place = {}}, shared_.author(), shared_.stamp());
    if (proposal) return work_out_zone(made, *proposal);
    made.warning = proposal.refusal().message;
    made.tone = Tone::note;
    made.detail = Message("not on this type");
}

void TapChoice::work_out_zone(Option& made, const Proposal& proposal) const {
    const auto place = proposal.job.place<Point>(proposal.ids.front());
    const std::uint32_t zone = place ? proposal.derived.points[*place].zone : nowhere;
    if (zone != nowhere) {
        const HeadroomWords words = headroom_words(proposal.job, proposal.derived, zone);
        const bool over = words.tone == Tone::stop, into = words.tone == Tone::warning;
        // Short, so that two fit side by side on a phone.
        const std::vector<Named> figure = {{"watts", words.figure}};
        made.detail = over   ? Message(Pattern("{watts} over"), figure)
                      : into ? Message(Pattern("{watts} into reserve"), figure)
                             : Message(Pattern("{watts} headroom"), figure);
        if (!tightest_on_the_way(proposal.derived, zone).margin.headroom) made.detail = {};
        made.tone = over ? Tone::stop : into ? Tone::warning : Tone::plain;
    }
    const auto& known = session_->derived().findings;
    for (const Finding& finding : proposal.derived.findings) {
        if (!is_limit(finding)) continue;
        const auto same = [&](const Finding& other) { return other.code == finding.code && other.at == finding.at; };
        const bool is_new = std::none_of(known.begin(), known.end(), same);
        const bool about_zone = zone != nowhere && finding.at == proposal.job.all<Zone>()[zone].id;
        if (!is_new && !about_zone && std::find(points_.begin(), points_.end(), finding.at) == points_.end()) continue;
        made.tone = Tone::stop;
        made.warning = sentences({std::move(made.warning), statement_of(proposal.job, proposal.derived, finding).text});
    }
    if (made.tone == Tone::stop && made.detail.empty()) made.detail = Message("over a limit");
}

int TapChoice::draw(Context& context, std::string_view name, const std::optional<Watts>& chosen) const {
    std::vector<Choice> choices;
    int at = -1;
    for (const Option& each : options_) {
        if (chosen && same_tap(*chosen, each.watts)) at = static_cast<int>(choices.size());
        choices.push_back({each.label, each.detail, each.tone, !context.read_only});
    }
    return choice_row(context, name, choices, at);
}

}  // namespace tapwright::ui
