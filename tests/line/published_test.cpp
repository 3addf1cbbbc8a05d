// Every row of published_values.csv, recomputed. The source of each is in its own column; a row nobody knows fails.
#include <doctest/doctest.h>

#include <functional>
#include <map>
#include <sstream>

#include "core/line/conductor.h"
#include "core/line/loss.h"
#include "tests/line/csv.h"
#include "tests/line/line_networks.h"
#include "tests/line/nearness.h"

namespace tapwright {

namespace {

constexpr double km_per_kft = 0.3048;

// The numbers in a text, in order: "70.7 V -> 25 V" gives 70.7 and 25; "10^..." is not used there.
std::vector<double> numbers(const std::string& text) {
    std::vector<double> found;
    const char* at = text.c_str();
    while (*at != '\0') {
        char* end = nullptr;
        const bool starts = (*at >= '0' && *at <= '9');
        if (starts) {
            found.push_back(std::strtod(at, &end));
            at = end;
        } else {
            ++at;
        }
    }
    return found;
}

std::vector<std::string> parts_of(const std::string& id) {
    std::vector<std::string> parts;
    std::istringstream stream(id);
    for (std::string part; std::getline(stream, part, '-');) parts.push_back(part);
    return parts;
}

double gauge(const CsvRow& row) {
    const int awg = static_cast<int>(numbers(row[1]).at(0));
    const std::string kind = parts_of(row[0]).at(1);
    if (kind == "D") return awg_diameter_mm(awg);
    const double ohm_per_km = awg_resistance(awg, Strand::solid)->value();
    return kind == "T" ? ohm_per_km * km_per_kft : ohm_per_km;
}

double nec_at_75(const CsvRow& row) {
    const Strand strand = row[0].find("strand") != std::string::npos ? Strand::stranded : Strand::solid;
    const auto at_20 = awg_resistance(static_cast<int>(numbers(row[1]).at(0)), strand);
    return at_temperature(*at_20, Celsius(75)).value() * km_per_kft;
}

double iec_228(const CsvRow& row) {
    const auto inputs = numbers(row[1]);  // "0.5 mm2 class 1": size, the 2 of mm2, class
    return iec_resistance(SquareMm(inputs.at(0)), static_cast<int>(inputs.at(2)))->value();
}

double temperature(const CsvRow& row) {
    return at_temperature(OhmsPerKm(1), Celsius(numbers(row[1]).at(0))).value();
}

double line_loss(const CsvRow& row) {
    const std::string rule = row[1];
    const double figure = numbers(rule).at(0);
    LineLoss loss;
    if (rule.find("dB") != std::string::npos) {
        loss = loss_of_decibels(Decibels(figure));
    } else if (rule.starts_with("Rw=")) {
        loss = loss_of_wire_to_load(figure / 100);
    } else if (rule.ends_with("%V")) {
        loss = loss_of_volts(figure / 100);
    } else {
        loss = loss_of_power(figure / 100);
    }
    const std::string wanted = parts_of(row[0]).back();
    if (wanted == "Rw_over_Z") return loss.wire_to_load;
    if (wanted == "Vfrac") return loss.volts_ratio;
    if (wanted == "dB") return loss.level.value();
    if (wanted == "Pload_frac") return loss.power_ratio;
    return loss.wire_share;
}

double impedance(const CsvRow& row) {
    const auto inputs = numbers(row[1]);
    LineTree<double> tree;
    tree.add_point(tree.add_source(Volts(inputs.at(0))), Ohms(0), inputs.at(1) / (inputs.at(0) * inputs.at(0)));
    return solve(tree).lines[0].ohms;
}

double tap_scaling(const CsvRow& row) {
    const auto inputs = numbers(row[1]);
    return watts_of(Volts(inputs.at(1)), ohms_of(Volts(inputs.at(0)), Watts(1))).value();
}

double power_behind_knob(const CsvRow& row) {
    LineTree<double> tree;
    const LineRow source = tree.add_source(Volts(1));
    const LineRow behind = tree.add_attenuator(source, autotransformer(Decibels(-numbers(row[1]).at(0)), Decibels(0)));
    tree.add_point(behind, Ohms(0), 1);
    return solve(tree).lines[0].watts;
}

double pad_part(const CsvRow& row) {
    const LPadParts parts = l_pad_parts(Decibels(-numbers(row[1]).at(0)), Ohms(8));
    return parts_of(row[0]).at(1) == "R1" ? parts.series.value() : parts.shunt.value();
}

// ---- networks -----------------------------------------------------------------------------------
NetworkTree<std::complex<double>> network_named(const std::string& name, double hz) {
    const std::map<std::string, const reference::Network*> stored{{"n1_70v7_12x5W", &reference::n1},
                                                                  {"n1c_100V_12x5W", &reference::n1c},
                                                                  {"n1d_25V_12x5W", &reference::n1d},
                                                                  {"n4_none", &reference::n4_none},
                                                                  {"n4_auto_m6dB", &reference::n4_autotransformer},
                                                                  {"n4_lpad_m6dB", &reference::n4_l_pad},
                                                                  {"n5a_one_open", &reference::n5a_one_open},
                                                                  {"n5c_one_8ohm", &reference::n5c_one_8_ohm}};
    if (const auto found = stored.find(name); found != stored.end()) {
        return tree_of<std::complex<double>>(*found->second);
    }
    const double v = 70.7;
    if (name == "n3_transformers") return twelve_speakers<std::complex<double>>(v, n3_speaker(hz).admittance);
    if (name == "n1b_100sqrt2_12x5W") return twelve_speakers<std::complex<double>>(100 / std::sqrt(2.0), 5.0 / 5000);
    auto made = twelve_speakers<std::complex<double>>(v, 5 / (v * v));
    if (name == "n5b_one_on_10W") {
        made.tree.set_load(made.rows[7], 10 / (v * v));  // no. 7: of the twelve, the only one that gives the value
    } else if (name == "n5d_100V_taps") {
        for (std::size_t k = 1; k <= 12; ++k) made.tree.set_load(made.rows[k], 5 / (100.0 * 100.0));
    } else if (name == "n5e_last6_open") {
        for (std::size_t k = 7; k <= 12; ++k) made.tree.set_load(made.rows[k], 0);
    } else {
        FAIL("no such network: " << name);
    }
    return made;
}

// Watts at loudspeaker `wanted` (1 is nearest), into the reflected loudspeaker where there is a transformer.
double speaker_watts(const NetworkTree<std::complex<double>>& made, int wanted, const std::string& name, double hz) {
    const auto solution = solve(made.tree);
    int count = 0;
    for (const LineRow row : made.rows) {
        if (made.tree.loads_s()[row] == 0.0 || ++count != wanted) continue;
        if (name != "n3_transformers") return solution.load_w[row];
        const TransformerSeen speaker = n3_speaker(hz);
        return std::norm(solution.volts[row] * speaker.speaker_gain) / speaker.speaker.value();
    }
    FAIL("no such loudspeaker");
    return 0;
}

double network_value(const CsvRow& row) {
    const auto parts = parts_of(row[0]);  // SPICE, network, Hz, Zin or P, loudspeaker
    const std::string name = parts.at(1);
    const double hz = parts.at(2) == "DC" ? 1e-6 : std::stod(parts.at(2));
    const auto made = network_named(name, hz);
    if (parts.at(3) == "Zin") return solve(made.tree).lines[0].ohms;
    return speaker_watts(made, std::stoi(parts.at(4).substr(2)), name, hz);
}

const std::map<std::string, std::function<double(const CsvRow&)>> recomputed{
    {"AWG", gauge},   {"NEC8", nec_at_75}, {"IEC228", iec_228}, {"TC", temperature},       {"LOSS", line_loss},
    {"Z", impedance}, {"SC", tap_scaling}, {"LPAD", pad_part},  {"DB", power_behind_knob}, {"SPICE", network_value}};

}  // namespace

TEST_CASE("every published value is met within its tolerance") {
    const auto rows = read_csv(std::string(TAPWRIGHT_SOURCE_DIR) + "/tests/line/published_values.csv");
    std::map<std::string, int> met;
    for (const CsvRow& row : rows) {
        CAPTURE(row[0]);
        REQUIRE(row.size() == 6);
        CHECK_FALSE(row[5].empty());
        const std::string subject = parts_of(row[0]).at(0);
        REQUIRE(recomputed.contains(subject));
        const double value = recomputed.at(subject)(row);
        CHECK(relative_error(value, std::stod(row[2])) <= std::stod(row[4]));
        ++met[subject];
    }
    for (const auto& entry : recomputed) {
        CAPTURE(entry.first);
        CHECK(met[entry.first] > 0);
    }
    CHECK(rows.size() == 351);
}

}  // namespace tapwright
