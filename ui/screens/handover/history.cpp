// The history: what was changed, by whom and when, in words and by the clock on the wall; the latest first.
#include "core/session/changes.h"
#include "ui/screens/common/cached.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/places.h"
#include "ui/screens/common/screen.h"

namespace tapwright::ui {
namespace {

class HistoryScreen : public TitledScreen {
public:
    explicit HistoryScreen(Shared& shared) : TitledScreen(shared, Message("History")) {}
    void draw(Context& context) override {
        const Author author = shared_.author();
        const float half = share_of_width(context, 2);
        if (button(
                context, "history.undo", Message("Undo"),
                {.enabled = context.session->can_undo(author), .width = half, .shape = Shape::undo, .changes = true}))
            context.requests.undo();
        beside(context);
        if (button(
                context, "history.redo", Message("Redo"),
                {.enabled = context.session->can_redo(author), .width = half, .shape = Shape::redo, .changes = true}))
            context.requests.redo();
        if (!seen_.still(*context.session)) look(context);
        for (const Told& told : told_) {
            Card card(context);
            label_value(context, "history." + told.address, told.when, told.mark);
            paragraph(context, told.what);
        }
    }

private:
    struct Told {
        std::string address;
        Message when, what, mark;
    };

    void look(Context& context) {
        constexpr std::size_t most_batches = 200;
        told_.clear();
        Result<std::vector<HistoryLine>> lines = context.session->history(most_batches, 0);
        if (!lines) return context.requests.say(Tone::stop, lines.refusal().message);
        for (const HistoryLine& line : *lines) {
            const Result<Batch> batch = context.session->batch(line.batch);
            if (!batch) return context.requests.say(Tone::stop, batch.refusal().message);
            const Result<Message> what = own_change(*context.session, *batch);
            if (!what) return context.requests.say(Tone::stop, what.refusal().message);
            const Moment time{shared_.ports.local_time(line.time)};
            Message when = line.person.empty()
                               ? Message(time)
                               : Message("{time}, {person}", {{"time", time}, {"person", entered(line.person)}});
            told_.push_back({line.address, std::move(when), *what,
                             line.is_undo     ? in_context("history", "Undo")
                             : line.is_undone ? Message("Undone")
                                              : Message()});
        }
    }

    Seen<> seen_;
    std::vector<Told> told_;
};

}  // namespace

std::unique_ptr<Screen> history_screen(Shared& shared) {
    return std::make_unique<HistoryScreen>(shared);
}

}  // namespace tapwright::ui
