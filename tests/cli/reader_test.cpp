// Commands that only read, while another process has the job open and writes.
#include <doctest/doctest.h>
#include <poll.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>

#include "core/session/session.h"
#include "platform/system/stamps.h"
#include "tests/cli/program.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

// Another process that has the job open and changes it without a pause, as long as this lives.
class OtherProcess {
public:
    explicit OtherProcess(const std::string& file) {
        REQUIRE(::pipe(stop_) == 0);
        REQUIRE(::pipe(ready_) == 0);
        child_ = ::fork();
        REQUIRE(child_ >= 0);
        if (child_ == 0) ::_exit(write_until_told(file) ? 0 : 1);
        ::close(stop_[0]);
        char byte = 0;
        REQUIRE(::read(ready_[0], &byte, 1) == 1);
    }
    ~OtherProcess() {
        ::close(stop_[1]);
        int status = 0;
        CHECK(::waitpid(child_, &status, 0) == child_);
        CHECK(status == 0);
        ::close(ready_[0]);
        ::close(ready_[1]);
    }
    OtherProcess(const OtherProcess&) = delete;
    OtherProcess& operator=(const OtherProcess&) = delete;

private:
    bool write_until_told(const std::string& file) const {
        ::close(stop_[1]);
        Result<Session> session = Session::open(file, Access::write);
        if (!session) return false;
        pollfd end{stop_[0], POLLIN | POLLHUP, 0};
        for (int i = 0; ::poll(&end, 1, 0) == 0; ++i) {
            const Command command{
                .changes = {Change{ChangeOp::set, Kind::zone, Id("z1"), {{"limit_w", 100.0 + i % 50}}}},
                .fill_in = true,
                .place = {}};
            if (!session->request(command, Author{"Ana", ""}, make_stamp())) return false;
            const char byte = 'y';
            if (i == 1 && ::write(ready_[1], &byte, 1) != 1) return false;
        }
        return true;
    }

    int stop_[2] = {};
    int ready_[2] = {};
    pid_t child_ = 0;
};

}  // namespace

TEST_CASE("check_works_while_the_window_has_the_job_open") {
    const TemporaryFolder folder;
    const std::string file = folder.file("a.tapjob");
    const auto run = [&](const std::vector<std::string>& call) {
        return tapwright::test::tapwright(folder.path().string(), call);
    };
    REQUIRE(run({"new", file, "--name", "Inn"}).status == 0);
    REQUIRE(run({"add", file, "zone", "id=z1", "name=Old wing", "limit_w=100"}).status == 0);
    {
        const OtherProcess writer(file);
        for (int i = 0; i < 50; ++i) {
            const Ran ran = run({"check", file, "--json"});
            REQUIRE_MESSAGE(ran.status == 0, ran.err);
            const double limit = *json_of(ran).find("zones").list()->front().find("limit_w").number();
            CHECK(limit >= 100);
            CHECK(limit < 150);
        }
        for (const std::vector<std::string>& call : {std::vector<std::string>{"export", file, "-"},
                                                     {"history", file},
                                                     {"verify", file},
                                                     {"list", file},
                                                     {"read", file, "z1", "ohms=60", "dry"},
                                                     {"seal", file, folder.file("sealed.tapjob")}}) {
            const Ran ran = run(call);
            CHECK_MESSAGE(ran.status == 0, call[0] << ": " << ran.err);
        }
        const Ran write = run({"set", file, "z1", "limit_w=10"});
        CHECK(write.status == 2);
        CHECK(write.err.find("is open in another program or window") != std::string::npos);
    }
    CHECK(run({"verify", file}).status == 0);
    std::vector<std::string> left;
    for (const auto& entry : std::filesystem::directory_iterator(folder.path()))
        if (entry.path().filename().string()[0] != '.') left.push_back(entry.path().filename().string());
    std::sort(left.begin(), left.end());
    CHECK(left == std::vector<std::string>{"a.tapjob", "sealed.tapjob"});
}
