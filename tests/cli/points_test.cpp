// Points copied from a spreadsheet: add FILE points --csv IN.
#include <filesystem>

#include "core/job/json.h"
#include "tests/cli/inn.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

// Two rooms, one type of loudspeaker, one cable, a joint.
struct PointsInn : Inn {
    PointsInn() : Inn({"limit_w=200", "emergency=no"}) {
        run(0, {"add", file, "room", "id=r1", "name=Hall"});
        run(0, {"add", file, "room", "id=r2", "name=Bar"});
        run(0, {"add", file, "speaker_type", "id=t1", "name=Six inch", "taps_w=2.5;5;10"});
        run(0, {"add", file, "cable_type", "id=k1", "name=Two by 1.5", "area_mm2=1.5"});
        run(0, {"add", file, "point", "id=p1", "kind=splice", "label=J-1", "fed_from=z1"});
    }
    std::string table(const std::string& text) const {
        write_bytes(folder.file("in.csv"), text);
        return folder.file("in.csv");
    }
    Ran add(int status, const std::string& text, const std::vector<std::string>& more = {}) const {
        std::vector<std::string> call{"add", file, "points", "--csv", table(text)};
        call.insert(call.end(), more.begin(), more.end());
        return run(status, call);
    }
    // The lines on standard error; nothing is changed, to the byte.
    std::vector<std::string> refused(const std::string& table, const std::vector<std::string>& more = {}) const {
        const std::string before = read_bytes(file);
        const Ran ran = add(2, table, more);
        CHECK(ran.out.empty());
        CHECK(read_bytes(file) == before);
        std::vector<std::string> lines;
        for (std::size_t at = 0; at < ran.err.size();) {
            const std::size_t end = ran.err.find('\n', at);
            lines.push_back(ran.err.substr(at, end - at));
            if (lines.back().starts_with("tapwright: ")) lines.back().erase(0, 11);
            at = end + 1;
        }
        return lines;
    }
};

using Lines = std::vector<std::string>;

}  // namespace

TEST_CASE("a table becomes points, whose rows name each other up and down, and one undo takes all back") {
    const PointsInn site;
    const std::string before = site.text();
    const auto batches = [&] {
        return json_of(site.run(0, {"history", site.file, "--json"})).find("history").list()->size();
    };
    const std::size_t batches_before = batches();
    const Ran ran = site.add(0,
                             "label,kind,room,type,tap_w,fed_from,cable,length_m,notes\n"
                             "L-3,speaker,Hall,Six inch,5,L-4,Two by 1.5,6.5,\"two\r\nlines, \"\"quoted\"\"\"\n"
                             "L-4,speaker,hall,six inch,2.5,J-1,k1,3,\n"
                             "\n"
                             "L-5,speaker,r2,t1,10,L-3,,,\n");
    CHECK(ran.out == "Added 3 points: L-3, L-4 and L-5.\n");
    const std::string fourth = json_of(site.run(0, {"show", site.file, "L-4", "--json"})).find("id").text()[0];
    const std::string third = json_of(site.run(0, {"show", site.file, "L-3", "--json"})).find("id").text()[0];
    CHECK(site.fields("L-3") == Value(Map{{"kind", "speaker"},
                                          {"label", "L-3"},
                                          {"room", "r1"},
                                          {"fed_from", fourth},
                                          {"cable", "k1"},
                                          {"length_m", 6.5},
                                          {"type", "t1"},
                                          {"tap_w", 5.0},
                                          {"notes", "two\nlines, \"quoted\""}}));
    CHECK(site.fields("L-4").find("fed_from") == Value("p1"));
    CHECK(site.fields("L-5").find("fed_from") == Value(third));
    CHECK(batches() == batches_before + 1);
    site.run(0, {"undo", site.file});
    CHECK(site.text() == before);
    site.run(0, {"redo", site.file});
    CHECK(site.fields("L-5").find("fed_from") == Value(third));
}

TEST_CASE("tables of several languages give the same points") {
    const char* const tables[] = {
        "label,kind,type,tap_w,length_m\nL-1,speaker,t1,2.5,1.25\nL-2,speaker,t1,5,1000\n",
        "label;kind;type;tap_w;length_m\r\nL-1;speaker;t1;2,5;1,250\r\nL-2;speaker;t1;5;1000\r\n",
        "\xEF\xBB\xBFLABEL\tKind\ttype\tTap\tCable length\r\nL-1\tLoudspeaker\tSix inch\t2,5 W\t1,250\r\n"
        "L-2\tspeaker\tt1\t5\t1000 m\r\n",
        "\"Label\",\"KIND\",\"type\",\"tap-w\",\"Cable Length "
        "(cm)\"\rL-1,SPEAKER,t1,\"2,5\",125\rL-2,speaker,t1,5,1e5\r",
        "label;kind;type;tap [W];length m;;\nL-1;speaker;t1;2.5;1.25;;\nL-2;speaker;t1;5,0;1000,0;;\n",
    };
    for (const char* table : tables) {
        CAPTURE(table);
        const PointsInn site;
        site.add(0, table);
        CHECK(*site.fields("L-1").find("tap_w").number() == 2.5);
        CHECK(*site.fields("L-1").find("length_m").number() == doctest::Approx(1.25).epsilon(1e-12));
        CHECK(*site.fields("L-2").find("tap_w").number() == 5);
        CHECK(*site.fields("L-2").find("length_m").number() == doctest::Approx(1000).epsilon(1e-12));
    }
}

