// The page: the same words as the document, well formed, without anything that runs or is fetched.
#include "core/html/html.h"

#include <doctest/doctest.h>

#include <map>
#include <set>
#include <vector>

#include "core/html/escape.h"
#include "core/html/kept.h"
#include "core/html/links.h"
#include "core/sheet/labels.h"
#include "tests/sheet/samples.h"

namespace tapwright {
namespace {

using namespace samples;

// Walks the tags as an XML reader would, apart from the void elements of HTML. Returns: what is wrong first.
std::string trouble_in(const std::string& page) {
    static const std::set<std::string> empty = {"meta", "hr", "img", "br", "wbr"};
    std::vector<std::string> open;
    const std::size_t body = page.find("</style>");
    for (std::size_t at = body; (at = page.find('<', at)) != std::string::npos;) {
        const std::size_t end = page.find('>', at);
        if (end == std::string::npos) return "a tag does not end";
        const std::string tag = page.substr(at + 1, end - at - 1);
        at = end;
        const bool closing = tag[0] == '/';
        const std::string name = tag.substr(closing, tag.find_first_of(" /", closing) - closing);
        if (closing && name == "style") continue;
        if (closing) {
            if (open.empty() || open.back() != name) return "</" + name + "> closes nothing";
            open.pop_back();
        } else if (!empty.contains(name) && !tag.ends_with("/")) {
            open.push_back(name);
        }
    }
    return open == std::vector<std::string>{} || open == std::vector<std::string>{"html"} ? ""
                                                                                          : open.back() + " stays open";
}

std::string page_of(const Job& job, SheetReader reader) {
    return html_page(sheet_of(job, reader));
}

}  // namespace

TEST_CASE(
    "the words of a table stay whole where they have room beside each other, and are broken where they have not") {
    document::Document sheet;
    document::Table table;
    table.columns = {{"Kind"}, {"What"}};
    table.rows = {{{"Warning", document::Tone::warning}, {std::string("many words ") + std::string(60, 'm')}}};
    sheet.blocks = {table};
    CHECK(html_page(sheet).find("<table class=\"firm\">") != std::string::npos);
    table.rows[0][0].text = std::string(40, 'w');
    sheet.blocks = {table};
    CHECK(html_page(sheet).find("<table>") != std::string::npos);
}

TEST_CASE("both sheets of the demo job are well-formed pages that hold every word of the document") {
    for (const SheetReader reader : {SheetReader::owner, SheetReader::technician}) {
        const document::Document sheet = sheet_of(demo_job(), reader);
        const std::string page = html_page(sheet);
        // The reader below begins after </style>, so <html>, <head> are open there and only closed.
        const std::string said =
            trouble_in(page.substr(0, page.find("<style>")) + "</style>" + page.substr(page.find("</head>") + 7));
        CHECK(said == "</html> closes nothing");
        CHECK(page == html_page(sheet));
        for (const document::Block& block : sheet.blocks) {
            if (const auto* heading = std::get_if<document::Heading>(&block))
                CHECK(page.find(">" + html::kept(heading->text) + "</h") != std::string::npos);
            if (const auto* table = std::get_if<document::Table>(&block))
                for (const auto& row : table->rows)
                    for (const auto& cell : row)
                        CHECK(page.find(">" + html::kept(cell.text) + "<") != std::string::npos);
        }
        CHECK(page.find(html::escaped(sheet.footer)) != std::string::npos);
    }
}

// Arabic letters before it would change the places of its groups (UAX #9, W2 and N1), and somebody dial another number.
TEST_CASE("a number to call, a day and a figure keep their order within a text from right to left") {
    const std::string desk = "\u0647\u0627\u062A\u0641";
    CHECK(html::linked(desk + " 555-0142") == desk + " <a href=\"tel:5550142\" dir=\"ltr\">555-0142</a>");
    CHECK(html::kept(desk + " 555 0142") == desk + " <span class=\"kept\" dir=\"ltr\">555 0142</span>");
    CHECK(html::kept(desk + " 2025-04-15") == desk + " <span class=\"kept\" dir=\"ltr\">2025-04-15</span>");
    CHECK(html::kept("\u0633-103") == "<span class=\"kept\">\u0633-103</span>");
    CHECK(html::linked("Desk 555-0142") == "Desk <a href=\"tel:5550142\">555-0142</a>");
}

// A browser ends a line at the space of "70.7 V" and behind the hyphen of "C-111".
TEST_CASE("a figure and its unit, a day and a code stand in an element that no line ends within") {
    CHECK(html::kept("C-111 & \"V\": 70.7 V on 15 Apr 2025") ==
          "<span class=\"kept\">C-111</span> &amp; &quot;V&quot;: <span class=\"kept\">70.7 V</span> on "
          "<span class=\"kept\">15 Apr 2025</span>");
    CHECK(html::kept("<5 W>") == "&lt;5 W&gt;");
    // What a narrow screen has no room for may be torn apart.
    CHECK(html::kept(std::string(30, 'x') + "-1") == std::string(30, 'x') + "-1");
    for (const SheetReader reader : {SheetReader::owner, SheetReader::technician}) {
        const std::string page = page_of(demo_job(), reader);
        CHECK(page.find(".kept, a[href^=\"tel:\"] { white-space: nowrap; }") != std::string::npos);
        CHECK(page.find(">70.7 V</span>") != std::string::npos);
        CHECK(page.find(">V-121</span>") != std::string::npos);
    }
}

TEST_CASE("what is copied from a page, or looked for on it, is what the document says") {
    const std::string begins = "<span class=\"kept\">";
    for (const SheetReader reader : {SheetReader::owner, SheetReader::technician})
        for (const document::Block& block : sheet_of(demo_job(), reader).blocks) {
            const auto* paragraph = std::get_if<document::Paragraph>(&block);
            if (!paragraph) continue;
            std::string said = html::kept(paragraph->text);
            for (std::size_t at = 0; (at = said.find(begins, at)) != std::string::npos;) {
                const std::size_t end = said.find("</span>", at);
                REQUIRE(end != std::string::npos);
                said.erase(end, 7).erase(at, begins.size());
            }
            CHECK(said == html::escaped(paragraph->text));
        }
}

TEST_CASE("nothing on the page runs, and nothing is fetched") {
    const std::string page = page_of(demo_job(), SheetReader::technician);
    for (const char* const never :
         {"<script", "<link", "<iframe", "http:", "https:", "url(", "@import", "onload", "style=\""}) {
        CAPTURE(never);
        CHECK(page.find(never) == std::string::npos);
    }
    CHECK(page.starts_with("<!DOCTYPE html>\n<html lang=\"en\">"));
}

TEST_CASE("whatever a name holds, it stays a text") {
    const std::string page =
        page_of(job_of(R"({"tapwright_job": 1, "job": {"name": "<script>alert(1)</script> & \"x\" 'y'"},
                   "rooms": [{"id": "r1", "name": "قاعة 音乐厅 Αίθουσα Зал"}],
                   "points": [{"id": "p1", "kind": "speaker", "label": "</td><b>", "room": "r1", "tap_w": 5}]})"),
                SheetReader::owner);
    CHECK(page.find("<script") == std::string::npos);
    CHECK(page.find("&lt;script&gt;alert(1)&lt;/script&gt; &amp; &quot;x&quot; &#39;y&#39;") != std::string::npos);
    CHECK(page.find("قاعة 音乐厅 Αίθουσα Зал") != std::string::npos);
    CHECK(page.find("&lt;/td&gt;&lt;b&gt;") != std::string::npos);
    CHECK(html::escaped(std::string("a\0b\xFF", 4)) ==
          "a\xEF\xBF\xBD"
          "b\xEF\xBF\xBD");
}

