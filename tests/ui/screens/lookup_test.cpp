// Finding things by typing, as people type on a phone.
#include <doctest/doctest.h>

#include "tests/ui/screens/desk.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/parts.h"

using namespace tapwright;
using namespace tapwright::tests;

namespace {

// The ids of the records that are offered, from top to bottom.
std::vector<std::string> offered_ids(Desk& desk, const std::string& prefix) {
    std::vector<std::string> ids;
    for (const ui::Mark& mark : desk.person->toolkit->marks().all())
        if (mark.name.starts_with(prefix) && !mark.name.starts_with("find.text") && mark.name != "find.shortcuts")
            ids.push_back(mark.name.substr(prefix.size()));
    return ids;
}

std::vector<std::string> found_ids(Desk& desk, const std::string& typed) {
    desk.open(ui::find_screen(desk.shared));
    desk.person->type(typed);
    return offered_ids(desk, "find.");
}

ChangeList job_to_search() {
    using test::add;
    return {test::set(Kind::job, "job", {{"name", "Mill House"}}),
            add(Kind::room, "r1", {{"name", "Café Süd"}}),
            add(Kind::room, "r2", {{"name", "Bar"}}),
            add(Kind::point, "p18", {{"kind", "speaker"}, {"label", "L-18"}, {"room", "r2"}}),
            add(Kind::point, "p80", {{"kind", "speaker"}, {"label", "XL-8"}}),
            add(Kind::point, "p8", {{"kind", "speaker"}, {"label", "L-8"}, {"room", "r1"}})};
}

}  // namespace

TEST_CASE("L8 finds L-8: blanks, hyphens and case make no difference") {
    for (const char* typed : {"L8", "l8", "L-8", "l 8", "l–8"}) {
        CAPTURE(typed);
        Desk desk(job_to_search(), {}, ui::PlaceId::rooms);
        const std::vector<std::string> ids = found_ids(desk, typed);
        REQUIRE(ids.size() == 2);
        CHECK(ids.front() == "p8");  // the whole name before a longer one
    }
}

TEST_CASE("'cafe' finds 'Café', and 'sud' its second word") {
    Desk desk(job_to_search(), {}, ui::PlaceId::rooms);
    CHECK(found_ids(desk, "cafe") == std::vector<std::string>{"r1"});
    CHECK(found_ids(desk, "CAFÉ SUD") == std::vector<std::string>{"r1"});
    CHECK(found_ids(desk, "sud") == std::vector<std::string>{"r1"});
    CHECK(found_ids(desk, "cafes").size() == 1);  // "Café Süd" without its blank
    CHECK(found_ids(desk, "cafex").empty());
}

TEST_CASE("a hyphen alone is nothing to look for yet") {
    Desk desk(job_to_search(), {}, ui::PlaceId::rooms);
    CHECK(found_ids(desk, "-").empty());
}

TEST_CASE("what is found is drawn anew when the job changes under it") {
    Desk desk(job_to_search(), {}, ui::PlaceId::rooms);
    CHECK(found_ids(desk, "l9").empty());
    REQUIRE(desk.session
                ->request(test::command({test::set(Kind::point, "p18", {{"label", "L-9"}})}), {"Ada Quill", {}},
                          desk.clock.next())
                .ok());
    desk.person->settle();
    CHECK(offered_ids(desk, "find.") == std::vector<std::string>{"p18"});
}

TEST_CASE("a list to pick from is narrowed the same way") {
    Desk desk(job_to_search(), {}, ui::PlaceId::rooms);
    ui::PickOptions options;
    options.title = Message("Fed from");
    options.kinds = {Kind::point, Kind::room};
    desk.open(ui::pick_screen(desk.shared, options, [](ui::Context&, const Id&) {}));
    desk.person->tap("pick.search");
    desk.person->type("l8");
    CHECK(desk.person->has("pick.p8"));
    CHECK_FALSE(desk.person->has("pick.p18"));
    CHECK_FALSE(desk.person->has("pick.r1"));
}
