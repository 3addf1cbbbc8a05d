// A line to sign on: role, then name, signature and date on ruled lines with small words under them.
#include <algorithm>

#include "platform/print/compose.h"

namespace tapwright::print {
namespace {

double room_of(const Composer& composer) {  // height to sign in
    return composer.dense ? 23 : 34;
}
constexpr double gap = 16;

// One of the three ruled lines.
struct Field {
    std::string word;
    double left;
    double width;
    SharedText value;  // null: to be filled in by hand
};

std::vector<Field> fields_of(Composer& composer, const document::SignatureLine& signature) {
    const SharedText day = composer.type.set(signature.date, theme::body_strong);
    const double date = std::max(composer.width * 0.22, std::min(day->width(), composer.width * 0.3));
    const double name = composer.width * 0.34;
    const double middle = composer.width - name - date - 2 * gap;
    return {
        {composer.words.text(Message("Name")), 0, name, composer.type.set(signature.name, theme::body_strong, name)},
        {composer.words.text(in_context("line to sign on", "Signature")), name + gap, middle, nullptr},
        {composer.words.text(Message("Date")), name + middle + 2 * gap, date,
         composer.type.set(signature.date, theme::body_strong, date)}};
}

void put_field(Composer& composer, Strip& strip, const Field& field, double line, bool with_value, int group) {
    const SharedText word = composer.type.set(field.word, theme::caption);
    const int element = composer.structure.add(Role::paragraph, group);
    strip.shapes.push_back({.x = field.left, .y = line, .width = field.width, .height = 0.7, .colour = theme::ink});
    strip.items.push_back({.text = word,
                           .last = 1,
                           .x = field.left,
                           .y = line + 3,
                           .width = field.width,
                           .colour = theme::quiet,
                           .element = element});
    if (!with_value || !field.value || field.value->empty()) return;
    strip.items.push_back({.text = field.value,
                           .last = field.value->line_count(),
                           .x = field.left,
                           .y = line - 2 - field.value->height(),
                           .width = field.width,
                           .element = element});
}

// What was drawn on the device; points outside of its unit square are moved to the edge.
Item drawn(Composer& composer, const document::SignatureLine& signature, const Field& field, double line, int group) {
    auto draw = [strokes = signature.strokes, width = field.width, room = room_of(composer)](cairo_t* context) {
        set_colour(context, theme::ink);
        cairo_set_line_width(context, 1.2);
        cairo_set_line_cap(context, CAIRO_LINE_CAP_ROUND);
        cairo_set_line_join(context, CAIRO_LINE_JOIN_ROUND);
        const auto inside = [](double value) { return value > 0 ? std::min(value, 1.0) : 0.0; };
        for (const auto& path : strokes) {
            cairo_new_path(context);
            for (const auto& point : path)
                cairo_line_to(context, inside(point[0]) * width, inside(point[1]) * (room - 4));
            if (path.size() == 1) cairo_close_path(context);  // a dot
            cairo_stroke(context);
        }
    };
    const std::string who = signature.name.empty() ? signature.role : signature.name;
    const int element = composer.structure.add(
        Role::figure, group,
        settable(composer.words.text(Message("Drawn signature: {name}", {{"name", entered(who)}}))));
    return {.x = field.left,
            .y = line - room_of(composer) + 2,
            .width = field.width,
            .element = element,
            .draw = std::move(draw),
            .height = room_of(composer)};
}

}  // namespace

void add_signature(Composer& composer, const document::SignatureLine& signature) {
    const int group = composer.structure.add(Role::group);
    add_lines(composer, {.text = composer.type.set(signature.role, theme::heading_3, composer.width),
                         .width = composer.width,
                         .element = composer.structure.add(Role::paragraph, group),
                         .space_before = composer.dense ? 3.0 : 16.0,
                         .keep_together = true,
                         .keep_with_next = true});
    const std::vector<Field> fields = fields_of(composer, signature);
    const double filled = std::max(fields[0].value->height(), fields[2].value->height());
    const bool on_the_line = filled <= composer.height / 3;
    if (!on_the_line) {  // too long to stand on a line: on rows above it, which may go on over pages
        std::vector<CellBox> cells;
        for (const Field& field : fields)
            if (field.value)
                cells.push_back({.text = field.value,
                                 .x = field.left,
                                 .width = field.width,
                                 .element = composer.structure.add(Role::paragraph, group)});
        add_row(composer, cells, {.keep_with_next = true});
    }
    Strip strip;
    const double line = std::max(room_of(composer), on_the_line ? filled + 8 : 0);
    strip.height = line + 14;
    for (const Field& field : fields) put_field(composer, strip, field, line, on_the_line, group);
    if (!signature.strokes.empty()) strip.items.push_back(drawn(composer, signature, fields[1], line, group));
    add_strip(composer, std::move(strip));
}

}  // namespace tapwright::print
