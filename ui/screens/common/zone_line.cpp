#include "ui/screens/common/zone_line.h"

#include <algorithm>
#include <map>
#include <string_view>

#include "core/findings/findings.h"
#include "core/readings/assessment.h"
#include "core/readings/newest.h"
#include "core/words/expected_text.h"
#include "core/words/readings_text.h"
#include "ui/frame/text.h"
#include "ui/screens/common/places.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {
namespace {

LinePoint::Kind drawn_kind(const Point& point) {
    switch (point.kind.value_or(PointKind::other)) {
        case PointKind::speaker:
            return LinePoint::Kind::loudspeaker;
        case PointKind::attenuator:
            return LinePoint::Kind::attenuator;
        case PointKind::splice:
            return LinePoint::Kind::splice;
        case PointKind::other:
            break;
    }
    return LinePoint::Kind::other;
}

// "5 W", "5 W planned", "−6 dB": what somebody set at that point; what it is where nothing is set there.
Message setting_of(const Point& point) {
    const PointKind kind = point.kind.value_or(PointKind::other);
    if (kind == PointKind::speaker) {
        if (point.tap_w) return *point.tap_w;
        return point.planned_tap_w ? Message("{tap} planned", {{"tap", *point.planned_tap_w}}) : Message("no tap");
    }
    if (kind != PointKind::attenuator) return kind_word(kind);
    if (!point.knob_db) return Message("position unknown");
    if (point.knob_db->off) return in_context("position", "Off");
    return point.knob_db->step == Decibels(0) ? in_context("position", "Full (0 dB)") : Message(point.knob_db->step);
}

// The newest impedance somewhere. Both are empty where none was read.
struct ReadHere {
    Message whole;   // "83.3 Ω, 85 Ω expected", "over 20 kΩ, at least 85 Ω expected", or "83.3 Ω read"
    Message figure;  // "83.3 Ω read"
};

ReadHere reading_words(const Session& session, const Id& at) {
    const Job& job = session.job();
    const auto newest = newest_reading(job, at, [&job](std::uint32_t i) { return is_judged(job.all<Reading>()[i]); });
    if (!newest) return {};
    const Reading& reading = job.all<Reading>()[*newest];
    const Judgement& judgement = session.derived().readings[*newest];
    const Message read = reading_figure(reading);
    const Message figure = Message("{read} read", {{"read", read}});
    if (!judgement.expected) return {figure, figure};
    return {Message("{read}, {expected} expected",
                    {{"read", read},
                     {"expected", bounded(*judgement.expected, missing_for(job, session.derived(), *newest))}}),
            figure};
}

}  // namespace

void ZoneLineView::look(const Session& session, const Id& zone) {
    if (seen_.still(session, zone)) return;
    if (zone_ != zone) view_.start_next = true;
    zone_ = zone;
    collect(session, *session.job().place<Zone>(zone));
    mark_findings(session.derived());
    chart_levels(session);
}

void ZoneLineView::collect(const Session& session, std::uint32_t zone) {
    const Job& job = session.job();
    const Derived& derived = session.derived();
    data_.source = data_.source_short = entered(name_of(job, zone_));
    if (derived.zones[zone].channel)
        data_.source = Message("{output}, {zone}",
                               {{"output", entered(name_of(job, job.all<Channel>()[*derived.zones[zone].channel].id))},
                                {"zone", entered(name_of(job, zone_))}});
    data_.source_detail = reading_words(session, zone_).whole;
    data_.points.clear();
    data_.revision += 1;
    untraced_.clear();
    std::vector<int> places(job.all<Point>().size(), -1);
    for (std::size_t i = 0; i < places.size(); ++i) {
        if (derived.points[i].zone == zone) {
            places[i] = static_cast<int>(data_.points.size());
            add(session, i);
        } else if (!derived.points[i].traced) {
            untraced_.push_back(job.all<Point>()[i].id);
        }
    }
    for (std::size_t i = 0; i < places.size(); ++i) {
        if (places[i] < 0) continue;
        const std::uint32_t feed = derived.points[i].feed;
        data_.points[static_cast<std::size_t>(places[i])].feed = feed == nowhere ? -1 : places[feed];
    }
}

