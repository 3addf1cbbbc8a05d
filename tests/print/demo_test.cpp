// The demo job's sheets and labels on paper. In the pseudo-language they are about 40 % longer than in English, as a
// translation may be: nothing runs out of its place, and nothing is lost.
#include <doctest/doctest.h>

#include "core/sheet/labels.h"
#include "tests/print/outside.h"
#include "tests/sheet/samples.h"

using namespace tapwright;

namespace {

document::Document strange_sheet(SheetReader reader, document::Paper paper) {
    document::Document sheet = samples::sheet_of(samples::demo_job(), reader, pseudo());
    sheet.paper = paper;
    return sheet;
}

document::Document strange_labels(document::Paper paper) {
    const Job job = samples::demo_job();
    LabelOptions options;
    options.paper = paper;
    options.time = "2026-02-03T10:00:00Z";
    return label_sheet(job, derive(job), options, Words(pseudo()));
}

void check_nothing_lost(const document::Document& sheet) {
    const std::string all = outside::squeezed(outside::text_of(outside::rendered(sheet)));
    for (const std::string& text : outside::texts_in(sheet)) {
        CAPTURE(text);
        CHECK(all.find(outside::squeezed(text)) != std::string::npos);
    }
}

}  // namespace

TEST_CASE("What an owner keeps at the amplifier is one page, on either paper") {
    for (const document::Paper paper : {document::Paper::a4, document::Paper::letter}) {
        document::Document sheet = samples::sheet_of(samples::demo_job(), SheetReader::owner);
        sheet.paper = paper;
        const auto pages = outside::pages_of(outside::rendered(sheet));
        REQUIRE(pages.size() > 1);
        for (const char* const part : {"Keep this page at the amplifier", "When there is no sound", "Taken over on"}) {
            CAPTURE(part);
            CHECK(pages[0].find(part) != std::string::npos);
        }
        CHECK(pages[1].find("Room by room") != std::string::npos);
    }
}

TEST_CASE("A sheet of longer words stays inside its margins, no word over another, on either paper") {
    for (const document::Paper paper : {document::Paper::a4, document::Paper::letter})
        for (const SheetReader reader : {SheetReader::owner, SheetReader::technician})
            outside::check_places(strange_sheet(reader, paper));
}

TEST_CASE("A sheet of longer words holds every one of them") {
    for (const SheetReader reader : {SheetReader::owner, SheetReader::technician})
        check_nothing_lost(strange_sheet(reader, document::Paper::a4));
}

TEST_CASE("Labels of longer words stay inside the lines they are cut along") {
    for (const document::Paper paper : {document::Paper::a4, document::Paper::letter}) {
        const document::Document sheet = strange_labels(paper);
        outside::check_places(sheet);
        check_nothing_lost(sheet);
    }
}

TEST_CASE("What a renderer says by itself is in the document's language too") {
    const std::string text =
        outside::text_of(outside::rendered(strange_sheet(SheetReader::owner, document::Paper::a4)));
    for (const char* const plain : {"Page 1 of", "Name", "Signature", "Date", "(continued)"}) {
        CAPTURE(plain);
        CHECK(text.find(plain) == std::string::npos);
    }
    CHECK(text.find("«Páagée 1 óof ") != std::string::npos);
}
