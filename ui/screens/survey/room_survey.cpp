// One room surveyed alone: from its sizes and noise to how many loudspeakers on which tap, what that asks of a zone,
// and the level over the floor; kept as planned points in one touch.
#include "core/plan/survey.h"

#include <algorithm>

#include "core/job/field_text.h"
#include "core/words/survey_text.h"
#include "ui/drawings/level_map.h"
#include "ui/screens/common/cached.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"
#include "ui/screens/survey/keep_survey.h"

namespace tapwright::ui {
namespace {

constexpr Pattern grid_words[] = {Pattern("Square"), Pattern("Staggered")};
constexpr Pattern rule_words[] = {Pattern("Touching"), Pattern("Gapless"), Pattern("Double")};
constexpr std::size_t most_zones = 4;

class RoomSurvey : public ScreenOfRecord {
public:
    RoomSurvey(Shared& shared, Id room) : ScreenOfRecord(shared, std::move(room), Message("Survey")) {
        const auto before = shared_.surveys.find(id_);
        if (before == shared_.surveys.end()) return;
        zone_ = before->second.zone;
        request_ = before->second.request;
    }
    void draw_foot(Context& context) override {
        if (button(context, "survey.keep", plural("Plan {count} loudspeaker", "Plan {count} loudspeakers", speakers()),
                   {.kind = ButtonKind::primary, .shape = Shape::plus}))
            keep(context);
    }

private:
    Message title_of_record(Context&, const Job& job) override {
        return Message("Survey of {room}", {{"room", entered(name_of(job, id_))}});
    }
    bool has_record_foot(Context&, const Job&) override { return answer_ && may_be_kept(*answer_, zone_); }
    void draw_record(Context& context, const Job& job) override {
        draw_room(context, job);
        draw_type(context, job);
        if (type_ == Id()) return;
        look(*context.session);
        if (!answer_) return tone_box(context, "survey.problem", Tone::note, problem_);
        draw_layout(context);
        draw_answer(context);
        draw_map(context);
        statement_box(context, "survey.words", Tone::plain, words_);
    }

    void draw_room(Context& context, const Job& job) {
        const Room& room = *job.find<Room>(id_);
        const bool complete = room.length_m && room.width_m && room.height_m && (room.noise_dba || room.wanted_dba);
        if (!complete) sizes_ = true;  // what is being filled in stays open until it is closed
        if (complete &&
            button(context, "survey.sizes", Message("Sizes, noise, wanted level"), {.shape = Shape::survey}))
            sizes_ = !sizes_;
        if (complete && !sizes_) return;
        figures_in_a_row(context, shared_, form_, "survey.room", Kind::room, id_, {"length_m", "width_m", "height_m"});
        for (const char* field : {"ear_height_m", "noise_dba", "wanted_dba"})
            field_row(context, shared_, form_, "survey.room", Kind::room, id_, *find_field(Kind::room, field));
    }

    void draw_type(Context& context, const Job& job) {
        if (job.all<SpeakerType>().empty()) {
            empty_state(context, Shape::loudspeaker, Message("No loudspeaker types yet"),
                        Message("Record one first, with its taps, sensitivity and coverage angle."));
            if (button(context, "survey.types", Message("Loudspeaker types")))
                context.requests.open(records_screen(shared_, Kind::speaker_type));
            return;
        }
        if (!job.find<SpeakerType>(type_)) type_ = type_for_survey(shared_, job, id_);
        std::vector<Choice> choices;
        int chosen = -1;
        for (const SpeakerType& type : job.all<SpeakerType>()) {
            if (type.id == type_) chosen = static_cast<int>(choices.size());
            choices.push_back({entered(name_of(job, type.id))});
        }
        section_title(context, Message("Loudspeaker"));
        const int tapped = choice_row(context, "survey.type", choices, chosen);
        if (tapped < 0) return;
        type_ = job.all<SpeakerType>()[static_cast<std::size_t>(tapped)].id;
        request_.wanted.reset();
        chose();
    }

    void draw_layout(Context& context) {
        section_title(context, Message("Layout"));
        std::vector<Choice> choices;
        for (const Pattern& words : grid_words) choices.push_back({words});
        int tapped = choice_row(context, "survey.grid", choices, static_cast<int>(request_.grid));
        if (tapped >= 0) request_.grid = grids[static_cast<std::size_t>(tapped)], chose();
        choices.clear();
        for (const SurveyLayout& layout : answer_->layouts)
            if (layout.grid == answer_->request.grid)
                choices.push_back(
                    {rule_words[static_cast<std::size_t>(layout.rule)],
                     Message("{count}, {spacing} apart",
                             {{"count", static_cast<std::int64_t>(layout.count)}, {"spacing", layout.spacing}})});
        tapped = choice_row(context, "survey.rule", choices, static_cast<int>(answer_->request.rule));
        if (tapped >= 0) request_.rule = layout_rules[static_cast<std::size_t>(tapped)], chose();
    }

