// The demo job's sheets and labels on paper. In the pseudo-language they are about 40 % longer than in English, as a
// translation may be: nothing runs out of its place, and nothing is lost.
#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <set>

#include "core/job/field_table.h"
#include "core/sheet/labels.h"
#include "tests/print/demo_sheet.h"
#include "tests/print/outside.h"
#include "tests/print/pdf_objects.h"
#include "tests/sheet/samples.h"

using namespace tapwright;
using outside::height_of;
using outside::real_sheet;

namespace {

// What pdftotext gives as the height of a word of 9 points in the sheet's typeface.
constexpr double smallest_box = 9 * 1.2;

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

TEST_CASE("An owner's sheet is a page to keep at the amplifier and a page of record, on either paper") {
    for (const document::Paper paper : {document::Paper::a4, document::Paper::letter}) {
        const document::Document sheet = real_sheet(samples::demo_job(), SheetReader::owner, paper);
        const auto pages = outside::pages_of(outside::rendered(sheet));
        REQUIRE(pages.size() == 3);
        const auto stands_on = [&](std::size_t page, const char* part) {
            CAPTURE(part);
            CHECK(pages[page].find(part) != std::string::npos);
        };
        for (const char* const part : {"Keep this page at the amplifier", "When there is no sound", "Whom to call",
                                       "What not to do", "Not tested", "Room by room", "DB-2, breaker 9"})
            stands_on(0, part);
        for (const char* const part : {"What is installed", "Spare watts", "What was tested", "Still to be done",
                                       "To sign, for the system", "15 Apr 2027", "14 Apr 2026"})
            stands_on(1, part);
        stands_on(2, "Plans of the rooms");
    }
}

// What a stranger in the cupboard asks, and where it has to be found at once.
TEST_CASE("A stranger's questions are answered on the first page") {
    for (const document::Paper paper : {document::Paper::a4, document::Paper::letter}) {
        const document::Document sheet = real_sheet(samples::demo_job(), SheetReader::owner, paper);
        const std::string page = outside::squeezed(outside::pages_of(outside::rendered(sheet)).at(0));
        const auto answers = [&](const char* answer) {
            CAPTURE(answer);
            CHECK(page.find(outside::squeezed(answer)) != std::string::npos);
        };
        // Whom do I call?
        answers("Call Service desk, telephone 555-0142, weekdays 8 to 17");
        answers("Out of hours Duty engineer, telephone 555-0177");
        // The café is silent, what now?
        answers("1. If the fire alarm is sounding, follow your fire procedure first.");
        answers("2. Is the amplifier's light on?");
        answers("6. Still no sound? Call the number above; out of hours the other one.");
        answers("Caf\u00e9 V-121 \u22123 dB Amplifier 1 DB-2, breaker 7");
        // May I add a loudspeaker?
        answers("Do not add, swap or adjust loudspeakers, or join lines: ask your installer first.");
        // Which control is for classroom 2, and are announcements heard there with it down?
        answers("Classroom 2 V-202 \u22123 dB Amplifier 2 DB-2, breaker 9 not tested: do not count on it");
        answers("Changing rooms V-002 Full (0 dB) Amplifier 1 DB-2, breaker 7 silent when off");
        // What was not tested?
        answers("V-202 (Classroom 2): announcements with it down.");
        answers("No test recorded: bells (Amplifier 2) and 24 V override supply (Amplifier 2).");
        answers("Line not measured: Workshop.");
    }
}

TEST_CASE("Nothing an owner reads is small: text at least 9.5 points, tables 9, whom to call 12") {
    for (const document::Paper paper : {document::Paper::a4, document::Paper::letter}) {
        const document::Document sheet = real_sheet(samples::demo_job(), SheetReader::owner, paper);
        const double height = height_of(paper);
        const auto words = outside::words_of(outside::rendered(sheet));
        const auto head = std::find_if(words.begin(), words.end(), [](const outside::Word& word) {
            return word.page == 0 && word.text == "Control";  // of the first table, room by room
        });
        REQUIRE(head != words.end());
        double of_number = 0;
        for (const outside::Word& word : words) {
            if (word.page > 1 || word.top > height - 64) continue;  // drawings; the footer
            CAPTURE(word.text);
            const bool is_running = word.page == 0 && word.top < head->top - 1;
            CHECK(word.bottom - word.top >= (is_running ? smallest_box * 9.5 / 9 - 0.01 : smallest_box));
            if (word.text == "555-0142,") of_number = word.bottom - word.top;
        }
        CHECK(of_number >= smallest_box * 12 / 9 - 0.1);
    }
}

TEST_CASE("A job of one zone and one reading gives one page for the owner, and says what is not known") {
    const Job job = samples::job_of(R"({"tapwright_job": 1, "job": {"name": "Chapel"},
        "zones": [{"id": "z", "name": "Nave"}],
        "readings": [{"id": "m", "at": "z", "quantity": "ohms", "value": 250, "isolated": true,
                      "time": "2026-02-03T10:00:00Z"}]})");
    for (const document::Paper paper : {document::Paper::a4, document::Paper::letter}) {
        const auto owner = outside::rendered(real_sheet(job, SheetReader::owner, paper));
        CHECK(owner.pages == 1);
        const std::string page = outside::squeezed(outside::text_of(owner));
        for (const char* const part :
             {"Call ____", "No loudspeaker is recorded as fitted yet.", "No amplifier is recorded.",
              "Nave ask first: 20 W on this line is not accounted for", "Lines measured"}) {
            CAPTURE(part);
            CHECK(page.find(outside::squeezed(part)) != std::string::npos);
        }
        CHECK(outside::rendered(real_sheet(job, SheetReader::technician, paper)).pages <= 2);
    }
}

