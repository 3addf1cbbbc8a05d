#include <algorithm>
#include <cmath>
#include <numbers>
#include <variant>

#include "core/base/ensure.h"
#include "core/base/memory.h"
#include "core/base/text.h"
#include "platform/print/compose.h"
#include "platform/print/jpeg.h"

namespace tapwright::print {
namespace {

// A drawing may be made so much smaller to stay with its zone; its smallest labels then have 5 points.
constexpr double smallest_drawing = 0.8;

constexpr double dense_drawing = 0.87;

// What is further out than a kilometre of paper is a mistake; it is left out, like what is no number.
bool placeable(double value) {
    return std::abs(value) < 3e6;
}

bool placeable(const std::vector<std::array<double, 2>>& path) {
    return std::all_of(path.begin(), path.end(),
                       [](const auto& point) { return placeable(point[0]) && placeable(point[1]); });
}

double stroke_width(const document::Drawing::Stroke& stroke) {
    return placeable(stroke.width) ? std::max(stroke.width, 0.1) : 1;
}

// The rectangle that holds everything a drawing draws; labels may stick out of the size it names.
struct Bounds {
    double left = 0;
    double top = 0;
    double right = 0;
    double bottom = 0;

    void take(double x, double y) {
        left = std::min(left, x);
        top = std::min(top, y);
        right = std::max(right, x);
        bottom = std::max(bottom, y);
    }
};

struct PlacedLabel {
    SharedText text;
    double x;  // top left
    double y;
};

PlacedLabel place_label(Composer& composer, const document::Drawing::Label& label) {
    const double size = std::isfinite(label.size) ? std::clamp(label.size, 1.0, 200.0) : 9.0;
    PlacedLabel placed{composer.type.set(label.text, {size, 400, 1.2}), label.x, label.y};
    if (label.align == document::Align::end) placed.x -= placed.text->width();
    placed.y -= placed.text->lines().front().baseline;
    return placed;
}

void draw_stroke(cairo_t* context, const document::Drawing::Stroke& stroke) {
    if (stroke.path.empty() || !placeable(stroke.path)) return;
    const double dashes[] = {4, 3};
    cairo_set_dash(context, dashes, stroke.dashed ? 2 : 0, 0);
    cairo_set_line_width(context, stroke_width(stroke));
    cairo_new_path(context);
    for (const auto& point : stroke.path) cairo_line_to(context, point[0], point[1]);
    if (stroke.filled) {
        cairo_close_path(context);
        cairo_fill_preserve(context);
    }
    cairo_stroke(context);
}

Sketch sketch_drawing(Composer& composer, const document::Drawing& drawing, double most_height) {
    Bounds bounds{0, 0, placeable(drawing.width) ? drawing.width : 0, placeable(drawing.height) ? drawing.height : 0};
    std::vector<PlacedLabel> labels;
    for (const auto& label : drawing.labels) {
        if (!placeable(label.x) || !placeable(label.y)) continue;
        labels.push_back(place_label(composer, label));
        const PlacedLabel& placed = labels.back();
        bounds.take(placed.x, placed.y);
        bounds.take(placed.x + placed.text->width(), placed.y + placed.text->height());
    }
    for (const auto& stroke : drawing.strokes) {
        if (!placeable(stroke.path)) continue;
        const double half = stroke_width(stroke) / 2;
        for (const auto& point : stroke.path) {
            bounds.take(point[0] - half, point[1] - half);
            bounds.take(point[0] + half, point[1] + half);
        }
    }
    const double width = std::max(bounds.right - bounds.left, 1.0);
    const double height = std::max(bounds.bottom - bounds.top, 1.0);
    const double scale = std::min({composer.dense ? dense_drawing : 1.0, composer.width / width, most_height / height});
    auto draw = [strokes = drawing.strokes, labels = std::move(labels), bounds, scale](cairo_t* context) {
        cairo_scale(context, scale, scale);
        cairo_translate(context, -bounds.left, -bounds.top);
        set_colour(context, theme::ink);
        cairo_set_line_cap(context, CAIRO_LINE_CAP_ROUND);
        cairo_set_line_join(context, CAIRO_LINE_JOIN_ROUND);
        for (const auto& stroke : strokes) draw_stroke(context, stroke);
        for (const PlacedLabel& label : labels)
            draw_lines(context, *label.text, 0, label.text->line_count(), label.x, label.y, label.text->width(),
                       document::Align::start);
    };
    return {height * scale, std::move(draw)};
}

// The JPEG goes into the file as it is: cairo takes it from the surface's MIME data and never looks at its one pixel.
void draw_jpeg(cairo_t* context, const std::shared_ptr<const std::string>& bytes, double width, double height) {
    const Surface pixel(cairo_image_surface_create(CAIRO_FORMAT_RGB24, 1, 1));
    auto* kept = new std::shared_ptr<const std::string>(bytes);
    const auto* data = reinterpret_cast<const unsigned char*>(bytes->data());
    const auto release = [](void* closure) { delete static_cast<std::shared_ptr<const std::string>*>(closure); };
    const cairo_status_t status =
        cairo_surface_set_mime_data(pixel.get(), CAIRO_MIME_TYPE_JPEG, data, bytes->size(), release, kept);
    if (status != CAIRO_STATUS_SUCCESS) {
        release(kept);
        out_of_memory();  // it has no other reason, and would draw the one pixel
    }
    cairo_scale(context, width, height);
    cairo_set_source_surface(context, pixel.get(), 0, 0);
    // Not cairo_paint(): while a page counts as empty, that makes cairo forget what was drawn before, markers too.
    cairo_rectangle(context, 0, 0, 1, 1);
    cairo_fill(context);
}

// A ring that stands out on light and dark ground.
void draw_pin(cairo_t* context, double x, double y) {
    for (const auto& [width, colour] : {std::pair(4.5, theme::white), std::pair(2.0, theme::stop)}) {
        set_colour(context, colour);
        cairo_set_line_width(context, width);
        cairo_new_path(context);
        cairo_arc(context, x, y, 9, 0, 2 * std::numbers::pi);
        cairo_stroke(context);
    }
}

Result<Sketch> sketch_picture(Composer& composer, const document::Picture& picture, const std::string& alternative,
                              double most_height) {
    const auto shape = jpeg_shape(picture.jpeg);
    if (!shape)
        return Refusal{
            Message("The picture {picture} is not a JPEG that a PDF can hold; give it as a grey or colour JPEG of 8 "
                    "bits.",
                    {{"picture", entered(cited(alternative))}})};
    constexpr double points_per_pixel = 72.0 / 144.0;  // not larger than 144 pixels an inch
    const double width = shape->width * points_per_pixel;
    const double height = shape->height * points_per_pixel;
    const double scale = std::min({1.0, composer.width / width, most_height / height});
    auto bytes = std::make_shared<const std::string>(picture.jpeg);
    auto draw = [bytes, pin = picture.pin, width = width * scale, height = height * scale](cairo_t* context) {
        cairo_save(context);
        draw_jpeg(context, bytes, width, height);
        cairo_restore(context);
        if (pin) draw_pin(context, std::clamp((*pin)[0], 0.0, 1.0) * width, std::clamp((*pin)[1], 0.0, 1.0) * height);
    };
    return Sketch{height * scale, std::move(draw)};
}

}  // namespace

Result<void> add_figure(Composer& composer, const document::Figure& figure) {
    if (figure.alternative.empty())
        return Refusal{
            Message("The figure {figure} has no alternative text; say in words what it shows, for who cannot see it.",
                    {{"figure", entered(cited(figure.caption))}})};
    const SharedText caption = composer.type.set(figure.caption, theme::caption, composer.width);
    const double below = figure.caption.empty() ? 0 : std::min(caption->height() + 6, composer.height / 3);
    const double most_height = composer.height - below - 12;
    Sketch sketch;
    if (const auto* bar = std::get_if<document::Bar>(&figure.content)) {
        sketch = sketch_bar(composer, *bar);
    } else if (const auto* drawing = std::get_if<document::Drawing>(&figure.content)) {
        sketch = sketch_drawing(composer, *drawing, most_height);
    } else if (const auto* shades = std::get_if<document::Shades>(&figure.content)) {
        sketch =
            sketch_shades(composer, *shades, std::min(most_height, composer.height * (composer.dense ? 0.13 : 0.32)));
    } else {
        const auto& picture = std::get<document::Picture>(figure.content);
        auto result =
            sketch_picture(composer, picture, figure.alternative, std::min(most_height, composer.height * 0.42));
        if (!result) return result.refusal();
        sketch = std::move(*result);
    }
    const int element = composer.structure.add(Role::figure, 0, settable(figure.alternative));
    Strip strip{.space_before = composer.dense ? 8.0 : 12.0,
                .height = sketch.height,
                .keep_with_next = !figure.caption.empty()};
    if (std::holds_alternative<document::Drawing>(figure.content)) {
        strip.least_scale = smallest_drawing;
        strip.floats = composer.dense;
    }
    strip.items.push_back(
        {.width = composer.width, .element = element, .draw = std::move(sketch.draw), .height = sketch.height});
    add_strip(composer, std::move(strip));
    if (figure.caption.empty()) return done();
    add_lines(composer, {.text = caption,
                         .width = composer.width,
                         .colour = theme::quiet,
                         .element = composer.structure.add(Role::caption, element),
                         .space_before = composer.dense ? 2.0 : 4.0,
                         .keep_together = caption->height() + 6 < composer.height / 3});
    return done();
}

}  // namespace tapwright::print
