// A survey's answer in words.
#include "core/base/text.h"
#include "core/plan/hearing.h"
#include "core/plan/survey.h"
#include "core/job/field_text.h"
#include "core/units/show.h"

namespace tapwright {
namespace {

std::string db(SoundLevel level) {
    return rounded(level.value(), 1) + " dB";
}

class Words {
public:
    Words(const Job& job, const Survey& survey) : job_(job), survey_(survey), units_(length_units(job)) {}

    std::string all() const {
        std::string text = what_hangs();
        for (const std::string& more : {gaps(), others(), level()})
            if (!more.empty()) text += " " + more;
        if (survey_.watts) text += " " + who_carries();
        if (survey_.ears_assumed)
            text += " The height of the ears is not recorded; standing people are taken, " +
                    show(survey_.ears, units_) + ".";
        if (const auto caution = hearing()) text += " " + *caution;
        return text +
               " Direct sound only: reverberation, shadows of beams and furniture and the aim of each loudspeaker are "
               "left out, and the level from the data sheet counts as dBA. Not a design for emergency or fire systems; "
               "those are planned by people licensed for them.";
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

    // Edge to edge leaves gaps by its nature; staggered rows leave some along the walls.
    std::string gaps() const {
        const double percent = survey_.gaps.share * 100;
        if (percent < 0.5) return "";
        return "About " + rounded(percent, percent < 10 ? 1 : 0) +
               " % of the floor lies in no circle; its farthest place is " + show(survey_.gaps.farthest, units_) +
               " from the nearest loudspeaker, where a circle reaches " + show(survey_.diameter / 2, units_) + ".";
    }

    std::string others() const {
        if (survey_.hang_already == 0) return "";
        return counted(survey_.hang_already, "loudspeaker") + (survey_.hang_already == 1 ? " hangs" : " hang") +
               " there already and " + (survey_.hang_already == 1 ? "is" : "are") +
               " not counted on: this is for the room from new.";
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
            return "What level is wanted is not recorded; record it with the room, or the noise there, and a tap can "
                   "be "
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
        const Decibels above = tap.room - *survey_.wanted;
        constexpr Decibels much{6};  // two steps of common taps
        const std::string too_loud =
            above > much
                ? " That is " + rounded(above.value(), 1) +
                      " dB more than wanted, on the lowest tap that reaches it: a wall control, a lower tap or "
                      "a less sensitive type would bring it down."
                : "";
        const LevelMap map = map_on_tap(survey_, *survey_.tap);
        return "On " + show(tap.tap) + " the floor gets " + db(tap.room) + " on average, " + db(map.least) + " to " +
               db(map.greatest) + " with its corners (" + rounded(survey_.endless.value(), 1) +
               " dB apart away from walls), for " + wanted + "; one alone gives " + db(tap.one) +
               " straight below. That takes " + show(*survey_.watts) + "." + too_loud;
    }

    std::string who_carries() const {
        if (survey_.zones.empty()) return "No zone is recorded of which it is known what may be added.";
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
