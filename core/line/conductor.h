// What a cable's conductors oppose to the line current: resistance per kilometre of ONE conductor, and of a pair.
//
// Direct-current values: the skin effect, 0.4 % for 6 mm2 at 1 kHz and less for anything thinner, is left out.
// Formulas, sources and worked examples: docs/calculations.md.
#pragma once

#include <optional>

#include "core/base/result.h"
#include "core/units/quantity.h"

namespace tapwright {

enum class Strand { solid, stranded };
enum class Metal { copper, copper_clad_aluminium };

// Conductivity of annealed copper at 20 C, siemens times metre per square millimetre (IEC 60028:1925: 58 MS/m).
inline constexpr double copper_conductivity = 58;
// Change of resistance per degree, annealed copper, from 20 C (International Annealed Copper Standard).
inline constexpr double copper_temperature_coefficient = 0.00393;
// Lay of a stranded conductor makes its wires longer than the cable (common practice; the NEC's chapter 9 table 8
// differs by as much between its solid and its 7-strand rows).
inline constexpr double stranding_factor = 1.02;
// From memory of ASTM B566 (10 % copper by volume): about 62.9 % of copper's conductivity.
inline constexpr double copper_clad_aluminium_factor = 1.59;

// The gauges awg_resistance() answers for. 0 is 1/0, -1 is 2/0, -2 is 3/0, -3 is 4/0.
inline constexpr int thickest_awg = -3;
inline constexpr int thinnest_awg = 40;

// Diameter of a solid AWG wire in millimetres, exact by its definition (ASTM B258): 0.127 mm x 92^((36 - awg)/39).
double awg_diameter_mm(int awg);

// One copper conductor at 20 C. Returns: a refusal for a gauge outside [thickest_awg, thinnest_awg].
Result<OhmsPerKm> awg_resistance(int awg, Strand strand);

// One plain copper conductor at 20 C: the MAXIMUM IEC 60228 allows for that size and class (1 solid, 2 stranded,
// 5 flexible), so a measured pair should come in below it. Sizes 0.5, 0.75, 1, 1.5, 2.5, 4 and 6 mm2.
// Returns: a refusal naming the sizes and classes known for any other.
Result<OhmsPerKm> iec_resistance(SquareMm area, int iec_class);

// The same conductor made of `metal` instead of copper.
OhmsPerKm in_metal(OhmsPerKm copper, Metal metal);

// The same conductor at another temperature: x (1 + 0.00393 (celsius - 20)).
// Requires: celsius > -230, where the straight line would reach nothing.
OhmsPerKm at_temperature(OhmsPerKm at_20, Celsius celsius);

// There and back: 2 x length x ohm/m. Requires: conductor >= 0, one_way >= 0, both finite.
Ohms pair_resistance(OhmsPerKm conductor, Metres one_way);

// ---- the next thicker cable ----------------------------------------------------------------------
// The next even gauge up: 18 -> 16, 19 -> 18. The trade runs loudspeaker lines in 24 to 10 AWG: nothing beyond 10.
std::optional<int> next_awg_up(int awg);
// The next larger size of the IEC 60228 table; nothing beyond 6 mm2.
std::optional<SquareMm> next_area_up(SquareMm area);

}  // namespace tapwright
