#include "tests/print/samples.h"

#include <string_view>

namespace tapwright::samples {
namespace {

using namespace document;
using document::Figure;

// Bits of a JPEG scan, with the zero byte that must follow every 0xFF (ITU-T T.81, F.1.2.3).
class Scan {
public:
    void put(unsigned bits, int count) {
        for (int k = count - 1; k >= 0; --k) {
            byte_ = byte_ << 1U | ((bits >> static_cast<unsigned>(k)) & 1U);
            if (++used_ == 8) flush();
        }
    }
    std::string finish() {
        while (used_ != 0) put(1, 1);
        return out_;
    }

private:
    void flush() {
        out_ += static_cast<char>(byte_ & 255U);
        if ((byte_ & 255U) == 255U) out_ += '\0';
        byte_ = 0;
        used_ = 0;
    }
    std::string out_;
    unsigned byte_ = 0;
    int used_ = 0;
};

std::string segment(char marker, const std::string& content) {
    const std::size_t length = content.size() + 2;
    return std::string{'\xFF', marker, static_cast<char>(length >> 8U), static_cast<char>(length & 255U)} + content;
}

Cell verdict(const std::string& word, Tone tone) {
    return {word, tone};
}

Table zones() {
    Table table;
    table.caption = "Zone schedule";
    table.columns = {{"Zone", Align::start, 2},       {"Amplifier, channel", Align::start, 2},
                     {"Loudspeakers", Align::end, 1}, {"Load", Align::end, 1},
                     {"Limit", Align::end, 1},        {"Can be added", Align::end, 1},
                     {"State", Align::start, 2}};
    table.rows = {
        {{"Foyer and cloakroom"},
         {"Rack 1, channel A"},
         {"14"},
         {"62.5 W"},
         {"100 W"},
         {"17.5 W"},
         verdict("within its limit", Tone::good)},
        {{"Great hall"},
         {"Rack 1, channel B"},
         {"18"},
         {"108 W"},
         {"120 W"},
         {"0 W"},
         verdict("into its reserve", Tone::warning)},
        {{"Kitchen, stores and the corridor behind them"},
         {"Rack 2, channel A"},
         {"9"},
         {"40 W"},
         {"60 W"},
         {"8 W"},
         verdict("within its limit", Tone::good)},
        {{"Old wing"},
         {"Rack 2, channel B"},
         {"6 of about 11"},
         {"at least 30 W"},
         {"60 W"},
         {"unknown"},
         verdict("not fully traced", Tone::note)},
        {{"Terrace"},
         {"Rack 2, channel C"},
         {"8"},
         {"64 W"},
         {"60 W"},
         {"0 W"},
         verdict("over its limit by 4 W", Tone::stop)},
    };
    return table;
}

Table room_points() {
    Table table;
    table.caption = "Loudspeakers, room by room";
    table.columns = {{"Point", Align::start, 1},  {"Room", Align::start, 2},  {"Type", Align::start, 2},
                     {"Zone", Align::start, 2},   {"Planned", Align::end, 1}, {"As left", Align::end, 1},
                     {"Remarks", Align::start, 3}};
    const char* const rooms[] = {"Foyer", "Cloakroom", "Great hall", "Kitchen", "Store 1", "Old wing, upper landing"};
    for (int k = 1; k <= 46; ++k) {
        const std::string room = rooms[(k - 1) / 8];
        const bool moved = k % 11 == 4;
        table.rows.push_back({{"LS-" + std::to_string(100 + k)},
                              {room},
                              {k % 3 == 0 ? "Wall horn 200 mm" : "Ceiling 165 mm"},
                              {k <= 16   ? "Foyer and cloakroom"
                               : k <= 24 ? "Great hall"
                                         : "Kitchen and stores"},
                              {k % 3 == 0 ? "7.5 W" : "5 W"},
                              moved ? verdict("10 W", Tone::note) : Cell{k % 3 == 0 ? "7.5 W" : "5 W"},
                              {moved ? "Tap raised after listening in the full room, agreed with the house" : ""}});
    }
    return table;
}

Table readings() {
    Table table;
    table.caption = "Readings, zone by zone";
    table.columns = {{"Zone", Align::start, 2},   {"Date", Align::start, 1},   {"Frequency", Align::end, 1},
                     {"Expected", Align::end, 1}, {"Measured", Align::end, 1}, {"Difference", Align::end, 1},
                     {"Verdict", Align::start, 2}};
    table.rows = {{{"Foyer and cloakroom"},
                   {"2031-04-12"},
                   {"1 kHz"},
                   {"78.4 Ω"},
                   {"80.1 Ω"},
                   {"+2 %"},
                   verdict("as recorded", Tone::good)},
                  {{"Great hall"},
                   {"2031-04-12"},
                   {"1 kHz"},
                   {"45.4 Ω"},
                   {"36.0 Ω"},
                   {"−21 %"},
                   verdict("more load than recorded", Tone::warning)},
                  {{"Terrace"},
                   {"2031-04-12"},
                   {"1 kHz"},
                   {"76.6 Ω"},
                   {"2.1 Ω"},
                   {"−97 %"},
                   verdict("short circuit", Tone::stop)}};
    return table;
}

Figure load_bar() {
    Bar bar;
    for (int k = 0; k < 9; ++k) bar.parts.push_back({k % 3 == 0 ? 15.0 : 7.5, k % 3 == 0 ? "15" : "7.5", false});
    bar.parts.push_back({12, "12 ?", true});
    bar.reserve_from = 96;
    bar.limit = 120;
    bar.whole = 130;
    return {bar, "Great hall: 90 W recorded, about 12 W more seen by the reading (hatched), limit 120 W.",
            "Load of the great hall: 90 W in nine parts and about 12 W unrecorded, against a limit of 120 W with a "
            "reserve from 96 W."};
}

Figure line_drawing() {
    Drawing drawing;
    drawing.width = 640;
    drawing.height = 100;
    drawing.strokes.push_back({{{10, 10}, {90, 10}, {90, 50}, {10, 50}, {10, 10}}, 1.2, false, false});
    drawing.labels.push_back({18, 34, "Channel B", 10, Align::start});
    for (int k = 0; k < 8; ++k) {
        const double x = 90 + 65 * k;
        drawing.strokes.push_back({{{x, 30}, {x + 65, 30}}, 4.5 - 0.5 * k, k == 7, false});
        drawing.strokes.push_back({{{x + 65, 30}, {x + 65, 58}}, 1, false, false});
        drawing.strokes.push_back({{{x + 59, 58}, {x + 71, 58}, {x + 65, 68}}, 1, false, true});
        drawing.labels.push_back({x + 78, 80, "LS-" + std::to_string(117 + k), 8, Align::end});
        drawing.labels.push_back({x + 58, 22, std::to_string(12 + k) + " m", 8, Align::end});
    }
    return {drawing, "The line of the great hall, from the amplifier to the last loudspeaker.",
            "Line drawing: channel B feeds eight loudspeakers one after the other, LS-117 to LS-124."};
}

}  // namespace

std::string picture_jpeg(int width, int height) {
    std::string jpeg = "\xFF\xD8";
    jpeg += segment('\xDB', std::string(1, '\0') + std::string(64, '\x08'));
    const auto two = [](int number) {
        return std::string{static_cast<char>(number >> 8), static_cast<char>(number & 255)};
    };
    jpeg += segment('\xC0', std::string("\x08", 1) + two(height) + two(width) + std::string("\x01\x01\x11\x00", 4));
    // Two codes for steps of brightness, 0 for "none" and 10 for one of 6 bits; one code, 0, for "no detail".
    jpeg += segment('\xC4', std::string("\x00\x01\x01", 3) + std::string(14, '\0') + std::string("\x00\x06", 2));
    jpeg += segment('\xC4', std::string("\x10\x01", 2) + std::string(15, '\0') + std::string("\x00", 1));
    jpeg += segment('\xDA', std::string("\x01\x01\x00\x00\x3F\x00", 6));
    Scan scan;
    int level = 0;
    for (int y = 0; y < (height + 7) / 8; ++y) {
        for (int x = 0; x < (width + 7) / 8; ++x) {
            const int wanted = (x / 6 + y / 6) % 2 == 0 ? 0 : 40;
            if (wanted == level) {
                scan.put(0, 1);
            } else {
                scan.put(2, 2);
                scan.put(wanted > level ? 40U : 63U - 40U, 6);
            }
            level = wanted;
            scan.put(0, 1);
        }
    }
    return jpeg + scan.finish() + "\xFF\xD9";
}

Document handover() {
    Document sheet;
    sheet.title = "As-built handover: Lindenhof Community Hall";
    sheet.author = "Example Sound Installations";
    sheet.created = "2031-04-12T16:40:00+02:00";
    sheet.footer = "Lindenhof Community Hall · as-built handover · revision 3 · 7f3a91c2";
    sheet.blocks = {
        Heading{1, "Lindenhof Community Hall"},
        Paragraph{"As-built handover of the loudspeaker lines, as left on 12 April 2031. It says what is installed "
                  "where, what each line carries, and what can still be added."},
        Facts{{{"Site", "14 Example Street, Lindenhof"},
               {"Line voltage", "100 V"},
               {"Amplifiers", "2, in the rack behind the cloakroom; breaker 7 in the distribution board beside it"},
               {"Handed over by", "A. Sample, Example Sound Installations"},
               {"Next check", "April 2032"}}},
        Paragraph{"Not a fire or emergency system, and not a certificate of compliance.", Tone::stop},
        Heading{2, "What the lines carry"},
        zones(),
        Paragraph{"The terrace is over its limit by 4 W. Turn one of its loudspeakers down to 2.5 W, or move one to "
                  "another zone, before anything is added.",
                  Tone::warning},
        Paragraph{"The old wing is only partly traced; its load may be higher than shown.", Tone::note},
        Paragraph{"Paging overrides were tested in every room with a volume control.", Tone::good},
        Heading{3, "The great hall"},
        load_bar(),
        line_drawing(),
        Heading{2, "If there is no sound"},
        Bullets{{"Is the amplifier's lamp on? If not: breaker 7.", "Is the room's volume control off its zero?",
                 "Does paging come through? Then the source is silent, not the line. Try another source before "
                 "calling anybody, and write down which rooms are concerned.",
                 "Do not open the ceiling plates: the line carries up to 100 V while the system plays."}},
        Heading{2, "Schedules"},
        room_points(),
        readings(),
        Heading{2, "Photos"},
        Figure{Picture{picture_jpeg(960, 640), 960, 640}, "The rack behind the cloakroom, doors open.",
               "Photo: an open rack with two amplifiers, the labels of six lines on its left side."},
        Heading{2, "Sign-off"},
        SignatureLine{"For the installer",
                      "A. Sample",
                      "2031-04-12",
                      {{{0.1, 0.7}, {0.2, 0.2}, {0.3, 0.8}, {0.4, 0.3}, {0.55, 0.75}, {0.9, 0.4}}}},
        SignatureLine{"For the owner", "", "", {}},
    };
    return sheet;
}

Document long_table(std::size_t rows) {
    Document sheet;
    sheet.title = "Long schedule";
    sheet.created = "2031-04-12T16:40:00Z";
    sheet.footer = "Long schedule";
    Table table;
    table.caption = "All loudspeakers";
    table.columns = {{"Point", Align::start, 1}, {"Room", Align::start, 2},   {"Type", Align::start, 2},
                     {"Zone", Align::start, 2},  {"Planned", Align::end, 1},  {"As left", Align::end, 1},
                     {"Cable", Align::end, 1},   {"Remarks", Align::start, 2}};
    for (std::size_t k = 1; k <= rows; ++k) {
        const std::string number = std::to_string(k);
        table.rows.push_back({{"P" + number},
                              {"Room " + std::to_string(k / 10)},
                              {k % 3 == 0 ? "Wall horn 200 mm" : "Ceiling 165 mm"},
                              {"Zone " + std::to_string(k / 40) + " north"},
                              {"5 W"},
                              {"7.5 W", k % 9 == 0 ? Tone::warning : Tone::plain},
                              {number + " m"},
                              {"Row" + number + (k % 7 == 0 ? " has a remark that needs more than one line" : "")}});
    }
    sheet.blocks = {Heading{1, "Long schedule"}, table};
    return sheet;
}

Document nasty() {
    Document sheet;
    sheet.title = "Ünïcode Ω — Καλημέρα — 会議室";
    sheet.language = "de";
    sheet.created = "2031-01-01T00:00:00Z";
    sheet.footer = "Fußzeile 会議室 Ω";
    const std::string word(300, 'W');
    std::string lines;
    for (int k = 0; k < 160; ++k) lines += "Line" + std::to_string(k) + "\n";
    Table table;
    table.columns = {{"Name", Align::start, 1}, {"Überschriftenwortungetüm", Align::start, 1}, {"Zahl", Align::end, 1}};
    table.rows = {{{"Käfig Łódź Ångström"}, {"Αίθουσα συναυλιών"}, {"1,5 Ω"}},
                  {{"Конференц-зал"}, {"大会議室カフェ회의실"}, {"−7 °C"}},
                  {{"قاعة المؤتمرات"}, {"ห้องประชุม"}, {"½"}},
                  {{word}, {"a" + word, Tone::warning}, {"9" + word, Tone::stop}},
                  {{"high"}, {lines, Tone::note}, {""}}};
    sheet.blocks = {Heading{1, "Καλημέρα 会議室 " + word},
                    Heading{3, "Deep"},
                    Paragraph{"قاعة المؤتمرات الكبرى في الطابق الثاني"},
                    Paragraph{word + " " + word, Tone::stop},
                    Bullets{{word, "", "кириллица"}},
                    Facts{{{word, word}, {"", ""}, {"Ort", "会議室"}}},
                    table,
                    SignatureLine{"Für " + word, word, word, {}}};
    return sheet;
}

}  // namespace tapwright::samples
