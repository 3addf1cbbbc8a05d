// What making room, a trial and a survey propose, kept or made real: one batch each, and one undo brings the job back,
// its file's text to the byte and its figures to the last digit.
#include <doctest/doctest.h>

#include <limits>

#include "core/exchange/job_json.h"
#include "core/plan/fit.h"
#include "core/plan/survey.h"
#include "core/plan/trial.h"
#include "core/words/words.h"
#include "tests/session/people.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

// The small system with a room to survey, and a loudspeaker that was there before and whose tap nobody knew when the
// line was read: what is made real has accounts to keep.
ChangeList system_with_a_reading() {
    ChangeList changes = small_system();
    changes.push_back(
        set(Kind::room, "r1",
            {{"length_m", 9.0}, {"width_m", 6.0}, {"height_m", 3.0}, {"ear_height_m", 1.2}, {"wanted_dba", 70.0}}));
    changes.push_back(set(Kind::zone, "z1", {{"emergency", "no"}}));
    changes.push_back(set(Kind::speaker_type, "t1", {{"sens_db", 88.0}, {"cone_deg", 110.0}, {"mount", "ceiling"}}));
    changes.push_back(
        add(Kind::point, "old",
            {{"kind", "speaker"}, {"label", "C-3"}, {"fed_from", "p2"}, {"type", "t1"}, {"origin", "existing"}}));
    return changes;
}

void add_figure(std::vector<double>& figures, double figure) {
    figures.push_back(figure);
}
template <class Q>
void add_figure(std::vector<double>& figures, const std::optional<Q>& figure) {
    figures.push_back(figure ? figure->value() : -std::numeric_limits<double>::max());
}

// Every figure that screens, checks and sheets show of zones, amplifiers and points.
std::vector<double> figures_of(const Derived& derived) {
    std::vector<double> figures;
    const auto add_margin = [&](const Margin& margin) {
        add_figure(figures, margin.load.value());
        add_figure(figures, margin.unrecorded.value());
        add_figure(figures, margin.headroom);
    };
    for (const ZoneState& zone : derived.zones) {
        add_margin(zone.margin);
        add_figure(figures, zone.can_add);
        for (const Ohms ohms : {zone.ohms, zone.ohms_full, zone.ohms_all}) add_figure(figures, ohms.value());
    }
    for (const ChannelState& channel : derived.channels) add_margin(channel.margin);
    for (const AmplifierState& amplifier : derived.amplifiers) add_margin(amplifier.margin);
    for (const PointOnLine& point : derived.points) {
        for (const double figure :
             {point.volts.value(), point.watts.value(), point.ohms.value(), point.ohms_all.value()})
            add_figure(figures, figure);
        add_figure(figures, point.level);
        add_figure(figures, point.can_add);
    }
    add_figure(figures, static_cast<double>(derived.findings.size()));
    return figures;
}

struct Site {
    TemporaryFolder folder;
    std::string path = folder.file("a.tapjob");
    Clock clock;
    Session session = opened();
    IdMaker ids{77};

    Session opened() {
        REQUIRE(Session::create(path, command(system_with_a_reading()), ana, clock.next()).ok());
        Result<Session> made = Session::open(path, Access::write);
        REQUIRE(made.ok());
        // 10 W are recorded, 75 W are measured.
        const Result<Outcome> read = made->request(
            command(
                {add(Kind::reading, "", {{"at", "z1"}, {"quantity", "ohms"}, {"value", 66.65}, {"isolated", true}})}),
            ana, clock.next());
        REQUIRE_MESSAGE(read.ok(), (read ? "" : in_english(read.refusal())));
        return std::move(*made);
    }

    ChangeList fitted() {
        const FitRequest request{
            .zone = Id("z1"), .add = {{.type = Id("t1"), .count = 2, .tap = Watts(2.5)}}, .aims = {Aim::fewest}};
        const Result<Fit> made = fit(session.job(), session.derived(), request);
        REQUIRE_MESSAGE(made.ok(), (made ? "" : in_english(made.refusal())));
        REQUIRE(made->options.size() == 1);
        return changes_of(session.job(), request, made->options[0], [&] { return ids.make(Kind::point); });
    }

