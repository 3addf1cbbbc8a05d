// The pages, as the validator html-validate sees them: its rules follow the HTML standard
// (https://html.spec.whatwg.org) and, for what they mean to who cannot see, WCAG.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>

#include "core/exchange/job_json.h"
#include "core/html/html.h"
#include "core/sheet/labels.h"
#include "core/words/words.h"
#include "platform/handover/handover.h"
#include "platform/handover/photo_files.h"
#include "tests/photos/made_pictures.h"
#include "tests/print/outside.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

const Author ana{"Ana", ""};

void put(const std::string& path, const std::string& bytes) {
    std::ofstream(path, std::ios::binary) << bytes;
}

ChangeList demo() {
    std::ifstream file(TAPWRIGHT_SOURCE_DIR "/assets/demo.json", std::ios::binary);
    const std::string text{std::istreambuf_iterator<char>(file), {}};
    Result<JobText> read = read_job(text, "demo.json");
    REQUIRE(read.ok());
    return std::move(read->changes);
}

// Names that a page must not take for markup, and scripts of all directions.
ChangeList odd_names() {
    ChangeList changes = small_system();
    changes.push_back(
        set(Kind::job, "job", {{"name", "<b>Mill & \"House\"</b>"}, {"notes", "a\nb --> <!-- &amp; ]]>"}}));
    changes.push_back(set(Kind::room, "r1", {{"name", "قاعة المؤتمرات"}}));
    changes.push_back(set(Kind::zone, "z1", {{"name", "大会議室 </table>"}}));
    changes.push_back(set(Kind::point, "p1", {{"label", "Ω'\"1"}, {"notes", "<script>alert(1)</script>"}}));
    changes.push_back(add(Kind::snag, "s1", {{"text", "<img src=x>"}, {"about", "p1"}, {"share", "owner"}}));
    return changes;
}

class Pages {
public:
    void add(const std::string& name, const std::string& html) {
        put(folder_.file(name + ".html"), html);
        ++count_;
    }
    void add_sheets(const std::string& name, ChangeList content) {
        Result<Session> made =
            Session::create(folder_.file(name + ".tapjob"), command(std::move(content)), ana, clock_.next());
        REQUIRE_MESSAGE(made.ok(), (made.ok() ? "" : in_english(made.refusal())));
        put(folder_.file("a.jpg"), made::private_photo());
        const Id about = made->job().all<Room>().front().id;
        REQUIRE(add_photo(*made, about, folder_.file("a.jpg"),
                          {{"caption", "<i>door</i>"}, {"share", "owner"}, {"pin", Map{{"x", 0.2}, {"y", 0.7}}}}, ana,
                          clock_.next())
                    .ok());
        for (const SheetReader reader : {SheetReader::owner, SheetReader::technician}) {
            const Result<MadeSheet> sheet =
                make_sheet(*made, {reader, document::Paper::a4, SheetMedium::html}, clock_.next());
            REQUIRE(sheet.ok());
            add(name + (reader == SheetReader::owner ? "-owner" : "-technician"), sheet->bytes);
        }
        add(name + "-labels", html_page(label_sheet(made->job(), made->derived(), {}, Words())));
    }
    outside::Outcome validated() const {
        REQUIRE(count_ > 0);
        put(folder_.file("rules.json"), R"({"root": true, "extends": ["html-validate:standard"]})");
        const std::string folder = folder_.path().string();
        return outside::run(TAPWRIGHT_HTML_VALIDATOR " --formatter text -c " + folder + "/rules.json " + folder +
                            "/*.html");
    }

private:
    TemporaryFolder folder_;
    Clock clock_;
    int count_ = 0;
};

}  // namespace

TEST_CASE("the sheets and the labels of the demo job, and of one with odd names, are valid HTML") {
    REQUIRE_MESSAGE(std::filesystem::exists(TAPWRIGHT_HTML_VALIDATOR),
                    "The validator is not there; `platform/fetch html-validate` fetches it.");
    Pages pages;
    pages.add_sheets("demo", demo());
    pages.add_sheets("odd", odd_names());
    const outside::Outcome outcome = pages.validated();
    CAPTURE(outcome.output);
    CHECK(outcome.status == 0);
}

TEST_CASE("the validator does find what is wrong") {
    REQUIRE(std::filesystem::exists(TAPWRIGHT_HTML_VALIDATOR));
    Pages pages;
    pages.add("wrong",
              "<!DOCTYPE html>\n<html lang=\"en\"><head><title>a</title></head><body><p><table></p></body></html>\n");
    CHECK(pages.validated().status != 0);
}
