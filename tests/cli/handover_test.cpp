// Photos and sheets through the real program: in, out, and the way back from a sheet to the state it shows.
#include <doctest/doctest.h>

#include <filesystem>

#include "core/base/sha256.h"
#include "tests/cli/program.h"
#include "tests/photos/made_pictures.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

struct House {
    TemporaryFolder folder;
    std::string file = folder.file("a.tapjob");

    House() {
        run(0, {"new", file, "--name", "House"});
        run(0, {"add", file, "room", "id=r1", "name=Hall", "--person", "Ana"});
        write_bytes(folder.file("a.jpg"), made::camera_jpeg(320, 240, 5));
    }
    Ran run(int status, std::vector<std::string> arguments) const {
        const Ran ran = tapwright::test::tapwright(folder.path().string(), arguments);
        REQUIRE_MESSAGE(ran.status == status, arguments[0] << ": " << ran.out << ran.err);
        return ran;
    }
    std::string in(const std::string& name) const { return folder.file(name); }
};

}  // namespace

TEST_CASE("a photo comes in, is kept once, and goes out and in again bit for bit") {
    const House house;
    const Ran first =
        house.run(0, {"photo", house.file, "r1", house.in("a.jpg"), "caption=above the door", "share=owner", "--json"});
    CHECK(json_of(first).find("added") == Value(true));
    const Value again = json_of(house.run(0, {"photo", house.file, "r1", house.in("a.jpg"), "--json"}));
    CHECK(again.find("added") == Value(false));
    CHECK(*again.find("id").text() == *json_of(first).find("id").text());

    const Ran out = house.run(0, {"export", house.file, house.in("a.json")});
    CHECK(has(out.out, "It holds personal data: 1 photo as taken."));
    const std::string digest = hex(sha256(read_bytes(house.in("a.jpg"))));
    CHECK(read_bytes(house.in("photos/" + digest + ".jpg")) == read_bytes(house.in("a.jpg")));
    CHECK(has(house.run(0, {"import", house.in("a.json"), house.in("b.tapjob")}).out, " and 1 photo."));
    CHECK(has(house.run(0, {"verify", house.in("b.tapjob")}).out, "and 1 photo match"));

    // A photo that is not the one named: nothing is made.
    write_bytes(house.in("photos/" + digest + ".jpg"), made::quarters_jpeg(8, 8));
    CHECK(has(house.run(2, {"import", house.in("a.json"), house.in("c.tapjob")}).err, "is not the photo that"));
    CHECK_FALSE(std::filesystem::exists(house.in("c.tapjob")));
    std::filesystem::remove(house.in("photos/" + digest + ".jpg"));
    CHECK(has(house.run(0, {"import", house.in("a.json"), house.in("d.tapjob")}).out, "1 photo is missing beside it."));
}

TEST_CASE("what is no photo, or about nothing, is refused and changes nothing") {
    const House house;
    const std::string before = read_bytes(house.file);
    write_bytes(house.in("bad.jpg"), made::png_claiming(30000, 30000));
    CHECK(has(house.run(2, {"photo", house.file, "r1", house.in("bad.jpg")}).err, "Up to 64 megapixels can be saved"));
    CHECK(has(house.run(2, {"photo", house.file, "r9", house.in("a.jpg")}).err,
              "no record with the id, label or name r9"));
    CHECK(has(house.run(2, {"photo", house.file, "r1", house.in("a.jpg"), "colour=red"}).err, "Use caption=, share="));
    house.run(2, {"photo", house.file, "r1", house.in("a.jpg"), "share=everybody"});
    house.run(2, {"photo", house.file, "r1", house.in("none.jpg")});
    CHECK(read_bytes(house.file) == before);
    write_bytes(house.in("out.json"),
                "{\"tapwright_job\":1,\"job\":{\"name\":\"x\"},\"photos\":[{\"id\":\"p\",\"sha256\":\"" +
                    std::string(64, '0') + "\",\"file\":\"../a.jpg\"}]}");
    CHECK(has(house.run(2, {"import", house.in("out.json"), house.in("e.tapjob")}).err, "leads out of the folder"));
}

TEST_CASE("a sheet is recorded once, its code leads back to its state, and then to what changed since") {
    const House house;
    for (const char* name : {"s.pdf", "s.html"}) {
        const Value sheet = json_of(house.run(0, {"sheet", house.file, house.in(name), "--for", "owner", "--json"}));
        const Value again =
            json_of(house.run(0, {"sheet", house.file, house.in(name), "--for", "owner", "--json", "--replace"}));
        CHECK(sheet == again);
        CHECK(*sheet.find("position").number() == 2);
        for (const char* key : {"code", "state", "sha256"}) {
            const Value state =
                json_of(house.run(0, {"verify", house.file, "--state", *sheet.find(key).text(), "--json"}));
            CHECK(*state.find("position").number() == 2);
            CHECK(*state.find("person").text() == "Ana");
            CHECK(state.find("changes").list()->empty());
        }
    }
    CHECK(json_of(house.run(0, {"history", house.file, "--json"})).find("history").list()->size() == 4);
    const std::string code =
        *json_of(house.run(0, {"sheet", house.file, house.in("s.pdf"), "--json", "--replace"})).find("code").text();
    CHECK(has(read_bytes(house.in("s.html")), code));
    house.run(0, {"set", house.file, "r1", "height_m=3", "--person", "Ben"});
    house.run(0, {"set", house.file, "r1", "height_m=4", "--person", "Ben"});
    const Ran since = house.run(0, {"verify", house.file, "--state", code});
    CHECK(has(since.out, "after change 2, made"));
    CHECK(has(since.out, "Ben\n    Hall: Ceiling height 3 m\n"));
    CHECK(has(since.out, "Hall: Ceiling height 4 m (was 3 m)"));
    CHECK(has(house.run(2, {"verify", house.file, "--state", "00000000"}).err,
              "has no state with the code or hash 00000000"));
    CHECK(has(house.run(2, {"verify", house.file, "--state", "xyz"}).err, "8 to 64 hexadecimal digits"));
}

TEST_CASE("labels are written as PDF and as a page") {
    const House house;
    CHECK(has(house.run(0, {"labels", house.file, house.in("l.html"), "--size", "60x25"}).out, "0 labels"));
    house.run(0, {"add", house.file, "zone", "id=z1", "name=Hall line"});
    house.run(0, {"add", house.file, "point", "kind=speaker", "label=C-1", "fed_from=z1"});
    CHECK(has(house.run(0, {"labels", house.file, house.in("l.html"), "--zone", "z1", "--replace"}).out, "3 labels"));
    CHECK(has(read_bytes(house.in("l.html")), "C-1"));
    house.run(0, {"labels", house.file, house.in("l.pdf"), "--size", "small", "--paper", "letter"});
    CHECK(read_bytes(house.in("l.pdf")).starts_with("%PDF-"));
    house.run(2, {"labels", house.file, house.in("l.pdf"), "--replace", "--size", "tiny"});
    house.run(2, {"labels", house.file, house.in("l.txt")});
    house.run(2, {"labels", house.file, house.in("l.pdf"), "--replace", "--zone", "z9"});
}
