// Find the fault: what was seen on a line, what explains it and how likely each cause is, where that is on the line,
// the measurement that tells most for its minutes, and what was found in one step.
#include <imgui_internal.h>

#include <algorithm>
#include <cmath>

#include "core/calc/emergency.h"
#include "core/words/faults_text.h"
#include "ui/screens/common/cautions.h"
#include "ui/screens/common/find_fault_key.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/places.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"
#include "ui/screens/common/zone_line.h"
#include "ui/screens/readings/fault_bars.h"
#include "ui/screens/readings/fault_parts.h"
#include "ui/screens/readings/fault_search.h"
#include "ui/screens/readings/record_fault.h"
#include "ui/widgets/columns.h"

namespace tapwright::ui {
namespace {

constexpr float two_columns_from = 600, low_columns_from = 480, left_share = 0.56F, line_height_units = 320,
                least_line = 220;
constexpr std::size_t most_causes = 5, most_named = 3, most_keys = 2;

class FindFaultScreen : public ScreenOfRecord {
public:
    FindFaultScreen(Shared& shared, Id zone)
        : ScreenOfRecord(shared, std::move(zone), Message("Find the fault")),
          entry_(shared, false),
          reconnect_(shared) {}
    // The third pane shows the line where there is room for it; elsewhere the page needs all of its height.
    bool shows_load(Context& context) override { return context.wide; }

    void draw_foot(Context& context) override {
        const Session& session = *context.session;
        search_.look(context, id_);
        if (!search_.is_done()) return draw_read_key(context, session);
        if (is_outdated(session)) return draw_read_key(context, session);
        const std::vector<std::size_t> found = to_record(context);
        if (!found.empty()) return draw_record_keys(context, found);
        if (search_.next().empty()) return draw_read_key(context, session);
        draw_next_key(context, session, search_.next().front());
    }

private:
    Message title_of_record(Context&, const Job& job) override {
        return Message("Find the fault: {zone}", {{"zone", entered(name_of(job, id_))}});
    }
    bool has_record_foot(Context& context, const Job&) override { return !is_emergency(*context.session); }

    void draw_record(Context& context, const Job& job) override {
        const Session& session = *context.session;
        if (is_emergency(session))
            return statement_box(context, "fault.stop", Tone::stop, leave_to_qualified(job, id_));
        search_.look(context, id_);
        reconnect_.draw(context, "fault.reconnect", id_);
        if (search_.problem())
            draw_problem(context);
        else if (!search_.is_done())
            draw_work(context);
        else
            draw_answer(context, session);
        draw_tap_sheet(context);
        entry_.draw(context);
    }

    // The record was corrected since the line was read: what was read then tells nothing of it as it is now.
    bool is_outdated(const Session& session) {
        return outdated_.of(session, [&] {
            const std::optional<std::uint32_t> newest = newest_ohms_at(session, id_);
            return newest && session.derived().readings[*newest].expected_now.has_value();
        });
    }

    bool is_emergency(const Session& session) const {
        return emergency_of(session.job(), session.derived(), id_) == tapwright::Answer::yes;
    }

    // ---- no answer ----

    void draw_problem(Context& context) {
        tone_box(context, "fault.problem", Tone::note, *search_.problem());
        if (button(context, "fault.walk", Message("Walk test"), {.shape = Shape::loudspeaker}))
            context.requests.open(walk_test_screen(shared_));
    }

    // A line as most are is worked out in a frame or two: a bar would only flash.
    void draw_work(Context& context) {
        if (search_.is_short()) return quiet_paragraph(context, Message("Working out the causes"));
        if (progress(context, "fault.work", Message("Working out the causes"), search_.share()))
            context.requests.back();
    }

    // ---- the answer ----

    void draw_answer(Context& context, const Session& session) {
        look_at_suspects(session);
        if (context.has_beside) shared_.suspects = suspects_;
        const float width = width_left();
        if (context.low && width >= context.px(low_columns_from)) return draw_low(context, session);
        if (width >= context.px(two_columns_from) && !context.has_beside) return draw_beside_line(context, session);
        draw_seen(context, session);
        draw_next(context, session);
        draw_causes(context, session);
        if (!context.has_beside) draw_line(context, session, context.px(line_height_units));
        draw_rest(context, session);
    }

