// Records by what people call them, shown and listed; and what is suggested where a finger slipped.
#include "tests/cli/inn.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

struct NamedInn : Inn {
    NamedInn() {
        run(0, {"add", file, "room", "id=r1", "name=Hall"});
        run(0, {"add", file, "room", "id=r2", "name=Bar"});
        run(0, {"add", file, "point", "id=p1", "kind=splice", "label=J-110", "fed_from=z1"});
    }
};

}  // namespace

TEST_CASE("a label or a name stands for an id where only one record has it") {
    const NamedInn site;
    site.run(0, {"add", site.file, "point", "id=p2", "kind=speaker", "label=C-1", "fed_from=J-110", "room=Hall"});
    CHECK(site.fields("C-1").find("fed_from") == Value("p1"));
    CHECK(site.fields("c-1").find("room") == Value("r1"));  // whatever the capitals
    site.run(0, {"set", site.file, "C-1", "room=Bar", "fed_from=Old wing"});
    CHECK(site.fields("p2").find("room") == Value("r2"));
    CHECK(site.fields("p2").find("fed_from") == Value("z1"));
    site.run(0, {"add", site.file, "control", "id=k1", "name=Bar control", "governs=C-1; J-110"});
    CHECK(site.fields("k1").find("governs") == Value(List{"p2", "p1"}));
    site.run(0, {"add", site.file, "attenuator_type", "id=at", "name=Six step", "rated_w=30", "steps_db=0 3 6"});
    site.run(0,
             {"add", site.file, "point", "id=p3", "kind=attenuator", "label=V-1", "fed_from=J-110", "type=Six step"});
    site.run(0, {"read", site.file, "Old wing", "ohms=60", "knobs=V-1=-6"});
    const Value readings = json_of(site.run(0, {"list", site.file, "reading", "--json"})).find("records");
    CHECK(readings.list()->front().find("fields").find("at") == Value("z1"));
    CHECK(*readings.list()->front().find("fields").find("knobs").find("p3").number() == -6);
    site.run(0, {"labels", site.file, site.folder.file("l.html"), "--zone", "Old wing"});
    site.run(0, {"remove", site.file, "Bar control"});
    CHECK(has(site.run(2, {"show", site.file, "k1"}).err, "no record with the id, label or name k1"));
}

TEST_CASE("a name that two records have is refused, naming both with their ids") {
    const NamedInn site;
    site.run(0, {"add", site.file, "room", "id=r3", "name=Old wing"});
    const std::string before = site.run(0, {"export", site.file, "-"}).out;
    const std::string said = site.run(2, {"set", site.file, "Old wing", "notes=x"}).err;
    CHECK(has(said, "id z1"));
    CHECK(has(said, "id r3"));
    CHECK(has(said, "Give the id of the one you mean."));
    CHECK(site.run(0, {"export", site.file, "-"}).out == before);
    // Where only one of them can be meant, it is.
    site.run(0, {"read", site.file, "z1", "ohms=60"});
    site.run(0,
             {"add", site.file, "point", "id=p4", "kind=speaker", "label=C-4", "fed_from=Old wing", "room=Old wing"});
    CHECK(site.fields("p4").find("fed_from") == Value("z1"));
    CHECK(site.fields("p4").find("room") == Value("r3"));
    // An id is the record of that id, whatever else is called so.
    site.run(0, {"add", site.file, "room", "id=r4", "name=p1"});
    CHECK(json_of(site.run(0, {"show", site.file, "p1", "--json"})).find("kind") == Value("point"));
}

TEST_CASE("show_and_list_say_what_a_record_holds") {
    const NamedInn site;
    const Ran shown = site.run(0, {"show", site.file, "J-110"});
    CHECK(shown.out.starts_with("J-110 (Point, id p1)\n"));
    CHECK(has(shown.out, "Old wing"));  // by name, as people read it
    const Value json = json_of(site.run(0, {"show", site.file, "J-110", "--json"}));
    CHECK(json.find("kind") == Value("point"));
    CHECK(json.find("id") == Value("p1"));
    CHECK(json.find("name") == Value("J-110"));
    CHECK(json.find("fields").find("fed_from") == Value("z1"));
    CHECK(json_of(site.run(0, {"show", site.file, "job", "--json"})).find("name") == Value("Inn"));
    const Value all = json_of(site.run(0, {"list", site.file, "--json"})).find("records");
    CHECK(all.list()->size() == 4);
    for (const char* kind : {"room", "rooms"}) {
        const Value rooms = json_of(site.run(0, {"list", site.file, kind, "--json"})).find("records");
        REQUIRE(rooms.list()->size() == 2);
        CHECK(rooms.list()->front().find("id") == Value("r1"));
    }
    CHECK(has(site.run(0, {"list", site.file, "zones"}).out, "Old wing"));
    CHECK(has(site.run(0, {"list", site.file, "photo"}).out, "There are no such records."));
}

TEST_CASE("what a finger slipped on is suggested, once") {
    const NamedInn site;
    const auto said = [&](const std::vector<std::string>& call) { return site.run(2, call).err; };
    CHECK(has(said({"chekc", site.file}), "Did you mean check?"));
    CHECK(has(said({"help", "labls"}), "Did you mean labels?"));
    CHECK(has(said({"check", site.file, "--jsno"}), "Did you mean --json?"));
    CHECK(has(said({"add", site.file, "pionts", "label=x"}), "Did you mean point?"));
    CHECK(has(said({"add", site.file, "room", "nmae=x"}), "Did you mean name?"));
    CHECK(has(said({"add", site.file, "point", "kind=spaeker", "label=x"}), "Did you mean speaker?"));
    CHECK(has(said({"solve", site.file, "--knobs", "ful"}), "Did you mean full?"));
    CHECK(has(said({"show", site.file, "J-111"}), "Did you mean J-110?"));
    CHECK(has(said({"read", site.file, "z1", "omhs=60"}), "Did you mean ohms?"));
    // Nothing near, or two as near: no guess.
    CHECK_FALSE(has(said({"frobnicate"}), "Did you mean"));
    CHECK_FALSE(has(said({"show", site.file, "r9"}), "Did you mean"));
    CHECK_FALSE(has(said({"show", site.file, "x"}), "Did you mean"));
}
