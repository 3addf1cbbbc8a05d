// The typefaces of the window. Glyphs are made when they are first drawn and at the size they are drawn, so a change of
// text size needs no atlas of its own.
//
// Dear ImGui counts a size from ascent to descent; our sizes are em squares, as in print. For Inter the one is 1.21 of
// the other (its hhea table: ascent 0.96875 and descent 0.2412 of the em).
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "ui/frame/host.h"
#include "ui/frame/theme.h"

struct ImFont;

namespace tapwright::ui {

class Fonts {
public:
    // Requires: a current Dear ImGui context. Without a typeface from the host, Dear ImGui's own is used: ugly,
    // readable.
    void load(Host& host);

    ImFont* font(TextSize size) const;
    // Size for Dear ImGui in whole pixels.
    static float pixels(TextSize size, float scale);

    // Notes characters that the main typeface lacks; they are loaded by load_missing() between two frames.
    void notice(std::string_view text);
    // Returns: true when a typeface was added, so that another frame should be drawn.
    bool load_missing(Host& host);

private:
    ImFont* add(const std::string& bytes, ImFont* into);

    ImFont* regular_ = nullptr;
    ImFont* semibold_ = nullptr;
    std::vector<std::string> bytes_;  // the atlas reads from them as long as it lives
    bool missing_ = false, asked_ = false;
};

}  // namespace tapwright::ui
