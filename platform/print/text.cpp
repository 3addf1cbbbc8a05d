#include "platform/print/text.h"

#include <pango/pangocairo.h>

#include <algorithm>
#include <cstring>

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
        lines_.push_back({line, points(logical.width), (height - own) / 2 + ascent, height,
                          line->resolved_dir == PANGO_DIRECTION_RTL});
        width_ = std::max(width_, lines_.back().width);
        height_ += height;
    }
}

double Text::widest_word() const {
    int count = 0;
    const PangoLogAttr* breaks = pango_layout_get_log_attrs_readonly(layout_.get(), &count);
    const char* text = pango_layout_get_text(layout_.get());
    PangoLayoutIter* at = pango_layout_get_iter(layout_.get());
    double widest = 0;
    double word = 0;
    long position = 0;  // in characters; counted on from the last index, as long as the text runs forward
    int last_index = 0;
    do {
        if (pango_layout_iter_get_run_readonly(at) == nullptr) {
            word = 0;
            continue;
        }
        const int index = pango_layout_iter_get_index(at);
        position = index >= last_index ? position + g_utf8_pointer_to_offset(text + last_index, text + index)
                                       : g_utf8_pointer_to_offset(text, text + index);
        last_index = index;
        if (position < count && (breaks[position].is_line_break != 0U)) word = 0;
        PangoRectangle logical;
        pango_layout_iter_get_cluster_extents(at, nullptr, &logical);
        const bool space = position < count && (breaks[position].is_white != 0U);
        if (!space) word += points(logical.width);
        widest = std::max(widest, word);
    } while (pango_layout_iter_next_cluster(at) != FALSE);
    pango_layout_iter_free(at);
    return widest;
}

Typesetter::Typesetter(const Fonts& fonts, std::string language)
    : fonts_(fonts), language_(std::move(language)), attributes_(pango_attr_list_new()) {
    // A hyphen that nobody wrote would change a label.
    pango_attr_list_insert(attributes_.get(), pango_attr_insert_hyphens_new(FALSE));
}

SharedText Typesetter::set(std::string_view text, const Style& style, double width) {
    std::string key(text);
    const double numbers[] = {style.size, static_cast<double>(style.weight), style.leading, width};
    key.append(reinterpret_cast<const char*>(numbers), sizeof numbers);
    auto& known = known_[std::move(key)];
    if (!known) known = shape(settable(text), style, width);
    return known;
}

SharedText Typesetter::shape(const std::string& text, const Style& style, double width) {
    Layout layout(pango_layout_new(fonts_.context.get()));
    const FontDescription font(pango_font_description_new());
    pango_font_description_set_family_static(font.get(), "Inter");
    pango_font_description_set_absolute_size(font.get(), style.size * PANGO_SCALE);
    pango_font_description_set_weight(font.get(), static_cast<PangoWeight>(style.weight));
    pango_layout_set_font_description(layout.get(), font.get());
    pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD_CHAR);
    if (width >= 0) pango_layout_set_width(layout.get(), static_cast<int>(std::max(width, 1.0) * PANGO_SCALE));
    if (const char* han = han_language(text, language_)) {
        const Attributes attributes(pango_attr_list_copy(attributes_.get()));
        pango_attr_list_insert(attributes.get(), pango_attr_language_new(pango_language_from_string(han)));
        pango_layout_set_attributes(layout.get(), attributes.get());
    } else {
        pango_layout_set_attributes(layout.get(), attributes_.get());
    }
    pango_layout_set_text(layout.get(), text.data(), static_cast<int>(text.size()));
    return std::make_shared<const Text>(std::move(layout), style);
}

double line_start(const Text::Line& line, double x, double width, document::Align align) {
    const bool at_right = (align == document::Align::end) != line.right_to_left;
    return at_right ? x + width - line.width : x;
}

void draw_lines(cairo_t* context, const Text& text, std::size_t first, std::size_t last, double x, double y,
                double width, document::Align align) {
    for (std::size_t k = first; k < last; ++k) {
        const Text::Line& line = text.lines()[k];
        cairo_move_to(context, line_start(line, x, width, align), y + line.baseline);
        pango_cairo_show_layout_line(context, line.line);
        y += line.height;
    }
}

}  // namespace tapwright::print
