#include <doctest/doctest.h>

#include "tests/oracle/story.h"

#include <cmath>
#include <sstream>

#include "core/base/ensure.h"
#include "core/exchange/job_json.h"
#include "core/job/json.h"
#include "core/words/words.h"
#include "platform/cli/report.h"

namespace tapwright::oracle {
namespace {

const Author ana{"Ana", ""};

Session begun(const std::string& path, const Command& content, const Stamp& stamp) {
    Result<Session> session = Session::create(path, content, ana, stamp);
    REQUIRE_MESSAGE(session.ok(), (session.ok() ? std::string() : in_english(session.refusal())));
    return std::move(*session);
}

std::string shown(const Json& value) {
    return value.is_null() ? "unknown" : value.dump();
}

class Differing {
public:
    explicit Differing(std::string where) : where_(std::move(where)) {}

    void figure(const Json& said, const char* key, const Figure& expected) {
        const Json& value = said.at(key);
        const bool same = value.is_null() || !expected ? value.is_null() == !expected
                                                       : std::abs(value.get<double>() - *expected) <=
                                                             1e-9 * std::max(100.0, std::abs(*expected));
        if (!same) differ(key, shown(value), shown(expected ? Json(*expected) : Json()));
    }
    void word(const Json& said, const char* key, const Json& expected) {
        if (said.at(key) != expected) differ(key, said.at(key).dump(), expected.dump());
    }
    std::string text() const { return text_; }

private:
    void differ(const std::string& key, const std::string& said, const std::string& expected) {
        text_ += where_ + " " + key + ": " + said + " said, " + expected + " expected\n";
    }
    std::string where_;
    std::string text_;
};

std::string of_place(const std::string& kind, const Json& said, const Place& place) {
    Differing comparison(kind + " " + place.id);
    comparison.word(said, "id", place.id);
    comparison.figure(said, "load_w", place.load);
    comparison.figure(said, "reserve_w", place.reserve);
    comparison.figure(said, "unrecorded_w", place.unrecorded);
    comparison.figure(said, "headroom_w", place.headroom);
    if (kind != "zones") return comparison.text();
    comparison.word(said, "basis", place.basis);
    comparison.figure(said, "headroom_recorded_w", place.headroom_recorded);
    comparison.figure(said, "can_add_w", place.can_add);
    comparison.figure(said, "ohms", place.ohms);
    comparison.figure(said, "ohms_full", place.ohms_full);
    comparison.figure(said, "ohms_all", place.ohms_all);
    comparison.word(said, "connected", place.connected);
    comparison.word(said, "planned", place.planned);
    return comparison.text();
}

std::string of_readings(const Json& said, const std::vector<Reading>& expected) {
    std::string text;
    for (const Reading& reading : expected) {
        const Json* found = nullptr;
        for (const Json& other : said)
            if (other["id"] == reading.id) found = &other;
        if (!found) {  // only what is judged is told
            if (reading.verdict != "not_judged") text += "readings " + reading.id + " is not told\n";
            continue;
        }
        Differing comparison("readings " + reading.id);
        comparison.word(*found, "verdict", reading.verdict);
        const bool is_open = reading.expected && *reading.expected >= 1e9;
        if (reading.expected) comparison.figure(*found, "expected_ohms", is_open ? Figure() : reading.expected);
        text += comparison.text();
    }
    return text;
}

}  // namespace

Story::Story(ChangeList changes)
    : session_(begun(folder_.file("job.tapjob"), test::command(std::move(changes)), clock_.next())) {
    note_order();
}

bool Story::request(ChangeList changes) {
    const Result<Outcome> outcome = session_.request(test::command(std::move(changes)), ana, clock_.next());
    ++step_;
    if (outcome.ok()) note_order();
    return outcome.ok();
}

bool Story::speaker(const std::string& id, const std::string& zone, Map more) {
    Map fields{{"kind", "speaker"}, {"label", id}, {"fed_from", zone}, {"type", "s"}};
    fields.insert(fields.end(), more.begin(), more.end());
    return add(Kind::point, id, fields);
}

bool Story::read(const std::string& id, const std::string& at, double ohms, const Map& more) {
    Map fields{{"at", at}, {"quantity", "ohms"}, {"value", ohms}};
    fields.insert(fields.end(), more.begin(), more.end());
    return add(Kind::reading, id, fields);
}

std::string Story::exported() const {
    return write_job(session_.job());
}

void Story::note_order() {
    job_ = Json::parse(exported());
    for (const char* kind : {"points", "readings"})
        for (const Json& record : job_.value(kind, Json::array())) {
            order_.made.try_emplace(record["id"], step_);
            if (record.contains("found_by")) order_.found.try_emplace(record["id"], step_);
        }
}

Result<Session> Story::imported(const std::string& json) const {
    const Result<JobText> text = read_job(json, "job.json");
    REQUIRE(text.ok());
    return Session::create(folder_.file("copy" + std::to_string(++copies_) + ".tapjob"),
                           {.changes = text->changes, .fill_in = false, .place = {}}, ana, test::Clock().next());
}

std::string Story::differences() const {
    return oracle::differences(checked(session_), expected());
}

std::string Story::differences_imported() const {
    const Result<Session> copy = imported();
    if (!copy.ok()) return "refused: " + in_english(copy.refusal());
    if (write_job(copy->job()) != exported()) return "another job\n";
    // A file does not tell what came after a reading, so a verdict may be another; no figure of a load may.
    Answer same = expected();
    same.readings.clear();
    return oracle::differences(checked(*copy), same);
}

std::string Story::differences_bare() const {
    Json bare = job_;
    if (!bare.contains("readings")) return {};
    for (Json& reading : bare["readings"]) reading.erase("expected_ohm");
    const Result<Session> copy = imported(bare.dump());
    if (!copy.ok()) return "refused: " + in_english(copy.refusal());
    return oracle::differences(checked(*copy), answer(bare));
}

Json checked(const Session& session) {
    return Json::parse(compact_json(cli::check_json(session.job(), session.derived())));
}

std::string differences(const Json& said, const Answer& expected) {
    std::string text;
    const std::pair<const char*, const std::vector<Place>&> kinds[] = {
        {"zones", expected.zones}, {"channels", expected.channels}, {"amplifiers", expected.amplifiers}};
    for (const auto& [kind, places] : kinds) {
        if (said.at(kind).size() != places.size()) return text + kind + ": another number of them\n";
        for (std::size_t i = 0; i < places.size(); ++i) text += of_place(kind, said.at(kind)[i], places[i]);
    }
    return text + of_readings(said.at("readings"), expected.readings);
}

double zone_figure(const Session& session, const std::string& zone, const char* key) {
    const Json said = checked(session);
    for (const Json& record : said["zones"])
        if (record["id"] == zone) {
            REQUIRE_MESSAGE(record.at(key).is_number(), key << " of " << zone << " is unknown");
            return record[key].get<double>();
        }
    FAIL("no zone " << zone);
    return 0;
}

ChangeList one_zone(double limit_w, double line_v, double rated_w) {
    return {test::set(Kind::job, "job", {{"name", "Mill House"}, {"line_v", line_v}}),
            test::add(Kind::speaker_type, "s",
                      {{"name", "Ceiling"}, {"taps_w", List{1.0, 2.5, 5.0, 6.0, 7.5, 10.0, 15.0, 20.0, 30.0}}}),
            test::add(Kind::amplifier, "amp", {{"name", "Amplifier"}, {"rated_w", rated_w}}),
            test::add(Kind::channel, "out", {{"name", "Output"}, {"amplifier", "amp"}, {"rated_w", rated_w}}),
            test::add(Kind::zone, "z", {{"name", "Zone"}, {"channel", "out"}, {"limit_w", limit_w}})};
}

ChangeList fitted(const std::string& prefix, int count, double tap_w, const std::string& zone) {
    ChangeList changes;
    for (int i = 1; i <= count; ++i) {
        const std::string id = prefix + std::to_string(i);
        changes.push_back(test::add(Kind::point, id,
                                    {{"kind", "speaker"},
                                     {"label", id},
                                     {"fed_from", zone},
                                     {"type", "s"},
                                     {"tap_w", tap_w},
                                     {"state", "fitted"}}));
    }
    return changes;
}

}  // namespace tapwright::oracle
