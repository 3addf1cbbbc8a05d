// A room surveyed: from sizes and noise to an answer, or to the sentence that says what is missing.
#include <doctest/doctest.h>

#include "core/job/relations.h"
#include "core/plan/survey.h"
#include "core/words/survey_text.h"
#include "core/words/words.h"
#include "tests/derive/job_builder.h"
#include "tests/plan/fitting.h"

using namespace tapwright;

namespace {

// A room of 9 by 6 m with 2.8 m under the ceiling, and a ceiling type of 90 dB and 90 degrees.
JobBuilder job_with_room() {
    JobBuilder job = one_zone(100, 60);
    job.add("room", "r",
            {{"length_m", 9.0}, {"width_m", 6.0}, {"height_m", 3.0}, {"ear_height_m", 1.2}, {"wanted_dba", 80.0}});
    job.add("speaker_type", "c",
            {{"taps_w", List{1.25, 2.5, 5.0, 10.0}}, {"taps_v", 100.0}, {"sens_db", 90.0}, {"cone_deg", 90.0}});
    return job;
}

Result<Survey> surveyed(const Job& job, const SurveyRequest& request = {}) {
    return survey(job, derive(job), Id("r"), Id("c"), request);
}

std::string refused(const Job& job) {
    const Result<Survey> made = surveyed(job);
    REQUIRE_FALSE(made.ok());
    return in_english(made.refusal());
}

}  // namespace

TEST_CASE("a survey by hand: circle, count, levels, watts, zone (common practice, no single source)") {
    JobBuilder job = job_with_room();
    const Result<Survey> made = surveyed(job);
    REQUIRE(made.ok());
    CHECK(made->diameter.value() == doctest::Approx(3.6));
    REQUIRE(made->layouts.size() == 6);
    // 3.6/sqrt 2 = 2.546 m: 9/2.546 = 3.5 -> 4, 6/2.546 = 2.4 -> 3.
    CHECK(made->layouts[1].spacing.value() == doctest::Approx(2.545584));
    CHECK(made->layouts[1].count == 12);
    CHECK(made->layouts[0].count == 6);   // 3.6 m: 3 by 2
    CHECK(made->layouts[2].count == 20);  // 1.8 m: 5 by 4
    CHECK(made->layouts[3].count == 6);   // 3.6 m, rows 3.118 m: 3 by 2
    CHECK(made->layouts[4].count == 9);   // 3.118 m, rows 2.7 m: 3 by 3
    CHECK(made->layouts[5].count == 20);  // 1.8 m, rows 1.559 m: 5 by 4
    CHECK(made->spots.size() == 12);
    // On axis: 90 + 10 lg 2.5 - 20 lg 1.8.
    CHECK(made->taps[1].one.value() == doctest::Approx(88.873950));
    CHECK(made->taps[1].room.value() == doctest::Approx(made->one_watt.mean.value() + 3.979400));
    CHECK(made->taps[0].room > SoundLevel(80));
    CHECK(made->tap == 0);
    CHECK(made->watts == Watts(15));
    REQUIRE(made->zones.size() == 1);
    CHECK(made->zones[0].keeps == Watts(33));
    CHECK_FALSE(made->closest);
    const Statement statement = statement_of(job, *made);
    CHECK(
        in_english(statement.text) ==
        "r: 12 of c, square and gapless, in 3 rows of 4. On the 1.25 W tap: 85.5 dB(A) on average, 80 dB(A) wanted; 15 "
        "W in "
        "all. Enough spare for them: z (then 33 W spare). Hearing: at 87.3 dB(A) NIOSH recommends no more than 4.8 h a "
        "day. All sound of the day counts together. Not a design for fire or emergency systems.");
    CHECK(says(in_english(statement.why), "They are 2.25 m apart along the room and 2 m across."));
    CHECK(says(in_english(statement.why), "Direct sound only: reverberation, shadows and aim are left out."));
}

TEST_CASE("where no zone can carry them, the closest is named with what it lacks") {
    JobBuilder job = job_with_room();
    job.set("zone", "z", "limit_w", 12.5);  // 10 W of 15 W
    const Result<Survey> made = surveyed(job);
    REQUIRE(made->closest);
    CHECK(made->closest->zone == Id("z"));
    CHECK(made->closest->short_by == Watts(5));
    CHECK(says(survey_text(job, *made), "No zone has enough spare. Closest: z, 5 W short."));
}

TEST_CASE("a zone whose headroom is unknown is not proposed, and what to record is said") {
    JobBuilder job = job_with_room();
    job.set("zone", "z", "limit_w", Value());
    const Result<Survey> made = surveyed(job);
    REQUIRE(made.ok());
    CHECK(made->zones.empty());
    REQUIRE(made->unknown);
    CHECK(in_english(*made->unknown) == "What may be added to z is unknown. Record the limit of z, then try again.");
    CHECK(survey_text(job, *made).find("No zone is known to have enough spare. What may be added to z is unknown.") !=
          std::string::npos);
}