TEST_CASE("Jobs in Arabic, Greek and Japanese stand on the sheets whole, none over another") {
    for (const char* const name : {"\u0642\u0627\u0639\u0629 \u0627\u0644\u0645\u062f\u0631\u0633\u0629",
                                   "\u0391\u03af\u03b8\u03bf\u03c5\u03c3\u03b1", "\u5927\u30db\u30fc\u30eb"}) {
        Job job = samples::demo_job();
        const auto set = [&](Kind kind, const Id& id, const char* field) {
            REQUIRE(job.set(kind, id, *find_field(kind, field), std::string(name)).ok());
        };
        for (const char* const field : {"name", "contact", "after_hours", "responsible", "instructed", "how_to_page",
                                        "how_to_source", "documents"})
            set(Kind::job, job_id(), field);
        set(Kind::room, Id("r-foyer"), "name");
        set(Kind::zone, Id("z-1"), "name");
        set(Kind::snag, Id("n-1"), "who");
        set(Kind::control, Id("p-1"), "normal");
        for (const SheetReader reader : {SheetReader::owner, SheetReader::technician})
            outside::check_places(real_sheet(job, reader, document::Paper::a4));
    }
}

TEST_CASE("The demo job's own sheets are whole: headings in order, every figure with words, every table with heads") {
    for (const SheetReader reader : {SheetReader::owner, SheetReader::technician}) {
        const auto pdf = outside::rendered(real_sheet(samples::demo_job(), reader, document::Paper::a4));
        const outside::PdfObjects objects = outside::objects_of(pdf.bytes);
        int depth = 0;
        for (const auto& element : objects.elements) {
            if (element.type.size() == 3 && element.type.starts_with("/H")) {
                const int level = element.type[2] - '0';
                CHECK(level <= depth + 1);
                depth = level;
            }
            if (element.type == "/Figure") CHECK(!element.alternative.empty());
        }
        const std::map<std::string, std::set<std::string>> homes = {{"/LI", {"/L"}},
                                                                    {"/LBody", {"/LI"}},
                                                                    {"/Lbl", {"/LI"}},
                                                                    {"/TR", {"/Table", "/THead", "/TBody"}},
                                                                    {"/TD", {"/TR"}},
                                                                    {"/TH", {"/TR"}},
                                                                    {"/TOCI", {"/TOC"}},
                                                                    {"/THead", {"/Table"}},
                                                                    {"/Caption", {"/Table", "/Figure", "/TOC"}}};
        for (const auto& element : objects.elements)
            if (const auto home = homes.find(element.type); home != homes.end())
                CHECK(home->second.contains(objects.elements.at(static_cast<std::size_t>(element.parent)).type));
        CHECK(objects.elements.at(1).type == "/H1");  // the first thing said
        std::map<int, std::size_t> widths;            // of the rows of each table
        for (const auto& element : objects.elements) {
            if (element.type == "/TH") CHECK(!element.scope.empty());
            if (element.type != "/TR") continue;
            int table = element.parent;
            if (objects.elements.at(static_cast<std::size_t>(table)).type != "/Table")
                table = objects.elements.at(static_cast<std::size_t>(table)).parent;
            CHECK(widths.try_emplace(table, element.children.size()).first->second == element.children.size());
        }
        CHECK(widths.size() > 3);
        const outside::TemporaryFile file(pdf.bytes);
        CHECK(outside::run("qpdf --check " + file.path()).status == 0);
        const std::string fonts = outside::run("pdffonts " + file.path()).output;
        CHECK(fonts.find("+Inter") != std::string::npos);  // a subset
        CHECK(fonts.find(" no ") == std::string::npos);    // all embedded, all back into text
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
