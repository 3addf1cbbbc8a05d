// The cautions: moment by moment, in the order of the work; what of the job decides; and who is asked first.
#include "core/words/cautions.h"

#include <doctest/doctest.h>

#include "core/calc/emergency.h"
#include "core/words/access_words.h"
#include "tests/readings/reading_jobs.h"

using namespace tapwright;

namespace {

using Codes = std::vector<std::string>;

Codes codes(CautionMoment moment, const Job& job, std::string_view place) {
    Codes told;
    for (const Caution& caution : cautions_for(moment, job, derive(job), place.empty() ? Id() : Id(std::string(place))))
        told.emplace_back(caution.code);
    return told;
}

std::string said(CautionMoment moment, const Job& job, std::string_view place) {
    const std::vector<Caution> cautions =
        cautions_for(moment, job, derive(job), place.empty() ? Id() : Id(std::string(place)));
    return in_english(in_one(cautions).text);
}

// A zone of which nothing is recorded but its loudspeakers, in a room of which nothing is recorded.
JobBuilder plain() {
    JobBuilder job = one_zone(70.7, 100);
    job.add("room", "room");
    job.chain("p", 2, "z", 5, {{"room", "room"}});
    return job;
}

struct Expected {
    CautionMoment moment;
    Codes codes;
};

}  // namespace

TEST_CASE("cautions: the table of moments, in the order of the work") {
    const Expected table[] = {
        {CautionMoment::dead_reading, {"not_emergency", "amplifier_off", "test_voltage", "disconnect", "positions"}},
        {CautionMoment::live_reading, {"not_emergency", "line_is_live", "rated_probes", "prove_meter", "nobody_alone"}},
        {CautionMoment::tone, {"warn_people", "hearing"}},
        {CautionMoment::insulation,
         {"not_emergency", "amplifier_off", "test_voltage", "disconnect_all", "test_is_hazard", "discharge"}},
        {CautionMoment::taking_off, {"amplifier_off", "still_off", "ladder", "speaker_off", "same_positions"}},
        {CautionMoment::after_measuring, {"reconnect", "positions_back", "play"}},
        {CautionMoment::opening, {"not_emergency", "amplifier_off", "test_voltage", "ladder"}},
        {CautionMoment::adding,
         {"not_emergency", "amplifier_off", "test_voltage", "class_unknown", "before_drilling", "ladder",
          "nobody_alone"}},
        {CautionMoment::existing_system, {"look_for", "leave_it"}},
        {CautionMoment::walk_test, {"tell_building", "hearing"}},
        {CautionMoment::fire_link, {"arrange_test", "never_operate"}},
        {CautionMoment::lower_marks, {"lower_marks"}},
        {CautionMoment::work_alone, {"nobody_alone"}},
        {CautionMoment::owner, {"do_not_open", "do_not_rely", "fire_procedure", "leave_wiring"}},
    };
    static_assert(std::size(table) == caution_moment_count);
    const JobBuilder job = plain();
    for (std::size_t i = 0; i < std::size(table); ++i) {
        CAPTURE(i);
        CHECK(table[i].moment == static_cast<CautionMoment>(i));
        CHECK(codes(table[i].moment, job, "z") == table[i].codes);
        for (const Caution& caution : cautions_for(table[i].moment, job, derive(job), Id("z")))
            CHECK_FALSE(in_english(caution.source).empty());
    }
}

TEST_CASE(
    "cautions before an impedance reading: the wrong line first, then the amplifier, then proof, then the meter") {
    CHECK(said(CautionMoment::dead_reading, plain(), "z") ==
          "Not a fire, voice-alarm or emergency line? Amplifier off, and nobody can switch it on. Test the line for "
          "voltage with a tester you have just proved. Disconnect both conductors. Test again. Attenuators full, or "
          "note each position.");
}

TEST_CASE("cautions follow the record: plenum, access, wiring class, line voltage, and the answer about fire lines") {
    JobBuilder job = plain();
    job.set("room", "room", "plenum", true).set("room", "room", "access", "asbestos in the lath ceiling, 3 m ladder");
    job.set("zone", "z", "wiring_class", "1").set("zone", "z", "emergency", "no").set("zone", "z", "line_v", 100.0);
    job.set("speaker_type", "s", "taps_v", 70.7);
    CHECK(codes(CautionMoment::adding, job, "z") == Codes{"asbestos", "ladder", "access", "amplifier_off",
                                                          "test_voltage", "class_1", "lower_marks", "plenum",
                                                          "nobody_alone"});
    // By the room alone, nothing is known of the line.
    CHECK(codes(CautionMoment::adding, job, "room") ==
          Codes{"asbestos", "ladder", "access", "amplifier_off", "test_voltage", "plenum", "nobody_alone"});
    CHECK(says(said(CautionMoment::adding, job, "p1"), "room: asbestos in the lath ceiling, 3 m ladder."));
    CHECK(says(said(CautionMoment::live_reading, job, "z"), "up to 100 V"));
    CHECK(says(said(CautionMoment::owner, job, ""), "up to 70.7 V"));
    // Before a meter touches it the question stands again.
    CHECK(codes(CautionMoment::dead_reading, job, "z").front() == "not_emergency");
    for (const auto& [word, code] : {std::pair("2", "class_2"), std::pair("3", "class_3")}) {
        job.set("zone", "z", "wiring_class", word);
        CHECK(codes(CautionMoment::adding, job, "z")[5] == code);
    }
}

