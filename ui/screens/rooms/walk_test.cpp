// Walk test: room by room in walking order, each loudspeaker in one row: how it sounded, and its snag where it did not
// sound right; its polarity behind its label; each attenuator's override.
#include <imgui.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "core/job/to_do.h"
#include "ui/frame/text.h"
#include "ui/screens/common/cached.h"
#include "ui/screens/common/cautions.h"
#include "ui/screens/common/find_fault_key.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/places.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {
namespace {

struct HeardKey {
    Heard heard;
    const char* mark;
    Message word;
};
const std::array<HeardKey, 4>& heard_keys() {
    static const std::array<HeardKey, 4> keys = {{{Heard::ok, "ok", Message("OK")},
                                                  {Heard::buzz, "buzz", Message("Buzz")},
                                                  {Heard::low, "low", Message("Low")},
                                                  {Heard::silent, "silent", Message("Silent")}}};
    return keys;
}

bool is_bad(const Point& point) {
    return point.heard && *point.heard != Heard::ok;
}

bool is_reversed(const Point& point) {
    return point.polarity == Polarity::reversed;
}

// How the label and the keys of a row lie: side by side, or the label above where there is no room beside the keys.
struct RowLook {
    bool is_in_one = true;
    float label = 0;
    std::array<float, 4> keys{};
};

// One room at a time, so that the page is as long as the room and no longer; points without a room come last. Each room
// is a page of its own, which begins at its top.
class WalkTestScreen : public TitledScreen {
public:
    WalkTestScreen(Shared& shared, std::optional<Id> room)
        : TitledScreen(shared, Message("Walk test")), room_(std::move(room)), search_(shared) {}
    Message title(Context& context) override {
        look(*context.session);
        if (rooms_.empty()) return TitledScreen::title(context);
        if (rooms_[at_] == Id()) return Message("Walk test: points without a room");
        return Message("Walk test: {room}", {{"room", entered(name_of(context.session->job(), rooms_[at_]))}});
    }
    void draw(Context& context) override {
        const Job& job = context.session->job();
        look(*context.session);
        if (rooms_.empty())
            return empty_state(context, Shape::loudspeaker, Message("Nothing to listen to yet"),
                               Message("Record the loudspeakers in their rooms first."));
        caution_box(context, shared_, "walk.caution", CautionMoment::walk_test, Id());
        draw_count(context, *context.session);
        const RowLook row = row_look(context);
        for (const Point& point : job.all<Point>()) {
            if (point.room.value_or(Id()) != rooms_[at_]) continue;
            if (is_speaker(point)) draw_speaker(context, point, row);
            if (point.kind == PointKind::attenuator) draw_attenuator(context, point);
        }
        draw_search(context, job);
        if (at_ > 0 && button(context, "walk.before",
                              Message("Back to {room}", {{"room", entered(name_of(job, rooms_[at_ - 1]))}}),
                              {.shape = Shape::arrow_left}))
            go_to(context, at_ - 1);
    }
    bool has_foot(Context& context) override {
        look(*context.session);
        return !rooms_.empty();
    }
    void draw_foot(Context& context) override {
        const std::vector<Id> rest = not_tested(*context.session);
        const float width = share_of_foot(context, 2);
        const auto count = static_cast<std::int64_t>(rest.size());
        const Message rest_words = rest.empty()
                                       ? Message("All tested")
                                       : plural("Rest of room OK ({count})", "Rest of room OK ({count})", count);
        if (button(context, "walk.rest", rest_words,
                   {.enabled = !rest.empty() && !context.read_only,
                    .width = width,
                    .shape = Shape::check,
                    .most_lines = 3}))
            set_rest(context, rest);
        beside(context);
        const OnlyLooks on(context);
        if (at_ + 1 == rooms_.size()) {
            if (button(context, "walk.done", Message("Walk test done"),
                       {.kind = ButtonKind::primary, .width = width, .shape = Shape::check, .most_lines = 2}))
                context.requests.back();
        } else if (button(
                       context, "walk.next", Message("Next room"),
                       {.kind = ButtonKind::primary, .width = width, .shape = Shape::arrow_right, .most_lines = 2})) {
            go_to(context, at_ + 1);
        }
    }

private:
    // The rooms with something in them to hear or to try, and where this one is among them.
    void look(const Session& session) {
        if (seen_.still(session)) return;
        const Job& job = session.job();
        std::set<std::string> with_points;
        for (const Point& point : job.all<Point>())
            if (is_speaker(point) || point.kind == PointKind::attenuator)
                with_points.insert(point.room.value_or(Id()).text());
        rooms_.clear();
        for (const Room* room : walking_order(job))
            if (with_points.contains(room->id.text())) rooms_.push_back(room->id);
        if (with_points.contains("")) rooms_.emplace_back();
        const auto here = room_ ? std::find(rooms_.begin(), rooms_.end(), *room_) : rooms_.end();
        if (here != rooms_.end()) at_ = static_cast<std::size_t>(here - rooms_.begin());
        at_ = rooms_.empty() ? 0 : std::min(at_, rooms_.size() - 1);
    }

