#include "platform/web/store/kept_text.h"

#include <doctest/doctest.h>

#include "tests/web/disk.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

std::string text_on(const Bytes& bytes) {
    OpenFiles& files = fresh_files();
    Disk disk(files);
    disk.bytes = bytes;
    KeptText kept(files, "settings");
    disk.open({"settings.0", "settings.1"}, [](const Result<void>&) {});
    return kept.load();
}

}  // namespace

TEST_CASE("a kept text comes back, the latest") {
    OpenFiles& files = fresh_files();
    Disk disk(files);
    KeptText kept(files, "settings");
    disk.open({"settings.0", "settings.1"}, [](const Result<void>&) {});
    CHECK(kept.load().empty());
    for (const char* text : {"one", "two", "three\nlines\n"}) {
        REQUIRE(kept.save(text).ok());
        CHECK(text_on(disk.bytes) == text);
        OpenFiles& again = fresh_files();
        static_cast<void>(again);
        disk.open_names.clear();
        disk.open({"settings.0", "settings.1"}, [](const Result<void>&) {});
    }
}

TEST_CASE("a page killed while it writes leaves the text before or the new one, whole") {
    OpenFiles& files = fresh_files();
    Disk disk(files);
    KeptText kept(files, "settings");
    disk.open({"settings.0", "settings.1"}, [](const Result<void>&) {});
    REQUIRE(kept.save("before").ok());
    disk.keeps_pictures = true;
    REQUIRE(kept.save("after").ok());
    REQUIRE(disk.pictures.size() >= 3);
    for (const Bytes& picture : disk.pictures) {
        const std::string text = text_on(picture);
        CHECK((text == "before" || text == "after"));
    }
    CHECK(text_on(disk.pictures.back()) == "after");
}

TEST_CASE("a full disk is said, and the text before stays") {
    OpenFiles& files = fresh_files();
    Disk disk(files);
    KeptText kept(files, "settings");
    disk.open({"settings.0", "settings.1"}, [](const Result<void>&) {});
    REQUIRE(kept.save("before").ok());
    disk.writes_left = 0;
    CHECK_FALSE(kept.save("after").ok());
    CHECK(text_on(disk.bytes) == "before");
}