// RFC 4648, section 10.
TEST_CASE("base64 as the published test vectors") {
    const char* const vectors[][2] = {{"", ""},
                                      {"f", "Zg=="},
                                      {"fo", "Zm8="},
                                      {"foo", "Zm9v"},
                                      {"foob", "Zm9vYg=="},
                                      {"fooba", "Zm9vYmE="},
                                      {"foobar", "Zm9vYmFy"}};
    for (const auto& vector : vectors) CHECK(html::base64(vector[0]) == vector[1]);
}

TEST_CASE("a photo stands with its caption; private ones, and those not shared with the owner, do not") {
    Job job = job_of(R"({"tapwright_job": 1, "job": {"name": "A"}, "rooms": [{"id": "r1", "name": "Hall"}], "photos": [
        {"id": "f1", "about": "r1", "sha256": "1111111111111111111111111111111111111111111111111111111111111111",
         "caption": "above the door", "share": "owner", "pin": {"x": 0.25, "y": 0.5}},
        {"id": "f2", "about": "r1", "sha256": "2222222222222222222222222222222222222222222222222222222222222222",
         "caption": "TRADE"},
        {"id": "f3", "about": "r1", "sha256": "3333333333333333333333333333333333333333333333333333333333333333",
         "caption": "SECRET", "share": "private"}]})");
    for (const SheetReader reader : {SheetReader::owner, SheetReader::technician}) {
        SheetOptions options;
        options.reader = reader;
        std::string asked;
        options.picture = [&](const std::string& sha256) {
            asked += sha256[0];
            return std::optional(document::Picture{"JPEG" + sha256.substr(0, 1), 64, 48, std::nullopt});
        };
        const document::Document sheet = sheet_of(job, options);
        const std::string page = html_page(sheet);
        CHECK(asked == (reader == SheetReader::owner ? "1" : "12"));
        CHECK(page.find("Hall: above the door") != std::string::npos);
        CHECK(page.find(html::base64("JPEG1")) != std::string::npos);
        CHECK(page.find("cx=\"16\" cy=\"24\"") != std::string::npos);
        CHECK(page.find("SECRET") == std::string::npos);
        CHECK((page.find("TRADE") != std::string::npos) == (reader == SheetReader::technician));
    }
}

