#include "ui/screens/rooms/new_points.h"

#include <array>

#include "core/units/unit.h"
#include "ui/frame/text.h"
#include "ui/screens/common/cautions.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/library.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {
namespace {

constexpr int most_same = 12;

}  // namespace

const Point* NewPoints::last_point(const Job& job) const {
    const Point* last = nullptr;
    for (const Point& point : job.all<Point>())
        if (point.room && *point.room == room_) last = &point;
    return last;
}

const Point* NewPoints::last_speaker(const Job& job) const {
    const Point* last = nullptr;
    for (const Point& point : job.all<Point>())
        if (point.room && *point.room == room_ && is_speaker(point)) last = &point;
    return last;
}

NewPoints::Place NewPoints::place_of_next(const Session& session) const {
    const Job& job = session.job();
    const Zone* zone = shared_.zone_in_hand(job);
    if (picked_ && picked_->zone == (zone ? zone->id : Id())) return *picked_;
    // Where nobody chose a zone, the next one is as unknown as all the others here.
    const Point* last = last_point(job);
    if (!zone || (last && shared_.zone == Id() && zone_of_record(session, room_).zone == Id())) return {};
    return {zone->id, feed_on(session, zone->id)};
}

// The last one of this zone in this room; in a new room the one added before; else the last one recorded on the zone.
Id NewPoints::feed_on(const Session& session, const Id& zone) const {
    const Job& job = session.job();
    const std::uint32_t on = *job.place<Zone>(zone);
    Id here, anywhere;
    for (std::size_t i = 0; i < job.all<Point>().size(); ++i) {
        if (session.derived().points[i].zone != on) continue;
        const Point& point = job.all<Point>()[i];
        anywhere = point.id;
        if (point.room && *point.room == room_) here = point.id;
    }
    if (here != Id()) return here;
    const bool goes_on = shared_.feed == zone || zone_of_record(session, shared_.feed).zone == zone;
    if (goes_on && shared_.feed != Id()) return shared_.feed;
    return anywhere != Id() ? anywhere : zone;
}

// A zone's name that is cut so that what the key adds after keeps its room.
std::string NewPoints::short_name(Context& context, const Id& zone, float room) const {
    std::string name = name_of(context.session->job(), zone);
    if (room <= 0) return name;
    const Lines cut = broken_into_lines(context, TextSize::strong, name, std::max(context.px(32), room), 1);
    // Of a name of several words whole ones stay.
    const std::size_t blank = cut.shortened ? cut.lines.front().rfind(' ') : std::string::npos;
    return blank == std::string::npos ? cut.lines.front() : cut.lines.front().substr(0, blank) + "…";
}

Message NewPoints::adding_words(Context& context, Adds what, float room) const {
    const Job& job = context.session->job();
    const Place place = place_of_next(*context.session);
    const auto say = [&](const std::array<Pattern, 3>& words, std::vector<Named> named) {
        return Message(words[static_cast<std::size_t>(what)], std::move(named));
    };
    const bool is_alone = job.all<Zone>().empty();
    if (place.feed == Id() && is_alone)
        return say({Pattern("Add loudspeaker"), Pattern("Add attenuator"), Pattern("Add joint")}, {});
    if (place.feed == Id())
        return say({Pattern("Add loudspeaker, feed not traced"), Pattern("Add attenuator, feed not traced"),
                    Pattern("Add joint, feed not traced")},
                   {});
    if (place.zone == Id())
        return say(
            {Pattern("Add after {point}"), Pattern("Add attenuator after {point}"), Pattern("Add joint after {point}")},
            {{"point", entered(name_of(job, place.feed))}});
    const Named zone = {"zone", entered(short_name(context, place.zone, room))};
    if (place.feed == place.zone)
        return say({Pattern("Add to {zone}"), Pattern("Add attenuator to {zone}"), Pattern("Add joint to {zone}")},
                   {zone});
    return say({Pattern("Add to {zone}, after {point}"), Pattern("Add attenuator to {zone}, after {point}"),
                Pattern("Add joint to {zone}, after {point}")},
               {zone, {"point", entered(name_of(job, place.feed))}});
}

Id NewPoints::type_of_next(const Job& job) const {
    if (picked_type_) return *picked_type_;
    Id here;  // of the last one whose type is known
    for (const Point& point : job.all<Point>())
        if (point.room == room_ && is_speaker(point) && point.type && job.find<SpeakerType>(*point.type))
            here = *point.type;
    if (here != Id()) return here;
    if (job.find<SpeakerType>(shared_.speaker_type)) return shared_.speaker_type;
    return job.count(Kind::speaker_type) == 1 ? job.all<SpeakerType>().front().id : Id();
}

