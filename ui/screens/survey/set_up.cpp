// Set-up: every amplifier with its outputs, the zones on them and their limits, on one page. Names are typed in their
// fields, figures with the pad, one after the other; voltages are keys.
#include <algorithm>
#include <array>
#include <cmath>

#include "ui/screens/common/figure_entry.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {
namespace {

constexpr std::array output_counts = {1, 2, 3, 4, 6, 8};

class SetUp : public TitledScreen {
public:
    explicit SetUp(Shared& shared) : TitledScreen(shared, Message("Set-up")), figures_(shared) {}
    void draw(Context& context) override {
        const Job& job = context.session->job();
        draw_voltage(context, job);
        for (const Amplifier& amplifier : job.all<Amplifier>()) draw_amplifier(context, job, amplifier);
        draw_loose(context, job);
        draw_new(context, job);
        figures_.draw(context);
    }

private:
    void draw_voltage(Context& context, const Job& job) {
        section_title(context, Message("Line voltage"));
        const VoltsTouch touch = volts_row(context, "set_up.line_v", job.info().line_v.value_or(Defaults::line_v));
        const FieldInfo& field = *find_field(Kind::job, "line_v");
        if (touch.volts)
            shared_.ask(context, {setting(Kind::job, job_id(), {{"line_v", touch.volts->value()}})},
                        kept_words(job, job_id(), field, touch.volts->value()));
        if (touch.other) figures_.begin({Kind::job, job_id(), "line_v"});
    }

    // A new amplifier with everything on it, in one batch: names and figures can follow.
    void draw_new(Context& context, const Job& job) {
        section_title(context, job.all<Amplifier>().empty() ? Message("Outputs of the amplifier")
                                                            : Message("Outputs of the next amplifier"));
        std::vector<Choice> choices;
        choices.reserve(std::size(output_counts));
        for (const int count : output_counts) choices.push_back({Count{count}});
        const int tapped = choice_row(context, "set_up.outputs", choices, outputs_);
        if (tapped >= 0) outputs_ = tapped;
        const int count = output_counts[static_cast<std::size_t>(outputs_)];
        if (button(context, "set_up.add",
                   plural("Add amplifier with {count} output and its zone",
                          "Add amplifier with {count} outputs and their zones", count),
                   {.kind = ButtonKind::primary, .shape = Shape::plus}))
            add_amplifier(context, job, count);
    }

    void draw_amplifier(Context& context, const Job& job, const Amplifier& amplifier) {
        const std::string prefix = "set_up." + amplifier.id.text();
        Card card(context);
        row(context, prefix, Kind::amplifier, amplifier.id, {"rated_w"});
        int outputs = 0;
        for (const Channel& output : job.all<Channel>()) {
            if (output.amplifier != amplifier.id) continue;
            draw_output(context, job, output);
            ++outputs;
        }
        const About about(context.marks, name_of(job, amplifier.id));
        if (button(context, prefix + ".add", Message("Add output with a zone"), {.shape = Shape::plus}))
            add_output(context, job, amplifier.id);
        if (button(context, prefix + ".details", Message("Room, breaker, model, notes"),
                   {.kind = ButtonKind::quiet, .shape = Shape::more}))
            context.requests.open(record_screen(shared_, Kind::amplifier, amplifier.id));
    }

    void draw_output(Context& context, const Job& job, const Channel& output) {
        const std::string prefix = "set_up." + output.id.text();
        space(context, 12);
        row(context, prefix, Kind::channel, output.id, {"line_v", "rated_w"});
        for (const Zone& zone : job.all<Zone>())
            if (zone.channel == output.id) draw_zone(context, zone);
        if (button(context, prefix + ".add",
                   Message("Another zone on output {output}", {{"output", entered(name_of(job, output.id))}}),
                   {.kind = ButtonKind::quiet, .shape = Shape::plus}))
            add_zone(context, job, output.id);
    }

    void draw_zone(Context& context, const Zone& zone) {
        row(context, "set_up." + zone.id.text(), Kind::zone, zone.id, {"limit_w"});
    }

    // Outputs whose amplifier, and zones whose output nobody has recorded yet.
    void draw_loose(Context& context, const Job& job) {
        bool titled = false;
        const auto title = [&] {
            if (!titled) section_title(context, Message("On no amplifier yet"));
            titled = true;
        };
        for (const Channel& output : job.all<Channel>()) {
            if (output.amplifier && job.find<Amplifier>(*output.amplifier)) continue;
            title();
            Card card(context);
            draw_output(context, job, output);
            field_row(context, shared_, forms_[output.id.text()], "set_up." + output.id.text(), Kind::channel,
                      output.id, *find_field(Kind::channel, "amplifier"));
        }
        for (const Zone& zone : job.all<Zone>()) {
            if (zone.channel && job.find<Channel>(*zone.channel)) continue;
            title();
            Card card(context);
            draw_zone(context, zone);
            field_row(context, shared_, forms_[zone.id.text()], "set_up." + zone.id.text(), Kind::zone, zone.id,
                      *find_field(Kind::zone, "channel"));
        }
    }

