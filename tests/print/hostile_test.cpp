// Odd and bad input: a sentence or a sheet, never a crash.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "core/words/words.h"
#include "platform/print/finish.h"
#include "platform/print/jpeg.h"
#include "platform/print/marks.h"
#include "platform/print/settable.h"
#include "tests/print/outside.h"
#include "tests/print/pdf_objects.h"
#include "tests/print/samples.h"

using namespace tapwright;
using namespace tapwright::document;

namespace {

std::string refusal_of(const Document& document) {
    const auto pdf = print::render_pdf_here(document);
    REQUIRE_FALSE(pdf.ok());
    return in_english(pdf.refusal());
}

Document with_picture(const std::string& jpeg) {
    Document sheet;
    sheet.blocks = {document::Figure{Picture{jpeg, 32, 32}, "caption", "Photo of the rack"}};
    return sheet;
}

}  // namespace

TEST_CASE("An empty document is one page") {
    const auto pdf = outside::rendered({});
    CHECK(pdf.pages == 1);
    CHECK(outside::text_of(pdf).find("Page 1 of 1") != std::string::npos);
}

TEST_CASE("Empty blocks are no trouble") {
    Document sheet;
    sheet.blocks = {Heading{2, ""},
                    Paragraph{""},
                    Paragraph{"", Tone::stop},
                    Bullets{},
                    Bullets{{""}},
                    Facts{},
                    Table{},
                    Table{"only a caption", {}, {}},
                    Table{"", {{"Head", Align::start, 0}}, {}},
                    SignatureLine{},
                    document::Figure{Bar{}, "", "nothing"},
                    document::Figure{Drawing{}, "", "nothing"}};
    const std::string text = outside::text_of(outside::rendered(sheet));
    CHECK(text.find("Head") != std::string::npos);
}

TEST_CASE("Dates: RFC 3339 becomes a PDF date, anything else a sentence") {
    CHECK(print::pdf_date("2026-05-04T09:30:00Z") == "D:20260504093000Z");
    CHECK(print::pdf_date("2026-05-04T09:30:00.123-03:30") == "D:20260504093000-03'30'");
    for (const char* bad : {"", "2026-05-04", "2026-05-04T09:30:00", "2026-05-04T09:30:00+2", "2026-05-04 09:30:00Z",
                            "2026-05-04T09:30:00.Z", "2026-05-04T09:30:00Zx", "2O26-05-04T09:30:00Z"}) {
        CAPTURE(bad);
        CHECK(print::pdf_date(bad).empty());
    }
    Document sheet;
    sheet.created = "yesterday";
    CHECK(refusal_of(sheet).find("\"yesterday\"") == std::string::npos);
    CHECK(refusal_of(sheet).find("yesterday") != std::string::npos);
}

TEST_CASE("A footer that would eat the page is refused") {
    Document sheet;
    for (int k = 0; k < 3000; ++k) sheet.footer += "footer ";
    CHECK(refusal_of(sheet).find("quarter of the page") != std::string::npos);
}

TEST_CASE("A figure without alternative text is refused") {
    Document sheet;
    sheet.blocks = {document::Figure{Bar{}, "The load", ""}};
    CHECK(refusal_of(sheet).find("The load") != std::string::npos);
}

TEST_CASE("Pictures: a JPEG goes in as it is, with its own size; anything else is a sentence") {
    const std::string jpeg = samples::picture_jpeg(320, 200);
    const auto shape = print::jpeg_shape(jpeg);
    REQUIRE(shape.has_value());
    CHECK(shape->width == 320);
    CHECK(shape->height == 200);
    CHECK(shape->components == 1);

    const print::Pdf pdf = outside::rendered(with_picture(jpeg));
    const outside::TemporaryFile file(pdf.bytes);
    const std::string images = outside::run("pdfimages -list " + file.path()).output;
    CHECK(images.find("320   200  gray") != std::string::npos);
    CHECK(images.find("jpeg") != std::string::npos);
    const std::vector<std::string> pictures = outside::pictures_of(pdf.bytes);
    CHECK(std::find(pictures.begin(), pictures.end(), jpeg) != pictures.end());

    for (const std::string& bad : {std::string(), std::string("\xFF\xD8"), std::string("\x89PNG\r\n\x1A\n"),
                                   std::string(5000, '\xFF'), "\xFF\xD8\xFF\xC0" + jpeg.substr(2)})
        CHECK(refusal_of(with_picture(bad)).find("not a JPEG") != std::string::npos);
    // Cut off at many places, or one byte changed in the headers: a sentence or a sheet, but never a crash.
    for (std::size_t cut = 0; cut < 220 && cut < jpeg.size(); cut += 3) {
        CHECK_FALSE(print::render_pdf_here(with_picture(jpeg.substr(0, cut))).ok());
        std::string changed = jpeg;
        changed[cut] = static_cast<char>(changed[cut] ^ 0x55);
        (void)print::render_pdf_here(with_picture(changed)).ok();
    }
}