void ZoneLineView::add(const Session& session, std::size_t place) {
    const Job& job = session.job();
    const Point& point = job.all<Point>()[place];
    const PointOnLine& state = session.derived().points[place];
    LinePoint drawn;
    drawn.id = point.id.text();
    drawn.kind = drawn_kind(point);
    drawn.label = entered(name_of(job, point.id));
    drawn.setting = setting_of(point);
    const ReadHere read = reading_words(session, point.id);
    drawn.reading = read.whole;
    drawn.reading_short = read.figure;
    if (point.room) drawn.detail = entered(name_of(job, point.room));
    if (state.level) drawn.level = known_along(state, *state.level);
    drawn.dashed = is_speaker(point) && !point.tap_w;
    drawn.watts = state.carried.value();
    data_.points.push_back(std::move(drawn));
}

void ZoneLineView::suspect(const std::vector<Suspect>& suspects) {
    for (LinePoint& point : data_.points) {
        const auto found = std::find_if(suspects.begin(), suspects.end(),
                                        [&](const Suspect& one) { return one.at.text() == point.id; });
        point.suspect = found == suspects.end() ? Message() : found->word;
        point.suspect_figure = found == suspects.end() ? Message() : found->figure;
        point.is_run_suspect = found != suspects.end() && found->is_run;
    }
    const Id likeliest = suspects.empty() ? Id() : suspects.front().at;
    if (likeliest == likeliest_) return;
    likeliest_ = likeliest;
    for (std::size_t i = 0; i < data_.points.size(); ++i)
        if (data_.points[i].id == likeliest.text()) view_.show_next = static_cast<int>(i);
}

// The most serious finding of each point gives it its sign; the list begins with the most serious.
void ZoneLineView::mark_findings(const Derived& derived) {
    std::map<std::string_view, Tone> tones;
    for (const Finding& finding : derived.findings)
        if (finding.severity != Severity::note) tones.emplace(finding.at.text(), tone_of(finding.severity));
    for (LinePoint& point : data_.points)
        if (const auto found = tones.find(point.id); found != tones.end()) point.tone = found->second;
}

void ZoneLineView::chart_levels(const Session& session) {
    const Job& job = session.job();
    levels_ = {};
    levels_.title = Message("Level along the line, attenuators full");
    levels_.y_unit = Unit::decibel;
    levels_.joined = false;
    levels_.has_band = true;
    levels_.band_low = -job.info().loss_limit_db.value_or(Defaults::loss_limit_db).value();
    levels_.band_word = Message("loss limit");
    levels_.limit_is_low = true;
    charted_.clear();
    std::map<std::string_view, Tone> lost;
    for (const Finding& finding : session.derived().findings)
        if (code_of(finding) == FindingCode::cable_loss_over_limit)
            lost.emplace(finding.at.text(), tone_of(finding.severity));
    std::vector<int> feeds;
    for (const LinePoint& point : data_.points) feeds.push_back(point.feed);
    for (const int index : lay_out_line(feeds).by_row) {
        const Id id(data_.points[static_cast<std::size_t>(index)].id);
        const PointOnLine& state = session.derived().points[*job.place<Point>(id)];
        if (!state.cable || state.is_past_unknown_run) continue;
        const auto warned = lost.find(id.text());
        const Tone tone = warned == lost.end() ? Tone::good : warned->second;
        levels_.points.push_back(
            {static_cast<double>(charted_.size()), state.cable->value(), tone,
             Message("{point}: {level}", {{"point", entered(name_of(job, id))}, {"level", *state.cable}})});
        charted_.push_back(id);
    }
    if (charted_.empty()) return;
    levels_.x_first = entered(name_of(job, charted_.front()));
    levels_.x_last = entered(name_of(job, charted_.back()));
}

std::optional<Id> ZoneLineView::draw(Context& context, std::string_view name, const Id& selected, float height) {
    data_.selected = -1;
    for (std::size_t i = 0; i < data_.points.size(); ++i)
        if (data_.points[i].id == selected.text()) data_.selected = static_cast<int>(i);
    const LineTouch touch = line_drawing(context, name, data_, view_, height);
    if (touch.source_tapped) return Id();
    if (touch.tapped < 0) return std::nullopt;
    return Id(data_.points[static_cast<std::size_t>(touch.tapped)].id);
}

std::optional<Id> ZoneLineView::draw_levels(Context& context, std::string_view name, const Id& selected) {
    if (charted_.empty()) return std::nullopt;
    levels_.selected = -1;
    for (std::size_t i = 0; i < charted_.size(); ++i)
        if (charted_[i] == selected) levels_.selected = static_cast<int>(i);
    const int tapped = chart(context, name, levels_);
    if (tapped < 0) return std::nullopt;
    return charted_[static_cast<std::size_t>(tapped)];
}

}  // namespace tapwright::ui
