// Settings as left: what an amplifier's knobs, inputs and limiters stand at, and the positions of the controls in the
// lines. Typed in place; new ones with a name and a value.
#include <algorithm>
#include <map>

#include "ui/screens/common/cached.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/positions.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"
#include "ui/screens/handover/pages.h"

namespace tapwright::ui {
namespace {

class SettingsLeft : public TitledScreen {
public:
    explicit SettingsLeft(Shared& shared) : TitledScreen(shared, Message("Settings as left")) {}
    void draw(Context& context) override {
        const Job& job = context.session->job();
        if (job.all<Amplifier>().empty()) {
            empty_state(context, Shape::amplifier, Message("No amplifier yet"),
                        Message("Record the amplifier first, then how it was left."));
            if (button(context, "left.amplifiers", Message("Add an amplifier"),
                       {.kind = ButtonKind::primary, .shape = Shape::plus}))
                context.requests.open(records_screen(shared_, Kind::amplifier));
        }
        for (const Amplifier& amplifier : job.all<Amplifier>()) draw_amplifier(context, job, amplifier);
        draw_positions(context, job);
        if (job.count(Kind::setting) == 0) return;
        section_title(context, Message("All settings"));
        if (list_row(context, "left.all", {.title = Message("Rename or remove a setting"), .chevron = true}).tapped)
            context.requests.open(records_screen(shared_, Kind::setting));
    }
    Message on_the_way_out() override {
        for (const auto& [amplifier, fresh] : new_)
            if (!fresh.value.text.empty())
                return Message("The setting {name} was not added.", {{"name", entered(fresh.name.text)}});
        return {};
    }

private:
    struct New {
        Draft name, value;
    };

    void draw_amplifier(Context& context, const Job& job, const Amplifier& amplifier) {
        section_title(context, entered(name_of(job, amplifier.id)));
        for (const Setting& setting : job.all<Setting>())
            if (setting.amplifier == amplifier.id) draw_setting(context, setting);
        draw_new(context, job, amplifier);
    }

    // The value is typed in place; its name, and taking it out, are behind the list of all.
    void draw_setting(Context& context, const Setting& setting) {
        const Message name = entered(setting.name.value_or(std::string()));
        Draft& draft = values_[setting.id.text()];
        const FieldEvent event =
            text_field(context, "left." + setting.id.text(), name, setting.value.value_or(std::string()), draft);
        if (event != FieldEvent::commit) return;
        keep_field(context, draft, Message("{setting}: {value}", {{"setting", name}, {"value", entered(draft.text)}}),
                   [&shared = shared_, id = setting.id](Session& session, const std::string& text) -> Result<void> {
                       const Value value = text.empty() ? Value() : Value(text);
                       const ChangeList changes = {setting_of(id, value)};
                       const Result<Outcome> outcome = session.request(
                           Command{.changes = changes, .fill_in = true, .place = {}}, shared.author(), shared.stamp());
                       return outcome ? done() : Result<void>(outcome.refusal());
                   });
    }

    static tapwright::Change setting_of(const Id& id, const Value& value) {
        return setting(Kind::setting, id, {{"value", value}});
    }

    // What is usually noted of an amplifier and is not yet: its outputs' levels, its inputs, its limiter.
    static std::vector<Message> usual_names(const Job& job, const Amplifier& amplifier) {
        std::vector<Message> names;
        for (const Channel& channel : job.all<Channel>())
            if (channel.amplifier == amplifier.id && names.size() < 4)
                names.push_back(Message("Output {output} level", {{"output", entered(name_of(job, channel.id))}}));
        for (const Message& name : {Message("Input 1"), Message("Input 2"), Message("Limiter")}) names.push_back(name);
        return names;
    }

