// A sheet made from a job file: what must not be in it, what must be the same each time, and what happens on a full
// disk.
#include "platform/handover/handover.h"

#include <doctest/doctest.h>
#include <sys/resource.h>
#include <unistd.h>

#include <csignal>
#include <cstdlib>
#include <fstream>
#include <functional>
#include <iterator>
#include <new>
#include <stdexcept>

#include "core/words/words.h"
#include "platform/handover/photo_files.h"
#include "platform/print/own_process.h"
#include "platform/print/pdf.h"
#include "platform/system/files.h"
#include "tests/photos/made_pictures.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

const Author ana{"Ana", ""};

std::string bytes_of(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

void put(const std::string& path, const std::string& bytes) {
    std::ofstream(path, std::ios::binary) << bytes;
}

// A job with three photos of its hall: one that everybody may see, one for technicians, one that is private. Each has
// its own picture, so that none is kept twice.
struct Job3 {
    Job3() {
        Result<Session> made = Session::create(folder.file("a.tapjob"), command(small_system()), ana, clock.next());
        REQUIRE(made.ok());
        session = std::make_unique<Session>(std::move(*made));
        const char* shares[] = {"owner", "technician", "private"};
        for (int i = 0; i < 3; ++i) {
            const std::string path = folder.file(std::string(shares[i]) + ".jpg");
            put(path, made::private_photo() + std::string(static_cast<std::size_t>(i), 'x'));
            const auto added = add_photo(*session, Id("r1"), path,
                                         {{"caption", "Caption for " + std::string(shares[i])}, {"share", shares[i]}},
                                         ana, clock.next());
            REQUIRE(added.ok());
        }
    }
    MadeSheet sheet(SheetReader reader, SheetMedium medium, const Stamp& stamp) const {
        Result<MadeSheet> made = make_sheet(*session, {reader, document::Paper::a4, medium}, stamp);
        REQUIRE(made.ok());
        return *made;
    }
    TemporaryFolder folder;
    Clock clock;
    std::unique_ptr<Session> session;
};

// RFC 4648, as data: addresses hold it.
std::string from_base64(std::string_view text) {
    const std::string_view digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string bytes;
    unsigned held = 0;
    int bits = 0;
    for (const char c : text) {
        const std::size_t digit = digits.find(c);
        if (digit == std::string_view::npos) break;
        held = held << 6 | static_cast<unsigned>(digit);
        bits += 6;
        if (bits < 8) continue;
        bits -= 8;
        bytes.push_back(static_cast<char>(held >> bits & 0xFF));
    }
    return bytes;
}

// Every picture that the page carries within itself.
std::vector<std::string> pictures_of(const std::string& html) {
    const std::string mark = "data:image/jpeg;base64,";
    std::vector<std::string> pictures;
    for (std::size_t at = 0; (at = html.find(mark, at)) != std::string::npos; at += mark.size())
        pictures.push_back(from_base64(std::string_view(html).substr(at + mark.size())));
    return pictures;
}

void check_bare(const std::string& bytes) {
    for (const char* secret : made::secrets) {
        CAPTURE(secret);
        CHECK(bytes.find(secret) == std::string::npos);
    }
    CHECK(bytes.find("Exif") == std::string::npos);
}

}  // namespace

TEST_CASE("what a camera wrote beside the picture is in no PDF and in no page") {
    Job3 job;
    const Stamp stamp = job.clock.next();
    for (const SheetReader reader : {SheetReader::owner, SheetReader::technician}) {
        // A PDF holds a JPEG as it is, so its bytes can be searched.
        const MadeSheet pdf = job.sheet(reader, SheetMedium::pdf, stamp);
        check_bare(pdf.bytes);
        CHECK(pdf.bytes.find("/DCTDecode") != std::string::npos);
        const MadeSheet page = job.sheet(reader, SheetMedium::html, stamp);
        check_bare(page.bytes);
        const std::vector<std::string> pictures = pictures_of(page.bytes);
        REQUIRE_FALSE(pictures.empty());
        for (const std::string& picture : pictures) {
            CHECK(picture.starts_with("\xFF\xD8\xFF"));
            check_bare(picture);
        }
    }
}

TEST_CASE("a private photo stands on no sheet, a technician's only on theirs") {
    Job3 job;
    const Stamp stamp = job.clock.next();
    const std::string owner = job.sheet(SheetReader::owner, SheetMedium::html, stamp).bytes;
    const std::string technician = job.sheet(SheetReader::technician, SheetMedium::html, stamp).bytes;
    CHECK(owner.find("Caption for owner") != std::string::npos);
    CHECK(owner.find("Caption for technician") == std::string::npos);
    CHECK(technician.find("Caption for technician") != std::string::npos);
    for (const std::string& page : {owner, technician}) CHECK(page.find("Caption for private") == std::string::npos);
}

TEST_CASE("the same job on the same day gives the same bytes, also once its making is recorded") {
    Job3 job;
    const Stamp stamp = job.clock.next();
    for (const SheetMedium medium : {SheetMedium::pdf, SheetMedium::html}) {
        const MadeSheet first = job.sheet(SheetReader::owner, medium, stamp);
        const Result<bool> recorded = record_sheet(*job.session, first, ana, job.clock.next());
        REQUIRE(recorded.ok());
        CHECK(*recorded);
        CHECK(job.sheet(SheetReader::owner, medium, stamp).bytes == first.bytes);
    }
}

