#include "platform/print/text.h"

#include <pango/pangocairo.h>

#include <algorithm>
#include <cstring>
#include <utility>

#include "core/base/direction.h"

namespace tapwright::print {
namespace {

double points(int pango_units) {
    return static_cast<double>(pango_units) / PANGO_SCALE;
}

// Han characters are shared by Chinese, Japanese and Korean and drawn differently by each. The document's language
// decides; else kana or hangul in the same text; else simplified Chinese. Null: no Han character in `text`.
const char* han_language(const std::string& text, const std::string& language) {
    bool han = false;
    bool kana = false;
    bool hangul = false;
    for (const char* at = text.c_str(); *at != '\0'; at += g_utf8_skip[static_cast<unsigned char>(*at)]) {
        const gunichar c = g_utf8_get_char(at);
        han = han || (c >= 0x3400 && c <= 0x9FFF) || (c >= 0xF900 && c <= 0xFAFF) || (c >= 0x20000 && c <= 0x323AF);
        kana = kana || (c >= 0x3040 && c <= 0x30FF);
        hangul = hangul || (c >= 0xAC00 && c <= 0xD7A3) || (c >= 0x1100 && c <= 0x11FF);
    }
    if (!han) return nullptr;
    if (language.rfind("zh", 0) == 0 || language.rfind("ja", 0) == 0 || language.rfind("ko", 0) == 0)
        return language.c_str();
    return kana ? "ja" : hangul ? "ko" : "zh-cn";
}

bool is_space(char c) {
    return c == ' ' || c == '\n';
}

// Figures and numbers in a text from right to left are set from left to right by themselves: LEFT-TO-RIGHT ISOLATE and
// POP DIRECTIONAL ISOLATE (UAX #9), which only this typesetter sees.
std::string with_figures_apart(std::string text) {
    const std::vector<Bytes> wholes = document::wholes_in(text);
    for (auto whole = wholes.rbegin(); whole != wholes.rend(); ++whole)
        if (document::reads_by_itself(text, *whole)) text.insert(whole->last, "\u2069").insert(whole->first, "\u2066");
    return text;
}

// Whatever has to stay on one line, but where it touches one of `wide`.
void keep_together(PangoAttrList* attributes, std::string_view text, const std::vector<Bytes>& wide) {
    for (const Bytes& whole : document::wholes_in(text)) {
        const bool is_wide = std::any_of(wide.begin(), wide.end(), [&](const Bytes& bytes) {
            return whole.first < bytes.last && whole.last > bytes.first;
        });
        if (is_wide) continue;
        PangoAttribute* together = pango_attr_allow_breaks_new(FALSE);
        together->start_index = static_cast<unsigned>(whole.first);
        together->end_index = static_cast<unsigned>(whole.last);
        pango_attr_list_insert(attributes, together);
    }
}

}  // namespace

Text::Text(Layout layout, const Style& style) : layout_(std::move(layout)) {
    empty_ = *pango_layout_get_text(layout_.get()) == '\0';
    for (GSList* at = pango_layout_get_lines_readonly(layout_.get()); at != nullptr; at = at->next) {
        auto* line = static_cast<PangoLayoutLine*>(at->data);
        PangoRectangle logical;
        pango_layout_line_get_extents(line, nullptr, &logical);
        const double ascent = points(-logical.y);
        const double own = points(logical.height);
        const double height = std::max(own, style.size * style.leading);
        if (line->start_index > 0 && !lines_.empty())
            lines_.back().ends_at_space = is_space(pango_layout_get_text(layout_.get())[line->start_index - 1]);
        lines_.push_back({line, points(logical.width), (height - own) / 2 + ascent, height,
                          line->resolved_dir == PANGO_DIRECTION_RTL, false});
        width_ = std::max(width_, lines_.back().width);
        height_ += height;
    }
    if (std::none_of(lines_.begin(), lines_.end(), [](const Line& line) { return line.ends_at_space; })) return;
    layout_of_space_.reset(pango_layout_new(pango_layout_get_context(layout_.get())));
    pango_layout_set_font_description(layout_of_space_.get(), pango_layout_get_font_description(layout_.get()));
    pango_layout_set_text(layout_of_space_.get(), " ", 1);
    space_ = pango_layout_get_line_readonly(layout_of_space_.get(), 0);
}

std::vector<Bytes> Text::lines_wider_than(double width) const {
    std::vector<Bytes> wide;
    for (const Line& line : lines_) {
        const auto first = static_cast<std::size_t>(line.line->start_index);
        if (line.width > width) wide.push_back({first, first + static_cast<std::size_t>(line.line->length)});
    }
    return wide;
}

double Text::widest_word() const {
    int count = 0;
    const PangoLogAttr* breaks = pango_layout_get_log_attrs_readonly(layout_.get(), &count);
    const char* text = pango_layout_get_text(layout_.get());
    PangoLayoutIter* at = pango_layout_get_iter(layout_.get());
    double widest = 0;
    double word = 0;
    double spaces = 0;  // since the word's last cluster; part of it where the line must not break there
    long position = 0;  // in characters; counted on from the last index, as long as the text runs forward
    int last_index = 0;
    do {
        if (pango_layout_iter_get_run_readonly(at) == nullptr) {
            word = spaces = 0;
            continue;
        }
        const int index = pango_layout_iter_get_index(at);
        position = index >= last_index ? position + g_utf8_pointer_to_offset(text + last_index, text + index)
                                       : g_utf8_pointer_to_offset(text, text + index);
        last_index = index;
        if (position < count && (breaks[position].is_line_break != 0U)) word = spaces = 0;
        PangoRectangle logical;
        pango_layout_iter_get_cluster_extents(at, nullptr, &logical);
        const bool space = position < count && (breaks[position].is_white != 0U);
        if (space)
            spaces += points(logical.width);
        else
            word += std::exchange(spaces, 0) + points(logical.width);
        widest = std::max(widest, word);
    } while (pango_layout_iter_next_cluster(at) != FALSE);
    pango_layout_iter_free(at);
    return widest;
}

Typesetter::Typesetter(const Fonts& fonts, std::string language)
    : fonts_(fonts), language_(std::move(language)), signs_(fonts, language_), attributes_(pango_attr_list_new()) {
    // A hyphen that nobody wrote would change a label.
    pango_attr_list_insert(attributes_.get(), pango_attr_insert_hyphens_new(FALSE));
}

SharedText Typesetter::set(std::string_view text, const Style& style, double width) {
    std::string key(text);
    const double numbers[] = {style.size, static_cast<double>(style.weight), style.leading, width};
    key.append(reinterpret_cast<const char*>(numbers), sizeof numbers);
    auto& known = known_[std::move(key)];
    if (!known) known = shape(signs_.in_words(settable(text)), style, width);
    return known;
}

SharedText Typesetter::shape(const std::string& words, const Style& style, double width) {
    // A sentence of ours that quotes a name keeps its own direction, even where the name comes first.
    const bool is_ours = holds_isolate(words) && !is_one_isolate(words);
    const Shaped text{with_figures_apart(words), is_ours};
    auto whole = std::make_shared<const Text>(lay_out(text, style, width, {}), style);
    // Pango breaks nothing that is to stay whole, not even where it is wider than the line.
    if (width < 0 || whole->width() <= width) return whole;
    return std::make_shared<const Text>(lay_out(text, style, width, whole->lines_wider_than(width)), style);
}

Layout Typesetter::lay_out(const Shaped& shaped, const Style& style, double width,
                           const std::vector<Bytes>& wide) const {
    const std::string& text = shaped.text;
    Layout layout(pango_layout_new(fonts_.context.get()));
    const FontDescription font(pango_font_description_new());
    pango_font_description_set_family_static(font.get(), "Inter");
    pango_font_description_set_absolute_size(font.get(), style.size * PANGO_SCALE);
    pango_font_description_set_weight(font.get(), static_cast<PangoWeight>(style.weight));
    pango_layout_set_font_description(layout.get(), font.get());
    pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD_CHAR);
    if (width >= 0) pango_layout_set_width(layout.get(), static_cast<int>(std::max(width, 1.0) * PANGO_SCALE));
    const Attributes attributes(pango_attr_list_copy(attributes_.get()));
    if (const char* han = han_language(text, language_))
        pango_attr_list_insert(attributes.get(), pango_attr_language_new(pango_language_from_string(han)));
    keep_together(attributes.get(), text, wide);
    pango_layout_set_attributes(layout.get(), attributes.get());
    if (shaped.is_ours) pango_layout_set_auto_dir(layout.get(), FALSE);
    pango_layout_set_text(layout.get(), text.data(), static_cast<int>(text.size()));
    return layout;
}

double line_start(const Text::Line& line, double x, double width, document::Align align) {
    const bool at_right = (align == document::Align::end) != line.right_to_left;
    return at_right ? x + width - line.width : x;
}

void draw_lines(cairo_t* context, const Text& text, std::size_t first, std::size_t last, double x, double y,
                double width, document::Align align) {
    for (std::size_t k = first; k < last; ++k) {
        const Text::Line& line = text.lines()[k];
        const double start = line_start(line, x, width, align);
        cairo_move_to(context, start, y + line.baseline);
        pango_cairo_show_layout_line(context, line.line);
        if (line.ends_at_space) {
            cairo_move_to(context, line.right_to_left ? start : start + line.width, y + line.baseline);
            pango_cairo_show_layout_line(context, text.space());
        }
        y += line.height;
    }
}

}  // namespace tapwright::print
