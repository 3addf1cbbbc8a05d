// Any room, label, zone or type by typing.
#include "ui/screens/common/parts.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"
#include "ui/widgets/widgets.h"

namespace tapwright::ui {
namespace {

class Find : public TitledScreen {
public:
    explicit Find(Shared& shared) : TitledScreen(shared, Message("Find")) {}
    void draw(Context& context) override {
        search_field(context, "find.text", Message("Room, label or type"), typed_, first_);
        first_ = false;
        if (typed_.empty()) return quiet_paragraph(context, Message("Type part of a name."));
        shown_ = 0;
        draw_kind<Room>(context);
        draw_kind<Point>(context);
        draw_kind<Zone>(context);
        draw_kind<SpeakerType>(context);
        draw_kind<AttenuatorType>(context);
        draw_kind<CableType>(context);
        draw_kind<Amplifier>(context);
        draw_kind<Control>(context);
        if (shown_ == 0) quiet_paragraph(context, Message("Nothing found. Type less of the name."));
        if (shown_ > most_shown) quiet_paragraph(context, Message("There are more. Type another letter."));
    }

private:
    template <class R>
    void draw_kind(Context& context) {
        const Job& job = context.session->job();
        for (const R& record : job.all<R>()) {
            const std::string name = name_of(job, record.id);
            if (!holds(name, typed_)) continue;
            if (++shown_ > most_shown) return;
            Row row;
            row.title = entered(name);
            row.detail = title_of(R::kind_of);
            row.chevron = true;
            if constexpr (std::is_same_v<R, Point>) {
                row.shape = shape_of(record.kind.value_or(PointKind::other));
                const Message what = kind_word(record.kind.value_or(PointKind::other));
                row.detail = record.room ? Message("{what} in {room}",
                                                   {{"what", what}, {"room", entered(name_of(job, record.room))}})
                                         : Message("{what}, no room recorded", {{"what", what}});
            }
            if (list_row(context, "find." + record.id.text(), row).tapped) open(context, R::kind_of, record.id);
        }
    }

    void open(Context& context, Kind kind, const Id& id) {
        context.requests.back();
        if (kind == Kind::room)
            context.requests.open(room_screen(shared_, id));
        else if (kind == Kind::point)
            context.requests.open(point_screen(shared_, id));
        else
            context.requests.open(record_screen(shared_, kind, id));
        if (kind == Kind::room) shared_.room = id;
        if (kind == Kind::zone) shared_.last_zone = id;
        if (kind == Kind::point) shared_.point = id;
    }

    static constexpr int most_shown = 50;
    std::string typed_;
    bool first_ = true;
    int shown_ = 0;
};

}  // namespace

std::unique_ptr<Screen> find_screen(Shared& shared) {
    return std::make_unique<Find>(shared);
}

}  // namespace tapwright::ui
