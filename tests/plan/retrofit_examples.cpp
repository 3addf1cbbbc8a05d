#include "tests/plan/retrofit_examples.h"

#include "core/plan/fit.h"
#include "core/plan/hearing.h"
#include "core/plan/survey.h"
#include "core/plan/trial.h"
#include "core/readings/zone_balance.h"
#include "tests/derive/job_builder.h"

namespace tapwright {
namespace {

// The room of the examples: 9 by 6 m, 3 m high, ears at 1.2 m; a ceiling type of 90 dB and 90 degrees on 100 V.
Survey surveyed() {
    JobBuilder job = one_zone(100, 60);
    job.add("room", "r",
            {{"length_m", 9.0}, {"width_m", 6.0}, {"height_m", 3.0}, {"ear_height_m", 1.2}, {"wanted_dba", 84.0}});
    job.add("speaker_type", "c",
            {{"taps_w", List{1.25, 2.5, 5.0, 10.0}}, {"taps_v", 100.0}, {"sens_db", 90.0}, {"cone_deg", 90.0}});
    const Result<Survey> made = survey(job, derive(job), Id("r"), Id("c"));
    TAPWRIGHT_ENSURE(made.ok());
    return *made;
}

double spacing(Grid grid, LayoutRule rule) {
    return spacing_of(grid, rule, Metres(3.6)).value();
}

double cone_edge() {
    const std::vector<Source> one{{{Metres(0), Metres(0)}, Metres(1), SoundLevel(0), exponent_of(Degrees(90))}};
    return (level_at(one, {Metres(1), Metres(0)}) - level_at(one, {Metres(0), Metres(0)})).value();
}

double spread() {
    return spread_of_endless(Grid::square, spacing_of(Grid::square, LayoutRule::gapless, Metres(2)), Metres(1),
                             exponent_of(Degrees(90)))
        .value();
}

FitOption fitted(Aim aim) {
    JobBuilder job = one_zone(70.7, 100, 500).chain("p", 10, "z", 5);
    const FitRequest request{.zone = Id("z"), .add = {{.type = Id("s"), .count = 4, .tap = Watts(10)}}, .aims = {aim}};
    const Result<Fit> made = fit(job, derive(job), request);
    TAPWRIGHT_ENSURE(made.ok() && !made->options.empty());
    return made->options[0];
}

ZoneBalance unknown_zone() {
    const JobBuilder job = one_zone(100, 100, 500).read("r", "z", 200);
    return balance_of_zone(job, derive(job), Id("z"));
}

double trial_level() {
    const JobBuilder before = one_zone(70.7, 100).chain("p", 8, "z", 5);
    const JobBuilder after = JobBuilder(before).set("point", "p1", "tap_w", 2.5);
    return compare(before, derive(before), after, derive(after)).speakers[0].change->value();
}

}  // namespace

std::map<std::string, WorkedExample> retrofit_examples() {
    return {
        {"coverage_circle", {[] { return circle_of(Metres(1.8), Degrees(90)).value(); }, "m"}},
        {"coverage_circle_110", {[] { return circle_of(Metres(1.5), Degrees(110)).value(); }, "m"}},
        {"square_gapless", {[] { return spacing(Grid::square, LayoutRule::gapless); }, "m"}},
        {"staggered_gapless", {[] { return spacing(Grid::staggered, LayoutRule::gapless); }, "m"}},
        {"square_gapless_count", {[] { return surveyed().layouts[1].count; }, "loudspeakers"}},
        {"staggered_gapless_count", {[] { return surveyed().layouts[4].count; }, "loudspeakers"}},
        {"level_on_axis", {[] { return level_on_axis(SoundLevel(90), Watts(5), Metres(3)).value(); }, "dB"}},
        {"energy_sum",
         {[] {
              const SoundLevel levels[] = {SoundLevel(85), SoundLevel(82), SoundLevel(79)};
              return energy_sum(levels).value();
          },
          "dB"}},
        {"cone_edge", {cone_edge, "dB"}},
        {"endless_spread", {spread, "dB"}},
        {"survey_one", {[] { return surveyed().taps[1].one.value(); }, "dB"}},
        {"survey_room", {[] { return surveyed().taps[1].room.value(); }, "dB"}},
        {"survey_watts", {[] { return surveyed().watts->value(); }, "W"}},
        {"niosh_94", {[] { return niosh_hours(SoundLevel(94)); }, "h"}},
        {"osha_97", {[] { return osha_hours(SoundLevel(97)); }, "h"}},
        {"fit_fewest_ladders", {[] { return static_cast<double>(fitted(Aim::fewest).visits); }, "ladders"}},
        {"fit_fewest_worst", {[] { return fitted(Aim::fewest).worst.value(); }, "dB"}},
        {"fit_level_ladders", {[] { return static_cast<double>(fitted(Aim::level).visits); }, "ladders"}},
        {"fit_level_worst", {[] { return fitted(Aim::level).worst.value(); }, "dB"}},
        {"trial_level", {trial_level, "dB"}},
        {"unknown_measured", {[] { return unknown_zone().measured->value(); }, "W"}},
        {"unknown_least", {[] { return unknown_zone().least->value(); }, "W"}},
        {"unknown_most", {[] { return unknown_zone().most->value(); }, "W"}},
        {"unknown_can_add", {[] { return unknown_zone().can_add->value(); }, "W"}},
        {"unknown_sure_to_add", {[] { return unknown_zone().sure_to_add->value(); }, "W"}},
    };
}

}  // namespace tapwright
