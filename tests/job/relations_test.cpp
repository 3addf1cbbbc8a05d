// What ties records together, each way of breaking it, and the sentence for it.
#include "core/job/relations.h"

#include "core/words/words.h"
#include "tests/job/made.h"

using namespace tapwright;

namespace {

// A zone with one attenuator and one loudspeaker behind it, whole and sound.
Job sound_job() {
    Job job;
    made::set(job, Kind::job, "job", "name", "House");
    made::add(job, Kind::room, "r1", {{"name", "Foyer"}});
    made::add(job, Kind::amplifier, "a1", {{"name", "Rack"}, {"room", "r1"}});
    made::add(job, Kind::channel, "c1", {{"name", "1"}, {"amplifier", "a1"}});
    made::add(job, Kind::zone, "z1", {{"name", "Hall"}, {"channel", "c1"}});
    made::add(job, Kind::speaker_type, "st", {{"name", "Ceiling 165 mm"}, {"taps_w", List{0.625, 1.25, 2.5, 5.0}}});
    made::add(job, Kind::attenuator_type, "at", {{"name", "Wall control 50 W"}});
    made::add(job, Kind::point, "v1", {{"kind", "attenuator"}, {"label", "V1"}, {"fed_from", "z1"}, {"type", "at"}});
    made::add(job, Kind::point, "s1",
              {{"kind", "speaker"}, {"label", "S1"}, {"fed_from", "v1"}, {"type", "st"}, {"tap_w", 5.0}});
    return job;
}

// The one thing that is wrong, and its sentence.
std::string the_breach(const Job& job, Breach breach, const char* id, std::string_view field) {
    const std::vector<BrokenRelation> broken = broken_relations(job);
    REQUIRE(broken.size() == 1);
    CHECK(broken[0].breach == breach);
    CHECK(broken[0].id == Id(id));
    CHECK(broken[0].field == field);
    return in_english(placed(place_of(job, broken[0]), message_of(job, broken[0])));
}

}  // namespace

TEST_CASE("a sound job breaks nothing") {
    CHECK(broken_relations(sound_job()).empty());
}

TEST_CASE("a required field that is absent") {
    Job job = sound_job();
    made::set(job, Kind::point, "s1", "label", Value());
    CHECK(the_breach(job, Breach::missing_field, "s1", "label") == "Label of s1: missing. Write 1 to 200 characters.");
    CHECK(broken_relations(Job())[0].id == job_id());  // a job without a name
}

TEST_CASE("an id that names nothing") {
    Job job = sound_job();
    made::set(job, Kind::zone, "z1", "channel", "c9");
    CHECK(the_breach(job, Breach::dangling, "z1", "channel") ==
          "Output of Hall: There is no record with the id c9. Name a record of the kind Output.");
    job = sound_job();
    made::add(job, Kind::snag, "n1", {{"text", "buzzes"}, {"about", "gone"}});
    CHECK(the_breach(job, Breach::dangling, "n1", "about") ==
          "About of n1: There is no record with the id gone. Name a record of this job.");
    job = sound_job();
    made::add(job, Kind::reading, "m1",
              {{"at", "z1"}, {"quantity", "ohms"}, {"value", 80.0}, {"knobs", Map{{"v9", -6.0}}}});
    CHECK(the_breach(job, Breach::dangling, "m1", "knobs") ==
          "Attenuator positions of m1: There is no record with the id v9. Name a record of the kind Point.");
    job = sound_job();
    made::add(job, Kind::control, "k1", {{"name", "Bar"}, {"governs", List{"s1", "s9"}}});
    CHECK(the_breach(job, Breach::dangling, "k1", "governs")
              .starts_with("Controls of Bar: There is no record with the id s9."));
}

TEST_CASE("an id that names the wrong kind") {
    Job job = sound_job();
    made::set(job, Kind::point, "v1", "fed_from", "r1");
    CHECK(the_breach(job, Breach::wrong_kind, "v1", "fed_from") ==
          "Fed from of V1: Foyer is of the kind Room. Name a record of the kind Zone or Point.");
    job = sound_job();
    made::set(job, Kind::point, "s1", "type", "at");
    CHECK(the_breach(job, Breach::wrong_kind, "s1", "type") ==
          "Type of S1: Wall control 50 W is of the kind Attenuator type. Name a record of the kind Loudspeaker type.");
    job = sound_job();
    made::set(job, Kind::point, "v1", "type", "st");
    CHECK(the_breach(job, Breach::wrong_kind, "v1", "type") ==
          "Type of V1: Ceiling 165 mm is of the kind Loudspeaker type. Name a record of the kind Attenuator type.");
    job = sound_job();
    made::add(job, Kind::point, "x1", {{"kind", "splice"}, {"label", "X1"}, {"type", "st"}});
    CHECK(the_breach(job, Breach::wrong_kind, "x1", "type").find("Only a loudspeaker or an attenuator has a type") !=
          std::string::npos);
}