    // A phone on its side: what to do beside what explains it, the line below both.
    void draw_low(Context& context, const Session& session) {
        draw_columns(
            context, 0.5F,
            [&] {
                draw_seen(context, session);
                draw_next(context, session);
            },
            [&] { draw_causes(context, session); });
        draw_line(context, session, std::max(height_in_sight(), context.px(least_line)));
        draw_rest(context, session);
    }

    void draw_beside_line(Context& context, const Session& session) {
        draw_columns(
            context, left_share,
            [&] {
                draw_seen(context, session);
                draw_next(context, session);
                draw_causes(context, session);
            },
            [&] {
                draw_line(context, session, std::max(height_in_sight(), context.px(least_line)));
                draw_rest(context, session);
            });
    }

    template <class Left, class Right>
    static void draw_columns(const Context& context, float share, const Left& draw_left, const Right& draw_right) {
        const ImVec2 at = ImGui::GetCursorScreenPos();
        const float width = width_left(), gap = context.px(measure::margin);
        const float left = std::floor((width - gap) * share);
        {
            const Column column(at, left);
            draw_left();
        }
        float bottom = column_bottom();
        {
            const Column column(ImVec2(at.x + left + gap, at.y), width - gap - left);
            draw_right();
        }
        bottom = std::max(bottom, column_bottom());
        ImGui::SetCursorScreenPos(at);
        ImGui::Dummy(ImVec2(width, bottom - at.y));
    }

    static float height_in_sight() {
        const ImGuiWindow* window = ImGui::GetCurrentWindow();
        return window->InnerRect.GetHeight() - 2 * window->WindowPadding.y;
    }

    // The verdict first, then what it rests on.
    void draw_seen(Context& context, const Session& session) {
        const Job& job = session.job();
        const Diagnosis& diagnosis = search_.diagnosis();
        const bool is_healthy = diagnosis.causes().front().faults.empty() && diagnosis.unexplained() < 0.5;
        const Tone tone = is_healthy ? Tone::note : Tone::warning;
        tone_box(context, "fault.verdict", tone, verdict_of(job, diagnosis, Verbosity::in_short));
        const Message seen = sentences({what_was_read(job, diagnosis), what_was_heard(job, diagnosis)});
        paragraph(context, seen);
        mark(context, "fault.seen", context.words.text(seen), true, false);
        if (is_outdated(session))
            tone_box(context, "fault.outdated", Tone::warning,
                     Message("The record has changed since {zone} was read. Read it again.",
                             {{"zone", entered(name_of(session.job(), id_))}}));
        draw_noted(context, session);
    }

    void draw_noted(Context& context, const Session& session) {
        const Cause& first = search_.diagnosis().causes().front();
        if (!search_.diagnosis().is_sure() || first.faults.empty()) return;
        for (std::size_t i = 0; i < search_.shown(); ++i) {
            const Cause& cause = search_.diagnosis().causes()[i];
            if (cause.place == first.place && is_noted(session.job(), context.words, search_.diagnosis(), cause))
                tone_box(context, "fault.noted." + std::to_string(i), Tone::note,
                         Message("Noted as a snag: {cause}. Once it is put right, read the line again.",
                                 {{"cause", short_text_of(session.job(), search_.diagnosis(), cause)}}));
        }
    }

    // ---- the next measurement ----

    void draw_next(Context& context, const Session& session) {
        if (search_.next().empty() || is_outdated(session)) return;
        const Measurement& next = search_.next().front();
        section_title(context, Message("Next"));
        if (next.asked == Asked::heard)
            caution_box(context, shared_, "fault.listening", CautionMoment::walk_test, Id());
        statement_box(context, "fault.next", Tone::plain, statement_of(session.job(), next));
        for (std::size_t i = 0; i < next.expected.size(); ++i) draw_expected(context, session, next, i);
    }

    // "190 Ω to 211 Ω: C-104 dead": known before the meter settles.
    void draw_expected(Context& context, const Session& session, const Measurement& next, std::size_t at) const {
        const ExpectedShown& shown = next.expected[at];
        std::vector<Argument> causes;
        for (const std::uint32_t cause : shown.causes)
            if (causes.size() < most_named)
                causes.emplace_back(
                    short_text_of(session.job(), search_.diagnosis(), search_.diagnosis().causes()[cause]));
        const auto more = static_cast<std::int64_t>(shown.causes.size() - causes.size());
        if (more > 0) causes.emplace_back(plural("{count} more", "{count} more", more));
        Row row;
        row.title = band_of(session.job(), next, shown);
        row.detail = Message(series(causes, Series::Last::with_or));
        list_row(context, "fault.expected." + std::to_string(at), row);
    }

