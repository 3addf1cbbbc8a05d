#include "ui/screens/common/screen.h"

#include "ui/widgets/widgets.h"

namespace tapwright::ui {

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
    // What was undone can be made again; what was removed can be undone.
    const bool is_undone = context.session->can_redo(shared_.author());
    empty_state(context, Shape::erase, Message("Not in the job"),
                is_undone ? Message("Adding it was undone. Redo brings it back.")
                          : Message("It was removed. Undo brings it back."));
}

}  // namespace tapwright::ui
