#include "ui/screens/common/feed.h"

#include "ui/screens/common/forms.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {

void ask_what_feeds(Context& context, Shared& shared, const Id& id) {
    const Job& job = context.session->job();
    const Point& point = *job.find<Point>(id);
    const Message label = entered(name_of(job, id));
    context.requests.open(pick_screen(
        shared,
        {.title = Message("What feeds {point}?", {{"point", label}}),
         .kinds = {Kind::zone, Kind::point},
         .current = point.fed_from.value_or(Id()),
         .not_this = id},
        [&shared, id, label](Context& picked, const Id& feed) {
            const Value value = feed == Id() ? Value() : Value(feed.text());
            const Message what =
                feed == Id() ? Message("{point} not traced", {{"point", label}})
                             : Message("{point} fed from {feed}",
                                       {{"point", label}, {"feed", entered(name_of(picked.session->job(), feed))}});
            shared.ask(picked, {setting(Kind::point, id, {{"fed_from", value}})}, what);
        }));
}

}  // namespace tapwright::ui
