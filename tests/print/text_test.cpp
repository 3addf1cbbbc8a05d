// What goes in comes out: every text of a document can be read from its PDF, whatever its script and length.
#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <random>
#include <set>

#include "tests/print/outside.h"
#include "tests/print/samples.h"

using namespace tapwright;
using namespace tapwright::document;

namespace {

bool right_to_left(const std::string& text) {
    return std::any_of(text.begin(), text.end(), [](char c) {
        const auto byte = static_cast<unsigned char>(c);
        return byte >= 0xD6 && byte <= 0xDB;  // Hebrew and Arabic begin with these bytes in UTF-8
    });
}

// A text that ran over a page end has a footer and perhaps a header row within it; take those lines out.
std::string body_of(const print::Pdf& pdf, const Document& document, const std::vector<std::string>& headers = {}) {
    std::string all;
    for (std::string page : outside::pages_of(pdf)) {
        page = outside::squeezed(page);
        const std::string footer = outside::squeezed(document.footer) + "Page";
        page = page.substr(0, page.rfind(footer));
        for (const std::string& header : headers)
            if (page.starts_with(header)) page = page.substr(header.size());
        all += page;
    }
    return all;
}

void check_all_there(const Document& document, const std::vector<std::string>& headers = {}) {
    const std::string body = body_of(outside::rendered(document), document, headers);
    std::size_t at = 0;
    for (const std::string& text : outside::texts_in(document)) {
        if (right_to_left(text)) continue;
        const std::size_t found = body.find(outside::squeezed(text), at);
        CAPTURE(text);
        REQUIRE(found != std::string::npos);
        at = found + outside::squeezed(text).size();
    }
}

}  // namespace

TEST_CASE("A handover sheet can be read in the order of its blocks") {
    Document sheet = samples::handover();
    // A figure's own labels stand between the texts; they are looked for by themselves.
    check_all_there(sheet, {"Loudspeakers,roombyroom(continued)PointRoomTypeZonePlannedAsleftRemarks"});
    const std::string text = outside::text_of(outside::rendered(sheet));
    for (const char* label : {"Channel B", "LS-117", "19 m", "12 ?"}) CHECK(text.find(label) != std::string::npos);
}

TEST_CASE("Long words, many scripts and a cell higher than a page are all there") {
    check_all_there(samples::nasty(), {"NameÜberschriftenwortungetümZahl"});
}

TEST_CASE("Right-to-left texts keep every letter and stand at the right") {
    Document sheet;
    const std::string arabic = "قاعة المؤتمرات الكبرى";
    const std::string hebrew = "אולם הכנסים";
    sheet.blocks = {Paragraph{arabic}, Paragraph{hebrew}};
    const auto pdf = outside::rendered(sheet);
    // pdftotext turns right-to-left lines around in its own ways; compare what letters there are.
    auto letters = [](const std::string& text) {
        const std::string squeezed = outside::squeezed(text);
        std::multiset<std::string> found;
        for (std::size_t k = 0; k + 1 < squeezed.size(); k += 2) found.insert(squeezed.substr(k, 2));
        return found;
    };
    std::string read = outside::squeezed(outside::text_of(pdf));
    read = read.substr(0, read.find("Page1of1"));
    CHECK(letters(read) == letters(arabic + hebrew));
    double right = 0;
    for (const auto& word : outside::words_of(pdf))
        if (right_to_left(word.text)) right = std::max(right, word.right);
    CHECK(right == doctest::Approx(595.276 - 42).epsilon(0.005));
}

TEST_CASE("What is not UTF-8 and control characters show as U+FFFD, line ends of every kind break the line") {
    Document sheet;
    sheet.title = "bad \xC3 title";
    sheet.footer =
        "foot\x01"
        "er";
    sheet.blocks = {Paragraph{std::string("a\xFF"
                                          "b\x80"
                                          "c\x01"
                                          "d\0e\xED\xA0\x80"
                                          "f",
                                          13)},
                    Paragraph{"one\r\ntwo\rthree\ntab\there"}};
    const std::string text = outside::text_of(outside::rendered(sheet));
    const std::string odd = "\xEF\xBF\xBD";
    CHECK(text.find("a" + odd + "b" + odd + "c" + odd + "d" + odd + "e" + odd + odd + odd + "f") != std::string::npos);
    CHECK(text.find("one\ntwo\nthree\ntab here") != std::string::npos);
    CHECK(text.find("foot" + odd + "er") != std::string::npos);
}