    void go_to(Context& context, std::size_t room) {
        context.requests.back();
        context.requests.open(std::make_unique<WalkTestScreen>(shared_, rooms_[room]));
    }

    // Not those that are only planned, nor those on a fire or emergency line: nobody heard them with the rest.
    std::vector<Id> not_tested(const Session& session) const {
        std::vector<Id> rest;
        const auto points = session.job().all<Point>();
        for (std::size_t i = 0; i < points.size(); ++i)
            if (points[i].room.value_or(Id()) == rooms_[at_] &&
                is_to_be_heard(points[i], session.derived().points[i].emergency))
                rest.push_back(points[i].id);
        return rest;
    }

    // "3 of 9 tested, 1 to put right".
    void draw_count(Context& context, const Session& session) const {
        std::int64_t tested = 0, bad = 0;
        for (const Point& point : session.job().all<Point>()) {
            if (!is_speaker(point) || point.room.value_or(Id()) != rooms_[at_]) continue;
            tested += point.heard ? 1 : 0;
            bad += is_bad(point) || is_reversed(point) ? 1 : 0;
        }
        const std::int64_t all = tested + static_cast<std::int64_t>(not_tested(session).size());
        if (all == 0) return;
        const std::vector<Named> figures = {{"tested", tested}, {"all", all}, {"bad", bad}};
        quiet_paragraph(context, bad > 0 ? Message(Pattern("{tested} of {all} tested, {bad} to put right"), figures)
                                         : Message(Pattern("{tested} of {all} tested"), figures));
    }

    // Below the rows, where nothing moves when one is heard silent: each line with a silent loudspeaker in this room.
    void draw_search(Context& context, const Job& job) {
        std::set<Id> lines;
        for (const Point& point : job.all<Point>())
            if (is_speaker(point) && point.heard == Heard::silent && point.room.value_or(Id()) == rooms_[at_])
                lines.insert(line_to_search(*context.session, point.id));
        for (const Id& line : lines) search_.draw(context, "walk.find." + line.text(), line);
    }

    // ---- a loudspeaker ----

    static RowLook row_look(Context& context) {
        constexpr float least_label = 84, wide = 600, wide_key = 96;
        RowLook look;
        const float gap = context.px(measure::gap), width = width_left();
        float keys = 0;
        for (std::size_t i = 0; i < look.keys.size(); ++i) {
            const float words = text_width(context, TextSize::strong, context.words.text(heard_keys()[i].word));
            const float least = context.px(width >= context.px(wide) ? wide_key : measure::touch);
            look.keys[i] = std::max(least, words + context.px(12));
            keys += look.keys[i] + gap;
        }
        look.label = width - keys;
        look.is_in_one = look.label >= context.px(least_label);
        if (look.is_in_one) return look;
        look.label = width;
        look.keys.fill(share_of_width(context, static_cast<int>(look.keys.size())));
        return look;
    }

