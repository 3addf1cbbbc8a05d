// A figure that is only a bound is said as one: on the strip, in tables and on sheets all from here.
#include "core/words/margin_text.h"

#include <doctest/doctest.h>

#include "core/words/words.h"
#include "tests/derive/job_builder.h"

using namespace tapwright;

namespace {

struct Said {
    std::string load, headroom;
};

Said said(const Job& job) {
    const Derived derived = derive(job);
    const Margin& margin = derived.zones[0].margin;
    return {in_english(load_of(margin)), in_english(headroom_of(margin))};
}

}  // namespace

TEST_CASE("headroom beside a tap that nobody recorded is said to be at most that, and the load at least") {
    JobBuilder job = one_zone(100, 100);
    job.chain("p", 4, "z", 5);
    CHECK(said(job).load == "20 W");
    CHECK(said(job).headroom == "60 W");
    job.set("point", "p4", "tap_w", Value());
    CHECK(said(job).load == "at least 15 W");
    CHECK(said(job).headroom == "at most 65 W");
    job.set("zone", "z", "limit_w", Value());
    CHECK(said(job).headroom == "unknown");
}

TEST_CASE("a valid reading that saw the tap nobody recorded makes the headroom a figure again") {
    JobBuilder job = one_zone(100, 100);
    job.chain("p", 4, "z", 5);
    job.set("point", "p4", "tap_w", Value()).set("point", "p4", "origin", "existing");
    job.read("r", "z", 500);
    CHECK(said(job).headroom == "60 W");
}