    // The name of a record and its figures, side by side.
    void row(Context& context, const std::string& prefix, Kind kind, const Id& id,
             std::initializer_list<std::string_view> figures) {
        const About about(context.marks, name_of(context.session->job(), id));
        const auto count = static_cast<float>(figures.size());
        const float all = width_left(), gap = context.px(measure::gap);
        const float column = std::floor((all - count * gap) * (count > 1 ? 0.3F : 0.34F));
        const float name = all - count * (column + gap);
        float labels = label_height(context, title_of(kind), name);
        for (const std::string_view figure : figures)
            labels = std::max(labels, label_height(context, title_of(*find_field(kind, figure)), column));
        name_in_a_column(context, shared_, forms_[id.text()], prefix, kind, id, name, labels);
        for (const std::string_view figure : figures) {
            beside(context);
            figures_.figure(context, prefix + "." + std::string(figure), {kind, id, figure}, column, labels);
        }
        space(context, 4);
    }

    // ---- what is added ----

    // "Zone 3" where that is the next number no record of the kind has.
    static std::string numbered(const Words& words, const Job& job, Kind kind, std::size_t& number) {
        for (;; ++number) {
            const std::string name =
                words.text(Message("{kind} {number}", {{"kind", title_of(kind)}, {"number", number}}));
            bool taken = false;
            with_record_type(kind, [&]<class R>() {
                for (const R& record : job.all<R>()) taken = taken || name_of(job, record.id) == name;
            });
            if (!taken) return ++number, name;
        }
    }

    // "1A", "1B": the number of the amplifier and a letter of the output, as many are marked; the next that no output
    // has.
    static std::string output_name(const Job& job, std::size_t amplifier, std::size_t& letter) {
        constexpr std::size_t letters = 26;
        for (;; ++letter) {
            std::string name = std::to_string(amplifier) + static_cast<char>('A' + letter % letters);
            if (letter >= letters) name += std::to_string(letter / letters);
            const auto outputs = job.all<Channel>();
            const auto has_it = [&](const Channel& output) { return output.name == name; };
            if (std::none_of(outputs.begin(), outputs.end(), has_it)) return ++letter, name;
        }
    }

    struct Numbers {
        std::size_t amplifier = 1, letter = 0, zone = 1;
    };

    // One output with a zone on it.
    static Id append_output(const Words& words, const Job& job, IdMaker& ids, Numbers& numbers, const Id& amplifier,
                            ChangeList& changes) {
        tapwright::Change output = adding(Kind::channel, {{"name", output_name(job, numbers.amplifier, numbers.letter)},
                                                          {"amplifier", amplifier.text()}});
        output.id = ids.make(Kind::channel);
        tapwright::Change zone = adding(
            Kind::zone, {{"name", numbered(words, job, Kind::zone, numbers.zone)}, {"channel", output.id.text()}});
        zone.id = ids.make(Kind::zone);
        Id made = zone.id;
        changes.push_back(std::move(output));
        changes.push_back(std::move(zone));
        return made;
    }

    void add_amplifier(Context& context, const Job& job, int count) {
        IdMaker ids(shared_.stamp().seed);
        std::size_t number = 1;
        const std::string name = numbered(context.words, job, Kind::amplifier, number);
        tapwright::Change amplifier = adding(Kind::amplifier, {{"name", name}});
        amplifier.id = ids.make(Kind::amplifier);
        ChangeList changes = {amplifier};
        Numbers numbers{.amplifier = job.count(Kind::amplifier) + 1};
        Id first;
        for (int i = 0; i < count; ++i) {
            const Id zone = append_output(context.words, job, ids, numbers, amplifier.id, changes);
            if (first == Id()) first = zone;
        }
        shared_.ask(context, std::move(changes),
                    plural("{amplifier} added with {count} output", "{amplifier} added with {count} outputs", count,
                           {{"amplifier", entered(name)}}),
                    [this, first](const std::vector<Id>&) { shared_.zone = first; });
    }

    void add_output(Context& context, const Job& job, const Id& amplifier) {
        IdMaker ids(shared_.stamp().seed);
        ChangeList changes;
        Numbers numbers{.amplifier = *job.place<Amplifier>(amplifier) + std::size_t{1}};
        append_output(context.words, job, ids, numbers, amplifier, changes);
        const std::string name = *changes.front().fields.front().second.text();
        shared_.ask(context, std::move(changes),
                    Message("Output {output} added with a zone", {{"output", entered(name)}}));
    }

    void add_zone(Context& context, const Job& job, const Id& output) {
        std::size_t number = 1;
        const std::string name = numbered(context.words, job, Kind::zone, number);
        shared_.ask(context, {adding(Kind::zone, {{"name", name}, {"channel", output.text()}})},
                    Message("{zone} added", {{"zone", entered(name)}}));
    }

    FigureEntry figures_;
    std::map<std::string, FormState> forms_;  // of each record
    int outputs_ = 0;                         // place in output_counts
};

}  // namespace

std::unique_ptr<Screen> set_up_screen(Shared& shared) {
    return std::make_unique<SetUp>(shared);
}

}  // namespace tapwright::ui
