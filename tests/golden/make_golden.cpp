// make_golden FILE: a small job with everything the format has: several writers, a merge, a conflict in a field, a
// removal against a change, undo and redo, a removed record, photos with and without a copy, and texts in several
// scripts.
#include <cstdio>

#include "core/journal/journal.h"
#include "core/words/words.h"
#include "tests/journal/copy.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

void build(Copy& first, Copy& second) {
    const auto& now = [&]() -> const Replica& { return first.replica(); };
    first.set_clock(next_clock(0, 1'714'746'600'000));
    first.commit({op("job", "job", "", "true"), op("job", "job", "name", "\"Exhibition hall, høyttalere · 展示場\""),
                  op("job", "job", "line_v", "100")});
    first.commit({now().making("zone", "z1"), now().setting("zone", "z1", "name", "\"Foyer\""),
                  now().setting("zone", "z1", "limit_w", "100")});
    for (const char* id : {"s1", "s2", "s3", "s4"})
        first.commit({now().making("point", id), now().setting("point", id, "kind", "\"speaker\""),
                      now().setting("point", id, "label", "\"" + std::string(id) + " \\\"door\\\"\""),
                      now().setting("point", id, "fed_from", "\"z1\""), now().setting("point", id, "tap_w", "5")});
    first.commit({now().making("visit", "v1"), now().setting("visit", "v1", "purpose", "\"commissioning\""),
                  now().setting("visit", "v1", "date", "\"2024-05-03\"")});

    second = first.copied(0x2000000000000002u);
    first.set("s1", "tap_w", "7.5");
    second.set("s1", "tap_w", "10", "Ben");
    first.remove("s2");
    second.set("s2", "length_m", "12.5", "Ben");
    first.merge(second);
    first.set_clock(next_clock(0, 1'714'833'000'000));
    first.remove("s3");
    const BatchAddress change = first.set("s4", "tap_w", "2.5");
    const BatchAddress undo = first.undo(change);
    first.undo(undo);
    first.undo(change);
}

}  // namespace

int main(int count, char** arguments) {
    if (count != 2) return std::fprintf(stderr, "make_golden FILE\n"), 2;
    Copy first(0x1000000000000001u);
    Copy second(0x2000000000000002u);
    build(first, second);
    auto created = Journal::create(arguments[1], first.log().front());
    if (!created) return std::fprintf(stderr, "%s\n", in_english(created.refusal()).c_str()), 2;
    const auto taken = created->journal.take(first.log());
    const auto photo = created->journal.put_blob({"\xff\xd8\xff\xe0 the bytes of a photo \xff\xd9", "its copy"});
    const auto bare = created->journal.put_blob({"\xff\xd8\xff\xe0 another \xff\xd9", ""});
    const auto verified = created->journal.verify();
    if (!taken || !photo || !bare || !verified) return std::fprintf(stderr, "The file could not be filled.\n"), 2;
    std::printf("batches %zu, ops %zu, blobs %zu\njob %s\ncontent %s\n", verified->batches, verified->ops,
                verified->blobs, hex(verified->job).c_str(), hex(verified->content).c_str());
    return 0;
}