    void draw_answer(Context& context) {
        section_title(context, Message("Tap"));
        std::vector<Choice> choices;
        for (const SurveyTap& tap : answer_->taps)
            choices.push_back(
                {tap.tap, Message("{level} in the room", {{"level", tap.room}}), Tone::plain, tap.allowed});
        const int chosen = answer_->tap ? static_cast<int>(*answer_->tap) : -1;
        const int tapped = choice_row(context, "survey.tap", choices, chosen);
        // The tap that reaches exactly its own level is that tap.
        if (tapped >= 0) request_.wanted = answer_->taps[static_cast<std::size_t>(tapped)].room, chose();
        if (!answer_->tap || !answer_->watts) {
            tone_box(context, "survey.beyond", Tone::warning,
                     Message("No tap reaches the wanted level. Choose more overlap or a more sensitive type."));
            return;
        }
        const Message what =
            plural("{count} loudspeaker on {tap}, {watts} in all", "{count} loudspeakers on {tap}, {watts} in all",
                   speakers(), {{"tap", answer_->taps[*answer_->tap].tap}, {"watts", *answer_->watts}});
        section_title(context, what);
        mark(context, "survey.answer", context.words.text(what), true, false);
        draw_zones(context);
    }

    void draw_zones(Context& context) {
        const Job& job = context.session->job();
        std::vector<Choice> choices;
        int chosen = -1;
        for (const SurveyZone& zone : answer_->zones) {
            if (choices.size() == most_zones) break;
            if (zone.zone == zone_of_plan()) chosen = static_cast<int>(choices.size());
            const bool is_short = zone.keeps < Watts(0);
            choices.push_back({entered(name_of(job, zone.zone)),
                               is_short ? Message("{watts} short", {{"watts", rounded_up(-zone.keeps)}})
                                        : Message("{watts} headroom", {{"watts", rounded_down(zone.keeps)}}),
                               is_short ? Tone::stop : Tone::plain});
        }
        const int tapped = choice_row(context, "survey.zone", choices, chosen);
        if (tapped >= 0) zone_ = answer_->zones[static_cast<std::size_t>(tapped)].zone, chose();
    }

    void draw_map(Context& context) {
        if (!answer_->tap || map_.db.empty()) return;
        section_title(context, Message("Sound level across the floor"));
        LevelMapData data;
        data.length = static_cast<float>(map_.floor.length.value());
        data.width = static_cast<float>(map_.floor.width.value());
        data.columns = map_.columns;
        data.rows = map_.rows;
        data.cells = steps_.cells;
        const std::vector<Message> key(steps_.key.begin(), steps_.key.end());
        data.key = key;
        for (const Spot& spot : answer_->spots)
            data.spots.push_back({static_cast<float>(spot.x.value()), static_cast<float>(spot.y.value())});
        data.words = Message("From {least} to {greatest} across the floor",
                             {{"least", map_.least}, {"greatest", map_.greatest}});
        level_map_drawing(context, "survey.map", data);
        label_value(context, "survey.spread", Message("Quietest to loudest spot"), map_.spread());
    }

    std::int64_t speakers() const { return static_cast<std::int64_t>(answer_->spots.size()); }

    Id zone_of_plan() const { return answer_ ? zone_for_survey(*answer_, zone_) : Id(); }

    void chose() {
        shared_.surveys[id_] = {type_, zone_, request_};
        ++shared_.surveys_chosen;
    }

    void look(const Session& session) {
        if (seen_.still(session, type_, request_.grid, request_.rule, request_.wanted)) return;
        answer_.reset();
        map_ = {};
        Result<Survey> made = survey(session.job(), session.derived(), id_, type_, request_);
        if (!made) {
            problem_ = made.refusal().message;
            return;
        }
        answer_ = std::move(*made);
        if (answer_->tap) map_ = map_on_tap(*answer_, *answer_->tap);
        steps_ = steps_of(map_);
        words_ = statement_of(session.job(), *answer_);
    }

    void keep(Context& context) {
        keep_survey(context, shared_, *answer_, zone_,
                    [this, &context](const std::vector<Id>&) { context.requests.open(room_screen(shared_, id_)); });
    }

    Id type_, zone_;
    FormState form_;
    SurveyRequest request_;
    std::optional<Survey> answer_;
    LevelMap map_;
    LevelSteps steps_;
    Message problem_;
    Statement words_;
    bool sizes_ = false;
    Seen<Id, Grid, LayoutRule, std::optional<SoundLevel>> seen_;
};

}  // namespace

std::unique_ptr<Screen> room_survey_screen(Shared& shared, const Id& room) {
    return std::make_unique<RoomSurvey>(shared, room);
}

}  // namespace tapwright::ui
