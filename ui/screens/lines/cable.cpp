#include "ui/screens/lines/cable.h"
#include "ui/screens/common/screen.h"

#include <algorithm>

#include "core/plan/cable.h"
#include "core/units/parse.h"
#include "core/units/show.h"
#include "core/words/cable_text.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/known.h"
#include "ui/screens/common/library.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {
namespace {

class CableScreen : public TitledScreen {
public:
    CableScreen(Shared& shared, const Session& session) : TitledScreen(shared, Message("Cable")) {
        const Job& job = session.job();
        volts_.text = editable_number(line_voltage(job).value(), Unit::none);
        const Zone* zone = shared.zone_in_hand(job);
        if (!zone) return;
        const ZoneState& state = session.derived().zones[*job.place<Zone>(zone->id)];
        volts_.text = editable_number(state.line_v.value(), Unit::none);
        const Watts drawn = state.margin.drawn();
        if (drawn > Watts(0)) load_.text = editable_number(drawn.value(), Unit::none);
    }
    void draw(Context& context) override {
        paragraph(context,
                  Message("What a length of cable costs, with all of the load at its far end. Nothing is saved."));
        draw_figures(context);
        const std::string before = size_.text;
        field(context, "cable.size", Message("Size of one conductor"), size_,
              {.hint = Message("such as 1.5 mm² or 16 AWG")});
        if (size_.text != before) chosen_.reset();
        draw_recorded(context);
        draw_answer(context);
    }

private:
    struct Field {
        Draft draft;
        std::string text;  // as it stands in the field
    };

    static void field(Context& context, std::string_view name, const Message& label, Field& field,
                      const FieldOptions& options) {
        text_field(context, name, label, field.text, field.draft, options);
        // Every letter counts at once: there is nothing to save.
        field.text = field.draft.text;
        field.draft.unkept = false;
    }

    // Side by side where a figure and its unit have room: the answer is then in sight below them.
    void draw_figures(Context& context) {
        struct Figure {
            const char* name;
            Message label;
            Field& field;
            Unit unit;
        };
        const Figure figures[] = {{"cable.load", Message("Load"), load_, Unit::watt},
                                  {"cable.length", Message("Length, one way"), length_, Unit::metre},
                                  {"cable.volts", Message("Line voltage"), volts_, Unit::volt}};
        constexpr float least_units = 84;
        const float third = share_of_width(context, 3);
        const bool fits = third >= context.px(least_units);
        float label = 0;
        for (const Figure& figure : figures) label = std::max(label, label_height(context, figure.label, third));
        for (const Figure& figure : figures) {
            if (fits && &figure != figures) beside(context);
            field(context, figure.name, figure.label, figure.field,
                  {.unit = code(words_of(figure.unit).shown),
                   .number = true,
                   .width = fits ? third : 0,
                   .label_height = fits ? label : 0});
        }
    }

    // The figure in a field; nothing where it is empty or none, and then why.
    template <class Q>
    std::optional<Q> figure(const Message& label, const Field& field) {
        if (field.text.empty()) return std::nullopt;
        Result<Q> read = parse<Q>(field.text);
        if (!read) problem_ = placed(label, read.refusal().message);
        return read ? std::optional(*read) : std::nullopt;
    }

    // The cables of this job, and those of earlier ones by names it does not have: asked for in place of a size.
    void draw_recorded(Context& context) {
        const Job& job = context.session->job();
        std::vector<const CableType*> here, earlier;
        for (const CableType& type : job.all<CableType>()) here.push_back(&type);
        if (const Job* library = shared_.ports.library())
            for (const Id& id : earlier_types(shared_, job, Kind::cable_type))
                earlier.push_back(library->find<CableType>(id));
        offer(context, "cable.recorded", Message("Cables of this job"), here);
        offer(context, "cable.earlier", Message("Cables of earlier jobs"), earlier);
    }

    void offer(Context& context, const std::string& name, const Message& title,
               const std::vector<const CableType*>& types) {
        if (types.empty()) return;
        quiet_paragraph(context, title);
        std::vector<Choice> choices;
        int chosen = -1;
        for (const CableType* type : types) {
            if (choices.size() == most_offered) break;
            if (chosen_ && chosen_->id == type->id && chosen_->name == type->name) {
                chosen = static_cast<int>(choices.size());
                chosen_ = *type;  // as it is now
            }
            choices.push_back({.label = entered(type->name.value_or(std::string())), .mark = type->id.text()});
        }
        const OnlyLooks saves_nothing(context);
        const int touched = choice_row(context, name, choices, chosen);
        if (touched < 0) return;
        if (touched == chosen) return chosen_.reset();
        chosen_ = *types[static_cast<std::size_t>(touched)];
        size_ = {};
    }

    std::optional<CableQuestion> question(const Job& job) {
        problem_ = {};
        const auto load = figure<Watts>(Message("Load"), load_);
        const auto length = figure<Metres>(Message("Length, one way"), length_);
        const auto volts = figure<Volts>(Message("Line voltage"), volts_);
        if (!load || !length || !volts) return std::nullopt;
        CableQuestion asked{.load = *load, .length = *length, .volts = *volts};
        asked.limit = job.info().loss_limit_db.value_or(Defaults::loss_limit_db);
        asked.celsius = job.info().cable_c.value_or(Defaults::cable_c);
        if (chosen_) {
            Result<RecordedCable> cable = recorded_cable(*chosen_, asked.celsius);
            if (!cable) {
                problem_ = cable.refusal().message;
                return std::nullopt;
            }
            asked.recorded = std::move(*cable);
            return asked;
        }
        if (size_.text.empty()) return asked;
        const Result<ConductorSize> size = parse_conductor_size(size_.text);
        if (!size) {
            problem_ = placed(Message("Size of one conductor"), size.refusal().message);
            return std::nullopt;
        }
        asked.size = *size;
        return asked;
    }

    void draw_answer(Context& context) {
        const std::optional<CableQuestion> asked = question(context.session->job());
        if (!problem_.empty()) return tone_box(context, "cable.problem", Tone::warning, problem_);
        if (!asked) return quiet_paragraph(context, Message("Enter load, length and line voltage."));
        const Result<CableAnswer> answer = cable_answer(*asked);
        if (!answer) return tone_box(context, "cable.problem", Tone::warning, answer.refusal().message);
        const bool keeps = answer->asked ? answer->asked->keeps : answer->smallest.has_value();
        statement_box(context, "cable.answer", keeps ? Tone::plain : Tone::warning, statement_of(*asked, *answer));
        if (!answer->asked) return;
        label_value(context, "cable.loss", Message("Cable loss"), answer->asked->loss);
        label_value(context, "cable.longest", Message("Longest within the limit"),
                    rounded_down(answer->asked->longest));
        label_value(context, "cable.end", Message("Voltage at the far end"), answer->asked->volts_end);
        label_value(context, "cable.lost", Message("Lost in the cable"), answer->asked->watts_lost);
    }

    static constexpr std::size_t most_offered = 24;
    std::optional<CableType> chosen_;  // in place of a size
    Message problem_;
    Field load_, length_, volts_, size_;
};

}  // namespace

std::unique_ptr<Screen> cable_screen(Shared& shared, const Session& session) {
    return std::make_unique<CableScreen>(shared, session);
}

}  // namespace tapwright::ui
