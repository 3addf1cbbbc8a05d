// Visits and the history: who was there when, and what was changed.
#include "core/base/text.h"
#include "core/job/field_text.h"
#include "core/session/visit_changes.h"
#include "core/units/text.h"
#include "ui/screens/parts.h"
#include "ui/screens/places.h"
#include "ui/screens/words.h"

namespace tapwright::ui {
namespace {

// One visit: what was met and what was left, point by point.
class VisitScreen : public Screen {
public:
    VisitScreen(Shared& shared, Id visit) : shared_(shared), id_(std::move(visit)) {}
    std::string title(Context& context) override {
        return context.session->job().find<Visit>(id_) ? name_of(context.session->job(), id_) : "Removed visit";
    }
    void draw(Context& context) override {
        const Session& session = *context.session;
        if (!session.job().find<Visit>(id_))
            return empty_state(context, Shape::erase, "Removed", "This visit is no more. Undo brings it back.");
        look(context, session);
        section_title(context, "As found, then as left");
        if (points_.empty()) quiet_paragraph(context, "Nothing was read or changed at any point during this visit.");
        for (const VisitPoint& point : points_) draw_point(context, session.job(), point);
        space(context, 8);
        if (button(context, "visit.details", "Day, person, notes", {.shape = Shape::more}))
            context.requests.open(record_screen(shared_, Kind::visit, id_));
    }

private:
    void look(Context& context, const Session& session) {
        if (session_ == &session && batches_ == session.batch_count()) return;
        session_ = &session;
        batches_ = session.batch_count();
        points_.clear();
        Result<std::vector<VisitPoint>> made = visit_changes(session, id_);
        if (made)
            points_ = std::move(*made);
        else
            context.requests.say(Tone::stop, made.refusal().text);
    }

    static void draw_point(Context& context, const Job& job, const VisitPoint& point) {
        Row row;
        row.title = point.label.empty() ? point.point.text() : point.label;
        row.shape = shape_of(point.kind);
        if (point.is_new) row.detail = "new";
        if (point.is_gone) row.detail = "taken away";
        if (point.kind == PointKind::speaker && !point.is_new && !point.is_gone)
            row.detail = std::string(point.tap_was_read ? "seen on " : "on ") + show(point.tap_found);
        for (const VisitField& field : point.fields)
            row.detail += (row.detail.empty() ? "" : "; ") + field_title(*field.field) + " " +
                          text_of(*field.field, field.found, length_units(job), &job) + ", then " +
                          text_of(*field.field, field.left, length_units(job), &job);
        if (point.kind == PointKind::speaker && !point.is_gone) row.value = show(point.tap_left);
        if (point.tap_found != point.tap_left && !point.is_new && !point.is_gone)
            row.tone = Tone::note, row.word = "changed";
        list_row(context, "visit.point." + point.point.text(), row);
    }

    Shared& shared_;
    Id id_;
    std::vector<VisitPoint> points_;
    const Session* session_ = nullptr;
    std::size_t batches_ = 0;
};

class VisitsScreen : public Screen {
public:
    explicit VisitsScreen(Shared& shared) : shared_(shared) {}
    std::string title(Context&) override { return "Visits"; }
    void draw(Context& context) override {
        const Author author = shared_.author();
        section_title(context, "Start a visit: what follows is stamped with it");
        const Choice purposes[] = {{"Survey"},        {"First fix"}, {"Second fix"},
                                   {"Commissioning"}, {"Handover"},  {"Service"}};
        if (const int tapped = choice_row(context, "visits.start", purposes, -1); tapped >= 0)
            shared_.ask(context,
                        {adding(Kind::visit, {{"purpose", std::string(word(static_cast<Purpose>(tapped)))},
                                              {"person", author.person}})},
                        "Visit started", [this](const std::vector<Id>& ids) { shared_.set_visit(ids.front()); });
        for (const Visit& visit : context.session->job().all<Visit>()) {
            Row row;
            row.title = visit.purpose ? purposes[static_cast<std::size_t>(*visit.purpose)].label : "Visit";
            row.detail =
                (visit.date ? visit.date->text : "day not recorded") + ", " + visit.person.value_or("nobody named");
            if (visit.id.text() == author.visit) row.tone = Tone::good, row.word = "in progress", row.selected = true;
            if (list_row(context, "visit." + visit.id.text(), row).tapped)
                context.requests.open(std::make_unique<VisitScreen>(shared_, visit.id));
        }
        if (!author.visit.empty() && button(context, "visits.end", "End the visit"))
            context.requests.after_frame([this] { shared_.set_visit(Id()); });
    }

private:
    Shared& shared_;
};

class HistoryScreen : public Screen {
public:
    explicit HistoryScreen(Shared&) {}
    std::string title(Context&) override { return "History"; }
    void draw(Context& context) override {
        if (button(context, "history.undo", "Take back my last change", {.shape = Shape::undo}))
            context.requests.undo();
        if (session_ != context.session || batches_ != context.session->batch_count()) {
            session_ = context.session;
            batches_ = session_->batch_count();
            Result<std::vector<HistoryLine>> lines = session_->history(200, 4);
            if (!lines) context.requests.say(Tone::stop, lines.refusal().text);
            lines_ = lines ? *lines : std::vector<HistoryLine>();
        }
        for (const HistoryLine& line : lines_) {
            std::vector<std::string> what = line.what;
            if (line.facts > what.size()) what.push_back(std::to_string(line.facts - what.size()) + " more");
            label_value(context, "history." + line.address, line.time + ", " + line.person,
                        line.is_undo     ? "Undo"
                        : line.is_undone ? "Undone"
                                         : "");
            quiet_paragraph(context, list_in_words(what));
        }
    }

private:
    const Session* session_ = nullptr;
    std::size_t batches_ = 0;
    std::vector<HistoryLine> lines_;
};

}  // namespace

std::unique_ptr<Screen> visits_screen(Shared& shared) {
    return std::make_unique<VisitsScreen>(shared);
}

std::unique_ptr<Screen> history_screen(Shared& shared) {
    return std::make_unique<HistoryScreen>(shared);
}

}  // namespace tapwright::ui