    void draw_new(Context& context, const Job& job, const Amplifier& amplifier) {
        const std::string mark = "left.new." + amplifier.id.text();
        const About about(context.marks, name_of(job, amplifier.id));
        New& fresh = new_[amplifier.id.text()];
        std::vector<Choice> offered;
        for (Message& name : usual_names(job, amplifier)) {
            const std::string text = context.words.text(name);
            const auto all = job.all<Setting>();
            const bool is_there = std::any_of(all.begin(), all.end(), [&](const Setting& setting) {
                return setting.amplifier == amplifier.id && setting.name == text;
            });
            if (!is_there) offered.push_back({std::move(name)});
        }
        if (!offered.empty())
            if (const int tapped = choice_row(context, mark + ".usual", offered, -1); tapped >= 0)
                fresh.name = {context.words.text(offered[static_cast<std::size_t>(tapped)].label), false, true, {}};
        const float half = share_of_width(context, 2);
        const float label =
            std::max(label_height(context, Message("Setting"), half), label_height(context, Message("Value"), half));
        text_field(context, mark + ".name", Message("Setting"), "", fresh.name,
                   {.is_new = true, .width = half, .label_height = label});
        beside(context);
        text_field(context, mark + ".value", Message("Value"), "", fresh.value,
                   {.is_new = true, .width = half, .label_height = label});
        const Message words = Message("Add to {amplifier}", {{"amplifier", entered(name_of(job, amplifier.id))}});
        const bool is_whole = !fresh.name.text.empty() && !fresh.value.text.empty();
        if (!button(context, mark + ".add", words, {.enabled = is_whole, .shape = Shape::plus})) return;
        shared_.ask(
            context,
            {adding(Kind::setting,
                    {{"amplifier", amplifier.id.text()}, {"name", fresh.name.text}, {"value", fresh.value.text}})},
            Message("{setting}: {value}",
                    {{"setting", entered(fresh.name.text)}, {"value", entered(fresh.value.text)}}),
            [&fresh](const std::vector<Id>&) { fresh = {}; });
    }

    // The controls in the lines in walking order, behind the zones' own: each with its positions as keys.
    void draw_positions(Context& context, const Job& job) {
        bool any = false;
        const auto begin = [&] {
            if (!std::exchange(any, true)) section_title(context, Message("Controls in the lines"));
        };
        for (const Zone& zone : job.all<Zone>()) {
            if (!zone.knob_db && zone.output != ZoneOutput::stepped) continue;
            begin();
            draw_title(context, job, Kind::zone, zone.id, Message("Zone level"));
            zone_level_stepper(context, shared_, "left.position." + zone.id.text(), zone);
        }
        for (const Id& id : in_walking_order_.of(*context.session, [&] { return attenuators_in_order(job); })) {
            begin();
            draw_attenuator(context, job, *job.find<Point>(id));
        }
    }

    static std::vector<Id> attenuators_in_order(const Job& job) {
        std::map<Id, std::size_t> ranks;
        for (const Room* room : walking_order(job)) ranks.emplace(room->id, ranks.size());
        std::vector<std::vector<Id>> rooms(ranks.size() + 1);
        for (const Point& point : job.all<Point>()) {
            if (point.kind != PointKind::attenuator) continue;
            const auto rank = point.room ? ranks.find(*point.room) : ranks.end();
            rooms[rank == ranks.end() ? ranks.size() : rank->second].push_back(point.id);
        }
        std::vector<Id> all;
        for (const std::vector<Id>& room : rooms) all.insert(all.end(), room.begin(), room.end());
        return all;
    }

    void draw_attenuator(Context& context, const Job& job, const Point& point) {
        const Message where = point.room ? record_words(job, *point.room) : Message("No room recorded");
        draw_title(context, job, Kind::point, point.id, where);
        const std::string name = "left.position." + point.id.text();
        if (!attenuator_steps(context, shared_, name, point)) attenuator_stepper(context, shared_, name, point);
    }

    // What it is and how it is noted; touched, its own page.
    void draw_title(Context& context, const Job& job, Kind kind, const Id& id, const Message& where) {
        const FieldInfo& field = *find_field(kind, "knob_db");
        const Value value = job.get(kind, id, field);
        Row shown;
        shown.title = record_words(job, id);
        shown.detail = where;
        shown.value = value.is_null() ? Message("not noted") : message_of(field, value, &job);
        shown.chevron = true;
        if (!list_row(context, "left.knob." + id.text(), shown).tapped) return;
        if (kind == Kind::point)
            context.requests.open(point_screen(shared_, id));
        else
            context.requests.open(record_screen(shared_, kind, id));
    }

    Cached<std::vector<Id>> in_walking_order_;  // the attenuators
    std::map<std::string, Draft> values_;
    std::map<std::string, New> new_;  // by amplifier
};

}  // namespace

std::unique_ptr<Screen> settings_left_screen(Shared& shared) {
    return std::make_unique<SettingsLeft>(shared);
}

}  // namespace tapwright::ui