    void draw_speaker(Context& context, const Point& point, const RowLook& look) {
        const std::string name = "walk." + point.id.text();
        draw_label(context, name, point, look);
        const About about(context.marks, name_of(context.session->job(), point.id));
        for (std::size_t i = 0; i < look.keys.size(); ++i) {
            if (i > 0 || look.is_in_one) beside(context);
            const HeardKey& key = heard_keys()[i];
            if (draw_key(context, name + "." + key.mark, key, point, look.keys[i])) set(context, point, key.heard);
        }
        if (!look.is_in_one) space(context, 4);
        if (open_ != point.id) return;
        const Choice polarity[] = {{Message("In phase")}, {Message("Reversed")}};
        const int as_tested = point.polarity ? static_cast<int>(*point.polarity) : -1;
        if (const int tapped = choice_row(context, name + ".polarity", polarity, as_tested); tapped >= 0)
            set(context, point, static_cast<Polarity>(tapped));
    }

    // Why one that was not heard is not recorded with the rest of its room; empty where it is.
    static Message why_left_out(const Session& session, const Point& point) {
        const bool emergency = session.derived().points[*session.job().place<Point>(point.id)].emergency;
        if (point.heard || is_to_be_heard(point, emergency)) return {};
        if (emergency) return Message("Emergency line");
        return is_to_be_fitted(point, emergency) ? Message("Not fitted") : Message("Disconnected");
    }

    // The label, and below it what can be done here: note the snag of one that does not sound right, see the one that
    // was noted, that it is reversed, why it is left out, else its polarity. Its place is there from the start.
    void draw_label(Context& context, const std::string& name, const Point& point, const RowLook& look) {
        const Job& job = context.session->job();
        const Snag* snag = open_snag(job, point.id);
        const bool offers = is_bad(point) && !snag;
        const Message label = entered(name_of(job, point.id));
        Message below = why_left_out(*context.session, point);
        if (below.empty()) below = Message("Polarity");
        if (is_reversed(point)) below = Message("Reversed");
        if (snag) below = Message("Snag noted");
        if (offers) below = Message("Note snag");
        const ImVec2 size(look.label, context.px(measure::touch));
        const Touch touch = touchable(context, name + (offers ? ".snag" : ".label"), size,
                                      context.words.text(read_out({label, below})), !(offers && context.read_only));
        ImDrawList* list = ImGui::GetWindowDrawList();
        const Theme& theme = context.theme;
        const Area& a = touch.area;
        const ToneColours& warning = theme.tone(Tone::warning);
        const Colour ground = offers ? warning.fill : theme.page;
        if (offers || touch.held)
            panel(context, list, a, touch.held ? mixed(ground, theme.text, 0.15) : ground,
                  offers ? warning.solid : theme.page, measure::corner, offers ? 1.5F : 0.0F);
        const float first = line_height(context, TextSize::strong), second = line_height(context, TextSize::body);
        const float side = context.px(offers ? 8 : 2), room = std::max(1.0F, a.width - 2 * side);
        const float top = std::floor(a.y + (a.height - first - second) / 2);
        write_line(context, list, TextSize::strong, offers ? warning.text : theme.text, context.words.text(label),
                   {a.x + side, top, room, first});
        write_line(context, list, TextSize::body,
                   offers               ? warning.text
                   : snag               ? theme.accent_text
                   : is_reversed(point) ? warning.solid
                                        : theme.quiet_text,
                   context.words.text(below), {a.x + side, top + first, room, second});
        focus_ring(context, touch, measure::corner);
        if (!touch.tapped) return;
        if (offers) return note_snag(context, point);
        if (snag) return context.requests.open(record_screen(shared_, Kind::snag, snag->id));
        open_ = open_ == point.id ? Id() : point.id;
        context.requests.another_frame();
    }