std::string NewPoints::label_of_next(const Job& job) const {
    const Point* last = last_speaker(job);
    return last && last->label ? label_after(job, *last->label) : next_label(job);
}

Map NewPoints::fields_of_next(const Session& session) const {
    const Job& job = session.job();
    const Id feed = place_of_next(session).feed;
    Map fields = {{"kind", "speaker"}, {"label", label_of_next(job)}, {"room", room_.text()}};
    if (feed != Id()) fields.emplace_back("fed_from", feed.text());
    if (type_of_next(job) != Id()) fields.emplace_back("type", type_of_next(job).text());
    const Point* last = last_speaker(job);
    const Id cable = last && last->cable ? *last->cable : shared_.cable;
    if (job.find<CableType>(cable)) fields.emplace_back("cable", cable.text());
    return fields;
}

void NewPoints::draw(Context& context) {
    const Job& job = context.session->job();
    if (Sheet sheet(context, "room.new", Message("Tap of {point}", {{"point", entered(label_of_next(job))}}), adding_);
        sheet)
        draw_new(context, job);
    if (Sheet sheet(context, "room.many", Message("Same again"), same_open_); sheet) draw_same(context);
    if (ask(context, "room.over", Message("Over a limit"), warning_, Message("Record it anyway"),
            Message("Choose another tap"), warn_open_, Tone::stop) == Answer::yes)
        pending_(context);
}

void NewPoints::draw_new(Context& context, const Job& job) {
    tap_.look(context, {}, type_of_next(job), fields_of_next(*context.session));
    const int tapped = tap_.draw(context, "room.new.tap", {});
    if (tapped >= 0) {
        adding_ = false;
        const Watts tap = tap_.watts(tapped);
        confirm(context, tap_.warning(tapped), [this, tap](Context& now) { add_speaker(now, tap); });
    }
    if (button(context, "room.new.untapped", Message("Tap not known yet"))) {
        adding_ = false;
        add_speaker(context, std::nullopt);
    }
    Row type;
    type.title = Message("Type");
    type.value = type_of_next(job) == Id() ? Message("Not recorded") : entered(name_of(job, type_of_next(job)));
    type.chevron = true;
    const bool has_types =
        job.count(Kind::speaker_type) > 0 || !earlier_types(shared_, job, Kind::speaker_type).empty();
    if (has_types && list_row(context, "room.new.type", type).tapped) pick_type(context);
    const Id from = place_of_next(*context.session).feed;
    Row feed;
    feed.title = Message("Fed from");
    feed.value = from == Id() ? Message("Not traced") : entered(name_of(job, from));
    feed.chevron = true;
    if (list_row(context, "room.new.feed", feed).tapped) pick_feed(context);
    const Id places[] = {from, room_};
    caution_box(context, shared_, "room.new.caution", CautionMoment::adding,
                from == Id() ? std::span(places).last(1) : std::span(places).first(2));
}

void NewPoints::draw_same(Context& context) {
    const Point* last = last_speaker(context.session->job());
    if (!last) return;
    quiet_paragraph(context, Message("How many more"));
    std::vector<Choice> counts;
    for (int count = 1; count <= most_same; ++count) counts.push_back({Count{count}});
    const int tapped = choice_row(context, "room.many.count", counts, how_many_ - 1);
    if (tapped >= 0) how_many_ = tapped + 1;
    paragraph(context, Message("Each has the type and tap of {point}.",
                               {{"point", entered(name_of(context.session->job(), last->id))}}));
    if (!button(context, "room.many.add", same_words(context), {.kind = ButtonKind::primary, .shape = Shape::plus}))
        return;
    same_open_ = false;
    add_same(context, *last);
}

// "Add 3 loudspeakers to Inside, after L-6".
Message NewPoints::same_words(Context& context) const {
    const Job& job = context.session->job();
    const Place place = place_of_next(*context.session);
    if (place.zone == Id() || place.feed == Id())
        return plural("Add {count} loudspeaker", "Add {count} loudspeakers", how_many_);
    const Named zone = {"zone", entered(name_of(job, place.zone))};
    if (place.feed == place.zone)
        return plural("Add {count} loudspeaker to {zone}", "Add {count} loudspeakers to {zone}", how_many_, {zone});
    return plural("Add {count} loudspeaker to {zone}, after {point}",
                  "Add {count} loudspeakers to {zone}, after {point}", how_many_,
                  {zone, {"point", entered(name_of(job, place.feed))}});
}

void NewPoints::confirm(Context& context, const Message& warning, std::function<void(Context&)> act) {
    if (warning.empty()) return act(context);
    warning_ = warning;
    pending_ = std::move(act);
    context.requests.after_frame([this] { warn_open_ = true; });
    context.requests.another_frame();
}

