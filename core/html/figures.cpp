#include "core/html/figures.h"

#include <algorithm>
#include <cmath>

#include "core/base/text.h"
#include "core/html/escape.h"
#include "core/html/kept.h"

namespace tapwright::html {
namespace {

// Whatever is no number, or further out than a kilometre of paper, is left out.
bool placeable(double value) {
    return std::abs(value) < 3e6;
}

std::string number(double value) {
    return rounded(placeable(value) ? value : 0, 2);
}

std::string open_svg(double width, double height, const std::string& alternative, const char* kind) {
    return "<svg class=\"" + std::string(kind) + "\" viewBox=\"0 0 " + number(std::max(width, 1.0)) + " " +
           number(std::max(height, 1.0)) + "\" role=\"img\" aria-label=\"" + escaped(alternative) + "\">";
}

std::string rectangle(double x, double width, double height, const char* kind) {
    return "<rect class=\"" + std::string(kind) + "\" x=\"" + number(x) + "\" y=\"0\" width=\"" +
           number(std::max(width, 0.0)) + "\" height=\"" + number(height) + "\"/>";
}

std::string bar(const document::Bar& bar, const std::string& alternative) {
    constexpr double width = 1000;
    constexpr double height = 56;
    const double scale = bar.whole > 0 ? width / bar.whole : 0;
    std::string text = open_svg(width, height, alternative, "bar") + rectangle(0, width, height, "track");
    if (bar.limit > 0 && bar.reserve_from < bar.limit)
        text += rectangle(bar.reserve_from * scale, (bar.limit - bar.reserve_from) * scale, height, "reserve");
    double x = 0;
    for (const auto& part : bar.parts) {
        const double wide = part.amount * scale;
        text += rectangle(x, wide - 2, height, part.hatched ? "hatched" : "part");
        if (static_cast<double>(code_points(part.label)) * 13 < wide)
            text += "<text class=\"" + std::string(part.hatched ? "on-hatched" : "on-part") + "\" x=\"" +
                    number(x + wide / 2) + "\" y=\"36\" text-anchor=\"middle\">" + escaped(part.label) + "</text>";
        x += wide;
    }
    if (bar.limit > 0) text += rectangle(bar.limit * scale - 2, 4, height, "limit");
    return text + "</svg>";
}

std::string path(const std::vector<std::array<double, 2>>& points, double x_scale, double y_scale) {
    std::string text;
    for (const auto& point : points)
        text += (text.empty() ? "M" : "L") + number(point[0] * x_scale) + " " + number(point[1] * y_scale);
    return text;
}

std::string drawing(const document::Drawing& drawing, const std::string& alternative) {
    double width = drawing.width;
    double height = drawing.height;
    for (const auto& label : drawing.labels) {  // labels may stick out of the size it names
        const double reach = label.size * 0.62 * static_cast<double>(code_points(label.text));
        if (label.align == document::Align::start) width = std::max(width, label.x + reach);
        height = std::max(height, label.y + label.size * 0.4);
    }
    std::string text = "<div class=\"wide\">" + open_svg(width, height, alternative, "drawing");
    text.insert(text.find(" viewBox"), " width=\"" + number(width) + "\" height=\"" + number(height) + "\"");
    for (const auto& stroke : drawing.strokes) {
        if (stroke.path.empty()) continue;
        text += "<path d=\"" + path(stroke.path, 1, 1) + (stroke.filled ? "Z" : "") + "\" stroke-width=\"" +
                number(std::max(stroke.width, 0.1)) + "\"" + (stroke.dashed ? " stroke-dasharray=\"4 3\"" : "") +
                (stroke.filled ? " class=\"full\"" : "") + "/>";
    }
    for (const auto& label : drawing.labels)
        text += "<text x=\"" + number(label.x) + "\" y=\"" + number(label.y) + "\" font-size=\"" +
                number(std::clamp(label.size, 1.0, 200.0)) + "\"" +
                (label.align == document::Align::end ? " text-anchor=\"end\"" : "") + ">" + escaped(label.text) +
                "</text>";
    return text + "</svg></div>";
}

// Neighbours of one shade in a row are one rectangle.
std::string shades(const document::Shades& shades, const std::string& alternative) {
    constexpr double length = 1000;
    if (shades.columns == 0 || shades.rows == 0 || !(shades.length > 0) || !(shades.width > 0)) return "";
    const double height = length * shades.width / shades.length;
    const double across = length / static_cast<double>(shades.columns);
    const double down = height / static_cast<double>(shades.rows);
    std::string text = open_svg(length, height, alternative, "shades");
    for (std::size_t row = 0; row < shades.rows; ++row) {
        const std::uint8_t* cells = &shades.cells[row * shades.columns];
        for (std::size_t first = 0, column = 1; column <= shades.columns; ++column) {
            if (column < shades.columns && cells[column] == cells[first]) continue;
            text += "<rect class=\"shade-" + std::to_string(cells[first]) + "\" x=\"" +
                    number(across * static_cast<double>(first)) + "\" y=\"" + number(down * static_cast<double>(row)) +
                    "\" width=\"" + number(across * static_cast<double>(column - first)) + "\" height=\"" +
                    number(down) + "\"/>";
            first = column;
        }
    }
    for (const auto& spot : shades.spots)
        text += "<circle class=\"spot\" cx=\"" + number(spot[0] / shades.length * length) + "\" cy=\"" +
                number(spot[1] / shades.width * height) + "\" r=\"14\"/>";
    text += "</svg><ul class=\"key\">";
    for (std::size_t shade = 0; shade < shades.key.size(); ++shade)
        if (!shades.key[shade].empty())
            text +=
                "<li><span class=\"shade-" + std::to_string(shade) + "\"></span>" + kept(shades.key[shade]) + "</li>";
    return text + "</ul>";
}

std::string picture(const document::Picture& picture, const std::string& alternative) {
    const std::string data = "data:image/jpeg;base64," + base64(picture.jpeg);
    const std::string size =
        " width=\"" + std::to_string(picture.width) + "\" height=\"" + std::to_string(picture.height) + "\"";
    if (!picture.pin) return "<img src=\"" + data + "\" alt=\"" + escaped(alternative) + "\"" + size + ">";
    const auto at = [](double share, int side) { return number(std::clamp(share, 0.0, 1.0) * side); };
    const std::string place = "cx=\"" + at((*picture.pin)[0], picture.width) + "\" cy=\"" +
                              at((*picture.pin)[1], picture.height) + "\" r=\"" +
                              number(std::max(picture.width, picture.height) / 28.0) + "\"";
    return open_svg(picture.width, picture.height, alternative, "photo") + "<image href=\"" + data + "\"" + size +
           "/><circle class=\"halo\" " + place + "/><circle class=\"pin\" " + place + "/></svg>";
}

}  // namespace

std::string figure(const document::Figure& figure) {
    std::string text = "<figure>";
    if (const auto* held = std::get_if<document::Bar>(&figure.content)) text += bar(*held, figure.alternative);
    if (const auto* held = std::get_if<document::Drawing>(&figure.content)) text += drawing(*held, figure.alternative);
    if (const auto* held = std::get_if<document::Shades>(&figure.content)) text += shades(*held, figure.alternative);
    if (const auto* held = std::get_if<document::Picture>(&figure.content)) text += picture(*held, figure.alternative);
    if (!figure.caption.empty())
        text += "<figcaption" + direction(figure.caption) + ">" + kept(figure.caption) + "</figcaption>";
    return text + "</figure>\n";
}

std::string signature(const document::SignatureLine& signature, const Words& words) {
    const auto word = [&](const Message& message) {
        return "<p class=\"word\">" + escaped(words.text(message)) + "</p>";
    };
    std::string drawn;
    if (!signature.strokes.empty()) {
        const std::string who = signature.name.empty() ? signature.role : signature.name;
        drawn =
            open_svg(300, 120, words.text(Message("Drawn signature: {name}", {{"name", entered(who)}})), "signature");
        for (const auto& stroke : signature.strokes)
            if (!stroke.empty()) drawn += "<path d=\"" + path(stroke, 300, 120) + "\" stroke-width=\"2\"/>";
        drawn += "</svg>";
    }
    return "<div class=\"sign\"><p class=\"role\"" + direction(signature.role) + ">" + escaped(signature.role) +
           "</p><div class=\"line\"><div><p class=\"value\"" + direction(signature.name) + ">" +
           escaped(signature.name) + "</p>" + word(Message("Name")) + "</div><div><div class=\"value\">" + drawn +
           "</div>" + word(in_context("line to sign on", "Signature")) + "</div><div><p class=\"value\">" +
           escaped(signature.date) + "</p>" + word(Message("Date")) + "</div></div></div>\n";
}

}  // namespace tapwright::html
