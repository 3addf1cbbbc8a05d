// Labels to cut out: as many side by side as the page is wide, thin lines where to cut. The name is set as large as it
// fits, and everything that has to be read stays inside the lines.
#include <algorithm>

#include "core/base/text.h"
#include "platform/print/compose.h"

namespace tapwright::print {
namespace {

constexpr double padding = 5;
constexpr double least_side = 20;
constexpr double smallest = 5;
constexpr double readable = 6;  // at arm's length
constexpr Colour cut = colour(0x9AA2A8);

// The largest size at which `text` fits into the box on one line; at the smallest it is broken, and cut with an
// ellipsis to what stays within `most`. Null: not even one line does.
SharedText set_to_fit(Composer& composer, const std::string& text, int weight, double largest, double width,
                      double height, double most) {
    const auto size = [largest](int smaller) { return largest - 0.5 * smaller; };
    for (int smaller = 0; size(smaller) > smallest; ++smaller) {
        SharedText set = composer.type.set(text, {size(smaller), weight, 1.15});
        if (set->width() <= width && set->height() <= height) return set;
    }
    const Style style{smallest, weight, 1.15};
    const std::string whole = settable(text);
    SharedText set = composer.type.set(whole, style, width);
    for (std::size_t signs = code_points(whole); set->height() > most && signs > 1;)
        set = composer.type.set(cited(whole, signs -= std::max<std::size_t>(signs / 8, 1)), style, width);
    return set->height() <= most ? set : nullptr;
}

void put_label(Composer& composer, Strip& strip, const document::Labels::Label& label, double x, double width,
               double height) {
    const double inner = width - 2 * padding;
    const double room = height - 2 * padding;
    const int group = composer.structure.add(Role::group);
    const double share = label.lines.empty() ? 1 : 0.48;
    double y = padding;
    // A label that is too small for all of its lines keeps the first of them; the name stands on every one.
    const auto put = [&](const std::string& words, int weight, double largest, double high) {
        const double left = height - 1 - y;
        const SharedText text = set_to_fit(composer, words, weight, largest, inner, std::min(high, left), left);
        if (!text) return;
        const double used = text->height();
        strip.items.push_back({.text = text,
                               .last = text->line_count(),
                               .x = x + padding,
                               .y = y,
                               .width = inner,
                               .element = composer.structure.add(Role::paragraph, group)});
        y += used;
    };
    put(label.name, 600, std::min(28.0, room * share), room * share);
    // As many lines as can be read, the first of them before the others.
    std::vector<const std::string*> lines;
    for (const std::string& line : label.lines)
        if (!line.empty()) lines.push_back(&line);
    if (lines.empty()) return;
    const auto most = static_cast<std::size_t>(std::max((height - 2 - y) / (readable * 1.15), 1.0));
    lines.resize(std::min(lines.size(), most));
    const double each = (height - padding / 2 - y) / static_cast<double>(lines.size());
    for (const std::string* line : lines) put(*line, 400, std::min(9.0, each / 1.15), each);
}

}  // namespace

void add_labels(Composer& composer, const document::Labels& labels) {
    const double width = std::clamp(labels.width, least_side, composer.width);
    const double height = std::clamp(labels.height, least_side, composer.height);
    const auto columns = static_cast<std::size_t>(std::max(composer.width / width + 1e-6, 1.0));
    for (std::size_t first = 0; first < labels.labels.size(); first += columns) {
        const std::size_t count = std::min(columns, labels.labels.size() - first);
        Strip strip;
        strip.height = height;
        const double across = width * static_cast<double>(count);
        for (const double y : {0.0, height})
            strip.shapes.push_back({.y = y, .width = across, .height = 0.4, .colour = cut});
        for (std::size_t k = 0; k <= count; ++k)
            strip.shapes.push_back(
                {.x = width * static_cast<double>(k), .width = 0.4, .height = height, .colour = cut});
        for (std::size_t k = 0; k < count; ++k)
            put_label(composer, strip, labels.labels[first + k], width * static_cast<double>(k), width, height);
        add_strip(composer, std::move(strip));
    }
}

}  // namespace tapwright::print