void NewPoints::add_speaker(Context& context, std::optional<Watts> tap) {
    const Job& job = context.session->job();
    Map fields = fields_of_next(*context.session);
    const std::string label = label_of_next(job);
    if (tap) fields.emplace_back("tap_w", tap->value());
    shared_.tap = tap;
    shared_.speaker_type = type_of_next(job);
    const Message what = tap ? Message("Loudspeaker {point} added on {tap}", {{"point", entered(label)}, {"tap", *tap}})
                             : Message("Loudspeaker {point} added", {{"point", entered(label)}});
    add(context, {adding(Kind::point, std::move(fields))}, what);
}

void NewPoints::add_same(Context& context, const Point& last) {
    const Job& job = context.session->job();
    IdMaker ids(shared_.stamp().seed);
    ChangeList changes;
    Id feed = place_of_next(*context.session).feed;
    std::string label = label_of_next(job);
    for (int i = 0; i < how_many_; ++i) {
        tapwright::Change change = adding(Kind::point, {{"kind", "speaker"}, {"label", label}, {"room", room_.text()}});
        change.id = ids.make(Kind::point);
        if (feed != Id()) change.fields.emplace_back("fed_from", feed.text());
        if (last.type) change.fields.emplace_back("type", last.type->text());
        if (last.tap_w) change.fields.emplace_back("tap_w", last.tap_w->value());
        if (last.cable) change.fields.emplace_back("cable", last.cable->text());
        if (feed != Id()) feed = change.id;
        label = label_after(job, label);
        changes.push_back(std::move(change));
    }
    const Message what = plural("{count} loudspeaker like {point} added", "{count} loudspeakers like {point} added",
                                how_many_, {{"point", entered(name_of(job, last.id))}});
    add(context, std::move(changes), what);
}

// What was added is what the next one goes on from.
void NewPoints::add(Context& context, ChangeList changes, const Message& what) {
    const Id zone = place_of_next(*context.session).zone;
    shared_.ask(context, std::move(changes), what, [this, zone](const std::vector<Id>& ids) {
        shared_.feed = shared_.point = ids.back();
        if (zone != Id()) shared_.last_zone = zone;
        picked_.reset();
    });
}

void NewPoints::add_attenuator(Context& context) {
    const Job& job = context.session->job();
    const std::string label = next_label(job, "VC-");
    Map fields = {{"kind", "attenuator"}, {"label", label}};
    Id type = shared_.attenuator_type;
    if (!job.find<AttenuatorType>(type) && job.count(Kind::attenuator_type) == 1)
        type = job.all<AttenuatorType>().front().id;
    if (job.find<AttenuatorType>(type)) fields.emplace_back("type", type.text());
    add_other(context, std::move(fields), Message("Attenuator {point} added", {{"point", entered(label)}}));
}

void NewPoints::add_joint(Context& context) {
    const std::string label = next_label(context.session->job(), "J-");
    add_other(context, {{"kind", "splice"}, {"label", label}},
              Message("Joint {point} added", {{"point", entered(label)}}));
}

void NewPoints::add_other(Context& context, Map fields, const Message& what) {
    const Id feed = place_of_next(*context.session).feed;
    fields.emplace_back("room", room_.text());
    if (feed != Id()) fields.emplace_back("fed_from", feed.text());
    add(context, {adding(Kind::point, std::move(fields))}, what);
}

void NewPoints::pick_type(Context& context) {
    PickOptions options;
    options.title = Message("Loudspeaker type");
    options.kinds = {Kind::speaker_type};
    options.current = type_of_next(context.session->job());
    adding_ = false;
    context.requests.open(pick_screen(shared_, options, [this](Context& now, const Id& picked) {
        picked_type_ = picked;
        now.requests.after_frame([this] { adding_ = true; });
    }));
}

void NewPoints::pick_feed(Context& context) {
    PickOptions options;
    options.title = Message("Fed from");
    options.kinds = {Kind::zone, Kind::point};
    options.current = place_of_next(*context.session).feed;
    adding_ = false;
    context.requests.open(pick_screen(shared_, options, [this](Context& now, const Id& picked) {
        // A feed that was chosen is a zone that was chosen: the strip and the keys go with it.
        if (const Id zone = zone_of_record(*now.session, picked).zone; zone != Id()) shared_.zone = zone;
        const Zone* hand = shared_.zone_in_hand(now.session->job());
        picked_ = Place{hand ? hand->id : Id(), picked};
        now.requests.after_frame([this] { adding_ = true; });
    }));
}

}  // namespace tapwright::ui
