#include "ui/screens/rooms/new_points.h"

#include "core/units/unit.h"
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

// Fed from the last one here; in a new room from the one added before, wherever that was; else from the zone in hand.
Id NewPoints::feed_of_next(const Job& job) const {
    if (picked_feed_) return *picked_feed_;
    if (last_point(job)) {  // the last one that is traced; none of them: it is as unknown as they are
        Id last;
        for (const Point& point : job.all<Point>())
            if (point.room == room_ && point.fed_from) last = point.id;
        return last;
    }
    if (job.find<Point>(shared_.feed) || job.find<Zone>(shared_.feed)) return shared_.feed;
    const Zone* zone = shared_.zone_in_hand(job);
    return zone ? zone->id : Id();
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

Map NewPoints::fields_of_next(const Job& job) const {
    Map fields = {{"kind", "speaker"}, {"label", label_of_next(job)}, {"room", room_.text()}};
    if (feed_of_next(job) != Id()) fields.emplace_back("fed_from", feed_of_next(job).text());
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
    tap_.look(context, {}, type_of_next(job), fields_of_next(job));
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
    Row feed;
    feed.title = Message("Fed from");
    feed.value = feed_of_next(job) == Id() ? Message("Not traced") : entered(name_of(job, feed_of_next(job)));
    feed.chevron = true;
    if (list_row(context, "room.new.feed", feed).tapped) pick_feed(context);
    const Id places[] = {feed_of_next(job), room_};
    caution_box(context, shared_, "room.new.caution", CautionMoment::adding,
                feed_of_next(job) == Id() ? std::span(places).last(1) : std::span(places).first(2));
}

void NewPoints::draw_same(Context& context) {
    const Point* last = last_speaker(context.session->job());
    if (!last) return;
    how_many_ += stepper(context, "room.many.count", Message("How many more"), Count{how_many_}, how_many_ > 1,
                         how_many_ < most_same);
    paragraph(context, Message("Each has the type and tap of {point} and is fed from the one before.",
                               {{"point", entered(name_of(context.session->job(), last->id))}}));
    if (!button(context, "room.many.add", plural("Add {count} loudspeaker", "Add {count} loudspeakers", how_many_),
                {.kind = ButtonKind::primary, .shape = Shape::plus}))
        return;
    same_open_ = false;
    add_same(context, *last);
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
    Map fields = fields_of_next(job);
    const std::string label = label_of_next(job);
    if (tap) fields.emplace_back("tap_w", tap->value());
    shared_.tap = tap;
    shared_.speaker_type = type_of_next(job);
    const Message what = tap ? Message("Loudspeaker {point} added on {tap}", {{"point", entered(label)}, {"tap", *tap}})
                             : Message("Loudspeaker {point} added", {{"point", entered(label)}});
    shared_.ask(context, {adding(Kind::point, fields)}, what, [this](const std::vector<Id>& ids) {
        shared_.feed = shared_.point = ids.front();
        picked_feed_.reset();
    });
}

void NewPoints::add_same(Context& context, const Point& last) {
    const Job& job = context.session->job();
    IdMaker ids(shared_.stamp().seed);
    ChangeList changes;
    Id feed = last.id;
    std::string label = label_of_next(job);
    for (int i = 0; i < how_many_; ++i) {
        tapwright::Change change = adding(Kind::point, {{"kind", "speaker"}, {"label", label}, {"room", room_.text()}});
        change.id = ids.make(Kind::point);
        if (last.fed_from) change.fields.emplace_back("fed_from", feed.text());
        if (last.type) change.fields.emplace_back("type", last.type->text());
        if (last.tap_w) change.fields.emplace_back("tap_w", last.tap_w->value());
        if (last.cable) change.fields.emplace_back("cable", last.cable->text());
        feed = change.id;
        label = label_after(job, label);
        changes.push_back(std::move(change));
    }
    const Message what = plural("{count} loudspeaker like {point} added", "{count} loudspeakers like {point} added",
                                how_many_, {{"point", entered(name_of(job, last.id))}});
    shared_.ask(context, changes, what, [this](const std::vector<Id>& made) { shared_.feed = made.back(); });
}

void NewPoints::add_attenuator(Context& context) {
    const Job& job = context.session->job();
    const std::string label = next_label(job, "VC-");
    Map fields = {{"kind", "attenuator"}, {"label", label}};
    if (job.find<AttenuatorType>(shared_.attenuator_type)) fields.emplace_back("type", shared_.attenuator_type.text());
    add_other(context, std::move(fields), Message("Attenuator {point} added", {{"point", entered(label)}}));
}

void NewPoints::add_joint(Context& context) {
    const std::string label = next_label(context.session->job(), "J-");
    add_other(context, {{"kind", "splice"}, {"label", label}},
              Message("Joint {point} added", {{"point", entered(label)}}));
}

void NewPoints::add_other(Context& context, Map fields, const Message& what) {
    const Id feed = feed_of_next(context.session->job());
    fields.emplace_back("room", room_.text());
    if (feed != Id()) fields.emplace_back("fed_from", feed.text());
    shared_.ask(context, {adding(Kind::point, fields)}, what, [this](const std::vector<Id>& ids) {
        shared_.feed = shared_.point = ids.front();
        picked_feed_.reset();
    });
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
    options.current = feed_of_next(context.session->job());
    adding_ = false;
    context.requests.open(pick_screen(shared_, options, [this](Context& now, const Id& picked) {
        picked_feed_ = picked;
        now.requests.after_frame([this] { adding_ = true; });
    }));
}

}  // namespace tapwright::ui