TEST_CASE("an answer says what it leaves open: gaps, what is there already, a tap much louder than wanted") {
    JobBuilder job = job_with_room();
    CHECK(surveyed(job)->gaps.beyond == Metres(0));
    CHECK(surveyed(job)->fitted_already == 0);
    CHECK_FALSE(surveyed(job)->is_too_loud());
    std::string text = survey_text(job, *surveyed(job));
    CHECK_FALSE(says(text, "outside coverage"));
    CHECK_FALSE(says(text, "already there"));
    CHECK_FALSE(says(text, "too loud"));
    const Result<Survey> staggered =
        survey(job, derive(job), Id("r"), Id("c"), {.grid = Grid::staggered, .rule = LayoutRule::gapless});
    REQUIRE(staggered.ok());
    CHECK(staggered->gaps.share > 0.02);
    CHECK(staggered->gaps.beyond == staggered->gaps.farthest - staggered->diameter / 2);
    CHECK(says(survey_text(job, *staggered), " % of the floor is outside coverage, up to "));
    job.set("room", "r", "wanted_dba", 60.0);
    job.add("point", "p1", {{"kind", "speaker"}, {"room", "r"}, {"fed_from", "z"}, {"type", "c"}, {"tap_w", 2.5}});
    job.add("point", "p2", {{"kind", "speaker"}, {"room", "r"}, {"fed_from", "z"}, {"state", "planned"}});
    const Result<Survey> loud = surveyed(job);
    CHECK(loud->fitted_already == 1);
    CHECK(loud->is_too_loud());
    CHECK(loud->over == loud->taps[0].room - SoundLevel(60));
    text = survey_text(job, *loud);
    CHECK(says(text, "Ignores the 1 loudspeaker already there."));
    CHECK(says(text, " too loud on the lowest tap. Use a volume control or a less sensitive type."));
}

TEST_CASE("the tap is the smallest that reaches what is wanted; the level map rises with it") {
    JobBuilder job = job_with_room();
    const double one_watt = surveyed(job)->one_watt.mean.value();
    job.set("room", "r", "wanted_dba", one_watt + 3.97);  // 2.5 W gives 3.9794 dB more than 1 W
    Result<Survey> made = surveyed(job);
    CHECK(made->tap == 1);
    job.set("room", "r", "wanted_dba", one_watt + 3.99);
    made = surveyed(job);
    CHECK(made->tap == 2);
    const LevelMap map = map_on_tap(*made, 2);
    CHECK(map.mean.value() == doctest::Approx(made->taps[2].room.value()));
    CHECK(map.at(3, 3) == doctest::Approx(made->one_watt.at(3, 3) + 6.9897));
    CHECK(map.spread().value() == doctest::Approx(made->one_watt.spread().value()));
    // Noise and a margin stand in for a level that is not given; a given one goes before both.
    job.set("room", "r", "wanted_dba", Value()).set("room", "r", "noise_dba", 70.0);
    CHECK(surveyed(job)->wanted == SoundLevel(80));
    CHECK(surveyed(job, {.margin = Decibels(6)})->wanted == SoundLevel(76));
    CHECK(surveyed(job, {.wanted = SoundLevel(60)})->wanted == SoundLevel(60));
}

TEST_CASE("taps marked for another line voltage, taps that mean delivered, and the most a type may be given") {
    JobBuilder job = job_with_room();
    job.set("zone", "z", "line_v", 50.0).set("speaker_type", "c", "xfmr_loss_db", 1.0);
    job.set("speaker_type", "c", "tap_means", "delivered");
    Result<Survey> made = surveyed(job, {.zone = Id("z")});
    CHECK(made->line_v == Volts(50));
    // A quarter of the marked watts reaches the loudspeaker, 1 dB more is drawn.
    CHECK(made->taps[3].drawn.value() == doctest::Approx(2.5 * 1.258925));
    CHECK(made->taps[3].one.value() == doctest::Approx(88.873950));
    job.set("speaker_type", "c", "max_w", 1.0).set("room", "r", "wanted_dba", 95.0);
    made = surveyed(job, {.zone = Id("z")});
    CHECK(made->taps[1].allowed);
    CHECK_FALSE(made->taps[2].allowed);
    CHECK(says(survey_text(job, *made), "2.5 W gives "));
}

TEST_CASE("what is missing is a sentence") {
    JobBuilder job = job_with_room();
    const auto without = [](const char* kind, const char* id, const char* field) {
        return refused(job_with_room().set(kind, id, field, Value()));
    };
    CHECK(says(without("room", "r", "height_m"), "r has no ceiling height recorded. Enter it, for example 2.8 m."));
    CHECK(says(without("room", "r", "length_m"), "r has no length recorded. Enter it, for example 8 m."));
    CHECK(says(without("room", "r", "width_m"), "r has no width recorded. Enter it, for example 5 m."));
    CHECK(says(without("speaker_type", "c", "taps_w"), "c has no taps recorded."));
    CHECK(says(without("speaker_type", "c", "sens_db"), "for example 90 dB."));
    CHECK(says(without("speaker_type", "c", "cone_deg"), "for example 90°."));
    CHECK(refused(job_with_room().set("room", "r", "ear_height_m", 3.0)) ==
          "r has its loudspeakers at 3 m, not above the ears at 3 m. Correct one or the other.");
    CHECK(says(refused(job_with_room().set("speaker_type", "c", "mount", "horn")),
               "c is a horn and looks along the room."));
    CHECK(says(refused(job_with_room().set("speaker_type", "c", "mount", "wall")), "c is for walls"));
    CHECK(says(refused(job_with_room().set("room", "r", "length_m", 900.0).set("room", "r", "width_m", 900.0)),
               "more than 2000"));
    CHECK(says(in_english(survey(job, derive(job), Id("nowhere"), Id("c")).refusal()), "no room with the id nowhere"));
    CHECK(says(in_english(survey(job, derive(job), Id("r"), Id("r")).refusal()), "no loudspeaker type with the id r"));
}