TEST_CASE("what an access note names comes first, with the note; the ladder and drilling are not said twice") {
    JobBuilder job = plain();
    job.set("zone", "z", "emergency", "no").set("zone", "z", "wiring_class", "2");
    const auto with_note = [&](CautionMoment moment, const char* note) {
        job.set("room", "room", "access", note);
        return codes(moment, job, "z");
    };
    // Neither: the note where the ladder is, drilling as ever.
    CHECK(with_note(CautionMoment::adding, "key from the house manager") ==
          Codes{"amplifier_off", "test_voltage", "class_2", "before_drilling", "ladder", "access", "nobody_alone"});
    CHECK(with_note(CautionMoment::adding, "3 m ladder, before 8:00") ==
          Codes{"ladder", "access", "amplifier_off", "test_voltage", "class_2", "before_drilling", "nobody_alone"});
    CHECK(with_note(CautionMoment::adding, "Asbestos above the tiles") ==
          Codes{"asbestos", "access", "amplifier_off", "test_voltage", "class_2", "ladder", "nobody_alone"});
    CHECK(with_note(CautionMoment::opening, "Asbestos above the tiles") ==
          Codes{"asbestos", "access", "amplifier_off", "test_voltage", "ladder"});
    CHECK(with_note(CautionMoment::work_alone, "ladder; asbestos") ==
          Codes{"asbestos", "ladder", "access", "nobody_alone"});
    CHECK(with_note(CautionMoment::lower_marks, "ladder") == Codes{"ladder", "access", "lower_marks"});
    // A meter at the amplifier needs neither.
    CHECK(with_note(CautionMoment::dead_reading, "ladder; asbestos") ==
          codes(CautionMoment::dead_reading, plain(), "z"));
    for (const Caution& caution : cautions_for(CautionMoment::adding, job, derive(job), Id("z")))
        if (caution.code == "asbestos") CHECK(says(in_english(caution.source), "Control of Asbestos Regulations"));
}

TEST_CASE("of many rooms the notes that name asbestos are shown first") {
    JobBuilder job = plain();
    for (const char* room : {"r1", "r2", "r3"}) {
        job.add("room", room, {{"name", room}, {"access", "key"}});
        job.speaker(std::string("in-") + room, "z", 5).set("point", std::string("in-") + room, "room", room);
    }
    job.add("room", "r4", {{"name", "r4"}, {"access", "asbestos lagging"}});
    job.speaker("in-r4", "z", 5).set("point", "in-r4", "room", "r4");
    CHECK(says(said(CautionMoment::adding, job, "z"), "r4: asbestos lagging."));
}

TEST_CASE("words of access notes: the beginnings of words, in several languages, never in the middle of another") {
    struct Note {
        const char* text;
        bool asbestos, ladder;
    };
    const Note notes[] = {
        {"", false, false},
        {"key from the house manager", false, false},
        {"3 m Ladder", false, true},
        {"STEPLADDERS only", false, true},
        {"scaffold tower; book the hall", false, true},
        {"bladder pump in the way", false, false},
        {"ASBESTOS register at the desk", true, false},
        {"Weißasbest in der Decke, Stehleiter 3 m", true, true},
        {"GERÜST nötig", false, true},
        {"Herr Bauleiter Ott hat den Schlüssel", false, false},
        {"amiante, Échelle de 3 m", true, true},
        {"sin amianto; escalera de 2 m", true, true},
        {"azbest w suficie, drabina 3 m", true, true},
    };
    for (const Note& note : notes) {
        CAPTURE(note.text);
        CHECK(named_in(note.text).asbestos == note.asbestos);
        CHECK(named_in(note.text).ladder == note.ladder);
    }
}

