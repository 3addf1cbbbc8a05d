// Visits and the history: who was there when, and what was changed.
#include <utility>

#include "core/base/sort.h"
#include "core/job/field_text.h"
#include "core/session/changes.h"
#include "core/session/visit_changes.h"
#include "core/units/unit.h"
#include "ui/screens/common/cached.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/places.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"
#include "ui/screens/handover/made_files.h"

namespace tapwright::ui {
namespace {

Message who(const Visit& visit) {
    return visit.person && !visit.person->empty() ? entered(*visit.person) : Message("No person recorded");
}

// The latest first; those without a day last.
std::vector<const Visit*> newest_first(const Job& job) {
    std::vector<const Visit*> visits;
    for (const Visit& visit : job.all<Visit>()) visits.insert(visits.begin(), &visit);
    sort_by(visits, [](const Visit* first, const Visit* second) {
        const auto day = [](const Visit& visit) { return visit.date ? visit.date->text : std::string(); };
        return day(*first) > day(*second);
    });
    return visits;
}

// One visit: what was met and what was left, point by point, and what was read.
class VisitScreen : public ScreenOfRecord {
public:
    VisitScreen(Shared& shared, Id visit) : ScreenOfRecord(shared, std::move(visit), Message("Visit")) {}

private:
    Message title_of_record(Context&, const Job& job) override { return visit_title(*job.find<Visit>(id_)); }
    void draw_record(Context& context, const Job& job) override {
        const Session& session = *context.session;
        look(context, session);
        quiet_paragraph(context, who(*job.find<Visit>(id_)));
        section_title(context, Message("As found and as left"));
        if (points_.empty()) quiet_paragraph(context, Message("No tap read and no point changed on this visit."));
        for (const VisitPoint& point : points_) draw_point(context, job, point);
        draw_readings(context, session);
        space(context, 8);
        if (button(context, "visit.details", Message("Day, person, notes"), {.shape = Shape::more}))
            context.requests.open(record_screen(shared_, Kind::visit, id_));
    }

    void look(Context& context, const Session& session) {
        if (seen_.still(session)) return;
        points_.clear();
        Result<std::vector<VisitPoint>> made = visit_changes(session, id_);
        if (made)
            points_ = std::move(*made);
        else
            context.requests.say(Tone::stop, made.refusal().message);
    }

    struct PointWords {
        Message found, left;
    };
    // A new loudspeaker whose tap nobody has set is there as planned.
    static PointWords words_at(const Job& job, const VisitPoint& point) {
        const VisitWords words = words_of(job, point);
        const Point* now = job.find<Point>(point.point);
        if (point.is_new && !point.tap_left && now && now->planned_tap_w)
            return {words.found, Message("{tap} planned", {{"tap", *now->planned_tap_w}})};
        return {words.found, words.left.empty() ? Message("as before") : Message(words.left)};
    }

    static void draw_point(Context& context, const Job& job, const VisitPoint& point) {
        const PointWords words = words_at(job, point);
        const Message label = point.label.empty() ? kind_word(point.kind) : Message(entered(point.label));
        const ImVec2 from = ImGui::GetCursorScreenPos();
        const float width = width_left();
        {
            Card card(context, point.tap_found != point.tap_left ? Tone::note : Tone::plain);
            paragraph(context, label, TextSize::strong);
            const float column = share_of_width(context, 2);
            draw_column(context, Message("As found"), words.found, column);
            beside(context);
            draw_column(context, Message("As left"), words.left, column);
        }
        const float height = ImGui::GetItemRectMax().y - from.y;
        mark_area(context, "visit.point." + point.point.text(), {from.x, from.y, width, height},
                  context.words.text(Message("{point}, as found {found}, as left {left}",
                                             {{"point", label}, {"found", words.found}, {"left", words.left}})));
    }