    // What was heard has a word, a shape and a colour of its own; what was not chosen is plain.
    static bool draw_key(Context& context, const std::string& name, const HeardKey& key, const Point& point,
                         float width) {
        const Theme& theme = context.theme;
        const bool is_chosen = point.heard == key.heard;
        const Message words = is_chosen ? Message("{choice}, chosen", {{"choice", key.word}}) : key.word;
        const Touch touch = touchable(context, name, ImVec2(width, context.px(measure::touch)),
                                      context.words.text(words), !context.read_only);
        say_choice(context, Role::choice, is_chosen, key.word);
        ImDrawList* list = ImGui::GetWindowDrawList();
        const Area& a = touch.area;
        const Tone tone = !is_chosen ? Tone::plain : key.heard == Heard::ok ? Tone::good : Tone::warning;
        const ToneColours& colours = theme.tone(tone);
        const Colour base = is_chosen ? colours.fill : theme.card;
        panel(context, list, a, touch.held ? mixed(base, theme.text, 0.15) : base,
              is_chosen ? colours.solid : theme.edge, measure::corner, is_chosen ? 2.5F : 1.5F);
        const float sign = is_chosen ? context.px(16) : 0, line = line_height(context, TextSize::strong);
        const float top = std::floor(a.y + (a.height - sign - line) / 2);
        if (is_chosen)
            draw_shape(list, tone_shape(tone), ImVec2(a.x + a.width / 2, top + sign / 2), sign, colours.text, base);
        write_line(context, list, TextSize::strong, is_chosen ? colours.text : theme.text, context.words.text(key.word),
                   {a.x, top + sign, a.width, line}, Align::centre);
        focus_ring(context, touch, measure::corner);
        return touch.tapped;
    }

    static const Snag* open_snag(const Job& job, const Id& point) {
        for (const Snag& snag : job.all<Snag>())
            if (snag.about == point && snag.state.value_or(SnagState::open) == SnagState::open) return &snag;
        return nullptr;
    }

    void note_snag(Context& context, const Point& point) {
        const Message heard = tapwright::Choice{"Heard", word(*point.heard), true};
        shared_.ask(context, {adding(Kind::snag, {{"text", context.words.text(heard)}, {"about", point.id.text()}})},
                    Message("Snag noted"));
    }

    // ---- an attenuator ----

    void draw_attenuator(Context& context, const Point& point) {
        const Message label = entered(name_of(context.session->job(), point.id));
        if (button(context, "walk." + point.id.text() + ".override", override_label(point, label), {.changes = true}))
            set_override(context, point, shared_.stamp().date());
    }
    static Message override_label(const Point& point, const Message& label) {
        if (!point.override_tested)
            return Message("{attenuator}: override works, tested today", {{"attenuator", label}});
        return Message("{attenuator}: override works, tested today (last test {day})",
                       {{"attenuator", label}, {"day", Day{point.override_tested->text}}});
    }

    // ---- what is recorded ----

    // The same key again takes it back.
    void set(Context& context, const Point& point, Heard heard) {
        const Argument name = entered(name_of(context.session->job(), point.id));
        if (point.heard == heard)
            return shared_.ask(context, {setting(Kind::point, point.id, {{"heard", Value()}})},
                               Message("{point}: not tested", {{"point", name}}));
        shared_.ask(context, {setting(Kind::point, point.id, {{"heard", std::string(word(heard))}})},
                    Message("{point}: {heard}", {{"point", name}, {"heard", heard}}));
    }
    void set_rest(Context& context, const std::vector<Id>& rest) {
        ChangeList changes;
        for (const Id& id : rest)
            changes.push_back(setting(Kind::point, id, {{"heard", std::string(word(Heard::ok))}}));
        shared_.ask(context, std::move(changes),
                    plural("{count} loudspeaker sounds right", "{count} loudspeakers sound right",
                           static_cast<std::int64_t>(rest.size())));
    }
    void set(Context& context, const Point& point, Polarity polarity) {
        shared_.ask(context, {setting(Kind::point, point.id, {{"polarity", std::string(word(polarity))}})},
                    Message("{point}: {polarity}",
                            {{"point", entered(name_of(context.session->job(), point.id))}, {"polarity", polarity}}));
    }
    void set_override(Context& context, const Point& point, const std::string& today) {
        shared_.ask(context, {setting(Kind::point, point.id, {{"override_tested", today}})},
                    Message("{attenuator}: override tested on {day}",
                            {{"attenuator", entered(name_of(context.session->job(), point.id))}, {"day", Day{today}}}));
    }

    const std::optional<Id> room_;  // where it stands; nothing: in the first
    Seen<> seen_;
    std::vector<Id> rooms_;  // an empty id: points without a room
    std::size_t at_ = 0;
    Id open_;  // whose polarity is shown
    FindFaultKey search_;
};

}  // namespace

std::unique_ptr<Screen> walk_test_screen(Shared& shared, std::optional<Id> room) {
    return std::make_unique<WalkTestScreen>(shared, std::move(room));
}

}  // namespace tapwright::ui
