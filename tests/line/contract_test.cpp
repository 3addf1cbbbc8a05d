// What a caller must not do ends the program at once, with the broken expectation on standard error. Host only: forks.
#include <doctest/doctest.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <cstdio>
#include <functional>
#include <limits>

#include "core/line/loss.h"
#include "core/line/transformer.h"
#include "core/line/tree.h"

namespace tapwright {

namespace {

bool aborts(const std::function<void()>& call) {
    const pid_t child = fork();
    if (child == 0) {
        const rlimit no_core{0, 0};
        setrlimit(RLIMIT_CORE, &no_core);
        std::signal(SIGABRT, SIG_DFL);  // not the test framework's handler
        if (std::freopen("/dev/null", "w", stderr) == nullptr) _exit(2);
        call();
        _exit(0);
    }
    int status = 0;
    waitpid(child, &status, 0);
    return WIFSIGNALED(status) && WTERMSIG(status) == SIGABRT;
}

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr double infinite = std::numeric_limits<double>::infinity();

}  // namespace

TEST_CASE("a tree takes no value outside its range") {
    LineTree<double> tree;
    CHECK(aborts([&] { tree.add_point(0, Ohms(1), 0); }));  // no source yet
    const LineRow source = tree.add_source(Volts(100));
    for (const double bad : {nan, infinite, -infinite, -1.0, largest_value * 2}) {
        CAPTURE(bad);
        CHECK(aborts([&] { tree.add_source(Volts(bad)); }));
        CHECK(aborts([&] { tree.add_point(source, Ohms(bad), 0); }));
        CHECK(aborts([&] { tree.add_point(source, Ohms(0), bad); }));
        CHECK(aborts([&] { LineTree<std::complex<double>>().add_source(Volts(bad)); }));
    }
    CHECK(aborts([&] { tree.add_source(Volts(0)); }));
    LineTree<std::complex<double>> complex;
    complex.add_source(Volts(100));
    CHECK(aborts([&] { complex.add_point(0, Ohms(0), {0, nan}); }));
    CHECK_FALSE(aborts([&] { complex.add_point(0, Ohms(0), {0, -1}); }));
}

TEST_CASE("a feed is an earlier row of the same line") {
    LineTree<double> tree;
    const LineRow first = tree.add_source(Volts(100));
    CHECK(aborts([&] { tree.add_point(first + 1, Ohms(1), 0); }));
    tree.add_source(Volts(100));
    CHECK(aborts([&] { tree.add_point(first, Ohms(1), 0); }));
    CHECK(aborts([&] { tree.add_attenuator(first, straight_through()); }));
}

TEST_CASE("a change must fit the kind of its row") {
    LineTree<double> tree;
    const LineRow source = tree.add_source(Volts(100));
    const LineRow point = tree.add_point(source, Ohms(1), 0);
    const LineRow behind = tree.add_attenuator(point, straight_through());
    CHECK(aborts([&] { tree.set_load(source, 1); }));
    CHECK(aborts([&] { tree.set_load(behind, 1); }));
    CHECK(aborts([&] { tree.set_run(behind, Ohms(1)); }));
    CHECK(aborts([&] { tree.set_attenuator(point, straight_through()); }));
    CHECK(aborts([&] { tree.set_source(point, Volts(1)); }));
    CHECK(aborts([&] { tree.set_load(behind + 1, 1); }));
    CHECK_FALSE(aborts([&] { tree.set_load(point, 1); }));
}

TEST_CASE("steps are not positive, frequencies and loads are not nothing") {
    CHECK(aborts([] { autotransformer(Decibels(1), Decibels(0)); }));
    CHECK(aborts([] { autotransformer(Decibels(0), Decibels(-0.1)); }));
    CHECK(aborts([] { l_pad(Decibels(-3), Ohms(0)); }));
    CHECK(aborts([] { l_pad_parts(Decibels(0), Ohms(8)); }));
    CHECK(aborts([] { (void)transformer_at({}, Ohms(100), Hertz(0)); }));
    CHECK(aborts([] { (void)transformer_at({}, Ohms(0), Hertz(1000)); }));
    CHECK(aborts([] { longest_run(Ohms(0), OhmsPerKm(20), Decibels(1)); }));
}

}  // namespace tapwright
