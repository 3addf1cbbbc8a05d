// libFuzzer on the bytes of a job file: damage by chance. Whatever they are, opening it must end in a sentence or in a
// journal that can be read to its last op; under the address and undefined-behaviour sanitizers it must never crash.
// Files that somebody made on purpose: job_fuzz.cpp.
//
// A file made of random bytes never gets past its first hash. So the input is read as damage to a good file: the first
// byte chooses whether the rest is the whole file, or pairs of place and value laid over a good one.
#include <unistd.h>

#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "core/base/ensure.h"
#include "core/journal/journal.h"
#include "core/journal/replica.h"
#include "core/words/words.h"

namespace {

using namespace tapwright;

std::string path_of(const char* name) {
    return (std::filesystem::temp_directory_path() / ("tapwright-fuzz-" + std::to_string(getpid()) + name)).string();
}

void write_file(const std::string& path, const std::string& bytes) {
    std::ofstream(path, std::ios::binary | std::ios::trunc)
        .write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

std::string make_good_file() {
    const std::string path = path_of("-good.tapjob");
    std::filesystem::remove(path);
    Batch batch;
    batch.writer = 0xa;
    batch.clock = 1;
    batch.person = "Ana";
    batch.time = "2024-05-03T14:30:00Z";
    batch.ops = {{"point", "s1", "", "true", {}}, {"point", "s1", "tap_w", "5", {}}};
    {
        auto created = Journal::create(path, batch);
        TAPWRIGHT_ENSURE(created.ok());
        batch.ops = {{"point", "s1", "tap_w", "7.5", {{0xa, 1, 1}}}};
        TAPWRIGHT_ENSURE(created->journal.append(batch).ok());
        TAPWRIGHT_ENSURE(created->journal.put_blob({"photo", "copy"}).ok());
    }
    std::ifstream file(path, std::ios::binary);
    std::string bytes{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
    std::filesystem::remove(path);
    return bytes;
}

std::string file_from(const std::uint8_t* data, std::size_t size) {
    static const std::string good = make_good_file();
    if (size == 0) return {};
    if (data[0] % 4 == 0) return std::string(data + 1, data + size);
    std::string bytes = good;
    for (std::size_t i = 1; i + 3 < size; i += 4) {
        const std::size_t place =
            (std::size_t{data[i]} << 16 | std::size_t{data[i + 1]} << 8 | data[i + 2]) % good.size();
        bytes[place] = static_cast<char>(data[i + 3]);
    }
    return bytes;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static const std::string path = path_of(".tapjob");
    write_file(path, file_from(data, size));
    Replica replica;
    const auto absorb = [&](const Batch& batch) -> Result<void> {
        const auto absorbed = replica.absorb(batch);
        return absorbed ? done() : Result<void>(absorbed.refusal());
    };
    auto journal = Journal::open(path, Access::write, absorb);
    if (!journal) {
        TAPWRIGHT_ENSURE(!in_english(journal.refusal()).empty());
        return 0;
    }
    (void)replica.conflicts();
    (void)journal->verify();
    if (const auto blobs = journal->blob_list())
        for (const BlobInfo& blob : *blobs) (void)journal->get_blob(blob.sha256);
    Batch more;
    more.writer = 0xb;
    more.clock = 1;
    more.ops = {replica.setting("point", "s1", "label", "\"A\"")};
    (void)journal->append(more);
    return 0;
}
