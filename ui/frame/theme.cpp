#include "ui/frame/theme.h"

#include <cmath>

#include "core/words/words.h"

namespace tapwright::ui {
namespace {

constexpr Colour hex(std::uint32_t rgb) {
    return {static_cast<std::uint8_t>(rgb >> 16), static_cast<std::uint8_t>((rgb >> 8) & 255),
            static_cast<std::uint8_t>(rgb & 255), 255};
}

double linear(std::uint8_t channel) {
    const double value = channel / 255.0;
    return value <= 0.04045 ? value / 12.92 : std::pow((value + 0.055) / 1.055, 2.4);
}

double luminance(Colour colour) {
    return 0.2126 * linear(colour.red) + 0.7152 * linear(colour.green) + 0.0722 * linear(colour.blue);
}

std::uint8_t blend(std::uint8_t under, std::uint8_t over, double share) {
    return static_cast<std::uint8_t>(std::lround(under + (over - under) * share));
}

}  // namespace

Colour faded(Colour colour, std::uint8_t alpha) {
    colour.alpha = alpha;
    return colour;
}

Colour mixed(Colour under, Colour over, double share) {
    return {blend(under.red, over.red, share), blend(under.green, over.green, share),
            blend(under.blue, over.blue, share), 255};
}

// Limewashed wall, ink and petrol: high contrast in glare without a white glare of its own.
Theme day_theme() {
    Theme theme;
    theme.page = hex(0xECE8DC);
    theme.card = hex(0xFCFBF6);
    theme.field = hex(0xFFFFFF);
    theme.text = hex(0x14211F);
    theme.quiet_text = hex(0x4A5753);
    theme.line = hex(0xD0CABA);
    theme.edge = hex(0x74807B);
    theme.accent = hex(0x0B5A66);
    theme.on_accent = hex(0xFFFFFF);
    theme.accent_fill = hex(0xCFE3E2);
    theme.accent_text = hex(0x084A55);
    theme.block = hex(0x2F6F7A);
    theme.block_other = hex(0x3F6684);
    theme.trial = hex(0x7A4A86);
    theme.on_block = hex(0xFFFFFF);
    theme.plain = {hex(0xE0DCCE), hex(0x333F3C), hex(0x4A5753)};
    theme.good = {hex(0xCFE8CF), hex(0x12462A), hex(0x1B6B3A)};
    theme.note = {hex(0xD6E1F4), hex(0x1B3B6B), hex(0x2B5694)};
    theme.warning = {hex(0xFADF9E), hex(0x553600), hex(0x8A5300)};
    theme.stop = {hex(0xF9D1C7), hex(0x7A150C), hex(0xB1261A)};
    return theme;
}

// A plant room at night: blue-green dark, warm light text, no pure black or white to smear or dazzle.
Theme night_theme() {
    Theme theme;
    theme.night = true;
    theme.page = hex(0x0E1719);
    theme.card = hex(0x182528);
    theme.field = hex(0x0A1113);
    theme.text = hex(0xF1EFE6);
    theme.quiet_text = hex(0xACBAB6);
    theme.line = hex(0x2F4145);
    theme.edge = hex(0x76898A);
    theme.accent = hex(0x7CD3CC);
    theme.on_accent = hex(0x06282B);
    theme.accent_fill = hex(0x1F4A4D);
    theme.accent_text = hex(0xA6E7E1);
    theme.block = hex(0x5FB3B3);
    theme.block_other = hex(0x86A9CF);
    theme.trial = hex(0xC99BD6);
    theme.on_block = hex(0x0A1719);
    theme.plain = {hex(0x2C3B3F), hex(0xDCE3DF), hex(0xACBAB6)};
    theme.good = {hex(0x1B422B), hex(0xB4EBC4), hex(0x7FD79A)};
    theme.note = {hex(0x213A5E), hex(0xC4DAFB), hex(0x93BBF2)};
    theme.warning = {hex(0x553F0C), hex(0xFBE0A0), hex(0xF0C050)};
    theme.stop = {hex(0x5E2019), hex(0xFFD5CB), hex(0xFF9A86)};
    return theme;
}

const ToneColours& Theme::tone(Tone which) const {
    switch (which) {
        case Tone::good:
            return good;
        case Tone::note:
            return note;
        case Tone::warning:
            return warning;
        case Tone::stop:
            return stop;
        case Tone::plain:
            break;
    }
    return plain;
}

Message tone_word(Tone tone) {
    switch (tone) {
        case Tone::good:
            return Message("OK");
        case Tone::note:
            return Message("Note");
        case Tone::warning:
            return Message("Warning");
        case Tone::stop:
            return Message("Stop");
        case Tone::plain:
            break;
    }
    return {};
}

float text_units(TextSize size) {
    switch (size) {
        case TextSize::caption:
            return 14;
        case TextSize::title:
            return 22;
        case TextSize::big:
            return 30;
        case TextSize::huge:
            return 40;
        case TextSize::body:
        case TextSize::strong:
            break;
    }
    return 17;
}

bool is_semibold(TextSize size) {
    return size != TextSize::caption && size != TextSize::body;
}

double contrast(Colour first, Colour second) {
    const double a = luminance(first), b = luminance(second);
    return a > b ? (a + 0.05) / (b + 0.05) : (b + 0.05) / (a + 0.05);
}

std::vector<TextPair> text_pairs(const Theme& theme) {
    std::vector<TextPair> pairs;
    const std::pair<const char*, Colour> grounds[] = {
        {"page", theme.page}, {"card", theme.card}, {"field", theme.field}};
    for (const auto& [ground_name, ground] : grounds) {
        const std::string on = std::string(" on ") + ground_name;
        pairs.push_back({"text" + on, theme.text, ground});
        pairs.push_back({"quiet text" + on, theme.quiet_text, ground});
        pairs.push_back({"accent text" + on, theme.accent_text, ground});
        for (Tone tone : {Tone::plain, Tone::good, Tone::note, Tone::warning, Tone::stop})
            pairs.push_back({in_english(tone_word(tone)) + " solid" + on, theme.tone(tone).solid, ground});
    }
    for (Tone tone : {Tone::plain, Tone::good, Tone::note, Tone::warning, Tone::stop}) {
        const ToneColours& colours = theme.tone(tone);
        pairs.push_back({in_english(tone_word(tone)) + " text on its fill", colours.text, colours.fill});
    }
    pairs.push_back({"text on accent", theme.on_accent, theme.accent});
    pairs.push_back({"text on pressed accent", theme.on_accent, mixed(theme.accent, theme.text, 0.15)});
    pairs.push_back({"text on stop solid", theme.night ? theme.on_block : theme.on_accent, theme.stop.solid});
    pairs.push_back({"accent text on accent fill", theme.accent_text, theme.accent_fill});
    pairs.push_back({"text on accent fill", theme.text, theme.accent_fill});
    pairs.push_back({"quiet text on accent fill", theme.quiet_text, theme.accent_fill});
    pairs.push_back({"text on block", theme.on_block, theme.block});
    pairs.push_back({"text on other block", theme.on_block, theme.block_other});
    pairs.push_back({"text on accent block", theme.on_accent, theme.accent});
    pairs.push_back({"trial text on card", theme.trial, theme.card});
    pairs.push_back({"trial text on page", theme.trial, theme.page});
    return pairs;
}

std::vector<TextPair> shape_pairs(const Theme& theme) {
    std::vector<TextPair> pairs;
    const std::pair<const char*, Colour> grounds[] = {{"page", theme.page}, {"card", theme.card}};
    for (const auto& [ground_name, ground] : grounds) {
        const std::string on = std::string(" on ") + ground_name;
        pairs.push_back({"edge" + on, theme.edge, ground});
        pairs.push_back({"accent" + on, theme.accent, ground});
        pairs.push_back({"block" + on, theme.block, ground});
        pairs.push_back({"other block" + on, theme.block_other, ground});
        pairs.push_back({"trial" + on, theme.trial, ground});
    }
    return pairs;
}

}  // namespace tapwright::ui
