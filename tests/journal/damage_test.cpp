// Random damage: 2,000 copies of a good file, each with some bytes changed. Opening one must either refuse it in a
// sentence or give exactly the content of the good file, told by its hashes; and never crash. Bytes are spread over the
// whole file, or crowded into one page, or into the header, or are a run of zeros as a failing card leaves them.
#include <doctest/doctest.h>

#include <random>

#include "core/journal/journal.h"
#include "core/words/words.h"
#include "tests/journal/copy.h"
#include "tests/journal/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

std::string good_file(const TemporaryFolder& folder) {
    const std::string path = folder.path("good.tapjob");
    Copy copy(0xa);
    copy.make("s0", "tap_w", "5");
    auto created = Journal::create(path, copy.last());
    REQUIRE(created.ok());
    const auto keep = [&] { REQUIRE(created->journal.append(copy.last()).ok()); };
    for (int i = 1; i < 60; ++i) {
        copy.make("s" + std::to_string(i), "label", "\"Loudspeaker " + std::to_string(i) + "\"");
        keep();
        copy.set("s" + std::to_string(i / 2), "tap_w", std::to_string(i));
        keep();
    }
    REQUIRE(created->journal.put_blob({std::string(20'000, 'p'), "small"}).ok());
    return read_file(path);
}

std::string damaged_copy(const std::string& good, std::mt19937& random) {
    const auto below = [&](std::size_t limit) {
        return std::uniform_int_distribution<std::size_t>(0, limit - 1)(random);
    };
    std::string bytes = good;
    const std::size_t page = 16384 * below(good.size() / 16384);
    switch (below(5)) {
        case 0:  // 2,000 changed bytes anywhere
            for (int i = 0; i < 2000; ++i) bytes[below(bytes.size())] = static_cast<char>(below(256));
            break;
        case 1:  // one bit
            bytes[below(bytes.size())] ^= static_cast<char>(1 << below(8));
            break;
        case 2:  // the start of a page, where its tree is described
            for (int i = 0; i < 3; ++i) bytes[page + below(60)] = static_cast<char>(below(256));
            break;
        case 3:  // the header
            bytes[below(100)] = static_cast<char>(below(256));
            break;
        default: {  // a run of zeros
            const std::size_t start = below(bytes.size());
            const std::size_t length = std::min(bytes.size() - start, 1 + below(4096));
            bytes.replace(start, length, length, '\0');
        }
    }
    return bytes;
}

}  // namespace

TEST_CASE("2,000 damaged files: refused in words, or whole") {
    const TemporaryFolder folder;
    const std::string good = good_file(folder);
    const auto content_of = [](const Journal& journal) -> Digest {
        const auto verified = journal.verify();
        return verified ? verified->content : Digest{};
    };
    const auto look_away = [](const Batch&) { return done(); };
    const Digest content = content_of(*Journal::open(folder.path("good.tapjob"), Access::read, look_away));

    std::mt19937 random(20240503);
    int refused = 0;
    int whole = 0;
    int only_photo = 0;
    for (int i = 0; i < 2000; ++i) {
        const std::string path = folder.path("damaged.tapjob");
        const std::string bytes = damaged_copy(good, random);
        write_file(path, bytes);
        std::size_t batches = 0;
        const auto count = [&](const Batch&) { return ++batches, done(); };
        const auto opened = Journal::open(path, i % 2 == 0 ? Access::read : Access::write, count);
        if (!opened) {
            ++refused;
            REQUIRE(in_english(opened.refusal()).size() > 40);
            REQUIRE(in_english(opened.refusal()).ends_with("."));
        } else if (const auto verified = opened->verify(); verified) {
            ++whole;
            REQUIRE(verified->content == content);
            REQUIRE(batches == 119);
        } else {
            ++only_photo;  // opening leaves photos to verify(); the changes were all there
            REQUIRE(in_english(verified.refusal()).find("Photo ") != std::string::npos);
            REQUIRE(batches == 119);
        }
        REQUIRE(read_file(path) == bytes);
    }
    MESSAGE(refused << " refused, " << whole << " whole, " << only_photo << " with a damaged photo");
    CHECK(refused > 1000);
    CHECK(whole > 0);
}
