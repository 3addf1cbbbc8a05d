// Every version of the file format leaves a file in tests/golden that must open for ever, with the same content.
#include <doctest/doctest.h>

#include "core/journal/journal.h"
#include "core/journal/replica.h"
#include "core/words/words.h"
#include "tests/journal/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

TEST_CASE("The file of version 1 opens and says what it said") {
    const TemporaryFolder folder;
    const std::string path = folder.path("v1.tapjob");
    write_file(path, read_file(TAPWRIGHT_SOURCE_DIR "/tests/golden/v1-small.tapjob"));
    Replica replica;
    const auto absorb = [&](const Batch& batch) -> Result<void> {
        const auto absorbed = replica.absorb(batch);
        return absorbed ? done() : Result<void>(absorbed.refusal());
    };
    auto journal = Journal::open(path, Access::write, absorb);
    REQUIRE_MESSAGE(journal.ok(), (journal.ok() ? "" : in_english(journal.refusal())));
    const auto verified = journal->verify();
    REQUIRE(verified.ok());
    CHECK(verified->batches == 16);
    CHECK(verified->ops == 38);
    CHECK(verified->blobs == 2);
    CHECK(hex(verified->job) == "50c22c20304d54e31e3586c16ab85af523cecb7d4f58cb5c47b1284b3b03af7c");
    CHECK(hex(verified->content) == "1932df33bfef840f0288bffea3db5c0693e838a25ad45f6e3e5d36ec50a53825");

    const auto value = [&](const char* kind, const char* id, const char* field) {
        return std::string(replica.value(*replica.find(kind, id), field).value_or("(none)"));
    };
    CHECK(value("job", "job", "name") == "\"Exhibition hall, høyttalere · 展示場\"");
    CHECK(value("zone", "z1", "limit_w") == "100");
    CHECK(value("point", "s1", "label") == R"("s1 \"door\"")");
    CHECK(value("point", "s2", "length_m") == "12.5");
    CHECK(value("point", "s4", "tap_w") == "5");
    CHECK(replica.present(*replica.find("point", "s2")));
    CHECK_FALSE(replica.present(*replica.find("point", "s3")));
    CHECK(replica.records().size() == 6);
    REQUIRE(replica.conflicts().size() == 2);
    CHECK(replica.conflicts()[0].form == Conflict::Form::values);
    CHECK(replica.conflicts()[1].form == Conflict::Form::removal);
    Batch more;
    more.writer = 0xb;
    more.ops = {replica.setting("point", "s1", "tap_w", "7.5")};
    CHECK(more.ops[0].parents.size() == 2);
    CHECK(journal->append(more).ok());
}
