// Names as people look for them.
#include "core/base/fold.h"

#include <doctest/doctest.h>

#include "core/base/text.h"

using namespace tapwright;

TEST_CASE("blanks, hyphens and dashes of every kind are passed over") {
    for (const char* written : {"L8", "L-8", "l 8", "L–8", "L‑8", "L_8", "L\u00A08", "L \t- 8"}) {
        CAPTURE(written);
        CHECK(folded(written) == "l8");
    }
    CHECK(folded(" - ").empty());
}

TEST_CASE("accents and capitals make no difference, in Latin, Greek and Cyrillic letters") {
    CHECK(folded("Café") == "cafe");
    CHECK(folded("Cafe\u0301") == "cafe");
    CHECK(folded("CAFÉ") == "cafe");
    CHECK(folded("Übungsraum Süd") == "ubungsraumsud");
    CHECK(folded("Straße") == "strasse");
    CHECK(folded("STRAẞE") == "strasse");
    CHECK(folded("Łódź") == "lodz");
    CHECK(folded("Smørrebrød") == "smorrebrod");
    CHECK(folded("Œuvre") == "oeuvre");
    CHECK(folded("Đường Phố") == "duongpho");
    CHECK(folded("Țară Şcoală") == "tarascoala");
    CHECK(folded("ΚΑΦΈΣ") == folded("καφές"));
    CHECK(folded("Ёлка") == folded("елка"));
    CHECK(folded("ЗАЛ") == "зал");
}

TEST_CASE("letters of other scripts, signs and broken bytes stay as they are") {
    CHECK(folded("大広間") == "大広間");
    CHECK(folded("8 Ω / 2.5") == "8ω/2.5");
    CHECK(folded("a\xFF\x80z") == "a\xFF\x80z");
    CHECK(folded("😀") == "😀");
}

TEST_CASE("every letter folds to UTF-8 that folds to itself") {
    for (char32_t letter = 0x21; letter < 0x2100; ++letter) {
        std::string text;
        if (letter < 0x80)
            text = {static_cast<char>(letter)};
        else if (letter < 0x800)
            text = {static_cast<char>(0xC0U | letter >> 6U), static_cast<char>(0x80U | (letter & 0x3FU))};
        else
            text = {static_cast<char>(0xE0U | letter >> 12U), static_cast<char>(0x80U | (letter >> 6U & 0x3FU)),
                    static_cast<char>(0x80U | (letter & 0x3FU))};
        const std::string plain = folded(text);
        REQUIRE_MESSAGE(is_utf8(plain), static_cast<unsigned>(letter));
        REQUIRE_MESSAGE(folded(plain) == plain, static_cast<unsigned>(letter));
    }
}

TEST_CASE("a part is found wherever it is written") {
    CHECK(folds_into("L-8", "L8"));
    CHECK(folds_into("L-118", "l 11"));
    CHECK(folds_into("Café Nord", "cafe n"));
    CHECK(folds_into("Cafe", "café"));
    CHECK_FALSE(folds_into("L-9", "L8"));
    CHECK(folds_into("anything", "-"));
}

TEST_CASE("what differs in nothing but capitals is the same in small letters, and nothing else is") {
    const std::pair<const char*, const char*> same[] = {
        {"ÉCOLE Ä-1", "école ä-1"}, {"Łódź", "łÓDŹ"}, {"ŸŒ", "ÿœ"},           {"STRAẞE", "straße"},
        {"ΚΑΦΈΣ", "καφές"},         {"Ώ Ά", "ώ ά"},   {"ЁЛКА ЇЎ", "ёлка їў"}, {"Đường", "đưỜNG"},
        {"ＡＺ", "ａｚ"},           {"Ș Ț", "ș ț"}};
    for (const auto& pair : same) {
        CAPTURE(pair.first);
        const std::string small = in_small_letters(pair.first);
        CHECK(small == in_small_letters(pair.second));
        CHECK(in_small_letters(small) == small);
        CHECK(is_utf8(small));
    }
    for (const auto& pair : {std::pair("Café", "Cafe"), std::pair("İ", "i"), std::pair("L-8", "L8"),
                             std::pair("×", "÷"), std::pair("ß", "ss"), std::pair("Ａ", "A")}) {
        CAPTURE(pair.first);
        CHECK(in_small_letters(pair.first) != in_small_letters(pair.second));
    }
    CHECK(in_small_letters("大広間 😀 a\xFF\x80Z") == "大広間 😀 a\xFF\x80z");
}
