// One number for one thing on the screens that are no figures of a line: what Rooms, Set-up, Settings as left and
// Handover say is what both sheets and `check --json` say, for the demo job and for fifty jobs at random.
#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <algorithm>

#include "tests/oracle/random_story.h"
#include "tests/oracle/voices.h"
#include "tests/ui/screens/desk.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/handover/pages.h"

using namespace tapwright;
using namespace tapwright::oracle;

namespace {

bool tells(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

// The number before `words` in a text: 3 of "To do: 3 not tested."; 0 where it says no such thing.
long number_before(const std::string& text, const std::string& words) {
    const std::size_t end = text.find(words);
    if (end == std::string::npos) return 0;
    std::size_t begin = end;
    while (begin > 0 && text[begin - 1] >= '0' && text[begin - 1] <= '9') --begin;
    return begin == end ? 0 : std::stol(text.substr(begin, end - begin));
}

std::size_t count_in(const std::string& text, const std::string& part) {
    std::size_t found = 0;
    for (std::size_t at = 0; (at = text.find(part, at)) != std::string::npos; at += part.size()) ++found;
    return found;
}

// How many a list names: 14 of "A, B and 12 more."
long named_in(const std::string& list) {
    if (list.empty()) return 0;
    const long more = number_before(list, " more");
    const auto shown = static_cast<long>(count_in(list, ", ") + count_in(list, " and ")) + 1;
    return more > 0 ? shown - 1 + more : shown;
}

// What stands behind `begin` in one of a sheet's lists; "" where none begins so.
std::string item_in(const document::Document& sheet, const std::string& begin) {
    for (const document::Block& block : sheet.blocks) {
        if (const auto* bullets = std::get_if<document::Bullets>(&block))
            for (const std::string& item : bullets->items)
                if (item.starts_with(begin)) return item.substr(begin.size());
        if (const auto* table = std::get_if<document::Table>(&block))
            for (const auto& row : table->rows)
                if (row.front().text.starts_with(begin)) return row.front().text.substr(begin.size());
    }
    return {};
}

// "Foyer: 8" among what the owner is told to have: 8.
long installed_in(const document::Document& owner, const std::string& room) {
    for (const document::Block& block : owner.blocks)
        if (const auto* facts = std::get_if<document::Facts>(&block))
            for (const auto& fact : facts->facts) {
                const std::string all = ", " + fact.value + ",";
                for (const char* const before : {", ", " and "})
                    if (const std::size_t at = all.find(before + room + ": "); at != std::string::npos) {
                        const std::string rest = all.substr(at + std::string(before).size() + room.size() + 2);
                        if (!rest.empty() && rest[0] >= '0' && rest[0] <= '9') return std::stol(rest);
                    }
            }
    return 0;
}

// What screens say of records, held against the sheets. Each returns how many figures it compared.
class RecordsShown {
public:
    explicit RecordsShown(const Voices& voices) : voices_(voices) {}

    int rooms_agree() {
        tests::Desk desk(voices_.changes, {1280, 4000}, ui::PlaceId::rooms);
        const document::Table* schedule = table_in(voices_.technician, "Rooms, what they are like");
        int compared = 0;
        for (const Json& room : voices_.records.value("rooms", Json::array())) {
            const std::string name = room["name"];
            if (!is_unique(voices_.records, "rooms", "name", name)) continue;
            const std::string row = desk.person->text("room." + room["id"].get<std::string>());
            CAPTURE(row);
            const std::string begin = name + ": ";
            const long planned = number_before(begin + item_in(voices_.owner, begin), " loudspeaker planned, not") +
                                 number_before(begin + item_in(voices_.owner, begin), " loudspeakers planned, not");
            const long there = number_before(row, " loudspeaker");
            CHECK(there == installed_in(voices_.owner, name) + planned);
            CHECK(number_before(row, " not fitted") == planned);
            REQUIRE(schedule);
            std::string points;
            for (const auto& cells : schedule->rows)
                if (cells[0].text == name || cells[0].text.starts_with(name + ", ")) points = cells.back().text;
            CHECK(static_cast<long>(count_in(points, "(not fitted)")) == planned);
            not_tested_ += number_before(row, " not tested");
            without_tap_ += number_before(row, " without a tap");
            ++compared;
        }
        return compared;
    }

    // After rooms_agree(): what the walk and the taps of all rooms add up to.
    int handover_agrees() {
        tests::Desk desk(voices_.changes, {1280, 12000}, ui::PlaceId::handover);
        if (desk.person->has("handover.all")) desk.person->tap("handover.all");
        const auto row = [&](const std::string& name) {
            const std::string mark = "handover.missing." + name;
            return desk.person->has(mark) ? desk.person->text(mark) : std::string();
        };
        CHECK(number_before(row("walk"), " loudspeaker") == not_tested_);
        CHECK(named_in(item_in(voices_.owner, "Not yet listened to: ")) == not_tested_);
        CHECK(named_in(item_in(voices_.owner, "Tap not recorded: ")) == without_tap_);
        long without_tap = 0;
        for (const Json& room : voices_.records.value("rooms", Json::array()))
            without_tap += number_before(row("room." + room["id"].get<std::string>()), " loudspeaker");
        CHECK(without_tap == without_tap_);
        const document::Table* snags = table_in(voices_.technician, "Snags, open ones first");
        long open = 0;
        for (const Json& snag : voices_.records.value("snags", Json::array()))
            open += snag.value("share", "") == "private" && snag.value("state", "open") == "open" ? 1 : 0;
        if (snags)
            for (const auto& cells : snags->rows)
                for (const auto& cell : cells) open += cell.text == "Open" ? 1 : 0;
        CHECK(number_before(row("snags"), " open snag") == open);
        return 4 + findings_agree(desk);
    }

    int set_up_agrees() {
        tests::Desk desk(voices_.changes, {1280, 6000}, ui::PlaceId::survey);
        desk.open(ui::set_up_screen(desk.shared));
        int compared = 0;
        const auto agrees = [&](const Json& records, const char* kind, const char* figure, const char* caption,
                                const char* title, const std::string& before) {
            const document::Table* table = table_in(voices_.technician, caption);
            for (const Json& record : records) {
                const std::string name = record["name"];
                if (!table || !record[figure].is_number() || !is_unique(voices_.records, kind, "name", name)) continue;
                const std::string cell = cell_in(*table, before + name, title);
                const std::string field = desk.person->text("set_up." + record["id"].get<std::string>() + "." + figure);
                CAPTURE(field);
                if (cell.empty()) continue;  // in ohms, or left alone
                CHECK(cell == shown<Watts>(record[figure]));
                CHECK(tells(field, cell));
                ++compared;
            }
        };
        agrees(voices_.check["zones"], "zones", "limit_w", "Load, limit and headroom", "Limit", "");
        agrees(voices_.check["channels"], "channels", "rated_w", "Load against rated power", "Rated", "Output ");
        agrees(voices_.check["amplifiers"], "amplifiers", "rated_w", "Load against rated power", "Rated", "");
        return compared;
    }

    int settings_agree() {
        tests::Desk desk(voices_.changes, {1280, 6000}, ui::PlaceId::handover);
        desk.open(ui::settings_left_screen(desk.shared));
        int compared = 0;
        const document::Table* settings = table_in(voices_.technician, "Levels, inputs and limiters");
        for (const Json& setting : voices_.records.value("settings", Json::array())) {
            REQUIRE(settings);
            const std::string field = desk.person->text("left." + setting["id"].get<std::string>());
            CAPTURE(field);
            bool is_there = false;
            for (const auto& cells : settings->rows)
                is_there = is_there || (cells[1].text == setting["name"] && cells[2].text == field &&
                                        cells[0].text == name_in(voices_.records, "amplifiers", setting["amplifier"]));
            CHECK(is_there);
            ++compared;
        }
        const std::string left = paragraph_below("Volume controls as left");
        for (const Json& point : voices_.records.value("points", Json::array())) {
            if (point["kind"] != "attenuator" || !point.contains("knob_db")) continue;
            if (!is_unique(voices_.records, "points", "label", point["label"])) continue;
            const std::string label = point["label"],
                              row = desk.person->text("left.knob." + point["id"].get<std::string>());
            const std::size_t at = left.find(label + " ");
            if (at == std::string::npos) continue;  // on no line, or not fitted
            const std::string rest = left.substr(at + label.size() + 1);
            const std::string position = rest.substr(0, std::min(rest.find(", "), rest.find(" and ")));
            CAPTURE(row);
            CAPTURE(position);
            if (point["knob_db"].is_number()) CHECK(tells(row, show(Decibels(point["knob_db"].get<double>()))));
            CHECK(
                tells(position, point["knob_db"].is_number() ? show(Decibels(point["knob_db"].get<double>())) : "off"));
            ++compared;
        }
        return compared;
    }

private:
    // Each in its own words, but for the taps that are counted with their room.
    int findings_agree(tests::Desk& desk) {
        int compared = 0;
        for (std::size_t i = 0; i < voices_.check["findings"].size(); ++i) {
            const Json& finding = voices_.check["findings"][i];
            const std::string mark = "handover.missing.finding." + std::to_string(i), code = finding["code"];
            if (!desk.person->has(mark)) {
                CHECK_MESSAGE((code == "tap_not_confirmed" || code == "speaker_without_tap"), code);
                continue;
            }
            const std::string row = desk.person->text(mark), text = finding["text"];
            CAPTURE(row);
            CAPTURE(text);
            CHECK(tells(row, text));
            CHECK(tells(row, finding["severity"] == "stop"   ? "Fix first"
                             : finding["severity"] == "warn" ? "To do"
                                                             : "Note"));
            ++compared;
        }
        return compared;
    }

    std::string paragraph_below(const std::string& heading) const {
        bool is_here = false;
        for (const document::Block& block : voices_.owner.blocks) {
            if (const auto* held = std::get_if<document::Heading>(&block)) is_here = held->text == heading;
            if (const auto* held = std::get_if<document::Paragraph>(&block); held && is_here) return held->text;
        }
        return {};
    }

    const Voices& voices_;
    long not_tested_ = 0, without_tap_ = 0;  // of all rooms
};

// The job with everything in two rooms, each loudspeaker known to be there or not, settings and snags.
std::string with_rooms(const std::string& job) {
    Json file = Json::parse(job);
    const auto one_of = [](std::initializer_list<const char*> words) {
        return *rc::gen::elementOf(std::vector<std::string>(words.begin(), words.end()));
    };
    file["rooms"] = Json::array({{{"id", "r-a"}, {"name", "Hall"}}, {{"id", "r-b"}, {"name", "Kitchen"}}});
    int number = 0;
    for (Json& point : file["points"]) {
        point["label"] = (point["kind"] == "speaker" ? "L-" : "V-") + std::to_string(++number);
        point["room"] = one_of({"r-a", "r-b"});
        if (point["kind"] != "speaker") continue;
        if (!point.contains("state")) point["state"] = one_of({"fitted", "tested", "planned", "cabled"});
        const std::string heard = one_of({"", "", "ok", "buzz"});
        if (!heard.empty()) point["heard"] = heard;
    }
    for (int i = 0; i < 3; ++i) {
        file["settings"].push_back({{"id", "set-" + std::to_string(i)},
                                    {"amplifier", "amp"},
                                    {"name", "Input " + std::to_string(i)},
                                    {"value", "\u2212" + std::to_string(3 * i) + " dB"}});
        file["snags"].push_back({{"id", "snag-" + std::to_string(i)},
                                 {"about", one_of({"r-a", "r-b", "z0"})},
                                 {"text", "Loose " + std::to_string(i)},
                                 {"state", one_of({"open", "closed"})},
                                 {"share", one_of({"owner", "technician", "private"})}});
    }
    return file.dump();
}

int records_agree(const Voices& voices) {
    RecordsShown records(voices);
    return records.rooms_agree() + records.handover_agrees() + records.set_up_agrees() + records.settings_agree();
}

}  // namespace

TEST_CASE("the demo job's rooms, set-up, settings and handover say what its sheets and check say") {
    const Voices voices(demo_json());
    RecordsShown records(voices);
    CHECK(records.rooms_agree() == 19);
    CHECK(records.handover_agrees() > 12);
    CHECK(records.set_up_agrees() == 8 + 4 + 2);  // one zone has no limit
    CHECK(records.settings_agree() > 12);
}

TEST_CASE("rooms, set-up, settings and handover of fifty jobs at random say what their sheets and check say") {
    int compared = 0;
    int jobs = 0;
    CHECK(rc::check("the same meaning of records", [&] {
        if (jobs >= 50) return;
        compared += records_agree(Voices(with_rooms(with_rare_parts(random_story(6)->exported()))));
        ++jobs;
    }));
    CHECK(jobs == 50);
    CHECK(compared > 500);
}