// Idea: ANSI/INFOCOMM F501.01, ANSI/TIA-606: every end of every cable carries its mark.
TEST_CASE("every run of the demo job has two labels of its point's name, and every zone one") {
    const Job job = demo_job();
    const document::Document sheet = label_sheet(job, derive(job), {{50, 20}, document::Paper::a4, "", ""}, Words());
    std::map<std::string, int> found;
    for (const auto& labels : blocks_of<document::Labels>(sheet)) {
        CHECK(labels.width == doctest::Approx(50 / 25.4 * 72));
        for (const auto& label : labels.labels) ++found[label.name];
    }
    for (const Point& point : job.all<Point>()) CHECK_MESSAGE(found[*point.label] == 2, *point.label);
    for (const Zone& zone : job.all<Zone>()) CHECK(found[*zone.name] == 1);
    CHECK(label_size_from("60x25")->width == 60);
    for (const char* const wrong : {"", "tiny", "10x10", "60", "60x", "60x25x", "nanx20", "300x20"})
        CHECK_FALSE(label_size_from(wrong).ok());
}

TEST_CASE("a writer keeps the language it was begun in, whatever becomes of the head") {
    std::string page;
    document::Document head;
    HtmlWriter writer(head, [&](std::string_view part) { page += part; });
    head.words = Words(pseudo());
    document::SignatureLine line;
    line.role = "For the owner";
    line.strokes = {{{0, 0}, {1, 1}}};
    writer.add(line);
    writer.finish();
    CHECK(page.find("Drawn signature: For the owner") != std::string::npos);
}

TEST_CASE("the two labels of a run say which end they are for, the first line first") {
    const Job job = demo_job();
    const document::Document sheet = label_sheet(job, derive(job), {{38, 13}, document::Paper::a4, "", "z-1"}, Words());
    std::vector<std::string> first_lines;
    for (const auto& labels : blocks_of<document::Labels>(sheet))
        for (const auto& label : labels.labels)
            if (label.name == "C-102" || label.name == "J-110") first_lines.push_back(label.lines.at(0));
    CHECK(first_lines == std::vector<std::string>{"IN from C-101, loudspeaker end", "OUT at C-101, amplifier end",
                                                  "IN from C-102, far end", "OUT at C-102, amplifier end"});
}

TEST_CASE("a page leads to each of its sections, and on paper the owner's does without") {
    for (const SheetReader reader : {SheetReader::owner, SheetReader::technician}) {
        const std::string page = page_of(demo_job(), reader);
        const std::size_t nav =
            page.find("<nav class=\"contents" + std::string(reader == SheetReader::owner ? " screen" : ""));
        REQUIRE(nav != std::string::npos);
        CHECK(nav > page.find("</h1>"));
        CHECK(nav < page.find("<h2"));
        std::size_t links = 0;
        for (std::size_t at = nav; (at = page.find("<a href=\"#", at)) != std::string::npos; ++links) {
            at += 10;
            const std::string target = page.substr(at, page.find('"', at) - at);
            CHECK(page.find("<h2 id=\"" + target + "\"") != std::string::npos);
        }
        std::size_t sections = 0;
        for (const auto& heading : blocks_of<document::Heading>(sheet_of(demo_job(), reader)))
            sections += heading.level == 2 ? 1U : 0U;
        CHECK(links == sections);
    }
}

TEST_CASE("numbers to call and addresses to write to are links, days and figures are not") {
    CHECK(html::linked("Desk, 555-0142, weekdays only") == "Desk, <a href=\"tel:5550142\">555-0142</a>, weekdays only");
    CHECK(html::linked("+49 (30) 1234-567") == "<a href=\"tel:+49301234567\">+49 (30) 1234-567</a>");
    CHECK(html::linked("a.b@example.invalid.") ==
          "<a href=\"mailto:a.b@example.invalid\">a.b<wbr>@example.invalid</a>.");
    CHECK(html::linked("since 2025-04-15, breaker") == "since <span class=\"kept\">2025-04-15</span>, breaker");
    CHECK(html::linked("a@b <x>") == "a@b &lt;x&gt;");
    CHECK(html::linked("\"onload=alert(1)\"@x.y") == "&quot;onload=alert(1)&quot;@x.y");
    const std::string page = page_of(demo_job(), SheetReader::owner);
    CHECK(page.find("<a href=\"tel:5550142\">555-0142</a>") != std::string::npos);
    CHECK(page.find("<a href=\"mailto:service@example.invalid\">") != std::string::npos);
}

}  // namespace tapwright