TEST_CASE("on a full disk the old sheet stays whole and nothing is left beside it") {
    Job3 job;
    const std::string path = job.folder.file("sheet.pdf");
    put(path, "the old sheet");
    const MadeSheet sheet = job.sheet(SheetReader::owner, SheetMedium::pdf, job.clock.next());
    const auto files = [&] { return std::distance(std::filesystem::directory_iterator(job.folder.path()), {}); };
    const auto before = files();
    rlimit old{};
    ::getrlimit(RLIMIT_FSIZE, &old);
    ::signal(SIGXFSZ, SIG_IGN);
    const rlimit small{sheet.bytes.size() / 2, old.rlim_max};
    ::setrlimit(RLIMIT_FSIZE, &small);
    const Result<void> written = write_file(path, sheet.bytes);
    ::setrlimit(RLIMIT_FSIZE, &old);
    CHECK_FALSE(written.ok());
    CHECK(bytes_of(path) == "the old sheet");
    CHECK(files() == before);
    CHECK(write_file(path, sheet.bytes).ok());
    CHECK(bytes_of(path) == sheet.bytes);
}

TEST_CASE("a photo that finds no room on the disk leaves the job as it was") {
    Job3 job;
    const std::string picture = job.folder.file("new.jpg");
    put(picture, made::private_photo() + std::string(400'000, 'y'));
    const std::size_t photos = job.session->job().all<Photo>().size();
    const std::size_t batches = job.session->batch_count();
    rlimit old{};
    ::getrlimit(RLIMIT_FSIZE, &old);
    ::signal(SIGXFSZ, SIG_IGN);
    const rlimit small{std::filesystem::file_size(job.session->path()) + 100'000, old.rlim_max};
    ::setrlimit(RLIMIT_FSIZE, &small);
    const auto refused = add_photo(*job.session, Id("r1"), picture, {}, ana, job.clock.next());
    ::setrlimit(RLIMIT_FSIZE, &old);
    REQUIRE_FALSE(refused.ok());
    CHECK(in_english(refused.refusal()).find(".tapjob") != std::string::npos);
    CHECK(job.session->job().all<Photo>().size() == photos);
    CHECK(job.session->batch_count() == batches);
    const std::string path = job.session->path();
    job.session.reset();
    Result<Session> opened = Session::open(path, Access::write);
    REQUIRE(opened.ok());
    CHECK(opened->job().all<Photo>().size() == photos);
    CHECK(add_photo(*opened, Id("r1"), picture, {}, ana, job.clock.next()).ok());
}

TEST_CASE("a job that can only be read gives its sheet, and says that nothing records it") {
    Job3 job;
    const std::string path = job.session->path();
    job.session.reset();
    Result<Session> opened = Session::open(path, Access::read);
    REQUIRE(opened.ok());
    const Result<MadeSheet> sheet = make_sheet(*opened, {}, job.clock.next());
    REQUIRE(sheet.ok());
    const Result<bool> recorded = record_sheet(*opened, *sheet, ana, job.clock.next());
    REQUIRE(recorded.ok());
    CHECK_FALSE(*recorded);
}

TEST_CASE("a document that was refused made the next one wait for ever") {
    const auto refused = [](const document::Document& document) {
        const Result<print::Pdf> pdf = print::render_pdf(document);
        REQUIRE_FALSE(pdf.ok());
        return in_english(pdf.refusal());
    };
    document::Document dateless, mute, whole;
    whole.title = dateless.title = mute.title = "Barn";
    whole.blocks.push_back(document::Heading{1, "Barn"});
    dateless.created = "yesterday";
    mute.blocks.push_back(document::Figure{document::Picture(), "Bar of the barn", ""});
    std::string first;
    for (int k = 0; k < 10; ++k) {
        CHECK(refused(dateless) ==
              "The sheet's date yesterday is not a time as in RFC 3339; write it as 2026-05-04T09:30:00Z.");
        CHECK(refused(mute).starts_with("The figure Bar of the barn has no alternative text; say "));
        const Result<print::Pdf> pdf = print::render_pdf(whole);
        REQUIRE(pdf.ok());
        CHECK(pdf->pages == 1);
        if (first.empty()) first = pdf->bytes;
        CHECK(pdf->bytes == first);
    }
}

#ifndef __SANITIZE_ADDRESS__  // with it the pages are set in this process
namespace {

// Ends this test where a child comes back to it.
class OnlyHere {
public:
    OnlyHere() = default;
    OnlyHere(const OnlyHere&) = delete;
    OnlyHere& operator=(const OnlyHere&) = delete;
    ~OnlyHere() {
        if (::getpid() == here_) return;
        ::kill(here_, SIGKILL);
        ::_exit(1);
    }

private:
    pid_t here_ = ::getpid();
};

}  // namespace

TEST_CASE("whatever ends the setting of pages is one sentence here, and nobody goes on twice") {
    const auto sentence = [](const std::function<Result<print::Pdf>()>& make) {
        const OnlyHere only_here;
        const Result<print::Pdf> pdf = print::in_own_process(make);
        REQUIRE_FALSE(pdf.ok());
        return in_english(pdf.refusal());
    };
    const auto throws = []() -> Result<print::Pdf> { throw std::logic_error("not one of memory"); };
    const auto aborts = []() -> Result<print::Pdf> { std::abort(); };
    const auto leaves = []() -> Result<print::Pdf> { ::_exit(0); };
    for (const std::function<Result<print::Pdf>()>& make :
         {std::function<Result<print::Pdf>()>(throws), std::function<Result<print::Pdf>()>(aborts),
          std::function<Result<print::Pdf>()>(leaves)})
        CHECK(sentence(make).starts_with("The pages could not be set, most likely "));
    const auto lacks_memory = []() -> Result<print::Pdf> { throw std::bad_alloc(); };
    CHECK_THROWS_AS((void)print::in_own_process(lacks_memory), std::bad_alloc);
}
#endif
