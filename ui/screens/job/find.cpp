// Any room, label, zone or type by typing.
#include <algorithm>

#include "core/base/fold.h"
#include "ui/screens/common/cached.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"
#include "ui/widgets/widgets.h"

namespace tapwright::ui {
namespace {

// Records in the order they are offered in, all of them by name.
constexpr Kind searched[] = {Kind::room,       Kind::point,     Kind::zone,   Kind::speaker_type, Kind::attenuator_type,
                             Kind::cable_type, Kind::amplifier, Kind::control};

class Find : public TitledScreen {
public:
    explicit Find(Shared& shared) : TitledScreen(shared, Message("Find")) {}
    void draw(Context& context) override {
        search_field(context, "find.text", Message("Room, label or type"), typed_, first_);
        first_ = false;
        const std::string part = folded(typed_);
        if (part.empty()) {
            quiet_paragraph(context, Message("Type part of a name."));
            if (button(context, "find.shortcuts", Message("Keyboard shortcuts")))
                context.requests.open(shortcuts_page());
            return;
        }
        const Session& session = *context.session;
        const std::vector<Entry>& found = found_.of(session, part, [&] { return find(session, part); });
        const std::size_t shown = std::min(found.size(), most_shown);
        for (std::size_t i = 0; i < shown; ++i) draw_entry(context, found[i]);
        if (found.empty()) quiet_paragraph(context, Message("Nothing found. Type less of the name."));
        if (found.size() > shown) quiet_paragraph(context, Message("There are more. Type another letter."));
    }

private:
    struct Entry {
        Kind kind = Kind::room;
        Id id;
        std::string folded;  // its name
    };

    // The whole name first, then names that begin so, then those with it anywhere.
    std::vector<Entry> find(const Session& session, const std::string& part) {
        const std::vector<Entry>& all = all_.of(session, [&] { return entries(session.job()); });
        std::vector<Entry> ranks[3];
        for (const Entry& entry : all) {
            const std::size_t at = entry.folded.find(part);
            if (at == std::string::npos) continue;
            ranks[entry.folded == part ? 0 : at == 0 ? 1 : 2].push_back(entry);
        }
        for (const std::vector<Entry>& later : {ranks[1], ranks[2]})
            ranks[0].insert(ranks[0].end(), later.begin(), later.end());
        return ranks[0];
    }

    static std::vector<Entry> entries(const Job& job) {
        std::vector<Entry> all;
        for (const Kind kind : searched)
            with_record_type(kind, [&]<class R>() {
                for (const R& record : job.all<R>()) all.push_back({kind, record.id, folded(name_of(job, record.id))});
            });
        return all;
    }

    void draw_entry(Context& context, const Entry& entry) {
        const auto touch =
            list_row(context, "find." + entry.id.text(), [&] { return row_of(context.session->job(), entry); });
        if (touch.tapped) open(context, entry.kind, entry.id);
    }

    static Row row_of(const Job& job, const Entry& entry) {
        Row row;
        row.title = entered(name_of(job, entry.id));
        row.detail = title_of(entry.kind);
        row.chevron = true;
        const Point* point = job.find<Point>(entry.id);
        if (!point) return row;
        const PointKind kind = point->kind.value_or(PointKind::other);
        row.shape = shape_of(kind);
        row.detail = point->room ? Message("{what} in {room}",
                                           {{"what", kind_word(kind)}, {"room", entered(name_of(job, point->room))}})
                                 : Message("{what}, no room recorded", {{"what", kind_word(kind)}});
        return row;
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

    static constexpr std::size_t most_shown = 50;
    std::string typed_;
    bool first_ = true;
    Cached<std::vector<Entry>> all_;
    Cached<std::vector<Entry>, std::string> found_;
};

}  // namespace

std::unique_ptr<Screen> find_screen(Shared& shared) {
    return std::make_unique<Find>(shared);
}

}  // namespace tapwright::ui
