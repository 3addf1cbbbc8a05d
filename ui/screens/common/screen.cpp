#include "ui/screens/common/screen.h"

#include <algorithm>

#include "ui/widgets/widgets.h"

namespace tapwright::ui {
namespace {

// Whether that batch made, or removed, that record.
bool touches(const auto& batch, const Id& id, bool removed) {
    if (!batch) return false;
    return std::any_of(batch->ops.begin(), batch->ops.end(), [&](const auto& op) {
        return op.is_existence() && op.is_removal() == removed && op.id == id.text();
    });
}

}  // namespace

Message ScreenOfRecord::title(Context& context) {
    const Job& job = context.session->job();
    return is_there(job) ? title_of_record(context, job) : TitledScreen::title(context);
}

bool ScreenOfRecord::has_foot(Context& context) {
    const Job& job = context.session->job();
    return is_there(job) && has_record_foot(context, job);
}

void ScreenOfRecord::draw(Context& context) {
    const Job& job = context.session->job();
    if (is_there(job)) return draw_record(context, job);
    const Session& session = *context.session;
    const bool by_redo = touches(session.redoable(shared_.author()), id_, false);
    const bool by_undo = !by_redo && touches(session.undoable(shared_.author()), id_, true);
    empty_state(context, Shape::erase, Message("Not in the job"),
                by_redo   ? Message("Adding it was undone. Redo brings it back.")
                : by_undo ? Message("It was removed. Undo brings it back.")
                          : Message("It is no longer there. The history says why."));
    if (by_redo && button(context, "gone.redo", Message("Redo"), {.kind = ButtonKind::primary}))
        context.requests.redo();
    if (by_undo && button(context, "gone.undo", Message("Undo"), {.kind = ButtonKind::primary, .shape = Shape::undo}))
        context.requests.undo();
}

}  // namespace tapwright::ui