TEST_CASE("Figures with values that are no numbers still leave a sheet") {
    const double odd[] = {std::nan(""), std::numeric_limits<double>::infinity(), -1e308, 1e308, 0};
    for (const double value : odd) {
        Bar bar;
        bar.parts = {{value, "x", false}, {10, "y", true}};
        bar.limit = value;
        bar.reserve_from = value;
        bar.whole = value;
        Drawing drawing;
        drawing.width = value;
        drawing.height = value;
        drawing.strokes = {
            {{{0, 0}, {value, 4}}, value, true, true}, {{}, 1, false, false}, {{{1, 1}}, 1, false, false}};
        drawing.labels = {{value, 3, "far", 9, Align::start}, {3, 4, "near", value, Align::end}};
        Document sheet;
        sheet.blocks = {document::Figure{bar, "c", "a"}, document::Figure{drawing, "c", "a"},
                        SignatureLine{"r", "n", "d", {{{value, value}, {0.5, 0.5}}, {}, {{0.5, 0.5}}}},
                        Paragraph{"still here"}};
        CAPTURE(value);
        CHECK(outside::text_of(outside::rendered(sheet)).find("still here") != std::string::npos);
    }
}

TEST_CASE("A paragraph of 200,000 characters and a word of 20,000 run over pages") {
    Document sheet;
    std::string text;
    for (int k = 0; k < 20000; ++k) text += "w" + std::to_string(10000 + k) + " ";
    sheet.blocks = {Paragraph{text}, Paragraph{std::string(20000, 'q'), Tone::note}, Paragraph{"the end"}};
    const auto pdf = outside::rendered(sheet);
    CHECK(pdf.pages > 20);
    CHECK(outside::text_of(pdf).find("the end") != std::string::npos);
}

TEST_CASE("settable keeps what can be set and replaces what cannot") {
    CHECK(print::settable("plain Ω 会") == "plain Ω 会");
    CHECK(print::settable("a\r\nb\rc\xC2\x85"
                          "d\xE2\x80\xA8"
                          "e") == "a\nb\nc\nd\ne");
    CHECK(print::settable("\xC0\x80|\xF8|\xE4\xBC") ==
          "\xEF\xBF\xBD\xEF\xBF\xBD|\xEF\xBF\xBD|\xEF\xBF\xBD\xEF\xBF\xBD");
    CHECK(print::settable(std::string(1, '\0')) == "\xEF\xBF\xBD");
    CHECK(print::settable("a\u202eb\u2066c\u200fd\u009be") == "a\uFFFDb\uFFFDc\uFFFDd\uFFFDe");
    CHECK(print::settable("\u2068עברית\u2069") == "\u2068עברית\u2069");
}

TEST_CASE("Marks: texts that look like instructions are not, and what does not add up is said") {
    const std::string begins = "0 g\n1 1 1 2 re f";
    const std::string ends = "\n1 1 2 1 re\nf*";
    const std::string text = "\nBT (\\) BDC /MCID EMC 1 1 2 1 re f(x)) Tj ET";
    const std::string content = "q\n0 0 5 5 re f\n" + begins + text + ends + "\nQ\n";
    CHECK(print::tagged_content(content, {"H1"}) ==
          "q\n/Artifact BMC\n\n0 0 5 5 re f\n0 g\nEMC\n\n/H1 << /MCID 0 >> BDC" + text + "\nEMC\nQ\n");
    CHECK_THROWS_AS((void)print::tagged_content(content, {}), std::runtime_error);
    CHECK_THROWS_AS((void)print::tagged_content(content, {"P", "P"}), std::runtime_error);
    CHECK_THROWS_AS((void)print::tagged_content(ends, {}), std::runtime_error);
    CHECK_THROWS_AS((void)print::tagged_content(begins, {"P"}), std::runtime_error);
    CHECK_THROWS_AS((void)print::tagged_content(begins + begins + ends, {"P", "P"}), std::runtime_error);
    CHECK_THROWS_AS((void)print::tagged_content("1 1 1 2 re W n" + ends, {"P"}), std::runtime_error);
    CHECK_THROWS_AS((void)print::tagged_content("(never ends", {}), std::runtime_error);
}

TEST_CASE("Marks: what cairo marks by itself is left out, and boxes close to a marker's stay") {
    CHECK(print::tagged_content("/P << /MCID 0 >> BDC\n1 1 1 2 re f\n/x5 Do\n1 1 2 1 re f\nEMC", {"Figure"}) ==
          "\n/Figure << /MCID 0 >> BDC\n/x5 Do\nEMC");
    CHECK(print::tagged_content("1 1 1 1 re f", {}) == "\n/Artifact BMC\n1 1 1 1 re f\nEMC\n");
    CHECK(print::tagged_content("1 1 1 2.02 re f", {}) == "\n/Artifact BMC\n1 1 1 2.02 re f\nEMC\n");
}

TEST_CASE("Marks: what says which letters glyphs are is kept, but not where there is no glyph") {
    const std::string meant = "\n/Span << /ActualText <feff4e00> >> BDC\n(x)Tj\nEMC";
    const std::string nothing = "\n/Span << /ActualText <feff0020> >> BDC\nEMC";
    CHECK(print::tagged_content("BT" + nothing + meant + nothing + "\n(y)Tj\nET", {}) ==
          "\n/Artifact BMC\nBT" + meant + "\n(y)Tj\nET\nEMC\n");
    CHECK_THROWS_AS((void)print::tagged_content("BT\nEMC\nET", {}), std::runtime_error);
}

TEST_CASE("What is no PDF is said by qpdf in a sentence, not thrown") {
    const auto result = print::finish("not a PDF", print::Structure(), {});
    REQUIRE_FALSE(result.ok());
    CHECK(in_english(result.refusal()).find("Nothing was written.") != std::string::npos);
}
