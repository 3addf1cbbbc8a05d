// A survey's answer in words.
#include "core/base/text.h"
#include "core/calc/hearing.h"
#include "core/calc/survey.h"
#include "core/job/field_text.h"
#include "core/units/text.h"

namespace tapwright {
namespace {

std::string db(SoundLevel level) {
    return rounded(level.value(), 1) + " dB";
}

class Words {
public:
    Words(const Job& job, const Survey& survey) : job_(job), survey_(survey), units_(length_units(job)) {}

    std::string all() const {
        std::string text = what_hangs() + " " + level();
        if (survey_.watts) text += " " + who_carries();
        if (survey_.ears_assumed)
            text += " The height of the ears is not recorded; standing people are taken, " +
                    show(survey_.ears, units_) + ".";
        if (const auto caution = hearing()) text += " " + *caution;
        return text +
               " Direct sound only: reverberation, shadows of beams and furniture and the aim of each loudspeaker are "
               "left out, and the level from the data sheet counts as dBA. Not a design for emergency or fire systems; "
               "those are planned by who is licensed for them.";
    }

private:
    std::string what_hangs() const {
        return name_of(job_, survey_.room) + ": " + std::to_string(survey_.spots.size()) + " of " +
               name_of(job_, survey_.type) + ", " + std::string(word(survey_.request.pattern)) + " with " +
               std::string(word(survey_.request.overlap)) + " overlap: " + shortest(survey_.chosen.rows) +
               (survey_.chosen.rows == 1 ? " row of " : " rows of ") + shortest(survey_.chosen.each) + ", " +
               show(survey_.chosen.pitch, units_) + " along and " + show(survey_.chosen.distance, units_) +
               " across; each covers a circle of " + show(survey_.diameter, units_) + " at the ears.";
    }

    const SurveyTap* highest_allowed() const {
        const SurveyTap* highest = nullptr;
        for (const SurveyTap& tap : survey_.taps)
            if (tap.allowed) highest = &tap;
        return highest;
    }

    std::string level() const {
        const SurveyTap* highest = highest_allowed();
        if (!survey_.wanted)
            return "What level is wanted is not recorded; set wanted_dba or noise_dba of the room, and a tap can be "
                   "chosen.";
        const std::string wanted = "the wanted " + rounded(survey_.wanted->value(), 1) + " dBA";
        if (!highest)
            return "Every tap draws more than the " + show(job_.find<SpeakerType>(survey_.type)->max_w) +
                   " it may be given on " + show(survey_.line_v) + "; choose another type.";
        if (!survey_.tap)
            return "No tap reaches " + wanted + ": " + show(highest->tap) + " gives " + db(highest->room) + ", " +
                   rounded((*survey_.wanted - highest->room).value(), 1) +
                   " dB too little. More overlap, a more sensitive type or one with a larger tap would.";
        const SurveyTap& tap = survey_.taps[*survey_.tap];
        const LevelMap map = map_on_tap(survey_, *survey_.tap);
        return "On " + show(tap.tap) + " the floor gets " + db(tap.room) + " on average, " + db(map.least) + " to " +
               db(map.greatest) + " with its corners (" + rounded(survey_.endless.value(), 1) +
               " dB apart away from walls), for " + wanted + "; one alone gives " + db(tap.one) +
               " straight below. That takes " + show(*survey_.watts) + ".";
    }

    std::string who_carries() const {
        if (survey_.zones.empty()) return "No zone is recorded whose headroom is known.";
        std::vector<std::string> able;
        const SurveyZone* nearest = &survey_.zones.front();
        for (const SurveyZone& zone : survey_.zones) {
            if (zone.keeps > nearest->keeps) nearest = &zone;
            if (zone.keeps >= Watts(0) && able.size() < 3)
                able.push_back("zone " + name_of(job_, zone.zone) + " keeps " + show(zone.keeps));
        }
        if (!able.empty()) return "Afterwards " + list_in_words(able) + ".";
        return "No zone has room for it: zone " + name_of(job_, nearest->zone) + " comes nearest and lacks " +
               show(-nearest->keeps) + ".";
    }

    std::optional<std::string> hearing() const {
        if (!survey_.tap) return std::nullopt;
        return hearing_caution(map_on_tap(survey_, *survey_.tap).greatest);
    }

    const Job& job_;
    const Survey& survey_;
    LengthUnits units_;
};

}  // namespace

std::string survey_text(const Job& job, const Survey& survey) {
    return Words(job, survey).all();
}

}  // namespace tapwright