    void draw_next_key(Context& context, const Session& session, const Measurement& next) {
        const Argument place = entered(name_of(session.job(), next.at));
        if (next.asked == Asked::heard) return heard_keys(context, shared_, next);
        if (next.asked == Asked::tap_w) {
            if (button(context, "fault.look", Message("Tap of {point}", {{"point", place}}),
                       {.kind = ButtonKind::primary, .shape = Shape::loudspeaker}))
                tap_open_ = true;
            return;
        }
        if (!button(context, "fault.measure", Message("Measure at {point}", {{"point", place}}),
                    {.kind = ButtonKind::primary, .shape = Shape::readings}))
            return;
        if (next.asked == Asked::dc_ohms) return entry_.begin(context, next.at, Measured::dc_ohms);
        if (!next.turned) return entry_.begin(context, next.at);
        entry_.begin_turned(context, next.at, search_.diagnosis().line().conditions[next.condition].knobs);
    }

    // ---- a look at a tap ----

    void draw_tap_sheet(Context& context) {
        const bool is_asked =
            search_.is_done() && !search_.next().empty() && search_.next().front().asked == Asked::tap_w;
        if (!is_asked) tap_open_ = false;
        Sheet sheet(context, "fault.tap", Message("Tap as found"), tap_open_);
        if (sheet && is_asked && found_tap(context, shared_, "fault.tap", search_.next().front().at)) tap_open_ = false;
    }

    // ---- the causes ----

    void draw_causes(Context& context, const Session& session) {
        const Diagnosis& diagnosis = search_.diagnosis();
        section_title(context, Message("What explains it"));
        const std::size_t all = search_.shown();
        const std::size_t drawn = shows_all_ ? all : std::min(all, most_causes);
        double left = 1 - diagnosis.unexplained();
        for (std::size_t i = 0; i < drawn; ++i) {
            left -= diagnosis.causes()[i].chance;
            draw_cause(context, session, i);
        }
        if (left >= least_chance_shown)
            chance_bar(context, "fault.others", {left, chance_in_words(left), Message("Other causes."), false, false});
        if (diagnosis.unexplained() >= least_chance_shown)
            chance_bar(context, "fault.unexplained",
                       {diagnosis.unexplained(), chance_in_words(diagnosis.unexplained()),
                        Message("Something else: no cause known here."), false, false});
        if (all <= most_causes) return;
        const Message words = shows_all_ ? Message("Fewer causes")
                                         : Message("All {count} causes", {{"count", static_cast<std::int64_t>(all)}});
        if (button(context, "fault.all", words, {.kind = ButtonKind::quiet})) {
            shows_all_ = !shows_all_;
            context.requests.another_frame();
        }
    }

    void draw_cause(Context& context, const Session& session, std::size_t at) {
        const Cause& cause = search_.diagnosis().causes()[at];
        const bool is_open = open_ == at && open_revision_ == search_.revision();
        if (chance_bar(context, "fault.cause." + std::to_string(at),
                       {cause.chance, chance_in_words(cause.chance), text_of(session.job(), search_.diagnosis(), cause),
                        is_open})) {
            open_ = is_open ? search_.shown() : at;
            open_revision_ = search_.revision();
            context.requests.another_frame();
        }
        if (!is_open) return;
        Card card(context);
        draw_explained(context, session, cause);
        if (!record_of(session.job(), context.words, search_.diagnosis(), cause).empty() &&
            button(context, "fault.record", record_words(session.job(), cause),
                   {.shape = Shape::check, .changes = true}))
            record(context, cause);
    }

    // What it would make a meter read, beside what was read.
    void draw_explained(Context& context, const Session& session, const Cause& cause) const {
        const Diagnosis& diagnosis = search_.diagnosis();
        int number = 0;
        for (const Explained& one : diagnosis.explains(cause)) {
            const Look& look = diagnosis.line().looks[one.look];
            const Message read = look.is_over_range ? Message("over range") : Message(Ohms(look.ohms));
            label_value(context, "fault.explains." + std::to_string(number++), entered(name_of(session.job(), look.at)),
                        Message("{predicted} with it, {read} read", {{"predicted", one.predicted}, {"read", read}}));
        }
    }

    // ---- recording what was found ----