TEST_CASE("lengths are metres below a key, and as the job reads them below a title") {
    const PointsInn site;
    site.run(0, {"set", site.file, "job", "units=imperial"});
    site.add(0, "label,kind,length_m\nJ-2,splice,10\nJ-3,splice,10 ft\n");
    site.add(0, "label,kind,Cable length\nJ-4,splice,10\nJ-5,splice,10 m\n");
    for (const char* label : {"J-2", "J-5"}) CHECK(*site.fields(label).find("length_m").number() == 10);
    for (const char* label : {"J-3", "J-4"})
        CHECK(*site.fields(label).find("length_m").number() == doctest::Approx(3.048).epsilon(1e-12));
}

TEST_CASE("rows that end in empty cells beyond the last column are taken, however many there are") {
    const PointsInn site;
    const std::string beyond(40, ',');
    site.add(0,
             "label,kind,tap_w,type\nL-1,speaker,5,Six inch" + beyond + "\nL-2,speaker,2.5,Six inch" + beyond + " \n");
    CHECK(site.fields("L-1").find("tap_w") == Value(5.0));
    CHECK(site.fields("L-2").find("tap_w") == Value(2.5));
}

TEST_CASE("every line that cannot be taken is named, with its column and what would be right") {
    const PointsInn site;
    const Lines said = site.refused(
        "Label;kind;room;type;tap_w;fed_from;length_m\n"
        "C-1;spaeker;Hall;Six inch;5;z1;\n"
        "C-2;speaker;Hal;Six inch;7,5;z1;\n"
        "j-1;splice;;;;z1;\n"
        "C-3;speaker;;t1;5 V;C-4;1.250\n"
        "C-4;speaker;;t1;;C-5;\n"
        "C-5;speaker;;t1;;C-4;\n"
        "c-5;speaker;;t1;;;\n"
        ";splice;;;;;\n"
        "C-6;splice;;;;z1;;x\n");
    const Lines wanted{
        "Line 2, kind: Write speaker, attenuator, splice or other, not “spaeker”. Did you mean speaker?",
        "Line 3, room: Room: this job has none with the id, label or name Hal. `tapwright list FILE` shows what "
        "there is. Did you mean Hall?",
        "Line 3, tap_w: Six inch has no tap of 7.5 W. Its taps are 2.5 W, 5 W and 10 W.",
        "Line 4, Label: This job has a point j-1 already. Give this one another label, or remove the line.",
        "Line 5, tap_w: “5 V” is in volts. Write watts, for example 7.5 W.",
        "Line 5, length_m: In “1.250” the point could mean thousands or decimals. Write it without, or with a "
        "decimal comma.",
        "Line 6, fed_from: The feed runs in a circle through C-5. Feed each point from its zone or from a point "
        "nearer to the amplifier.",
        "Line 8, Label: c-5 is on line 7 already. Give one of them another label.",
        "Line 9, Label: missing. Write 1 to 200 characters.",
        "Line 10: There are 8 cells, but the first row names 7 columns. Put a text with ; in it into quotation "
        "marks.",
        "Nothing was added: 8 lines of " + site.folder.file("in.csv") + " cannot be taken."};
    REQUIRE(said.size() == wanted.size());
    for (std::size_t i = 0; i < wanted.size(); ++i) CHECK(said[i] == wanted[i]);
}

TEST_CASE("the first twenty are told, and how many more there are") {
    const PointsInn site;
    std::string table = "label,kind,tap_w\n";
    for (int i = 0; i < 23; ++i) table += "C-" + std::to_string(i) + ",speaker,five\n";
    const Lines said = site.refused(table);
    REQUIRE(said.size() == 22);
    CHECK(said[0].starts_with("Line 2, tap_w: "));
    CHECK(said[19].starts_with("Line 21, tap_w: "));
    CHECK(said[20] == "... and 3 more.");
    CHECK(said[21].starts_with("Nothing was added: 23 lines of "));
}

