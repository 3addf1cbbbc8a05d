// A job to run the program on, made as a person makes one.
#pragma once

#include <doctest/doctest.h>

#include "tests/cli/program.h"
#include "tests/session/temporary.h"

namespace tapwright::test {

// The job "Inn" with the zone z1, "Old wing".
struct Inn {
    TemporaryFolder folder;
    std::string file = folder.file("a.tapjob");

    // `zone`: more fields of it.
    explicit Inn(const std::vector<std::string>& zone = {}) {
        run(0, {"new", file, "--name", "Inn"});
        std::vector<std::string> add{"add", file, "zone", "id=z1", "name=Old wing"};
        add.insert(add.end(), zone.begin(), zone.end());
        run(0, add);
    }
    Ran run(int status, const std::vector<std::string>& arguments) const {
        const Ran ran = tapwright::test::tapwright(folder.path().string(), arguments);
        REQUIRE_MESSAGE(ran.status == status, arguments[0] << ": " << ran.out << ran.err);
        return ran;
    }
    // The fields of a record, by its id, label or name.
    Value fields(const std::string& name) const {
        return json_of(run(0, {"show", file, name, "--json"})).find("fields");
    }
    // The whole job, as text and taken apart.
    std::string text() const { return run(0, {"export", file, "-"}).out; }
    Value json() const { return json_of(run(0, {"export", file, "-"})); }
};

}  // namespace tapwright::test
