// A drawn line as a netlist of its physical parts: resistors, inductors, and for an autotransformer two ideal
// controlled sources. Written for ngspice; nothing here uses the line solution.
#pragma once

#include <cmath>
#include <cstdio>
#include <sstream>
#include <string>

#include "tests/line/drawn_line.h"

namespace tapwright {

inline std::string input_node(std::size_t k) {
    return "n" + std::to_string(k);
}
// Carries the current into point k's terminals.
inline std::string ammeter(std::size_t k) {
    return "vin" + std::to_string(k);
}
inline std::string output_node(const DrawnLine& line, std::size_t k) {
    return (line.points[k].kind == DrawnKind::point ? "n" : "o") + std::to_string(k);
}

inline std::string written(double value) {
    char text[40];
    std::snprintf(text, sizeof text, "%.17g", value);
    return text;
}

// The loudspeaker at node n<k>: a resistor, or the transformer's parts one by one.
inline std::string speaker_parts(const DrawnLine& line, std::size_t k) {
    const std::string id = std::to_string(k);
    const double load = line.points[k].load_ohm;
    if (load == 0) return "";
    if (!line.transformer) return "Rs" + id + " n" + id + " 0 " + written(load) + "\n";
    const TransformerModel model = line.model_for(load);
    const double speaker = load - model.primary.value() - model.secondary.value();
    return "Rp" + id + " n" + id + " p" + id + " " + written(model.primary.value()) + "\n" +  //
           "Lk" + id + " p" + id + " m" + id + " " + written(model.leakage.value()) + "\n" +  //
           "Lm" + id + " m" + id + " 0 " + written(model.magnetising->value()) + "\n" +       //
           "Rr" + id + " m" + id + " s" + id + " " + written(model.secondary.value()) + "\n" + "Rs" + id + " s" + id +
           " 0 " + written(speaker) + "\n";
}

// The attenuator between nodes n<k> and o<k>.
inline std::string attenuator_parts(const DrawnPoint& point, std::size_t k) {
    const std::string id = std::to_string(k);
    // Gives a node nothing else connects a potential; far above anything on a line.
    const std::string leak = "Rleak" + id + " o" + id + " 0 1e15\n";
    if (point.kind == DrawnKind::off) return "Roff" + id + " o" + id + " 0 1\n";
    if (point.kind == DrawnKind::autotransformer) {
        const double volts_ratio = std::pow(10, (point.step_db - point.insertion_db) / 20);
        const double amps_ratio = std::pow(10, (point.step_db + point.insertion_db) / 20);
        return "E" + id + " e" + id + " 0 n" + id + " 0 " + written(volts_ratio) + "\n" +  //
               "Vm" + id + " e" + id + " o" + id + " DC 0 AC 0\n" +                        //
               "F" + id + " n" + id + " 0 Vm" + id + " " + written(amps_ratio) + "\n" + leak;
    }
    if (point.step_db == 0) return "Vm" + id + " n" + id + " o" + id + " DC 0 AC 0\n" + leak;
    const double k_ratio = std::pow(10, -point.step_db / 20);
    return "Rls" + id + " n" + id + " o" + id + " " + written(point.pad_ohm * (k_ratio - 1) / k_ratio) + "\n" + "Rlp" +
           id + " o" + id + " 0 " + written(point.pad_ohm / (k_ratio - 1)) + "\n";
}

inline std::string netlist_of(const DrawnLine& line) {
    std::ostringstream text;
    text << "* a line drawn at random\nVsource source 0 DC 0 AC " << written(line.volts) << "\n";
    for (std::size_t k = 0; k < line.points.size(); ++k) {
        const DrawnPoint& point = line.points[k];
        const auto feed = line.feed_of(k);
        const std::string from = !feed ? "source" : point.looped ? input_node(*feed) : output_node(line, *feed);
        // A run of 0 ohm is just the ammeter: the simulator would turn a 0 ohm resistor into a milliohm.
        const std::string before = point.run_ohm > 0 ? "a" + std::to_string(k) : from;
        if (point.run_ohm > 0)
            text << "Rw" << k << " " << from << " " << before << " " << written(point.run_ohm) << "\n";
        text << ammeter(k) << " " << before << " " << input_node(k) << " DC 0 AC 0\n";
        text << (point.kind == DrawnKind::point ? speaker_parts(line, k) : attenuator_parts(point, k));
    }
    text << ".control\nset numdgt=12\nset noaskquit\nset nopage\nset width=200\n";
    text << "ac lin 1 " << written(line.hz) << " " << written(line.hz) << "\n";
    for (std::size_t k = 0; k < line.points.size(); ++k) {
        text << "print vr(" << input_node(k) << ") vi(" << input_node(k) << ")\n";
        if (line.points[k].kind != DrawnKind::point) text << "print vr(o" << k << ") vi(o" << k << ")\n";
        text << "print real(i(" << ammeter(k) << ")) imag(i(" << ammeter(k) << "))\n";
    }
    text << "print real(i(vsource)) imag(i(vsource))\nquit\n.endc\n.end\n";
    return text.str();
}

}  // namespace tapwright
