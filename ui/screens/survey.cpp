// The survey: what the system is made of, the rooms as they are, and tracing which loudspeakers hang on which zone.
#include <set>

#include "core/base/text.h"
#include "core/units/text.h"
#include "ui/screens/forms.h"
#include "ui/screens/parts.h"
#include "ui/screens/words.h"

namespace tapwright::ui {
namespace {

// One zone is switched on; who sounds is ticked, and what nobody had traced is fed from that zone.
class Tracing : public Screen {
public:
    explicit Tracing(Shared& shared) : shared_(shared) {}
    std::string title(Context&) override { return "Trace the zones"; }
    void draw(Context& context) override {
        const Job& job = context.session->job();
        if (job.all<Zone>().empty())
            return empty_state(context, Shape::lines, "No zone to switch on", "Add the zones of the amplifier first.");
        paragraph(context, "Play something quietly, switch on one zone alone, walk the rooms and touch who sounds.");
        std::vector<Choice> zones;
        int chosen = 0;
        const Zone* in_hand = shared_.zone_in_hand(job);
        for (const Zone& zone : job.all<Zone>()) {
            if (&zone == in_hand) chosen = static_cast<int>(zones.size());
            zones.push_back({name_of(job, zone.id)});
        }
        const int tapped = choice_row(context, "trace.zone", zones, chosen);
        if (tapped >= 0) shared_.zone = job.all<Zone>()[static_cast<std::size_t>(tapped)].id;
        bool any = false;
        for (std::size_t i = 0; i < job.all<Point>().size(); ++i) {
            if (!is_speaker(job.all<Point>()[i])) continue;
            any = true;
            draw_speaker(context, job.all<Point>()[i], i, *in_hand);
        }
        if (!any) quiet_paragraph(context, "No loudspeakers are recorded yet: add them on their room's page.");
    }

private:
    void draw_speaker(Context& context, const Point& point, std::size_t place, const Zone& zone) {
        const Job& job = context.session->job();
        const PointOnLine& state = context.session->derived().points[place];
        const std::string name = name_of(job, point.id);
        const bool here = state.zone != nowhere && job.all<Zone>()[state.zone].id == zone.id;
        if (state.zone != nowhere && !here) return;
        const std::string label = name + (point.room ? ", " + name_of(job, point.room) : std::string());
        const bool direct = point.fed_from && *point.fed_from == zone.id;
        if (!toggle(context, "trace." + point.id.text(), label, here, !here || direct)) return;
        const Value feed = here ? Value() : Value(zone.id.text());
        shared_.ask(context, {setting(Kind::point, point.id, {{"fed_from", feed}})},
                    here ? name + " not traced" : name + " sounds with " + name_of(job, zone.id));
    }

    Shared& shared_;
};

class Survey : public Screen {
public:
    explicit Survey(Shared& shared) : shared_(shared) {}
    std::string title(Context&) override { return "Survey"; }
    void draw(Context& context) override {
        const Job& job = context.session->job();
        section_title(context, "Rooms in walking order");
        if (job.all<Room>().empty())
            quiet_paragraph(context, "Walk in, type the first room's name, and go on from there.");
        for (const Room* room : walking_order(job)) draw_room(context, job, *room);
        const FieldEvent event =
            text_field(context, "survey.name", "Name of the next room", "", draft_, {.hint = "such as Dining room"});
        const bool tapped =
            button(context, "survey.add", "Add this room",
                   {.kind = ButtonKind::primary, .enabled = !draft_.text.empty(), .shape = Shape::plus});
        if ((tapped || event == FieldEvent::commit) && !draft_.text.empty()) add(context);
        section_title(context, "The system");
        draw_kinds(context, job);
        if (button(context, "survey.trace", "Trace which loudspeakers are on which zone", {.shape = Shape::lines}))
            context.requests.open(std::make_unique<Tracing>(shared_));
        if (button(context, "survey.job", "Job settings", {.shape = Shape::more}))
            context.requests.open(record_screen(shared_, Kind::job, job_id()));
    }

private:
    void add(Context& context) {
        const std::string name = draft_.text;
        context.requests.after_frame([this] { draft_ = {}; });
        draft_ = {};
        shared_.ask(context, {adding(Kind::room, {{"name", name}})}, "Room " + name + " added",
                    [this](const std::vector<Id>& ids) { shared_.room = ids.front(); });
    }

    void draw_room(Context& context, const Job& job, const Room& room) {
        const LengthUnits lengths = length_units(job);
        Row row;
        row.title = name_of(job, room.id);
        row.chevron = true;
        row.shape = Shape::rooms;
        if (room.length_m && room.width_m)
            row.detail = show(*room.length_m, lengths) + " by " + show(*room.width_m, lengths);
        else
            row.detail = "size not recorded";
        row.detail += room.height_m ? ", " + show(*room.height_m, lengths) + " high" : ", height not recorded";
        if (room.noise_dba) row.detail += ", noise " + show(*room.noise_dba);
        if (room.wanted_dba) row.detail += ", wanted " + show(*room.wanted_dba);
        if (room.access) row.detail += ". " + *room.access;
        if (list_row(context, "survey." + room.id.text(), row).tapped)
            context.requests.open(record_screen(shared_, Kind::room, room.id));
    }

    void draw_kinds(Context& context, const Job& job) {
        for (const Kind kind : {Kind::amplifier, Kind::channel, Kind::zone, Kind::speaker_type, Kind::attenuator_type,
                                Kind::cable_type, Kind::control, Kind::interface}) {
            Row row;
            row.title = kind_title(kind, true);
            row.value = job.count(kind) == 0 ? "none" : std::to_string(job.count(kind));
            row.chevron = true;
            if (list_row(context, "survey.kind." + std::string(singular(kind)), row).tapped)
                context.requests.open(records_screen(shared_, kind));
        }
    }

    Shared& shared_;
    Draft draft_;
};

}  // namespace

std::unique_ptr<Screen> survey_screen(Shared& shared) {
    return std::make_unique<Survey>(shared);
}

}  // namespace tapwright::ui
