#include "tests/ui/widgets/gallery.h"

namespace tapwright::tests {
namespace {

using namespace tapwright::ui;

// A page above which the strip stands.
class Loaded : public Screen {
public:
    bool shows_load(Context&) override { return true; }
};

class Rooms : public Loaded {
public:
    explicit Rooms(GalleryLog& log) : log_(log) {}
    Message title(Context&) override { return entered("Rooms"); }
    void draw(Context& context) override {
        big_number(context, "gallery.headroom", entered("57.5"), entered("W left"),
                   entered("Zone 2, of 100 W, with 20 W kept in reserve"), Tone::good, entered("Room for more"));
        const char* names[] = {"Entrance", "Dining room with the long name that has to wrap on a phone",
                               "Kitchen",  "Store",
                               "Terrace",  "Corridor",
                               "Office",   "Workshop",
                               "Landing",  "Cellar",
                               "Attic",    "Bar",
                               "Garage",   "Plant room"};
        for (int i = 0; i < 14; ++i) {
            Row row;
            row.title = entered(names[i]);
            row.detail = i % 3 == 0 ? entered("4 loudspeakers, 1 left to tap") : entered("2 loudspeakers");
            row.value = Watts(5 + i);
            row.chevron = true;
            row.shape = i == 2 ? Shape::attenuator : Shape::loudspeaker;
            row.selected = i == selected_;
            if (i == 1) row.tone = Tone::stop, row.word = entered("Over by 12 W");
            if (i == 2) row.tone = Tone::warning, row.word = entered("In the reserve");
            if (i == 3) row.tone = Tone::good, row.word = entered("Done");
            const std::string name = "room." + std::to_string(i);
            const RowTouch touch = list_row(context, name, row);
            if (touch.tapped) log_.taps.push_back(name), selected_ = i;
            if (touch.long_pressed) log_.long_presses.push_back(name);
        }
        if (button(context, "rooms.add", entered("Add a room"), {.kind = ButtonKind::primary, .shape = Shape::plus}))
            log_.taps.push_back("rooms.add");
    }

private:
    GalleryLog& log_;
    int selected_ = -1;
};

class Survey : public Loaded {
public:
    explicit Survey(GalleryLog& log) : log_(log) {}
    Message title(Context&) override { return entered("Survey"); }
    void draw(Context& context) override {
        const FieldEvent event = text_field(context, "survey.name", entered("Name of the room"), log_.room, log_.draft,
                                            {.hint = entered("such as Dining room")});
        if (event == FieldEvent::commit) {
            log_.kept.push_back(log_.draft.text);
            context.requests.after_frame([this] { log_.room = log_.draft.text; });
        }
        text_field(context, "survey.length", entered("Length"), "12.5", length_,
                   {.unit = entered("m"), .number = true});
        text_field(context, "survey.notes", entered("Notes"), "Ask for the key at the desk.", notes_, {.rows = 3});
        if (search_field(context, "survey.search", entered("Find a room, label or type"), log_.search))
            log_.taps.push_back("search:" + log_.search);
        section_title(context, entered("Ceiling"));
        const ui::Choice ceilings[] = {
            {entered("Tile")}, {entered("Plaster")}, {entered("Open")}, {entered("Wall")}, {entered("Outdoor")}};
        if (const int tapped = choice_row(context, "survey.ceiling", ceilings, ceiling_); tapped >= 0)
            ceiling_ = tapped;
        section_title(context, entered("Tap of L-104"));
        const ui::Choice taps[] = {{entered("1.25 W"), entered("61.25 W left"), Tone::good},
                                   {entered("2.5 W"), entered("60 W left"), Tone::good},
                                   {entered("5 W"), entered("57.5 W left"), Tone::good},
                                   {entered("10 W"), entered("12.5 W left"), Tone::warning},
                                   {entered("20 W"), entered("over by 8 W"), Tone::stop},
                                   {entered("Off"), entered("not on this type"), Tone::plain, false}};
        if (const int tapped = choice_row(context, "survey.tap", taps, log_.chosen); tapped >= 0) log_.chosen = tapped;
        log_.count += stepper(context, "survey.count", entered("How many of the same"), Count{log_.count},
                              log_.count > 1, log_.count < 12);
        if (toggle(context, "survey.plenum", entered("Air returns above the ceiling"), log_.on)) log_.on = !log_.on;
        if (button(context, "survey.danger", entered("Remove this room"),
                   {.kind = ButtonKind::danger, .shape = Shape::cross}))
            log_.sheet_open = true;
        ask(context, "survey.ask", entered("Remove the dining room?"),
            entered("Two loudspeakers are recorded in it. They stay on the line without a room."), entered("Remove it"),
            entered("Leave it"), log_.sheet_open);
    }

private:
    GalleryLog& log_;
    Draft length_, notes_;
    int ceiling_ = 0;
};

class LinesPage : public Loaded {
public:
    LinesPage(GalleryLog& log, int points, std::string name, LineView& view)
        : log_(log), name_(std::move(name)), view_(view), data_(line_of(points)) {}
    Message title(Context&) override { return entered("Zone 2"); }
    void draw(Context& context) override {
        data_.selected = log_.line_point;
        const float height = std::max(context.px(240), ImGui::GetContentRegionAvail().y - context.px(8));
        const LineTouch touch = line_drawing(context, name_, data_, view_, height);
        if (touch.tapped >= 0) log_.line_point = touch.tapped;
        if (touch.long_pressed >= 0) log_.long_presses.push_back("line " + std::to_string(touch.long_pressed));
    }

private:
    GalleryLog& log_;
    std::string name_;
    LineView& view_;
    LineDrawingData data_;
};

ChartData level_chart() {
    ChartData data;
    data.title = entered("Level along the line");
    data.x_unit = Unit::metre;
    data.y_unit = Unit::decibel;
    const double levels[] = {0, -0.12, -0.31, -0.45, -0.58, -0.82, -1.12};
    for (int i = 0; i < 7; ++i)
        data.points.push_back(
            {i * 12.0, levels[i], levels[i] < -1 ? Tone::warning : Tone::plain, entered("L-" + std::to_string(i))});
    data.has_band = true;
    data.band_low = data.band_high = -1;
    data.band_word = entered("limit");
    data.selected = 3;
    return data;
}

ChartData readings_chart() {
    ChartData data;
    data.title = entered("Readings at zone 2");
    data.y_unit = Unit::ohm;
    data.joined = false;
    const double ohms[] = {83, 81, 84, 69, 62};
    const Tone tones[] = {Tone::good, Tone::good, Tone::good, Tone::warning, Tone::stop};
    for (int i = 0; i < 5; ++i) data.points.push_back({i * 1.0, ohms[i], tones[i], Count{i}});
    data.has_band = true;
    data.band_low = 70;
    data.band_high = 95;
    data.band_word = entered("expected");
    data.x_first = entered("3 March");
    data.x_last = entered("today");
    data.selected = 4;
    return data;
}

class ReadingsPage : public Loaded {
public:
    explicit ReadingsPage(GalleryLog& log) : log_(log) {}
    Message title(Context&) override { return entered("Readings"); }
    void draw(Context& context) override {
        {
            Card card(context, Tone::stop);
            section_title(context, entered("Zone 2"));
            tone_badge(context, Tone::stop, entered("More load than recorded"));
            label_value(context, "readings.expected", entered("Expected"), entered("83.3 \xCE\xA9, 66.6 to 100"));
            label_value(context, "readings.read", entered("Read"), entered("62 \xCE\xA9"), Tone::stop);
            quiet_paragraph(context, entered("Something draws 20.6 W that nobody recorded."));
        }
        chart(context, "readings.chart", readings_chart());
        chart(context, "readings.level", level_chart());
        if (button(context, "readings.add", entered("Take a reading"), {.kind = ButtonKind::primary}))
            log_.pad_open = true;
        if (Sheet sheet(context, "readings.pad", entered("Reading at zone 2"), log_.pad_open); sheet) {
            const PadEvent event =
                number_pad(context, "pad", log_.pad,
                           {.label = entered("Line impedance, amplifier disconnected"), .unit = entered("\xCE\xA9")});
            if (event == PadEvent::keep) {
                log_.kept.push_back(log_.pad.text);
                log_.pad_open = false;
            }
        }
    }

private:
    GalleryLog& log_;
};

class SnagsPage : public Loaded {
public:
    explicit SnagsPage(GalleryLog& log) : log_(log) {}
    Message title(Context&) override { return entered("Snags"); }
    void draw(Context& context) override {
        empty_state(context, Shape::snags, entered("No snags yet"),
                    entered("What still has to be put right is noted here. Start with what you saw in the ceiling."));
        button(context, "snags.add", entered("Note a snag"), {.kind = ButtonKind::primary, .shape = Shape::plus});
        for (Tone tone : {Tone::good, Tone::note, Tone::warning, Tone::stop, Tone::plain})
            tone_box(context, "snags.box." + std::to_string(static_cast<int>(tone)), tone,
                     entered("Switch the amplifier off and disconnect the line before the meter touches it."));
        statement_box(context, "snags.verdict", Tone::warning,
                      {Message("Amplifier off, then swap its two wires."),
                       Message("In the walk test it sounded thin beside its neighbours.")});
        progress(context, "snags.progress", entered("Bringing in 240 of 800 photos"), 0.3F);
        for (Tone tone : {Tone::good, Tone::note, Tone::warning, Tone::stop, Tone::plain}) {
            tone_badge(context, tone, tone == Tone::plain ? entered("Planned") : tone_word(tone));
        }
        if (button(context, "snags.say", entered("Say something"))) {
            context.requests.say(Tone::stop, entered("The tap 7 W is not on this type: it has 1.25, 2.5, 5 and 10 W."));
            log_.taps.push_back("snags.say");
        }
        button(context, "snags.quiet", entered("A quiet one"), {.kind = ButtonKind::quiet});
        button(context, "snags.off", entered("Not now"), {.enabled = false});
    }

private:
    GalleryLog& log_;
};

class HandoverPage : public Loaded {
public:
    explicit HandoverPage(GalleryLog& log) : log_(log) {}
    Message title(Context&) override { return entered("Handover"); }
    void draw(Context& context) override {
        load_strip(context, "strip.over", strip_over());
        const ui::Choice sizes[] = {{entered("Text 100 %")}, {entered("150 %")}, {entered("200 %")}};
        const int size = choice_row(context, "handover.size", sizes, -1);
        if (size >= 0)
            context.requests.prefer({Preferences::Appearance::system, 1.0F + 0.5F * static_cast<float>(size)});
        if (button(context, "handover.open", entered("Open a page"))) {
            context.requests.open(std::make_unique<SnagsPage>(log_));
        }
        if (button(context, "handover.scripts",
                   entered("\xD0\x9A\xD0\xB8\xD1\x80\xD0\xB8\xD0\xBB\xD0\xBB\xD0\xB8\xD1\x86\xD0\xB0")))
            log_.taps.push_back("scripts");
    }

private:
    GalleryLog& log_;
};

class Strip : public Screen {
public:
    explicit Strip(GalleryLog& log) : log_(log) {}
    void draw_line(Context& context, float height) const { load_line(context, "strip", strip_within(), height); }
    Message title(Context&) override { return entered("Load"); }
    void draw(Context& context) override {
        LoadStripData data = strip_within();
        data.compact = !context.wide;
        if (log_.strip_block >= 0) data.blocks[static_cast<std::size_t>(log_.strip_block)].selected = true;
        const LoadStripTouch touch = load_strip(context, "strip", data);
        if (touch.block >= 0) log_.strip_block = touch.block;
    }

private:
    GalleryLog& log_;
};

}  // namespace

LoadStripData strip_within() {
    LoadStripData data;
    data.title = entered("Zone 2");
    data.headroom = entered("17.5 W");
    data.headroom_word = entered("left");
    data.load = entered("62.5 of 100 W, 20 W kept in reserve");
    data.tone = Tone::good;
    data.limit_w = 100;
    data.reserve_w = 20;
    const double watts[] = {10, 10, 5, 5, 2.5, 15};
    for (int i = 0; i < 6; ++i)
        data.blocks.push_back({"L-10" + std::to_string(i), entered("L-10" + std::to_string(i)), watts[i]});
    data.blocks[4].kind = LoadBlock::Kind::planned;
    data.blocks.push_back({"unrecorded", entered("not recorded"), 15, LoadBlock::Kind::unrecorded});
    data.amplifier = entered("Amplifier 1: 130 of 180 W");
    data.amplifier_load_w = 130;
    data.amplifier_limit_w = 180;
    return data;
}

LoadStripData strip_over() {
    LoadStripData data = strip_within();
    data.title = entered("Zone 3, with the trial");
    data.headroom = entered("12 W");
    data.headroom_word = entered("over the limit");
    data.tone = Tone::stop;
    data.load = entered("112 of 100 W, the reserve of 20 W is used up");
    data.blocks.push_back({"new1", entered("new"), 24.75, LoadBlock::Kind::trial});
    data.blocks.push_back({"new2", entered("new"), 24.75, LoadBlock::Kind::trial});
    data.amplifier = entered("Amplifier 1: 192 of 180 W");
    data.amplifier_load_w = 192;
    data.amplifier_tone = Tone::stop;
    return data;
}

LineDrawingData line_of(int count) {
    LineDrawingData data;
    data.source = entered("Amplifier 1, zone 2");
    data.revision = 1;
    int trunk = -1;
    for (int i = 0; i < count; ++i) {
        LinePoint point;
        point.id = "p" + std::to_string(i);
        const bool side = i % 5 != 0 && i % 5 < 4 && (i / 5) % 2 == 1;
        point.feed = side && i % 5 > 1 ? i - 1 : trunk;
        if (!side) trunk = i;
        point.kind = i % 11 == 3  ? LinePoint::Kind::attenuator
                     : i % 5 == 0 ? LinePoint::Kind::splice
                                  : LinePoint::Kind::loudspeaker;
        point.label = entered("L-" + std::to_string(100 + i));
        const bool is_splice = point.kind == LinePoint::Kind::splice;
        point.setting = is_splice ? entered("Splice") : entered("5 W");
        point.detail = is_splice ? entered("Corridor") : entered("Dining room");
        point.level = Decibels(-0.1 * (i % 10));
        point.watts = (count - i) * 5.0;
        if (i % 17 == 6) point.tone = Tone::warning;
        point.dashed = i % 19 == 7;
        data.points.push_back(point);
    }
    return data;
}

std::unique_ptr<Screen> gallery_page(PlaceId place, GalleryLog& log) {
    switch (place) {
        case PlaceId::survey:
            return std::make_unique<Survey>(log);
        case PlaceId::rooms:
            return std::make_unique<Rooms>(log);
        case PlaceId::lines:
            return std::make_unique<LinesPage>(log, 40, "line", log.view);
        case PlaceId::readings:
            return std::make_unique<ReadingsPage>(log);
        case PlaceId::snags:
            return std::make_unique<SnagsPage>(log);
        case PlaceId::handover:
            break;
    }
    return std::make_unique<HandoverPage>(log);
}

AppParts gallery_parts(GalleryLog& log) {
    AppParts parts;
    parts.root = [&log](PlaceId place) { return gallery_page(place, log); };
    auto strip = std::make_unique<Strip>(log);
    parts.strip_line = [strip = strip.get()](Context& context, float height) { strip->draw_line(context, height); };
    parts.strip = std::move(strip);
    parts.beside = std::make_unique<LinesPage>(log, 12, "beside.line", log.beside_view);
    parts.beside_shown = [](Context&, PlaceId) { return true; };
    return parts;
}

}  // namespace tapwright::tests
