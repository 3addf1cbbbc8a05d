// Visits and the history: who was there when, and what was changed.
#include "core/base/text.h"
#include "ui/screens/parts.h"
#include "ui/screens/places.h"

namespace tapwright::ui {
namespace {

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
                context.requests.open(record_screen(shared_, Kind::visit, visit.id));
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
