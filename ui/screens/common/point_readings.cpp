#include "ui/screens/common/point_readings.h"

#include "core/calc/emergency.h"
#include "core/readings/newest.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {

void PointReadings::draw(Context& context) {
    const Session& session = *context.session;
    section_title(context, Message("Readings"));
    draw_newest(context);
    search_.draw_at_reading(context, "point.find_fault", id_);
    if (emergency_of(session.job(), session.derived(), id_) != tapwright::Answer::yes)
        draw_keys(context, *session.job().find<Point>(id_));
}

// The newest of each quantity, the newest first; the rest are on their own page.
void PointReadings::draw_newest(Context& context) {
    const Session& session = *context.session;
    if (!seen_.still(session)) places_ = readings_at(session.job(), id_);
    unsigned told = 0;
    std::size_t here = 0;
    for (const std::uint32_t i : places_) {
        const Reading& reading = session.job().all<Reading>()[i];
        if (!reading.quantity) continue;
        here += 1;
        const unsigned bit = 1U << static_cast<unsigned>(*reading.quantity);
        if ((told & bit) != 0) continue;
        told |= bit;
        Row row;
        row.title = measured_title(*reading.quantity);
        row.value = reading_figure(reading);
        row.chevron = true;
        if (reading.time) row.detail = Moment{reading.time->text};
        if (reading.quantity == Measured::ohms) {
            const VerdictWords words = verdict_words(session.derived().readings[i]);
            row.tone = words.tone;
            row.word = words.word;
        }
        if (list_row(context, "point.reading." + reading.id.text(), row).tapped)
            context.requests.open(readings_at_screen(shared_, id_));
    }
    if (here == 0) quiet_paragraph(context, Message("Not read yet"));
}

bool PointReadings::is_tap_found(const Session& session) const {
    for (const Reading& reading : session.job().all<Reading>())
        if (reading.at == id_ && reading.quantity == Measured::tap_w && reading.value) return true;
    return false;
}

void PointReadings::draw_keys(Context& context, const Point& point) {
    const Session& session = *context.session;
    const Argument name = entered(name_of(session.job(), id_));
    if (button(context, "point.measure", Message("Take a reading at {point}", {{"point", name}}),
               {.shape = Shape::readings, .changes = true}))
        entry_.begin(context, id_);
    const bool is_on_a_zone = session.job().has(Kind::zone, line_of(session, id_));
    if (!is_speaker(point) || !is_on_a_zone || point.wired.value_or(Wired::line) != Wired::line) return;
    const bool is_known = point.tap_w && (point.origin != Origin::existing || is_tap_found(session));
    const Message label = is_known ? Message("With and without {point}: check its tap", {{"point", name}})
                                   : Message("With and without {point}: find its tap", {{"point", name}});
    if (button(context, "point.find_tap", label, {.shape = Shape::loudspeaker}))
        context.requests.open(find_tap_screen(shared_, id_));
}

}  // namespace tapwright::ui
