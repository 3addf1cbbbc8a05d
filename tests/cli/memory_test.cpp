// Where there is not enough memory: a sentence and status 2, and every file as it was.
#include <doctest/doctest.h>

#include <filesystem>
#include <functional>

#include "core/job/json.h"
#include "tests/cli/program.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

constexpr std::size_t step = std::size_t{4} << 20;

std::string made_job(int count) {
    List points;
    for (int i = 0; i < count; ++i)
        points.emplace_back(Map{{"id", "p" + std::to_string(i)},
                                {"kind", "speaker"},
                                {"label", "A loudspeaker whose name is long, number " + std::to_string(i)},
                                {"fed_from", "z"}});
    return pretty_json(Map{{"tapwright_job", 1.0},
                           {"job", Map{{"name", "Inn"}}},
                           {"zones", List{Map{{"id", "z"}, {"name", "Hall"}}}},
                           {"points", std::move(points)}});
}

class Scarce {
public:
    Scarce() {
        while (tapwright_within(folder_.path().string(), {"--version"}, start_).status != 0) start_ += step;
    }
    std::string in(const std::string& name) const { return folder_.file(name); }
    // So much that the program starts.
    std::size_t start() const { return start_; }

    // Runs the call with more and more memory until it succeeds. Returns: how often it did not.
    int tries(const std::vector<std::string>& call, const std::function<void()>& check_files) const {
        int failed = 0;
        for (std::size_t bytes = start_;; bytes += step, ++failed) {
            const Ran ran = tapwright_within(folder_.path().string(), call, bytes);
            if (ran.status == 0) return failed;
            CAPTURE(bytes);
            CAPTURE(ran.err);
            REQUIRE(ran.status == 2);
            CHECK(ran.err.find("memory") != std::string::npos);
            CHECK(ran.err.starts_with("tapwright: "));
            check_files();
            REQUIRE(failed < 200);
        }
    }

private:
    TemporaryFolder folder_;
    std::size_t start_ = step;
};

}  // namespace

TEST_CASE("without_enough_memory_a_command_says_so_and_leaves_files_as_they_were") {
    const Scarce scarce;
    write_bytes(scarce.in("in.json"), made_job(3000));
    const std::string file = scarce.in("a.tapjob");
    const int imports = scarce.tries({"import", scarce.in("in.json"), file, "--person", "Ann"},
                                     [&] { CHECK_FALSE(std::filesystem::exists(file)); });
    CHECK(imports > 2);
    const std::string bytes = read_bytes(file);
    const auto is_as_it_was = [&] { CHECK(read_bytes(file) == bytes); };
    CHECK(scarce.tries({"check", file}, is_as_it_was) > 1);
    CHECK(scarce.tries({"verify", file}, is_as_it_was) > 1);
}

TEST_CASE("memory_that_ran_out_while_pages_were_set_ended_the_program_without_a_sentence") {
    const Scarce scarce;
    write_bytes(scarce.in("in.json"), made_job(20));
    REQUIRE(test::tapwright(scarce.in(""), {"import", scarce.in("in.json"), scarce.in("a.tapjob")}).status == 0);
    const std::string job = read_bytes(scarce.in("a.tapjob"));
    const std::string sheet = scarce.in("sheet.pdf");
    std::string whole;
    int refused = 0;
    int made = 0;
    for (int k = 0; k < 20; ++k) {
        std::filesystem::remove(sheet);
        write_bytes(scarce.in("a.tapjob"), job);
        const Ran ran = tapwright_within(scarce.in(""), {"sheet", scarce.in("a.tapjob"), sheet},
                                         scarce.start() + static_cast<std::size_t>(k) * 2 * step);
        CAPTURE(k);
        CAPTURE(ran.err);
        REQUIRE((ran.status == 0 || ran.status == 2));
        if (ran.status == 0) {
            if (made++ == 0) whole = read_bytes(sheet);
            CHECK(read_bytes(sheet) == whole);
        } else {
            ++refused;
            CHECK(ran.err.starts_with("tapwright: "));
            CHECK(ran.err.find("memory") != std::string::npos);
            CHECK(read_bytes(scarce.in("a.tapjob")) == job);
            CHECK_FALSE(std::filesystem::exists(sheet));
        }
    }
    CHECK(refused > 2);
    CHECK(made > 2);
    CHECK(whole.starts_with("%PDF-"));
}
