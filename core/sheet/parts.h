// The parts of the two sheets. Each appends its blocks; what has nothing to say appends nothing, unless that nothing is
// itself worth saying.
#pragma once

#include <functional>

#include "core/sheet/view.h"

namespace tapwright::sheet {

// Where the sections put their blocks. Each is handed on at once, so a sheet is never in memory whole.
class Blocks {
public:
    using Take = std::function<void(outline::Block&&)>;
    explicit Blocks(Take take) : take_(std::move(take)) {}

    void push_back(outline::Block block) { take_(std::move(block)); }
    template <class Block>
    void emplace_back(Block&& block) {
        push_back(std::forward<Block>(block));
    }

private:
    Take take_;
};

// owner.cpp
void owner_sheet(const View& view, Blocks& blocks);

// owner_controls.cpp: room by room, which control does what
void owner_controls(const View& view, Blocks& blocks);

// owner_record.cpp
void owner_installed(const View& view, Blocks& blocks);    // how many loudspeakers are where
void owner_spare_watts(const View& view, Blocks& blocks);  // what may be added, a short line for each zone
void owner_as_left(const View& view, Blocks& blocks);      // positions of the volume controls

// owner_tests.cpp
void owner_untested(const View& view, Blocks& blocks);
void owner_tests(const View& view, Blocks& blocks);
void owner_open(const View& view, Blocks& blocks);  // what is open, and who does it

// technician.cpp
void technician_sheet(const View& view, Blocks& blocks);

// verification.cpp: item, method, limit, result, who and when
void verification(const View& view, Blocks& blocks);

// level_chart.cpp: nothing where fewer than two levels are known.
std::optional<outline::Figure> level_chart(const View& view, std::uint32_t zone);

// zone.cpp: everything about one zone. Requires: zone < number of zones.
void zone_section(const View& view, std::uint32_t zone, Blocks& blocks);
void not_traced_section(const View& view, Blocks& blocks);

// zone_picture.cpp
void zone_figures(const View& view, std::uint32_t zone, Blocks& blocks);

// readings.cpp: the readings at these places in job.all<Reading>(), as one table; nothing for an empty list.
void readings_table(const View& view, const std::vector<std::uint32_t>& readings, Message caption, Blocks& blocks);

// faults.cpp: each line on which a reading does not fit, what explains it best and what would tell more; nothing where
// all fit.
void faults_section(const View& view, Blocks& blocks);

// records.cpp
void room_schedule(const View& view, Blocks& blocks);
void type_tables(const View& view, Blocks& blocks);
void interface_table(const View& view, Blocks& blocks);
void settings_and_controls(const View& view, Blocks& blocks);
void snag_table(const View& view, Blocks& blocks);
void visit_table(const View& view, Blocks& blocks);
// What visits met and left at the points of one zone, visit by visit; zone nowhere: at those on no line.
void as_found_and_left(const View& view, std::uint32_t zone, Message caption, Blocks& blocks);

// cautions.cpp
void not_a_certificate(Blocks& blocks);
void emergency_parts(const View& view, Blocks& blocks);  // zones and points of a fire or emergency system, if any
void owner_cautions(const View& view, Blocks& blocks);
void technician_cautions(const View& view, Blocks& blocks);
// Signatures given for the very state the sheet shows; else lines to sign on. Earlier ones are named with their date.
void sign_off(const View& view, Blocks& blocks);

// photos.cpp: photos this reader may see, room by room, two side by side.
void photo_section(const View& view, Blocks& blocks);
void add_in_pairs(std::vector<outline::Figure> figures, Blocks& blocks);

// levels.cpp: the direct level over the floor of one room; nothing where no loudspeaker's place is known.
std::optional<outline::Figure> level_map_of(const View& view, std::uint32_t room);

// room_plans.cpp: rooms seen from above, beside each for the technician its levels, and what the others lack.
void plan_section(const View& view, Blocks& blocks);

}  // namespace tapwright::sheet
