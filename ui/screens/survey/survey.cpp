// The survey: what the system is made of, the rooms as they are, and tracing which loudspeakers hang on which zone.
#include <set>

#include "core/readings/zone_balance.h"
#include "core/units/unit.h"
#include "core/words/balance_text.h"
#include "ui/screens/common/cautions.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"
#include "ui/screens/lines/trials.h"
#include "ui/screens/rooms/add_room.h"

namespace tapwright::ui {
namespace {

// One zone is switched on; what sounds is ticked, and what nobody had traced is fed from that zone.
class Tracing : public TitledScreen {
public:
    explicit Tracing(Shared& shared) : TitledScreen(shared, Message("Trace the zones")) {}
    bool shows_load(Context&) override { return true; }
    void draw(Context& context) override {
        const Job& job = context.session->job();
        if (job.all<Zone>().empty())
            return empty_state(context, Shape::lines, Message("No zones yet"),
                               Message("Add the zones of the amplifier first."));
        zone_row(context, shared_, "trace.zone");
        const Zone& zone = *shared_.zone_in_hand(job);
        if (!settle_emergency(context, shared_, "trace.emergency", zone.id)) return;
        paragraph(context,
                  Message("Tell the building first: paging will be off. Play quietly on one zone only. Walk the "
                          "rooms and mark each loudspeaker you hear."));
        for (const Room* room : walking_order(job)) draw_room(context, job, zone, room->id);
        draw_room(context, job, zone, Id());
        // How much of what was measured there is still to be found.
        section_title(context, Message("Load estimated from readings"));
        statement_box(context, "trace.balance", Tone::plain,
                      statement_of(job, balance_of_zone(job, context.session->derived(), zone.id)));
    }

private:
    // Loudspeakers on no zone yet or on this one; what is known to be on another does not ask to be ticked.
    void draw_room(Context& context, const Job& job, const Zone& zone, const Id& room) {
        std::vector<const Point*> candidates;
        for (const Point& point : job.all<Point>()) {
            const std::uint32_t on = context.session->derived().points[*job.place<Point>(point.id)].zone;
            const bool elsewhere = on != nowhere && job.all<Zone>()[on].id != zone.id;
            if (point.emergency == tapwright::Answer::yes) continue;
            if (is_speaker(point) && point.room.value_or(Id()) == room && !elsewhere) candidates.push_back(&point);
        }
        if (room == Id() && candidates.empty()) return;
        section_title(context, room == Id() ? Message("Without a room") : entered(name_of(job, room)));
        for (const Point* point : candidates) draw_speaker(context, *point, zone);
        const About about(context.marks, name_of(job, room));
        if (room != Id() && button(context, "trace.found." + room.text(), Message("Add one heard here"),
                                   {.kind = ButtonKind::quiet, .shape = Shape::plus}))
            add_found(context, zone, room);
    }

    void draw_speaker(Context& context, const Point& point, const Zone& zone) {
        const Job& job = context.session->job();
        const Message name = entered(name_of(job, point.id));
        const bool here = context.session->derived().points[*job.place<Point>(point.id)].zone != nowhere;
        const bool direct = point.fed_from && *point.fed_from == zone.id;
        if (!toggle(context, "trace." + point.id.text(), name, here, !here || direct)) return;
        // What sounds is there: on the line, with whatever tap it has.
        Map fields{{"fed_from", here ? Value() : Value(zone.id.text())}};
        if (!here) fields.emplace_back("heard", "ok");
        shared_.ask(
            context, {setting(Kind::point, point.id, std::move(fields))},
            here ? Message("{point} not traced", {{"point", name}})
                 : Message("{point} fed from {zone}", {{"point", name}, {"zone", entered(name_of(job, zone.id))}}));
    }

    void add_found(Context& context, const Zone& zone, const Id& room) {
        const Job& job = context.session->job();
        const std::string label = next_label(job);
        shared_.ask(
            context,
            {adding(Kind::point, {{"kind", "speaker"},
                                  {"label", label},
                                  {"room", room.text()},
                                  {"fed_from", zone.id.text()},
                                  {"heard", "ok"},
                                  {"origin", "existing"}})},
            Message("{point} found on {zone}", {{"point", entered(label)}, {"zone", entered(name_of(job, zone.id))}}));
    }
};

class Survey : public TitledScreen {
public:
    explicit Survey(Shared& shared) : TitledScreen(shared, Message("Survey")), add_room_(shared) {}
    void draw(Context& context) override {
        const Job& job = context.session->job();
        section_title(context, Message("Rooms in walking order"));
        if (job.all<Room>().empty()) quiet_paragraph(context, Message("Add the room you are in, then the next one."));
        for (const Room* room : walking_order(job)) draw_room(context, job, *room);
        section_title(context, Message("The system"));
        if (button(context, "survey.set_up", Message("Amplifiers, outputs, zones"), {.shape = Shape::amplifier}))
            context.requests.open(set_up_screen(shared_));
        draw_kinds(context, job);
        if (button(context, "survey.trials", Message("Try changes before making them"), {.shape = Shape::lines}))
            context.requests.open(trials_screen(shared_));
        if (button(context, "survey.trace", Message("Trace which loudspeakers are on which zone"),
                   {.shape = Shape::lines}))
            context.requests.open(std::make_unique<Tracing>(shared_));
        if (button(context, "survey.job", Message("Job settings"), {.shape = Shape::more}))
            context.requests.open(record_screen(shared_, Kind::job, job_id()));
        add_room_.draw(context,
                       [this](Context& now, const Id& id) { now.requests.open(room_survey_screen(shared_, id)); });
    }
    bool has_foot(Context&) override { return true; }
    void draw_foot(Context& context) override {
        if (button(context, "survey.add", Message("Add a room"), {.kind = ButtonKind::primary, .shape = Shape::plus}))
            add_room_.begin();
    }

private:
    void draw_room(Context& context, const Job& job, const Room& room) {
        Row row;
        row.title = entered(name_of(job, room.id));
        row.chevron = true;
        row.shape = Shape::rooms;
        row.detail = sentences({
            room.length_m && room.width_m
                ? Message("{length} by {width}.", {{"length", *room.length_m}, {"width", *room.width_m}})
                : Message("Size not recorded."),
            room.height_m ? Message("{height} high.", {{"height", *room.height_m}}) : Message("Height not recorded."),
            room.noise_dba ? Message("Noise {level}.", {{"level", *room.noise_dba}}) : Message(),
            room.wanted_dba ? Message("Wanted {level}.", {{"level", *room.wanted_dba}}) : Message(),
            room.access ? Message("Access: {note}", {{"note", entered(*room.access)}}) : Message(),
        });
        if (list_row(context, "survey." + room.id.text(), row).tapped)
            context.requests.open(record_screen(shared_, Kind::room, room.id));
    }

    void draw_kinds(Context& context, const Job& job) {
        for (const Kind kind : {Kind::amplifier, Kind::channel, Kind::zone, Kind::speaker_type, Kind::attenuator_type,
                                Kind::cable_type, Kind::control, Kind::interface}) {
            Row row;
            row.title = titles_of(kind);
            row.value =
                job.count(kind) == 0 ? Message("none") : Message(Count{static_cast<std::int64_t>(job.count(kind))});
            row.chevron = true;
            if (list_row(context, "survey.kind." + std::string(singular(kind)), row).tapped)
                context.requests.open(records_screen(shared_, kind));
        }
    }

    AddRoom add_room_;
};

}  // namespace

std::unique_ptr<Screen> survey_screen(Shared& shared) {
    return std::make_unique<Survey>(shared);
}

}  // namespace tapwright::ui