    Message record_words(const Job& job, const Cause& cause) const {
        return Message("Record: {cause}", {{"cause", short_text_of(job, search_.diagnosis(), cause)}});
    }

    // The causes at the place that is sure which are not recorded yet, the likeliest first; none once one is noted.
    std::vector<std::size_t> to_record(Context& context) const {
        std::vector<std::size_t> found;
        const Diagnosis& diagnosis = search_.diagnosis();
        const Cause& first = diagnosis.causes().front();
        if (!diagnosis.is_sure() || diagnosis.unexplained() >= 0.5) return found;
        const Job& job = context.session->job();
        for (std::size_t i = 0; i < search_.shown(); ++i) {
            const Cause& cause = diagnosis.causes()[i];
            if (cause.place != first.place) continue;
            if (is_noted(job, context.words, diagnosis, cause)) return {};
            if (found.size() < most_keys && !record_of(job, context.words, diagnosis, cause).empty())
                found.push_back(i);
        }
        return found;
    }

    void draw_record_keys(Context& context, const std::vector<std::size_t>& found) {
        const float width = share_of_foot(context, static_cast<int>(found.size()));
        for (std::size_t i = 0; i < found.size(); ++i) {
            const Cause& cause = search_.diagnosis().causes()[found[i]];
            if (i > 0) beside(context);
            if (button(context, "fault.record." + std::to_string(i), record_words(context.session->job(), cause),
                       {.kind = i == 0 ? ButtonKind::primary : ButtonKind::plain,
                        .width = width,
                        .shape = found.size() == 1 ? Shape::check : Shape::none,
                        .most_lines = 2,
                        .changes = true}))
                record(context, cause);
        }
    }

    void record(Context& context, const Cause& cause) {
        const Job& job = context.session->job();
        shared_.ask(context, record_of(job, context.words, search_.diagnosis(), cause),
                    Message("Recorded: {cause}", {{"cause", short_text_of(job, search_.diagnosis(), cause)}}));
    }

    void draw_read_key(Context& context, const Session& session) {
        if (button(context, "fault.read",
                   Message("One reading at {zone}", {{"zone", entered(name_of(session.job(), id_))}}),
                   {.kind = ButtonKind::primary, .shape = Shape::readings}))
            entry_.begin(context, id_);
    }

    // ---- the line ----

    void look_at_suspects(const Session& session) {
        if (suspects_ && suspects_of_ == search_.revision()) return;
        suspects_of_ = search_.revision();
        suspects_ = std::make_shared<const std::vector<Suspect>>(
            suspects_of(session.job(), search_.diagnosis(), search_.shown()));
    }

    void draw_line(Context& context, const Session& session, float height) {
        line_.look(session, id_);
        if (line_.empty()) return;
        line_.suspect(*suspects_);
        const std::optional<Id> touched = line_.draw(context, "fault.line", Id(), height);
        if (!touched || *touched == Id()) return;
        shared_.point = *touched;
        context.requests.open(point_screen(shared_, *touched));
    }

    // What was heard silent, and plays by now; what no search finds.
    void draw_rest(Context& context, const Session& session) {
        const FaultLine& line = search_.diagnosis().line();
        bool is_first = true;
        for (std::uint32_t i = 0; i < line.heard.size(); ++i) {
            if (line.heard[i] != Heard::silent) continue;
            if (std::exchange(is_first, false)) section_title(context, Message("Heard silent"));
            const Point& point = session.job().all<Point>()[line.wiring.order[line.wiring.zones[line.zone].first + i]];
            if (button(context, "fault.heard." + point.id.text(),
                       Message("{point} plays now", {{"point", entered(name_of(session.job(), point.id))}}),
                       {.shape = Shape::loudspeaker, .changes = true}))
                set_heard(context, shared_, point.id, Heard::ok);
        }
        quiet_paragraph(context, limits_of_faults());
    }

    FaultSearch search_;
    Cached<bool> outdated_;
    ReadingEntry entry_;
    ReconnectBoxes reconnect_;
    ZoneLineView line_;
    std::shared_ptr<const std::vector<Suspect>> suspects_;
    int suspects_of_ = -1, open_revision_ = -1;
    std::size_t open_ = 0;  // the cause that is looked into
    bool shows_all_ = false, tap_open_ = false;
};

}  // namespace

std::unique_ptr<Screen> find_fault_screen(Shared& shared, const Id& zone) {
    return std::make_unique<FindFaultScreen>(shared, zone);
}

}  // namespace tapwright::ui
