// Networks solved by ngspice 39.3 and an independent nodal solver: the line solution must agree within 1e-9.
#include <doctest/doctest.h>

#include "tests/line/line_networks.h"
#include "tests/line/nearness.h"

namespace tapwright {

namespace {

constexpr double agreement = 1e-9;

template <class Scalar>
void check_network(const reference::Network& network) {
    CAPTURE(network.name);
    const NetworkTree<Scalar> made = tree_of<Scalar>(network);
    const LineSolution<Scalar> solution = solve(made.tree);

    REQUIRE(made.rows.size() == network.nodes.size() + 1);
    for (std::size_t k = 0; k < network.nodes.size(); ++k) {
        CAPTURE(k);
        CHECK(relative_error(solution.volts_at(made.rows[k + 1]).value(), network.nodes[k].volts) < agreement);
    }
    REQUIRE(solution.lines.size() == 1);
    const LineTotals& line = solution.lines.front();
    CHECK(relative_error(line.ohms, network.ohms) < agreement);
    CHECK(relative_error(line.amps, network.amps) < agreement);
    CHECK(relative_error(line.watts, network.source_w) < agreement);
    CHECK(relative_error(line.delivered_w, network.loads_w) < agreement);
    CHECK(relative_error(line.cable_w + line.attenuator_w, network.wire_w) < agreement);
    CHECK(relative_error(solution.ohms_at(line.source).value(), network.ohms) < agreement);
}

}  // namespace

TEST_CASE("resistive networks agree with the two other solvers") {
    for (const reference::Network* network : reference::resistive) {
        check_network<double>(*network);
        check_network<std::complex<double>>(*network);
    }
}

TEST_CASE("twelve transformer models agree with the two other solvers at nine frequencies") {
    REQUIRE(reference::n3.size() == 9);
    for (const reference::TransformerLine& expected : reference::n3) {
        CAPTURE(expected.hz);
        const TransformerSeen speaker = n3_speaker(expected.hz);
        const auto made = twelve_speakers<std::complex<double>>(70.7, speaker.admittance);
        const auto solution = solve(made.tree);
        const LineTotals& line = solution.lines.front();

        const auto ohms = 1.0 / solution.admittance[line.source];
        CHECK(relative_error(ohms, phasor(expected.ohms.magnitude, expected.ohms.degrees)) < agreement);
        CHECK(relative_error(line.amps, expected.amps) < agreement);
        CHECK(relative_error(line.watts, expected.source_w) < agreement);
        double into_speakers_w = 0;
        for (std::size_t k = 0; k < 12; ++k) {
            CAPTURE(k);
            const auto volts = solution.volts[made.rows[k + 1]];
            const auto& at_line = expected.line[k];
            const auto& at_speaker = expected.speaker[k];
            CHECK(relative_error(volts, phasor(at_line.magnitude, at_line.degrees)) < agreement);
            const auto speaker_volts = volts * speaker.speaker_gain;
            CHECK(relative_error(speaker_volts, phasor(at_speaker.magnitude, at_speaker.degrees)) < agreement);
            into_speakers_w += std::norm(speaker_volts) / speaker.speaker.value();
        }
        CHECK(relative_error(into_speakers_w, expected.loads_w) < agreement);
    }
}

}  // namespace tapwright