TEST_CASE("a first row that names no fields is refused, and says which there are") {
    const PointsInn site;
    const Lines typo = site.refused("lebel,kind,Price (EUR)\nC-1,splice,3\n");
    CHECK(typo[0] == "Line 1, lebel: A point has no such field. Did you mean label?");
    CHECK(typo[1] == "Line 1, Price (EUR): A point has no such field.");
    CHECK(has(typo.back(), "The first row names the fields: kind, label, room, "));
    CHECK(has(site.refused("label,notes\nC-1,x\n")[0],
              "Line 1, Kind: There is no column kind, and every point needs it. Add the column."));
    CHECK(has(site.refused("label,kind,Label\nC-1,splice,C-2\n")[0], "Line 1, Label: This column is there twice."));
    CHECK(has(site.refused("label,kind,tap_w (V)\nC-1,splice,3\n")[0], "tap_w (V): A point has no such field."));
    CHECK(has(site.refused("label,kind,\nC-1,splice,3\n")[0], "Line 2: Column 3 has no name in the first row."));
    CHECK(has(site.refused("label\tkind\nC-1\tsplice\t3\n")[0], "Name the field of every column."));
    CHECK(has(site.refused("label,kind\n")[0], "There is no point below the first row."));
    CHECK(has(site.refused("")[0], "There is nothing in it."));
    CHECK(site.refused("label,kind\nC-1,\"splice\n")[0].starts_with("Line 2: A quotation mark is opened"));
    CHECK(site.refused("label,kind,notes\nC-1,splice,a\x01\n")[0].starts_with("Line 2, notes: There is a control"));
}

TEST_CASE("the call itself is looked at first") {
    const PointsInn site;
    const std::string in = site.table("label,kind\nC-1,splice\n");
    CHECK(has(site.run(2, {"add", site.file, "rooms", "--csv", in}).err, "--csv adds points."));
    CHECK(has(site.run(2, {"add", site.file, "points", "kind=splice", "--csv", in}).err, "Leave out kind=splice"));
    CHECK(has(site.run(2, {"add", site.file, "points", "--csv", in + "x"}).err, "in.csvx"));
    CHECK(has(site.run(2, {"add", site.file, "points", "--csv"}).err, "--csv needs a value"));
    CHECK(site.run(0, {"add", site.file, "point", "--csv", in}).out == "Added 1 point: C-1.\n");
}

TEST_CASE("standard input is a table too, and machines are told in JSON") {
    const PointsInn site;
    const std::string in = site.table("label\tkind\nC-1\tsplice\nC-2\tsplice\n");
    const Ran ran =
        tapwright_piped(site.folder.path().string(), {"add", site.file, "points", "--csv", "-", "--json"}, in);
    REQUIRE(ran.status == 0);
    const Value points = json_of(ran).find("points");
    REQUIRE(points.list()->size() == 2);
    CHECK(points.list()->front().find("label") == Value("C-1"));
    CHECK(site.fields(*points.list()->back().find("id").text()).find("label") == Value("C-2"));
    CHECK(json_of(ran).find("left_out") == Value(List{}));
    const Lines said = site.refused("label,kind,tap_w\nC-3,speaker,five\n", {"--json"});
    REQUIRE(said.size() == 1);
    const Result<Value> error = parse_json(said[0], "standard error");
    REQUIRE(error.ok());
    CHECK(error->find("at") == Value("Line 2, tap_w"));
    CHECK(has(*error->find("error").text(), "“five” is not a number."));
}

TEST_CASE("the program's own export of points goes into another job, without what is worked out for each job anew") {
    const PointsInn from;
    from.run(0, {"read", from.file, "z1", "ohms=100", "isolated=yes"});
    from.add(0,
             "id,label,kind,room,type,tap_w,fed_from,origin,notes\n"
             "s1,C-1,speaker,Hall,t1,5,J-1,existing,=1+1\n"
             "s2,C-2,speaker,Bar,t1,10,s1,existing,\"a;\tb, '=c\"\n");
    REQUIRE_FALSE(from.fields("C-1").find("found_w").is_null());
    from.run(0, {"export", from.file, from.folder.file("out")});
    const PointsInn into;
    into.run(0, {"remove", into.file, "J-1"});
    CHECK(has(into.run(2, {"add", into.file, "points", "--csv", from.folder.file("out/points.csv")}).err,
              "Line 2, id: p1 belonged to a removed record"));
    const Inn bare({"limit_w=200"});
    bare.run(0, {"add", bare.file, "room", "id=r1", "name=Hall"});
    bare.run(0, {"add", bare.file, "room", "id=r2", "name=Bar"});
    bare.run(0, {"add", bare.file, "speaker_type", "id=t1", "name=Six inch", "taps_w=2.5;5;10"});
    const Ran ran = bare.run(0, {"add", bare.file, "points", "--csv", from.folder.file("out/points.csv")});
    CHECK(ran.out ==
          "Added 3 points: J-1, C-1 and C-2.\n"
          "Left out, because the program works it out itself: found_w and found_by.\n");
    for (const char* id : {"p1", "s1", "s2"}) {
        Value there = from.fields(id);
        std::erase_if(*there.map(), [](const auto& field) { return field.first.starts_with("found_"); });
        CHECK(bare.fields(id) == there);
    }
}