TEST_CASE("Letters that fonts like to join or change stay what was written") {
    Document sheet;
    sheet.blocks = {Paragraph{"fi ffl -> <= != 3x4 (A) office--desk"}};
    const std::string text = outside::text_of(outside::rendered(sheet));
    CHECK(text.find("fi ffl -> <= != 3x4 (A) office--desk") != std::string::npos);
}

// UAX #9 would show "0142-555" behind Arabic letters.
TEST_CASE("A number to call keeps the order of its digits in a text from right to left") {
    Document sheet;
    const std::string desk = "\u0647\u0627\u062A\u0641";
    sheet.blocks = {Paragraph{"\u2068" + desk + " 555-0142\u2069"}, Facts{{{"Call", desk + " 555 0177", true}}}};
    const auto pdf = outside::rendered(sheet);
    const std::string text = outside::text_of(pdf);
    CAPTURE(text);
    CHECK(text.find("555-0142") != std::string::npos);
    CHECK(text.find("555 0177") != std::string::npos);
    // On the page, from left to right, at the right of its paragraph.
    double first = 0, second = 0, right = 0;
    for (const auto& word : outside::words_of(pdf)) {
        if (right_to_left(word.text)) right = std::max(right, word.right);
        if (word.text == "555") first = word.left;
        if (word.text == "0177") second = word.left;
    }
    CHECK(first > 0);
    CHECK(second > first);
    CHECK(right > 595 - 42 - 2);
}

TEST_CASE("The words of a row stand on one line, whatever their scripts and sizes") {
    Document sheet;
    sheet.blocks = {Facts{{{"Call", "555 large", true}, {"Site", "\u0645\u0631\u062C\u0629 small"}}}};
    std::map<std::string, double> bottoms;
    for (const auto& word : outside::words_of(outside::rendered(sheet))) bottoms[word.text] = word.bottom;
    REQUIRE(bottoms.contains("Site"));
    REQUIRE(bottoms.contains("small"));
    CHECK(bottoms["Site"] == doctest::Approx(bottoms["small"]).epsilon(0.001));
}

// One glyph may stand for two signs, or two glyphs for one: cairo then says which letters were meant.
TEST_CASE("Letters whose glyphs are another's, or several, are read as what was written") {
    Document sheet;
    const std::string radical = "\u2F00";  // drawn as U+4E00 is
    sheet.blocks = {Paragraph{"\u4E00 " + radical + " \u4E00"}, Paragraph{radical + "\u4E00"},
                    Paragraph{"\u0938\u092E\u094D\u092E\u0947\u0932\u0928 \u0915\u094D\u0937\u093F"},
                    Paragraph{"\u0644\u0627 \u0625\u0644\u0649 \u0645\u062B\u0627\u0644\u064B\u0627"}};
    const std::string text = outside::text_of(outside::rendered(sheet));
    for (const std::string& part :
         {"\u4E00 " + radical + " \u4E00", radical + "\u4E00",
          std::string("\u0938\u092E\u094D\u092E\u0947\u0932\u0928 \u0915\u094D\u0937\u093F")}) {
        CAPTURE(text);
        CHECK(text.find(part) != std::string::npos);
    }
    for (const char* const letter : {"\u0644", "\u0627", "\u0625", "\u0649", "\u062B", "\u064B"})
        CHECK(text.find(letter) != std::string::npos);
}

TEST_CASE("A character that no font has shows as a box with its number") {
    Document sheet;
    sheet.blocks = {Paragraph{"x \xF4\x80\x80\x80 y"}};  // U+100000, private use
    const std::string text = outside::squeezed(outside::text_of(outside::rendered(sheet)));
    CHECK(text.find("100") != std::string::npos);
    CHECK(text.find("000") != std::string::npos);
}

