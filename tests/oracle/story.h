// A job that is written step by step through a Session, as on site, with the order of things kept for the oracle; and
// the comparison of what `check --json` says of it with what the oracle says.
#pragma once

#include <doctest/doctest.h>

#include <string>

#include "tests/oracle/oracle.h"
#include "tests/session/temporary.h"

namespace tapwright::oracle {

class Story {
public:
    // Begins with these records.
    explicit Story(ChangeList changes);

    // One change each, as the command line would make it. Returns: whether it was accepted.
    bool request(ChangeList changes);
    bool add(Kind kind, const std::string& id, Map fields) { return request({test::add(kind, id, std::move(fields))}); }
    bool set(Kind kind, const std::string& id, Map fields) { return request({test::set(kind, id, std::move(fields))}); }
    // A loudspeaker of type `s`, fed from the zone itself.
    bool speaker(const std::string& id, const std::string& zone, Map more);
    bool read(const std::string& id, const std::string& at, double ohms, const Map& more = {{"isolated", true}});

    const Session& session() const { return session_; }
    std::string exported() const;
    const Json& exported_json() const { return job_; }
    // The job as a file brings it to another copy: nothing is filled in.
    Result<Session> imported() const { return imported(exported()); }

    // What the program says; what the oracle says.
    Answer expected() const { return answer(exported_json(), order_); }
    const Order& order() const { return order_; }
    // Where the two differ, and where the imported copy differs from it; nothing where all agree.
    std::string differences() const;
    std::string differences_imported() const;
    // The same of a file that nobody's program wrote: without what was expected of each reading when it was taken.
    std::string differences_bare() const;

private:
    test::TemporaryFolder folder_;
    test::Clock clock_;
    Session session_;
    Order order_;
    Json job_;  // as exported after the latest step
    int step_ = 0;
    mutable int copies_ = 0;  // files imported so far

    void note_order();
    Result<Session> imported(const std::string& json) const;
};

// What `check --json` says, as the parser of the oracle reads it.
Json checked(const Session& session);
// "zones z headroom_w: 26 said, 44 expected": where they differ by more than 1e-9 of the figure.
std::string differences(const Json& said, const Answer& expected);

inline doctest::Approx near(double value, double relative = 1e-9) {
    return doctest::Approx(value).epsilon(relative);
}
// A figure of a zone as the program says it. Requires: there is one.
double zone_figure(const Session& session, const std::string& zone, const char* key);

// `zone` of `limit` watts at 100 V on an output and an amplifier of 200 W, and the type `s`.
ChangeList one_zone(double limit_w, double line_v = 100, double rated_w = 200);
// `count` loudspeakers of so many watts in it, fitted: <prefix>1, <prefix>2, ...
ChangeList fitted(const std::string& prefix, int count, double tap_w, const std::string& zone = "z");

}  // namespace tapwright::oracle