TEST_CASE("what is to be done is a step, what is only to be known is none") {
    const JobBuilder job = plain();
    const auto steps = [&](CautionMoment moment, CautionStep step) {
        Codes told;
        for (const Caution& caution : cautions_for(moment, job, derive(job), Id("z")))
            if (caution.step == step) told.emplace_back(caution.code);
        return told;
    };
    CHECK(steps(CautionMoment::dead_reading, CautionStep::done) ==
          Codes{"not_emergency", "amplifier_off", "test_voltage"});
    CHECK(steps(CautionMoment::dead_reading, CautionStep::disconnect) == Codes{"disconnect"});
    CHECK(steps(CautionMoment::dead_reading, CautionStep::positions) == Codes{"positions"});
    CHECK(steps(CautionMoment::dead_reading, CautionStep::none).empty());
    CHECK(steps(CautionMoment::insulation, CautionStep::disconnect) == Codes{"disconnect_all"});
    CHECK(steps(CautionMoment::insulation, CautionStep::none) == Codes{"test_is_hazard", "discharge"});
    CHECK(steps(CautionMoment::live_reading, CautionStep::done) ==
          Codes{"not_emergency", "rated_probes", "prove_meter"});
    CHECK(steps(CautionMoment::live_reading, CautionStep::none) == Codes{"line_is_live", "nobody_alone"});
    CHECK(steps(CautionMoment::live_reading, CautionStep::disconnect).empty());
    CHECK(steps(CautionMoment::taking_off, CautionStep::disconnect) == Codes{"still_off"});
    CHECK(steps(CautionMoment::after_measuring, CautionStep::done) == Codes{"reconnect", "positions_back", "play"});
}

TEST_CASE("cautions about noise name their sources and figures") {
    const std::vector<Caution> cautions = cautions_for(CautionMoment::tone, plain(), derive(plain()), Id("z"));
    const std::string why = in_english(in_one(cautions).why);
    for (const char* part : {"NIOSH: 85 dB(A)", "OSHA", "90 dB(A)", "80 and 85 dB(A), limit 87", "from memory"})
        CHECK(says(why, part));
}

TEST_CASE("what is measured decides the cautions") {
    CHECK(moment_before(Measured::ohms) == CautionMoment::dead_reading);
    CHECK(moment_before(Measured::dc_ohms) == CautionMoment::dead_reading);
    CHECK(moment_before(Measured::earth_ohms) == CautionMoment::insulation);
    CHECK(moment_before(Measured::cross_ohms) == CautionMoment::insulation);
    CHECK(moment_before(Measured::volts) == CautionMoment::live_reading);
    CHECK(moment_before(Measured::stray_v) == CautionMoment::live_reading);
    CHECK(moment_before(Measured::level_dba) == CautionMoment::tone);
    CHECK(moment_before(Measured::tap_w) == CautionMoment::opening);
    CHECK_FALSE(moment_before(Measured::noise_dba).has_value());
}

TEST_CASE("whether a place is a fire or emergency line: its own answer, its line's, what is on it; else ask") {
    JobBuilder job = plain();
    job.add("zone", "z2", {{"channel", "out"}});
    job.speaker("loose", "z", 5).set("point", "loose", "fed_from", Value());
    const auto answer = [&](const char* place) { return emergency_of(job, derive(job), Id(place)); };
    for (const char* place : {"z", "p1", "out", "loose", "room"}) CHECK_FALSE(answer(place).has_value());
    job.set("zone", "z", "emergency", "no");
    CHECK(answer("z") == Answer::no);
    CHECK(answer("p2") == Answer::no);
    CHECK_FALSE(answer("out").has_value());  // nobody was asked about its other zone
    CHECK_FALSE(answer("loose").has_value());
    job.set("zone", "z2", "emergency", "no").set("point", "loose", "emergency", "no");
    CHECK(answer("out") == Answer::no);
    CHECK(answer("loose") == Answer::no);
    job.set("point", "p1", "emergency", "yes");
    for (const char* place : {"p1", "p2", "z", "out"}) {
        CHECK(answer(place) == Answer::yes);
        CHECK(is_emergency(job, wire(job), Id(place)));
    }
    CHECK(answer("z2") == Answer::no);
    CHECK_FALSE(is_emergency(job, wire(job), Id("z2")));
}

TEST_CASE("before something is added to a line that others made, the question comes first") {
    JobBuilder job = plain();
    CHECK_FALSE(must_ask_before_adding(job, derive(job), Id("z")));
    job.set("point", "p1", "origin", "existing");
    CHECK(must_ask_before_adding(job, derive(job), Id("z")));
    for (const char* answer : {"no", "yes"}) {
        job.set("zone", "z", "emergency", answer);
        CHECK_FALSE(must_ask_before_adding(job, derive(job), Id("z")));
    }
}