    ChangeList surveyed() {
        const Result<Survey> made = survey(session.job(), session.derived(), Id("r1"), Id("t1"));
        REQUIRE_MESSAGE(made.ok(), (made ? "" : in_english(made.refusal())));
        PlanRequest plan;
        plan.tap = Watts(2.5);
        plan.fed_from = Id("z1");
        plan.new_id = [&] { return ids.make(Kind::point); };
        const Result<ChangeList> points = planned_points(session.job(), *made, plan);
        REQUIRE_MESSAGE(points.ok(), (points ? "" : in_english(points.refusal())));
        return *points;
    }

    // Carries the changes out, takes them back and brings them again.
    void there_and_back(const ChangeList& changes, std::size_t points_more) {
        const std::string before = write_job(session.job());
        const std::vector<double> figures_before = figures_of(session.derived());
        const std::size_t points = session.job().count(Kind::point);
        const std::size_t batches = session.batch_count();

        const Result<Outcome> done = session.request(command(changes), ana, clock.next());
        REQUIRE_MESSAGE(done.ok(), (done ? "" : in_english(done.refusal())));
        CHECK(done->kept);
        CHECK(session.batch_count() == batches + 1);
        CHECK(session.job().count(Kind::point) == points + points_more);
        const std::string after = write_job(session.job());
        CHECK(after != before);
        const std::vector<double> figures_after = figures_of(session.derived());

        const Result<Outcome> undone = session.undo(ana, clock.next());
        REQUIRE(undone.ok());
        CHECK(undone->remarks.empty());
        CHECK(session.batch_count() == batches + 2);
        CHECK(write_job(session.job()) == before);
        CHECK(figures_of(session.derived()) == figures_before);

        REQUIRE(session.redo(ana, clock.next()).ok());
        CHECK(write_job(session.job()) == after);
        CHECK(figures_of(session.derived()) == figures_after);
        REQUIRE(session.undo(ana, clock.next()).ok());
        // What the file says is what was shown.
        const Result<Session> again = Session::open(path, Access::read);
        REQUIRE(again.ok());
        CHECK(write_job(again->job()) == before);
        CHECK(figures_of(again->derived()) == figures_before);
        CHECK(again->verify().ok());
    }
};

}  // namespace

TEST_CASE("what a session with a reading shows rests on more than was recorded") {
    Site site;
    REQUIRE(site.session.derived().zones[0].margin.unrecorded > Watts(1));
    CHECK(figures_of(site.session.derived()) == figures_of(derive(site.session.job())));
}

TEST_CASE("an option of making room is kept as a trial in one batch, which changes no figure") {
    Site site;
    const std::vector<double> figures = figures_of(site.session.derived());
    const ChangeList kept{trial_record("More in the hall", site.fitted())};
    site.there_and_back(kept, 0);
    REQUIRE(site.session.request(command(kept), ana, site.clock.next()).ok());
    CHECK(figures_of(site.session.derived()) == figures);
}

TEST_CASE("an option of making room is made real in one batch, as taps set and as the plan") {
    for (const MadeReal how : {MadeReal::as_left, MadeReal::as_planned}) {
        Site site;
        site.there_and_back(made_real(site.session.job(), site.fitted(), how), 2);
    }
}

TEST_CASE("a kept trial is made real in one batch; one undo takes all back and the trial is there again") {
    for (const MadeReal how : {MadeReal::as_left, MadeReal::as_planned}) {
        Site site;
        ChangeList wished = site.fitted();
        wished.push_back(set(Kind::point, "p1", {{"tap_w", 2.5}}));
        wished.push_back(set(Kind::point, "old", {{"tap_w", 10.0}}));  // found: an account has to be kept
        wished.push_back(remove(Kind::point, "p2"));                   // what is fed from it goes to p1
        const Result<Outcome> kept =
            site.session.request(command({trial_record("More in the hall", wished)}), ana, site.clock.next());
        REQUIRE(kept.ok());
        const Id trial = kept->ids.front();
        const Result<ChangeList> real = make_real(site.session.job(), trial, how);
        REQUIRE(real.ok());
        site.there_and_back(*real, 1);
        CHECK(site.session.job().has(Kind::trial, trial));
        REQUIRE(site.session.request(command(*real), ana, site.clock.next()).ok() == false);  // its ids were used
        const ChangeList free =
            with_free_ids(site.session.job(), *real, [&](const Id& id) { return site.session.was_used(id); });
        site.there_and_back(free, 1);
    }
}

TEST_CASE("a layout of a survey is kept as planned loudspeakers in one batch") {
    Site site;
    const ChangeList points = site.surveyed();
    REQUIRE(points.size() > 1);
    site.there_and_back(points, points.size());
}