    // A head and what stands under it, one beside the other.
    static void draw_column(Context& context, const Message& head, const Message& words, float width) {
        ImDrawList* list = ImGui::GetWindowDrawList();
        const Lines heads = broken_into_lines(context, TextSize::body, context.words.text(head), width);
        const Lines lines = broken_into_lines(context, TextSize::strong, context.words.text(words), width);
        const ImVec2 at = ImGui::GetCursorScreenPos();
        ImGui::Dummy(ImVec2(width, heads.height + lines.height));
        write(context, list, TextSize::body, context.theme.quiet_text, heads, {at.x, at.y, width, heads.height});
        write(context, list, TextSize::strong, context.theme.text, lines,
              {at.x, at.y + heads.height, width, lines.height});
    }

    void draw_readings(Context& context, const Session& session) {
        bool any = false;
        for (std::size_t i = 0; i < session.job().all<Reading>().size(); ++i) {
            const Reading& reading = session.job().all<Reading>()[i];
            if (reading.visit != id_) continue;
            if (!std::exchange(any, true)) section_title(context, Message("Readings taken"));
            Row row;
            row.title = reading.at ? entered(name_of(session.job(), *reading.at)) : Message("No location");
            if (reading.quantity) row.detail = measured_title(*reading.quantity);
            row.value = reading_figure(reading);
            row.chevron = reading.at.has_value();
            if (reading.quantity == Measured::ohms) {
                const VerdictWords words = verdict_words(session.derived().readings[i]);
                row.tone = words.tone, row.word = words.word;
            }
            if (list_row(context, "visit.reading." + reading.id.text(), row).tapped && reading.at)
                context.requests.open(readings_at_screen(shared_, *reading.at));
        }
    }

    std::vector<VisitPoint> points_;
    Seen<> seen_;
};

class VisitsScreen : public TitledScreen {
public:
    explicit VisitsScreen(Shared& shared) : TitledScreen(shared, Message("Visits")) {}
    void draw(Context& context) override {
        const Author author = shared_.author();
        section_title(context, Message("Start a visit: later changes are recorded under it"));
        const Choice purposes[] = {{Message("Survey")},        {Message("First fix")}, {Message("Second fix")},
                                   {Message("Commissioning")}, {Message("Handover")},  {Message("Service")}};
        if (const int tapped = choice_row(context, "visits.start", purposes, -1); tapped >= 0) {
            Map fields = {{"purpose", std::string(word(static_cast<Purpose>(tapped)))}};
            if (!author.person.empty()) fields.emplace_back("person", author.person);
            shared_.ask(context, {adding(Kind::visit, std::move(fields))}, Message("Visit started"),
                        [this](const std::vector<Id>& ids) { shared_.ports.set_visit(ids.front()); });
        }
        for (const Visit* visit : newest_first(context.session->job())) {
            Row row;
            row.title = visit_title(*visit);
            row.detail = visit->date ? who(*visit) : Message("{person}, day not recorded", {{"person", who(*visit)}});
            row.chevron = true;
            if (visit->id.text() == author.visit) {
                row.tone = Tone::good;
                row.word = Message("In progress");
                row.selected = true;
            }
            if (list_row(context, "visit." + visit->id.text(), row).tapped)
                context.requests.open(std::make_unique<VisitScreen>(shared_, visit->id));
        }
        if (!author.visit.empty() && button(context, "visits.end", Message("End the visit"))) {
            context.requests.after_frame([&ports = shared_.ports] { ports.set_visit(Id()); });
            // A job inside the program goes with a lost phone: a copy of it is at hand at each visit's end.
            if (shared_.ports.keeps_jobs()) made_.make(context, HandoverFile::sealed_copy);
        }
        made_.draw(context);
    }

private:
    MadeFiles made_{shared_};
};

}  // namespace

std::unique_ptr<Screen> visits_screen(Shared& shared) {
    return std::make_unique<VisitsScreen>(shared);
}

}  // namespace tapwright::ui