// fonts-noto-color-emoji would draw it 136 pixels high, and twice the same picture made a PDF that was refused.
TEST_CASE("A sign that only a coloured typeface has is written as its name") {
    Document sheet;
    sheet.blocks = {
        Paragraph{"Foyer \U0001F389 and \U0001F389\U0001F389, \U0001F469\U0001F3FD\u200D\U0001F527 \U0001F6D1\uFE0F"},
        Paragraph{"\u26A0 \u2714 \u2192 \u00B0 stay"}};
    const std::string text = outside::squeezed(outside::text_of(outside::rendered(sheet)));
    for (const char* const part :
         {"Foyer [party popper] and [party popper, party popper],",
          "[woman, emoji modifier fitzpatrick type-4, wrench] [octagonal sign]", "\u26A0 \u2714 \u2192 \u00B0 stay"}) {
        CAPTURE(text);
        CHECK(text.find(outside::squeezed(part)) != std::string::npos);
    }
}

TEST_CASE("Random sheets lose nothing and overlap nothing") {
    const std::vector<std::string> pieces = {
        "Foyer",  "会議室", "Łódź", "Ω",      "12.5 W",  "кабель", "ÄÖÜ",    "a",
        "",       " ",      "\n",   "—",      "Αίθουσα", "カフェ", "회의실", std::string(90, 'm'),
        "office", "1/2",    "x²",   "&<>\"'", "(%)\\"};
    for (unsigned seed = 1; seed <= 15; ++seed) {
        CAPTURE(seed);
        std::mt19937 random(seed);
        const auto pick = [&](std::size_t below) { return static_cast<std::size_t>(random() % below); };
        const auto phrase = [&] {
            std::string text;
            for (std::size_t k = pick(9); k > 0; --k) text += pieces[pick(pieces.size())] + (pick(2) ? " " : "");
            return text;
        };
        Document sheet;
        sheet.title = phrase();
        sheet.footer = "end of page " + std::to_string(seed);
        sheet.paper = pick(2) ? Paper::letter : Paper::a4;
        for (std::size_t k = 1 + pick(12); k > 0; --k) {
            const auto tone = static_cast<Tone>(pick(5));
            switch (pick(6)) {
                case 0:
                    sheet.blocks.push_back(Heading{static_cast<int>(1 + pick(3)), phrase()});
                    break;
                case 1:
                    sheet.blocks.push_back(Paragraph{phrase(), tone});
                    break;
                case 2:
                    sheet.blocks.push_back(Bullets{{phrase(), phrase()}});
                    break;
                case 3:
                    sheet.blocks.push_back(Facts{{{phrase(), phrase()}, {phrase(), phrase()}}});
                    break;
                case 4:
                    sheet.blocks.push_back(SignatureLine{phrase(), phrase(), phrase(), {}});
                    break;
                default: {
                    Table table;
                    table.columns.resize(1 + pick(9));
                    for (auto& column : table.columns) column = {phrase(), static_cast<Align>(pick(2)), 1.0};
                    table.rows.resize(pick(12));
                    for (auto& row : table.rows)
                        for (std::size_t c = 0; c < table.columns.size(); ++c)
                            row.push_back({phrase(), static_cast<Tone>(pick(5))});
                    sheet.blocks.push_back(table);
                }
            }
        }
        const auto pdf = outside::rendered(sheet);
        const std::string all = outside::squeezed(outside::text_of(pdf));
        // Page ends fall within texts: look for each unbroken piece, and count that none is missing.
        for (const std::string& text : outside::texts_in(sheet)) {
            std::string piece;
            for (const char c : text + " ") {
                if (static_cast<unsigned char>(c) > 0x20) {
                    piece += c;
                } else if (piece.size() <= 24) {
                    CAPTURE(piece);
                    CHECK(all.find(piece) != std::string::npos);
                    piece.clear();
                } else {
                    piece.clear();
                }
            }
        }
        CHECK(outside::rendered(sheet).bytes == pdf.bytes);
    }
}
