// take(): the union of two files of one job.
#include <doctest/doctest.h>

#include "core/journal/journal.h"
#include "core/words/words.h"
#include "tests/journal/copy.h"
#include "tests/journal/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

// Two copies in memory with a common start, and a file of the first.
struct Merge {
    TemporaryFolder folder;
    Copy a{0xa};
    Copy b{0xb};
    std::optional<Journal> file;

    Merge() {
        a.make("s1", "tap_w", "5");
        b = a.copied(0xb);
        auto created = Journal::create(folder.path("a.tapjob"), a.last());
        REQUIRE(created.ok());
        file.emplace(std::move(created->journal));
        b.set("s1", "tap_w", "7.5");
        b.set("s1", "label", "\"B\"");
    }
};

}  // namespace

TEST_CASE("Another copy's batches come in once, in whole, and the next batch follows both") {
    Merge merge;
    const auto own = merge.file->append(draft(0xa, {op("point", "s2", "", "true")}));
    REQUIRE(own.ok());
    const auto news = merge.file->take(merge.b.log());
    REQUIRE(news.ok());
    CHECK(news->size() == 2);
    CHECK(merge.file->take(merge.b.log())->empty());
    const auto next = merge.file->append(draft(0xa, {op("point", "s3", "", "true")}));
    REQUIRE(next.ok());
    CHECK(next->prev.size() == 2);
    CHECK(merge.file->append(draft(0xa, {op("point", "s4", "", "true")}))->prev == std::vector<Digest>{next->hash});
    CHECK(merge.file->verify()->batches == 6);
}

TEST_CASE("In parts or at once, in either order: the same content") {
    Merge merge;
    Merge other;
    REQUIRE(merge.file->take({merge.b.log()[1]}).ok());
    REQUIRE(merge.file->take(merge.b.log()).ok());
    REQUIRE(other.file->take(other.b.log()).ok());
    CHECK(merge.file->verify()->content == other.file->verify()->content);
}

TEST_CASE("A part without its predecessors, another job and an altered batch are refused in whole") {
    Merge merge;
    const Digest before = merge.file->verify()->content;
    const auto refusal = [&](const std::vector<Batch>& batches) {
        const auto taken = merge.file->take(batches);
        return taken ? std::string("taken") : in_english(taken.refusal());
    };
    CHECK(refusal({merge.b.log()[2]}).find("which is not here") != std::string::npos);

    Copy stranger(0xc);
    stranger.make("x", "tap_w", "1");
    CHECK(refusal(stranger.log()).find("starts another job") != std::string::npos);

    std::vector<Batch> altered = merge.b.log();
    altered[1].ops[0].value = "75";
    CHECK(refusal(altered).find("does not match its hash") != std::string::npos);

    std::vector<Batch> forged = merge.b.log();
    forged[0].person = "Eve";
    forged[0].hash = hash_of(forged[0]);
    CHECK(refusal(forged).find("is here already with other content") != std::string::npos);

    std::vector<Batch> half_good{merge.b.log()[1], altered[2]};
    half_good[1].n = 7;
    half_good[1].hash = hash_of(half_good[1]);
    CHECK(refusal(half_good).find("is here without the change before it") != std::string::npos);
    CHECK(merge.file->verify()->content == before);
    CHECK(merge.file->batch_count() == 1);
}
