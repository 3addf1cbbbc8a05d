#include "core/units/unit.h"

#include <array>

#include "core/base/ensure.h"

namespace tapwright {
namespace {

constexpr std::array<UnitWords, unit_count> all_words{{
    {Unit::none, "", "", "", Pattern("“{given}” is a plain number."), Pattern("Write a plain number, for example 12.")},
    {Unit::volt, "V", "V", "V", Pattern("“{given}” is in volts."), Pattern("Write volts, for example 70.7 V.")},
    {Unit::amp, "A", "A", "A", Pattern("“{given}” is in amperes."), Pattern("Write amperes, for example 0.5 A.")},
    {Unit::milliamp, "mA", "mA", "", Pattern("“{given}” is in milliamperes."),
     Pattern("Write milliamperes, for example 500 mA.")},
    {Unit::watt, "W", "W", "W", Pattern("“{given}” is in watts."), Pattern("Write watts, for example 7.5 W.")},
    {Unit::ohm, "ohm", "Ω", "RrkKM", Pattern("“{given}” is in ohms."),
     Pattern("Write ohms, for example 83.3 Ω or 1k2.")},
    {Unit::ohm_per_km, "ohm/km", "Ω/km", "", Pattern("“{given}” is in ohms per kilometre."),
     Pattern("Write ohms per kilometre, for example 7.4 Ω/km.")},
    {Unit::henry, "H", "H", "", Pattern("“{given}” is in henries."), Pattern("Write henries, for example 10 mH.")},
    {Unit::hertz, "Hz", "Hz", "kK", Pattern("“{given}” is in hertz."), Pattern("Write hertz, for example 1 kHz.")},
    {Unit::metre, "m", "m", "", Pattern("“{given}” is a length."),
     Pattern("Write a length, for example 12.5 m or 40' 6\".")},
    {Unit::square_mm, "mm2", "mm²", "", Pattern("“{given}” is in square millimetres."),
     Pattern("Write square millimetres, for example 2.5 mm².")},
    {Unit::celsius, "C", "°C", "", Pattern("“{given}” is a temperature."),
     Pattern("Write a temperature, for example 21 °C or 70 °F.")},
    {Unit::decibel, "dB", "dB", "", Pattern("“{given}” is in decibels."),
     Pattern("Write decibels, for example −6 dB.")},
    {Unit::sound_level, "dB(A)", "dB(A)", "", Pattern("“{given}” is a sound level."),
     Pattern("Write a sound level, for example 72 dB(A).")},
    {Unit::sensitivity, "dB SPL", "dB", "", Pattern("“{given}” is a sound level."),
     Pattern("Write a sensitivity, for example 90 dB.")},
    {Unit::percent, "%", "%", "", Pattern("“{given}” is a percentage."),
     Pattern("Write a percentage, for example 20 %.")},
    {Unit::degree, "deg", "°", "", Pattern("“{given}” is an angle."), Pattern("Write degrees, for example 90°.")},
    {Unit::gauge, "AWG", "AWG", "", Pattern("“{given}” is a wire gauge."),
     Pattern("Write an American wire gauge, for example 18 AWG.")},
}};

// The first spelling of each unit is the one shown. Both ohm signs (U+03A9, U+2126) and both micro signs (U+00B5,
// U+03BC) are on keyboards.
constexpr UnitSpelling spellings[] = {
    {Unit::volt, "V"},
    {Unit::volt, "volt"},
    {Unit::volt, "volts"},
    {Unit::volt, "mV", -3},
    {Unit::volt, "kV", 3},
    {Unit::amp, "A"},
    {Unit::amp, "amp"},
    {Unit::amp, "amps"},
    {Unit::amp, "ampere"},
    {Unit::amp, "amperes"},
    {Unit::amp, "mA", -3},
    {Unit::milliamp, "mA"},
    {Unit::milliamp, "A", 3},
    {Unit::milliamp, "amp", 3},
    {Unit::milliamp, "amps", 3},
    {Unit::milliamp, "µA", -3},
    {Unit::milliamp, "\u03bcA", -3},
    {Unit::milliamp, "uA", -3},
    {Unit::watt, "W"},
    {Unit::watt, "watt"},
    {Unit::watt, "watts"},
    {Unit::watt, "mW", -3},
    {Unit::watt, "kW", 3},
    {Unit::ohm, "Ω"},
    {Unit::ohm, "\u2126"},
    {Unit::ohm, "ohm"},
    {Unit::ohm, "ohms"},
    {Unit::ohm, "R"},
    {Unit::ohm, "k", 3},
    {Unit::ohm, "K", 3},
    {Unit::ohm, "kΩ", 3},
    {Unit::ohm, "KΩ", 3},
    {Unit::ohm, "k\u2126", 3},
    {Unit::ohm, "kohm", 3},
    {Unit::ohm, "kohms", 3},
    {Unit::ohm, "M", 6},
    {Unit::ohm, "MΩ", 6},
    {Unit::ohm, "M\u2126", 6},
    {Unit::ohm, "Mohm", 6},
    {Unit::ohm, "Mohms", 6},
    {Unit::ohm, "m", -3},
    {Unit::ohm, "mΩ", -3},
    {Unit::ohm, "m\u2126", -3},
    {Unit::ohm, "mohm", -3},
    {Unit::ohm, "mohms", -3},
    {Unit::ohm_per_km, "Ω/km"},
    {Unit::ohm_per_km, "\u2126/km"},
    {Unit::ohm_per_km, "ohm/km"},
    {Unit::ohm_per_km, "ohms/km"},
    {Unit::ohm_per_km, "mΩ/m"},
    {Unit::ohm_per_km, "mohm/m"},
    {Unit::ohm_per_km, "Ω/m", 3},
    {Unit::ohm_per_km, "ohm/m", 3},
    {Unit::ohm_per_km, "Ω/1000 ft", 0, Conversion::per_1000_feet},
    {Unit::ohm_per_km, "ohm/1000 ft", 0, Conversion::per_1000_feet},
    {Unit::ohm_per_km, "ohms/1000 ft", 0, Conversion::per_1000_feet},
    {Unit::ohm_per_km, "ohm/kft", 0, Conversion::per_1000_feet},
    {Unit::henry, "H"},
    {Unit::henry, "henry"},
    {Unit::henry, "henries"},
    {Unit::henry, "mH", -3},
    {Unit::henry, "µH", -6},
    {Unit::henry, "\u03bcH", -6},
    {Unit::henry, "uH", -6},
    {Unit::hertz, "Hz"},
    {Unit::hertz, "hertz"},
    {Unit::hertz, "kHz", 3},
    {Unit::hertz, "k", 3},
    {Unit::hertz, "MHz", 6},
    {Unit::metre, "m"},
    {Unit::metre, "metre"},
    {Unit::metre, "metres"},
    {Unit::metre, "meter"},
    {Unit::metre, "meters"},
    {Unit::metre, "cm", -2},
    {Unit::metre, "mm", -3},
    {Unit::metre, "km", 3},
    {Unit::metre, "ft", 0, Conversion::feet},
    {Unit::metre, "ft.", 0, Conversion::feet},
    {Unit::metre, "foot", 0, Conversion::feet},
    {Unit::metre, "feet", 0, Conversion::feet},
    {Unit::metre, "'", 0, Conversion::feet},
    {Unit::metre, "′", 0, Conversion::feet},
    {Unit::metre, "’", 0, Conversion::feet},
    {Unit::metre, "in", 0, Conversion::inches},
    {Unit::metre, "in.", 0, Conversion::inches},
    {Unit::metre, "inch", 0, Conversion::inches},
    {Unit::metre, "inches", 0, Conversion::inches},
    {Unit::metre, "\"", 0, Conversion::inches},
    {Unit::metre, "″", 0, Conversion::inches},
    {Unit::metre, "”", 0, Conversion::inches},
    {Unit::metre, "''", 0, Conversion::inches},
    {Unit::square_mm, "mm²"},
    {Unit::square_mm, "mm2"},
    {Unit::square_mm, "mm^2"},
    {Unit::square_mm, "sq mm"},
    {Unit::square_mm, "sqmm"},
    {Unit::celsius, "°C"},
    {Unit::celsius, "℃"},
    {Unit::celsius, "C"},
    {Unit::celsius, "°"},
    {Unit::celsius, "°F", 0, Conversion::fahrenheit},
    {Unit::celsius, "℉", 0, Conversion::fahrenheit},
    {Unit::celsius, "F", 0, Conversion::fahrenheit},
    {Unit::decibel, "dB"},
    {Unit::sound_level, "dB(A)"},
    {Unit::sound_level, "dB"},
    {Unit::sound_level, "dBA"},
    {Unit::sound_level, "dB A"},
    {Unit::sound_level, "dB (A)"},
    {Unit::sound_level, "dB SPL"},
    {Unit::sensitivity, "dB"},
    {Unit::sensitivity, "dB SPL"},
    {Unit::percent, "%"},
    {Unit::percent, "percent"},
    {Unit::percent, "per cent"},
    {Unit::degree, "°"},
    {Unit::degree, "deg"},
    {Unit::degree, "degree"},
    {Unit::degree, "degrees"},
    {Unit::gauge, "AWG"},
    {Unit::gauge, "ga"},
};

constexpr char lower(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

bool same_but_capitals(std::string_view a, std::string_view b) {
    if (a.size() != b.size()) return false;
    for (std::size_t i = 0; i < a.size(); ++i)
        if (lower(a[i]) != lower(b[i])) return false;
    return true;
}

// Capitals never turn mega into milli.
bool keeps_prefix(const UnitSpelling& spelling, std::string_view text) {
    const bool length = spelling.unit == Unit::metre || spelling.unit == Unit::square_mm;
    return length || !(spelling.text.front() == 'm' && text.front() == 'M');
}

bool same_effect(const UnitSpelling& a, const UnitSpelling& b) {
    return a.exponent == b.exponent && a.conversion == b.conversion;
}

}  // namespace

const UnitWords& words_of(Unit unit) {
    const UnitWords& words = all_words[static_cast<std::size_t>(unit)];
    TAPWRIGHT_ENSURE(words.unit == unit);
    return words;
}

std::optional<Unit> unit_from_symbol(std::string_view symbol) {
    for (const UnitWords& words : all_words)
        if (words.symbol == symbol) return words.unit;
    return std::nullopt;
}

std::optional<UnitSpelling> find_spelling(Unit unit, std::string_view text) {
    std::optional<UnitSpelling> near;
    bool doubtful = false;
    for (const UnitSpelling& spelling : spellings) {
        if (spelling.unit != unit) continue;
        if (spelling.text == text) return spelling;
        if (!same_but_capitals(spelling.text, text) || !keeps_prefix(spelling, text)) continue;
        doubtful = doubtful || (near && !same_effect(*near, spelling));
        near = spelling;
    }
    return doubtful ? std::nullopt : near;
}

std::optional<Unit> unit_spelled(std::string_view text) {
    for (const UnitSpelling& spelling : spellings)
        if (spelling.text == text) return spelling.unit;
    for (const UnitSpelling& spelling : spellings)
        if (same_but_capitals(spelling.text, text)) return spelling.unit;
    return std::nullopt;
}

}  // namespace tapwright
