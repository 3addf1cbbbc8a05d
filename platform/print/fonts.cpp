#include "platform/print/fonts.h"

#include <pango/pangocairo.h>
#include <pango/pangofc-fontmap.h>
#include <array>

#include "core/base/memory.h"

namespace tapwright::print {
namespace {

// Where Debian's packages put the fonts. The cache folders only save time; what is found does not depend on them.
// The families behind Inter bind weakly, so that the language of a text decides first: Han characters in a Japanese
// text come from the Japanese face. Tabular figures stand in columns; contextual alternates are off because they would
// print an arrow where somebody wrote "->". Coloured typefaces are pictures of one size, 136 pixels high, whatever the
// text's.
constexpr const char* configuration = R"xml(<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig>
  <dir>/usr/share/fonts/opentype/inter</dir>
  <dir>/usr/share/fonts/truetype/inter</dir>
  <dir>/usr/share/fonts/opentype/noto</dir>
  <dir>/usr/share/fonts/truetype/noto</dir>
  <dir>/usr/share/fonts/truetype/dejavu</dir>
  <cachedir>/var/cache/fontconfig</cachedir>
  <cachedir prefix="xdg">fontconfig</cachedir>
  <selectfont><rejectfont>
    <glob>*/InterDisplay*</glob>
    <glob>*Italic*</glob>
    <glob>*Nastaliq*</glob>
    <glob>*/NotoSansDisplay*</glob>
    <glob>*Condensed*</glob>
    <glob>*Mono*</glob>
    <glob>*NotoSerifCJK*</glob>
    <glob>*Color*</glob>
  </rejectfont></selectfont>
  <match target="pattern">
    <edit name="family" mode="append" binding="weak">
      <string>Inter Variable</string>
      <string>Noto Sans</string>
      <string>Noto Sans Arabic</string>
      <string>Noto Sans Hebrew</string>
      <string>Noto Sans CJK SC</string>
      <string>Noto Sans CJK JP</string>
      <string>Noto Sans CJK KR</string>
      <string>Noto Sans Math</string>
      <string>Noto Sans Symbols</string>
      <string>Noto Sans Symbols2</string>
      <string>DejaVu Sans</string>
    </edit>
  </match>
  <match target="font">
    <test name="family"><string>Inter</string></test>
    <edit name="fontfeatures" mode="append">
      <string>tnum</string>
      <string>calt=0</string>
    </edit>
  </match>
</fontconfig>
)xml";

Result<FontConfig> load_configuration() {
    FontConfig config(FcConfigCreate());
    if (!config) out_of_memory();
    const auto* text = reinterpret_cast<const FcChar8*>(configuration);
    if (!FcConfigParseAndLoadFromMemory(config.get(), text, FcTrue) || !FcConfigBuildFonts(config.get()))
        return Refusal{Message("The sheet cannot be set: fontconfig did not accept the list of its fonts.")};
    const FcFontSet* fonts = FcConfigGetFonts(config.get(), FcSetSystem);
    if (fonts == nullptr || fonts->nfont == 0)
        return Refusal{Message(
            "The sheet cannot be set: no font for it is installed. Install {packages} (and {asian} for Chinese, "
            "Japanese and Korean).",
            {{"packages", series(std::array{code("fonts-inter"), code("fonts-noto-core")})},
             {"asian", code("fonts-noto-cjk")}})};
    // Current for the process too: pango would else have fontconfig read the machine's own, only to throw it away.
    FcConfigSetCurrent(config.get());
    return config;
}

}  // namespace

Result<Fonts> open_fonts(const std::string& language) {
    // Read once a process: it never changes, and fontconfig 2.14 keeps some memory of every configuration it has read.
    static const Result<FontConfig> config = load_configuration();
    if (!config) return config.refusal();
    Fonts fonts;
    fonts.map.reset(pango_cairo_font_map_new_for_font_type(CAIRO_FONT_TYPE_FT));
    if (!fonts.map) return Refusal{Message("The sheet cannot be set: this pango was built without FreeType.")};
    pango_fc_font_map_set_config(reinterpret_cast<PangoFcFontMap*>(fonts.map.get()), config->get());
    pango_cairo_font_map_set_resolution(reinterpret_cast<PangoCairoFontMap*>(fonts.map.get()), 72);
    fonts.context.reset(pango_font_map_create_context(fonts.map.get()));

    const FontOptions options(cairo_font_options_create());
    cairo_font_options_set_hint_style(options.get(), CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options.get(), CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_antialias(options.get(), CAIRO_ANTIALIAS_GRAY);
    pango_cairo_context_set_font_options(fonts.context.get(), options.get());
    pango_context_set_round_glyph_positions(fonts.context.get(), FALSE);
    pango_context_set_base_dir(fonts.context.get(), PANGO_DIRECTION_WEAK_LTR);
    pango_context_set_language(fonts.context.get(), pango_language_from_string(language.c_str()));
    return fonts;
}

}  // namespace tapwright::print
