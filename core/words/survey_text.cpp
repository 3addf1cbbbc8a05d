#include "core/words/survey_text.h"

#include "core/words/hearing_text.h"
#include "core/words/words.h"

namespace tapwright {
namespace {

// Levels at the ears are compared with noise, so they are weighted as it is; the pattern says "dB(A)".
Argument in_dba(SoundLevel level) {
    return Figure{level.value(), Unit::none, 1};
}

Argument whole(double count) {
    return Figure{count, Unit::none, 0};
}

class Teller {
public:
    Teller(const Job& job, const Survey& survey) : job_(job), survey_(survey) {}

    Statement tell() const {
        return {
            sentences({what_to_fit(), level(), who_carries(), survey_.unknown.value_or(Message()), hearing(),
                       Message("Not a design for fire or emergency systems.")}),
            sentences({spacing(), gaps(), others(), spread(), ears(),
                       Message("Direct sound only: reverberation, shadows and aim are left out. The data sheet's level "
                               "is taken as dB(A).")})};
    }

private:
    Message what_to_fit() const {
        return plural("{room}: {loudspeakers} of {type}, {grid} and {rule}, in {count} row of {each}.",
                      "{room}: {loudspeakers} of {type}, {grid} and {rule}, in {count} rows of {each}.",
                      static_cast<std::int64_t>(survey_.chosen.rows),
                      {{"room", entered(name_of(job_, survey_.room))},
                       {"loudspeakers", survey_.spots.size()},
                       {"type", entered(name_of(job_, survey_.type))},
                       {"grid", survey_.request.grid},
                       {"rule", survey_.request.rule},
                       {"each", whole(survey_.chosen.each)}});
    }

    Message level() const {
        if (!survey_.wanted)
            return Message(
                "No wanted level recorded. Enter it with the room, or the noise there, and a tap can be chosen.");
        if (!survey_.highest)
            return Message("Every tap draws more than its max power, {most}, on {line}. Choose another type.",
                           {{"most", *job_.find<SpeakerType>(survey_.type)->max_w}, {"line", survey_.line_v}});
        const SurveyTap& highest = survey_.taps[*survey_.highest];
        if (!survey_.tap)
            return Message(
                "No tap reaches the wanted {wanted} dB(A): {tap} gives {level} dB(A), {short} too little. Use more "
                "overlap, or a type that is more sensitive or has a larger tap.",
                {{"wanted", in_dba(*survey_.wanted)},
                 {"tap", highest.tap},
                 {"level", in_dba(highest.room)},
                 {"short", -*survey_.over}});
        const SurveyTap& tap = survey_.taps[*survey_.tap];
        Message chosen = Message("On the {tap} tap: {level} dB(A) on average, {wanted} dB(A) wanted; {watts} in all.",
                                 {{"tap", tap.tap},
                                  {"level", in_dba(tap.room)},
                                  {"wanted", in_dba(*survey_.wanted)},
                                  {"watts", *survey_.watts}});
        if (!survey_.is_too_loud()) return chosen;
        return sentences({chosen, Message("That is {over} too loud on the lowest tap. Use a volume control or a less "
                                          "sensitive type.",
                                          {{"over", *survey_.over}})});
    }

    Message who_carries() const {
        if (!survey_.watts) return {};
        if (survey_.zones.empty()) return Message("No zone is known to have enough spare.");
        if (survey_.closest)
            return Message("No zone has enough spare. Closest: {zone}, {short} short.",
                           {{"zone", entered(name_of(job_, survey_.closest->zone))},
                            {"short", rounded_up(survey_.closest->short_by)}});
        constexpr std::size_t most_named = 3;
        std::vector<Message> able;
        for (const SurveyZone& zone : survey_.zones)
            if (zone.keeps >= Watts(0) && able.size() < most_named)
                able.push_back(Message("{zone} (then {spare} spare)",
                                       {{"zone", entered(name_of(job_, zone.zone))}, {"spare", may_add(zone.keeps)}}));
        return Message("Enough spare for them: {zones}.", {{"zones", series(able)}});
    }

    Message hearing() const {
        if (!survey_.tap) return {};
        const auto limits = hearing_limits(map_on_tap(survey_, *survey_.tap).greatest);
        return limits ? message_of(*limits) : Message();
    }

    Message spacing() const {
        return Message(
            "They are {pitch} apart along the room and {distance} across. Each covers a circle of {diameter} at "
            "the ears.",
            {{"pitch", survey_.chosen.pitch}, {"distance", survey_.chosen.distance}, {"diameter", survey_.diameter}});
    }

    // Touching circles leave gaps by their nature; staggered rows leave some along the walls.
    Message gaps() const {
        const double percent = survey_.gaps.share * 100;
        if (percent < 0.5) return {};
        const Figure share{percent, Unit::percent, percent < 10 ? 1 : 0};
        return Message("About {share} of the floor is outside coverage, up to {beyond} beyond the edge.",
                       {{"share", share}, {"beyond", survey_.gaps.beyond}});
    }

    Message others() const {
        if (survey_.fitted_already == 0) return {};
        return plural("Ignores the {count} loudspeaker already there.",
                      "Ignores the {count} loudspeakers already there.",
                      static_cast<std::int64_t>(survey_.fitted_already));
    }

    Message spread() const {
        if (!survey_.tap) return {};
        const LevelMap map = map_on_tap(survey_, *survey_.tap);
        return Message(
            "The level goes from {least} dB(A) in the corners to {greatest} dB(A); away from walls it varies by "
            "{endless}. One loudspeaker alone gives {one} dB(A) straight below.",
            {{"least", in_dba(map.least)},
             {"greatest", in_dba(map.greatest)},
             {"endless", survey_.endless},
             {"one", in_dba(survey_.taps[*survey_.tap].one)}});
    }

    Message ears() const {
        if (!survey_.ears_assumed) return {};
        return Message("The height of the ears is not recorded, so {ears} is assumed (standing).",
                       {{"ears", survey_.ears}});
    }

    const Job& job_;
    const Survey& survey_;
};

}  // namespace

Statement statement_of(const Job& job, const Survey& survey) {
    return Teller(job, survey).tell();
}

std::string survey_text(const Job& job, const Survey& survey) {
    const Statement statement = statement_of(job, survey);
    return in_english(sentences({statement.text, statement.why}));
}

}  // namespace tapwright