TEST_CASE("a feed that runs in a circle") {
    Job job = sound_job();
    made::set(job, Kind::point, "v1", "fed_from", "s1");
    const std::vector<BrokenRelation> broken = broken_relations(job);
    REQUIRE(broken.size() == 1);
    CHECK(broken[0].breach == Breach::feed_loop);
    CHECK(broken[0].field == "fed_from");
    CHECK(in_english(message_of(job, broken[0])).find("in a circle") != std::string::npos);
    job = sound_job();
    made::set(job, Kind::point, "s1", "fed_from", "s1");
    the_breach(job, Breach::feed_loop, "s1", "fed_from");
    job = sound_job();
    for (const char* id : {"p1", "p2", "p3", "p4"})
        made::add(job, Kind::point, id, {{"kind", "splice"}, {"label", id}});
    made::set(job, Kind::point, "p1", "fed_from", "p2");
    made::set(job, Kind::point, "p2", "fed_from", "p1");
    made::set(job, Kind::point, "p3", "fed_from", "p4");
    made::set(job, Kind::point, "p4", "fed_from", "p3");
    CHECK(broken_relations(job).size() == 2);
    made::set(job, Kind::point, "p4", "fed_from", "p1");  // a branch off the first circle; the second is open now
    CHECK(broken_relations(job).size() == 1);
}

TEST_CASE("a ring's second end is no feed") {
    Job job = sound_job();
    made::set(job, Kind::point, "v1", "ring_to", "s1");
    CHECK(broken_relations(job).empty());
}

TEST_CASE("a tap the type does not have, within 1 %") {
    Job job = sound_job();
    made::set(job, Kind::point, "s1", "tap_w", 7.5);
    CHECK(the_breach(job, Breach::tap_not_offered, "s1", "tap_w") ==
          "Tap of S1: Ceiling 165 mm has no tap of 7.5 W. Its taps are 0.63 W, 1.25 W, 2.5 W and 5 W.");
    made::set(job, Kind::point, "s1", "tap_w", 0.63);
    CHECK(broken_relations(job).empty());
    made::set(job, Kind::point, "s1", "planned_tap_w", 5.06);
    the_breach(job, Breach::tap_not_offered, "s1", "planned_tap_w");
    const SpeakerType& type = *job.find<SpeakerType>(Id("st"));
    CHECK(offers_tap(type, Watts(5.05)));
    CHECK(offers_tap(type, Watts(4.95)));
    CHECK_FALSE(offers_tap(type, Watts(5.051)));
    CHECK(offers_tap(SpeakerType{}, Watts(5)));
}

TEST_CASE("one id in two kinds") {
    Job job = sound_job();
    made::add(job, Kind::cable_type, "z1", {{"name", "Cable"}});
    CHECK(the_breach(job, Breach::shared_id, "z1", "").find("Every id must be unique") != std::string::npos);
    job = sound_job();
    made::add(job, Kind::room, "job", {{"name", "Room"}});
    the_breach(job, Breach::shared_id, "job", "");
}

TEST_CASE("who refers to a record") {
    Job job = sound_job();
    made::add(job, Kind::reading, "m1",
              {{"at", "v1"}, {"quantity", "ohms"}, {"value", 80.0}, {"knobs", Map{{"v1", "off"}}}});
    made::add(job, Kind::control, "k1", {{"name", "Bar"}, {"governs", List{"v1", "s1"}}});
    std::string found;
    for (const Referrer& referrer : referrers(job, Id("v1")))
        found +=
            std::string(singular(referrer.kind)) + " " + referrer.id.text() + " " + std::string(referrer.field) + "; ";
    CHECK(found == "point s1 fed_from; control k1 governs; reading m1 at; reading m1 knobs; ");
    CHECK(referrers(job, Id("s9")).empty());
    // Many at once, the same one twice and one that is nobody's among them.
    const std::vector<Id> ids{Id("s9"), Id("v1"), Id("s1"), Id("v1")};
    const auto all = referrers(job, ids);
    REQUIRE(all.size() == 4);
    CHECK(all[0].empty());
    CHECK(all[1].size() == 4);
    CHECK(all[2].size() == referrers(job, Id("s1")).size());
    CHECK(all[3].size() == 4);
}