TEST_CASE("a wanted level beyond any tap, or none at all, is an answer in words") {
    JobBuilder job = job_with_room();
    job.set("room", "r", "wanted_dba", 120.0);
    Result<Survey> made = surveyed(job);
    REQUIRE(made.ok());
    CHECK_FALSE(made->tap);
    CHECK_FALSE(made->watts);
    CHECK(says(survey_text(job, *made), "No tap reaches the wanted 120 dB(A): 10 W gives "));
    job.set("room", "r", "wanted_dba", Value());
    made = surveyed(job);
    CHECK_FALSE(made->tap);
    CHECK(says(survey_text(job, *made),
               "No wanted level recorded. Enter it with the room, or the noise there, and a tap can be chosen."));
    job.set("speaker_type", "c", "max_w", 0.1).set("room", "r", "wanted_dba", 60.0);
    CHECK(says(survey_text(job, *surveyed(job)),
               "Every tap draws more than its max power, 0.1 W, on 100 V. Choose another type."));
    job.set("room", "r", "ear_height_m", Value());
    CHECK(surveyed(job)->ears == Metres(1.6));
    CHECK(says(survey_text(job, *surveyed(job)),
               "The height of the ears is not recorded, so 1.6 m is assumed (standing)."));
}

TEST_CASE("planned points: labels go on, places in the plan, one fed from the other, nothing the job would refuse") {
    JobBuilder job = job_with_room();
    job.speaker("old", "z", 5, {{"label", "C-41"}});
    const Result<Survey> made = surveyed(job);
    int next = 0;
    PlanRequest request{
        .tap = Watts(2.5), .fed_from = Id("old"), .new_id = [&] { return Id("n" + std::to_string(++next)); }};
    const Result<ChangeList> changes = planned_points(job, *made, request);
    REQUIRE(changes.ok());
    REQUIRE(changes->size() == 12);
    JobBuilder after = job;
    for (const Change& change : *changes) after.add("point", change.id.text(), change.fields);
    const Point& first = *after.job().find<Point>(Id("n1"));
    CHECK(first.label == "C-42");
    CHECK(first.fed_from == Id("old"));
    CHECK(first.x_m == Metres(1.13));  // 9/4/2 = 1.125 m, to the centimetre
    CHECK(first.y_m == Metres(1));
    CHECK(after.job().find<Point>(Id("n2"))->fed_from == Id("n1"));
    CHECK(broken_relations(after).empty());
    CHECK(derive(after).zones[0].margin.load == Watts(5 + 12 * 2.5));
    request.new_id = nullptr;
    CHECK((*planned_points(job, *made, request))[3].id.text().empty());
    request.fed_from = Id("c");
    CHECK(says(in_english(planned_points(job, *made, request).refusal()), "c is no zone and no point of this job"));
    request.fed_from = Id("z");
    request.tap = Watts(3);
    CHECK(says(in_english(planned_points(job, *made, request).refusal()),
               "c has no tap of 3 W. Choose one of its taps: 1.25 W, 2.5 W, 5 W or 10 W."));
}

TEST_CASE("a recorded room's loudspeakers sound with the watts they get") {
    JobBuilder job = job_with_room();
    job.speaker("p1", "z", 5, {{"type", "c"}, {"room", "r"}, {"x_m", 2.0}, {"y_m", 3.0}});
    job.speaker("p2", "p1", 5, {{"type", "c"}, {"room", "r"}});
    job.add("attenuator_type", "a", {{"rated_w", 50.0}, {"steps_db", List{0.0, -6.0}}});
    job.add("point", "w", {{"kind", "attenuator"}, {"type", "a"}, {"fed_from", "z"}, {"knob_db", -6.0}});
    job.speaker("p3", "w", 5, {{"type", "c"}, {"room", "r"}, {"x_m", 7.0}, {"y_m", 3.0}});
    const Result<RoomSources> found = sources_of_room(job, derive(job), Id("r"));
    REQUIRE(found.ok());
    REQUIRE(found->sources.size() == 2);
    CHECK(found->left_out == 1);
    CHECK(found->sources[0].one_metre.value() == doctest::Approx(96.9897));
    CHECK(found->sources[1].one_metre.value() == doctest::Approx(90.9897));
    CHECK(sources_of_room(job, derive(job), Id("r"), true)->sources[1].one_metre == SoundLevel(90));
}
