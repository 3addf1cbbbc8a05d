#include "platform/web/browser_font.h"

#include <emscripten.h>
#include <imgui.h>
#include <imgui_internal.h>

#include <cmath>
#include <cstdlib>
#include <utility>

// clang-format off
// Measures one character, and where `draw` says so draws it: white, or in its own colours where it has any. `out`:
// advance, left, top (from the baseline, down is positive), width, height, whether it has colours. Returns: the pixels (4
// bytes each), to be freed; 0 where nothing was drawn.
EM_JS(unsigned char*, js_draw_character, (int character, double pixels, int semibold, int draw, double* out), {
    var drawing = Module.drawing;
    if (!drawing) {
        var made = new OffscreenCanvas(64, 64);
        drawing = Module.drawing = {canvas: made, context: made.getContext('2d', {willReadFrequently: true})};
    }
    var context = drawing.context;
    var text = String.fromCodePoint(character);
    var font = (semibold ? '600 ' : '400 ') + pixels + 'px system-ui, sans-serif';
    context.font = font;
    var size = context.measureText(text);
    var left = Math.floor(-size.actualBoundingBoxLeft) - 1;
    var top = Math.floor(-size.actualBoundingBoxAscent) - 1;
    var width = Math.ceil(size.actualBoundingBoxRight) + 1 - left;
    var height = Math.ceil(size.actualBoundingBoxDescent) + 1 - top;
    if (size.actualBoundingBoxRight + size.actualBoundingBoxLeft <= 0) width = height = 0;
    HEAPF64.set([size.width, left, top, width, height, 0], out >> 3);
    if (!draw || !width || !height) return 0;
    if (drawing.canvas.width < width || drawing.canvas.height < height) {
        drawing.canvas.width = Math.max(drawing.canvas.width, width);
        drawing.canvas.height = Math.max(drawing.canvas.height, height);
        context.font = font;  // a new size forgets it
    }
    context.clearRect(0, 0, width, height);
    context.fillStyle = '#fff';
    context.textBaseline = 'alphabetic';
    context.fillText(text, -left, -top);
    var data = context.getImageData(0, 0, width, height).data;
    for (var at = 0; at < data.length; at += 4)
        if (data[at + 3] > 128 && Math.min(data[at], data[at + 1], data[at + 2]) < 200) {
            HEAPF64[(out >> 3) + 5] = 1;
            break;
        }
    var bytes = _malloc(data.length);
    HEAPU8.set(data, bytes);
    return bytes;
});
// clang-format on

namespace tapwright::web {
namespace {

constexpr unsigned semibold_flag = 1;       // in ImFontConfig::FontLoaderFlags
constexpr double ascent_to_descent = 1.21;  // ui/frame/fonts.h: Dear ImGui's sizes to em squares

// Nothing to draw: controls, surrogates, private use.
bool has_shape(ImWchar character) {
    return character >= 0xA0 && !(character >= 0xD800 && character < 0xF900) &&
           !(character >= 0xFFF0 && character < 0x10000);
}

struct Box {
    double advance, left, top, width, height, has_colours;
};

bool contains(ImFontAtlas*, ImFontConfig*, ImWchar character) {
    return has_shape(character);
}

bool place(ImFontAtlas* atlas, ImFontConfig* source, ImFontBaked* baked, ImFontGlyph& glyph, const Box& box,
           unsigned char* pixels) {
    const int width = static_cast<int>(box.width), height = static_cast<int>(box.height);
    const ImFontAtlasRectId id = ImFontAtlasPackAddRect(atlas, width, height);
    if (id == ImFontAtlasRectId_Invalid) return false;
    glyph.X0 = static_cast<float>(box.left);
    glyph.Y0 = static_cast<float>(box.top) + std::round(baked->Ascent);
    glyph.X1 = glyph.X0 + static_cast<float>(width);
    glyph.Y1 = glyph.Y0 + static_cast<float>(height);
    glyph.Visible = true;
    glyph.Colored = box.has_colours != 0;
    glyph.PackId = id;
    if (!glyph.Colored)
        for (int i = 0; i < width * height; ++i) pixels[4 * i] = pixels[4 * i + 1] = pixels[4 * i + 2] = 255;
    ImFontAtlasBakedSetFontGlyphBitmap(atlas, baked, source, &glyph, ImFontAtlasPackGetRect(atlas, id), pixels,
                                       ImTextureFormat_RGBA32, width * 4);
    return true;
}

bool load(ImFontAtlas* atlas, ImFontConfig* source, ImFontBaked* baked, void*, ImWchar character, ImFontGlyph* glyph,
          float* advance) {
    if (!has_shape(character)) return false;
    Box box{};
    unsigned char* const pixels =
        js_draw_character(static_cast<int>(character), static_cast<double>(baked->Size) / ascent_to_descent,
                          (source->FontLoaderFlags & semibold_flag) != 0, glyph != nullptr, &box.advance);
    if (glyph == nullptr) {
        *advance = static_cast<float>(box.advance);
        return true;
    }
    glyph->Codepoint = character;
    glyph->AdvanceX = static_cast<float>(box.advance);
    const bool good = pixels == nullptr || place(atlas, source, baked, *glyph, box, pixels);
    std::free(pixels);
    return good;
}

const ImFontLoader& loader() {
    static const ImFontLoader made = [] {
        ImFontLoader browser;
        browser.Name = "browser";
        browser.FontSrcContainsGlyph = contains;
        browser.FontBakedLoadGlyph = load;
        return browser;
    }();
    return made;
}

void add_to(ImFont* font, bool is_semibold) {
    ImFontConfig config;
    config.MergeMode = true;
    config.DstFont = font;
    config.FontLoader = &loader();
    config.FontLoaderFlags = is_semibold ? semibold_flag : 0;
    ImGui::GetIO().Fonts->AddFont(&config);
}

}  // namespace

void add_browser_fonts() {
    ImVector<ImFont*>& fonts = ImGui::GetIO().Fonts->Fonts;
    if (fonts.Size == 0) return;
    // Dear ImGui merges into the font that stands last (ui/frame/fonts.cpp).
    add_to(fonts.back(), true);
    if (fonts.Size < 2) return;
    std::swap(fonts.front(), fonts.back());
    add_to(fonts.back(), false);
    std::swap(fonts.front(), fonts.back());
}

}  // namespace tapwright::web
