// What the window is called with: what is refused before anything is drawn.
#include <doctest/doctest.h>
#include <stdlib.h>

#include <filesystem>

#include "tests/cli/program.h"
#include "tests/desktop/screen.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

TEST_CASE("neither marks nor a picture take the place of a job") {
    const TemporaryFolder folder;
    const Screen screen(folder.path().string(), 390, 844);
    const std::string job = folder.file("demo.tapjob"), other = folder.file("other.tapjob");
    REQUIRE(test::tapwright(folder.path().string(), {"import", TAPWRIGHT_SOURCE_DIR "/assets/demo.json", job}).status ==
            0);
    std::filesystem::copy_file(job, other);
    const std::string before = read_bytes(other);
    const std::string image = folder.file("x.png");
    ::setenv("DISPLAY", screen.display().c_str(), 1);
    for (const std::vector<std::string>& call :
         {std::vector<std::string>{job, "--picture", other}, {job, "--picture", image, "--marks", other}}) {
        const Ran refused = test::tapwright(folder.path().string(), call);
        CHECK(refused.status == 2);
        CHECK(refused.err.find(other + " is a job file and is never replaced") != std::string::npos);
        CHECK(read_bytes(other) == before);
    }
}

TEST_CASE("a_size_or_scale_with_rubbish_behind_it_opened_the_window") {
    const TemporaryFolder folder;
    for (const std::vector<std::string>& words : {std::vector<std::string>{"--size", "800x600px"},
                                                  {"--size", "800x"},
                                                  {"--size", "x600"},
                                                  {"--size", "80x600"},
                                                  {"--size", " 800x600"},
                                                  {"--scale", "2x"},
                                                  {"--scale", "nan"},
                                                  {"--scale", ""},
                                                  {"--figures", "3s"}}) {
        const Ran refused = test::tapwright(folder.path().string(), {"--window", words[0], words[1]});
        CHECK(refused.status == 2);
        CHECK_MESSAGE(refused.err.find(words[0] + " " + words[1] + " is not understood.") != std::string::npos,
                      refused.err);
    }
}
