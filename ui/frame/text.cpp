#include "ui/frame/text.h"

#include <imgui_internal.h>

#include <algorithm>
#include <cmath>

#include "ui/frame/shapes.h"

namespace tapwright::ui {
namespace {

constexpr const char* ellipsis = "\xE2\x80\xA6";

std::string fitted(Context& context, TextSize size, std::string_view text, float width) {
    ImFont* font = context.fonts.font(size);
    const float pixels = Fonts::pixels(size, context.scale);
    const float dots = text_width(context, size, ellipsis);
    const char* rest = nullptr;
    font->CalcTextSizeA(pixels, std::max(1.0F, width - dots), 0, text.data(), text.data() + text.size(), &rest);
    std::string shown(text.data(), rest);
    while (!shown.empty() && shown.back() == ' ') shown.pop_back();
    return shown + ellipsis;
}

// `text` without anything that would start a line of its own.
std::string in_one_line(std::string_view text) {
    std::string line(text);
    std::replace_if(
        line.begin(), line.end(), [](char c) { return c == '\n' || c == '\r' || c == '\t'; }, ' ');
    return line;
}

// Dear ImGui also breaks behind a point or comma, which would part "5.71 m": the last blank before is better.
const char* at_a_blank(const char* from, const char* stop, const char* end) {
    if (stop == from || stop == end || *stop == ' ' || stop[-1] == ' ') return stop;
    if (std::string_view(".,;:").find(stop[-1]) == std::string_view::npos) return stop;
    const std::string_view line(from, static_cast<std::size_t>(stop - from));
    const std::size_t blank = line.rfind(' ');
    return blank == std::string_view::npos ? stop : from + blank + 1;
}

// A figure stays on one line with its unit.
const char* before_a_figure(const char* from, const char* stop, const char* end) {
    constexpr std::string_view units[] = {"W",  "V",  "m",  "dB", "Hz",       "%",        "mA",
                                          "mm", "ft", "in", "C",  "\xCE\xA9", "k\xCE\xA9"};
    std::string_view line(from, static_cast<std::size_t>(stop - from));
    std::string_view rest(stop, static_cast<std::size_t>(end - stop));
    while (!rest.empty() && rest.front() == ' ') rest.remove_prefix(1);
    while (!line.empty() && line.back() == ' ') line.remove_suffix(1);
    const std::string_view word = rest.substr(0, rest.find_first_of(" ,.;:)"));
    if (line.empty() || line.back() < '0' || line.back() > '9') return stop;
    if (std::find(std::begin(units), std::end(units), word) == std::end(units)) return stop;
    const std::size_t blank = line.rfind(' ');
    return blank == std::string_view::npos ? stop : from + blank + 1;
}

Area clip_of(const ImDrawList* list) {
    const ImVec4 clip = list->_CmdHeader.ClipRect;
    return {clip.x, clip.y, clip.z - clip.x, clip.w - clip.y};
}

}  // namespace

ImU32 ink(Colour colour) {
    return IM_COL32(colour.red, colour.green, colour.blue, colour.alpha);
}

Area area_of(ImVec2 least, ImVec2 greatest) {
    return {least.x, least.y, greatest.x - least.x, greatest.y - least.y};
}

float line_height(const Context& context, TextSize size) {
    return Fonts::pixels(size, context.scale);
}

float text_width(Context& context, TextSize size, std::string_view text) {
    context.fonts.notice(text);
    const float pixels = Fonts::pixels(size, context.scale);
    const ImVec2 extent =
        context.fonts.font(size)->CalcTextSizeA(pixels, FLT_MAX, 0, text.data(), text.data() + text.size());
    return std::ceil(extent.x);
}

Lines broken_into_lines(Context& context, TextSize size, std::string_view text, float width, int most_lines) {
    context.fonts.notice(text);
    Lines result;
    result.full = text;
    ImFont* font = context.fonts.font(size);
    const float pixels = Fonts::pixels(size, context.scale);
    const char* at = text.data();
    const char* end = at + text.size();
    while (at < end) {
        const char* newline = std::find(at, end, '\n');
        const char* stop = font->CalcWordWrapPosition(pixels, at, newline, width);
        stop = before_a_figure(at, at_a_blank(at, stop, newline), newline);
        if (stop == at && stop < newline) stop = at + 1;  // narrower than a character
        const bool last_allowed = most_lines > 0 && static_cast<int>(result.lines.size()) + 1 == most_lines;
        const std::string_view rest(stop, static_cast<std::size_t>(end - stop));
        if (last_allowed && rest.find_first_not_of(" \n") != std::string_view::npos) {
            const std::string line = in_one_line({at, static_cast<std::size_t>(end - at)});
            result.lines.push_back(fitted(context, size, line, width));
            result.shortened = true;
            break;
        }
        result.lines.emplace_back(at, stop);
        while (!result.lines.back().empty() && result.lines.back().back() == ' ') result.lines.back().pop_back();
        at = stop;
        while (at < newline && *at == ' ') ++at;
        if (at == newline && at < end) ++at;
    }
    if (result.lines.empty()) result.lines.emplace_back();
    for (const std::string& line : result.lines) result.width = std::max(result.width, text_width(context, size, line));
    result.height = static_cast<float>(result.lines.size()) * pixels;
    return result;
}

void write(Context& context, ImDrawList* list, TextSize size, Colour colour, const Lines& lines, Area box,
           Align align) {
    const float pixels = Fonts::pixels(size, context.scale);
    float y = std::floor(box.y + std::max(0.0F, (box.height - lines.height) / 2));
    Area written{box.x, y, 0, lines.height};
    float left = box.x + box.width, right = box.x;
    for (const std::string& line : lines.lines) {
        const float width = text_width(context, size, line);
        float x = box.x;
        if (align == Align::centre) x += (box.width - width) / 2;
        if (align == Align::right) x += box.width - width;
        x = std::floor(x);
        if (in_sight(list, ImVec2(x, y), ImVec2(x + width, y + pixels)))
            list->AddText(context.fonts.font(size), pixels, ImVec2(x, y), ink(colour), line.data(),
                          line.data() + line.size());
        left = std::min(left, x);
        right = std::max(right, x + width);
        y += pixels;
    }
    written.x = left;
    written.width = std::max(0.0F, right - left);
    if (lines.full.empty()) return;
    const ImGuiWindow* window = ImGui::GetCurrentWindow();
    context.marks.add(
        TextPiece{written, box, clip_of(list), window->RootWindow->ID, lines.shortened, lines.full, window->ID});
}

namespace {

Message folded(std::vector<Message> parts, const Pattern& of_two) {
    Message all;
    for (Message& part : parts) {
        if (part.empty()) continue;
        if (all.empty())
            all = std::move(part);
        else
            all = Message(of_two, {{"these", std::move(all)}, {"next", std::move(part)}});
    }
    return all;
}

}  // namespace

Message read_out(std::vector<Message> parts) {
    return folded(std::move(parts), Pattern("series", "{these}, {next}", nullptr));
}

Message in_a_row(std::vector<Message> parts) {
    return folded(std::move(parts), Pattern("figure", "{these} {next}", nullptr));
}

void write_line(Context& context, ImDrawList* list, TextSize size, Colour colour, std::string_view text, Area box,
                Align align) {
    Lines lines;
    lines.full = text;
    std::string line = in_one_line(text);
    lines.width = text_width(context, size, line);
    if (lines.width > box.width + 0.5F) {
        line = fitted(context, size, line, box.width);
        lines.shortened = true;
    }
    lines.lines.push_back(std::move(line));
    lines.height = line_height(context, size);
    write(context, list, size, colour, lines, box, align);
}

}  // namespace tapwright::ui
