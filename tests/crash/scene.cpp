#include "tests/crash/scene.h"

#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <thread>
#include <utility>

#include "core/base/sha256.h"
#include "core/exchange/job_json.h"
#include "core/session/session.h"
#include "core/words/words.h"
#include "tests/photos/made_pictures.h"

namespace tapwright::test {
namespace {

namespace fs = std::filesystem;

std::string bytes_of(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

void put_bytes(const std::string& path, const std::string& bytes) {
    std::ofstream(path, std::ios::binary) << bytes;
}

std::string sample_json(const std::string& photo_hash) {
    return R"({"tapwright_job":1,"job":{"name":"Mill House"},"rooms":[{"id":"r1","name":"Hall","length_m":9,"width_m":6,
"height_m":3,"noise_dba":50}],"amplifiers":[{"id":"a1","name":"Amplifier 1","rated_w":180}],
"channels":[{"id":"c1","name":"Output 1","amplifier":"a1","rated_w":180}],
"zones":[{"id":"z1","name":"Zone 1","channel":"c1","limit_w":100}],
"speaker_types":[{"id":"t1","name":"Ceiling 165 mm","taps_w":[2.5,5,10],"sens_db":90,"cone_deg":110}],
"points":[{"id":"p1","kind":"speaker","label":"C-1","room":"r1","fed_from":"z1","type":"t1","tap_w":5,"state":"fitted",
"length_m":12},{"id":"p2","kind":"speaker","label":"C-2","room":"r1","fed_from":"p1","type":"t1","tap_w":5,
"state":"fitted","length_m":6}],"photos":[{"id":"f1","about":"r1","sha256":")" +
           photo_hash + "\"}]}";
}

Held held_in(const std::string& path) {
    const Result<Session> session = Session::open(path, Access::read);
    if (!session) fail(in_english(session.refusal()));
    const auto verified = session->verify();
    if (!verified) fail(in_english(verified.refusal()));
    return {write_job(session->job()), std::to_string(verified->batches) + " batches, " +
                                           std::to_string(verified->ops) + " ops, " + std::to_string(verified->blobs) +
                                           " photos"};
}

// What a file is, as far as two runs of a command agree in it: times and ids differ.
std::string sort_of(const std::string& path) {
    if (path.ends_with(".tapjob")) return held_in(path).counts;
    return std::to_string(fs::file_size(path)) + " bytes";
}

std::vector<std::string> names_in(const std::string& folder) {
    std::vector<std::string> names;
    for (const auto& entry : fs::recursive_directory_iterator(folder))
        names.push_back(entry.path().lexically_relative(folder).string());
    std::sort(names.begin(), names.end());
    return names;
}

void nothing() {}

// A child in the scene's folder, its output into files.
pid_t fork_into(const Scene& scene) {
    fs::remove(scene.out());
    fs::remove(scene.err());
    std::fflush(nullptr);
    const pid_t child = ::fork();
    if (child < 0) fail("no child");
    if (child > 0) return child;
    ::alarm(10);  // a command that hangs is ended by a signal, which is told
    if (::chdir(scene.folder().c_str()) != 0 || !std::freopen("/dev/null", "r", stdin) ||
        !std::freopen(scene.out().c_str(), "w", stdout) || !std::freopen(scene.err().c_str(), "w", stderr))
        ::_exit(126);
    return 0;
}

Ended wait_for(const Scene& scene, pid_t child) {
    int status = 0;
    if (::waitpid(child, &status, 0) != child) fail("the child is lost");
    return {WIFEXITED(status), WIFEXITED(status) ? WEXITSTATUS(status) : WTERMSIG(status), bytes_of(scene.out()),
            bytes_of(scene.err())};
}

std::vector<char*> pointers_to(std::vector<std::string>& words) {
    std::vector<char*> pointers;
    for (std::string& word : words) pointers.push_back(word.data());
    pointers.push_back(nullptr);
    return pointers;
}

}  // namespace

std::string& where() {
    static std::string place;
    return place;
}

void fail(const std::string& why) {
    std::fprintf(stderr, "%s: %s\n", where().c_str(), why.c_str());
    std::exit(1);
}

std::string line_of(const std::vector<std::string>& words) {
    std::string line = "tapwright";
    for (const std::string& word : words) line += " " + word;
    return line;
}

Ended run_forked(const Scene& scene, const std::vector<std::string>& words, void (*prepare)(), void (*finish)()) {
    std::vector<std::string> own{"tapwright"};
    own.insert(own.end(), words.begin(), words.end());
    const pid_t child = fork_into(scene);
    if (child == 0) {
        std::vector<char*> pointers = pointers_to(own);
        prepare();
        const int status = tapwright_main(static_cast<int>(own.size()), pointers.data());
        finish();
        std::fflush(nullptr);
        ::_exit(status);
    }
    return wait_for(scene, child);
}

Ended run_program(const Scene& scene, const std::vector<std::string>& words, const std::string& program,
                  std::chrono::microseconds killed_after) {
    std::vector<std::string> own{program};
    own.insert(own.end(), words.begin(), words.end());
    const pid_t child = fork_into(scene);
    if (child == 0) {
        ::execv(program.c_str(), pointers_to(own).data());
        ::_exit(127);
    }
    if (killed_after.count() > 0) {
        std::this_thread::sleep_for(killed_after);
        ::kill(child, SIGKILL);
    }
    return wait_for(scene, child);
}

Scene::Scene() {
    const fs::path memory = "/dev/shm";  // nothing here depends on a real disk, and syncs are many
    const fs::path base = fs::is_directory(memory) ? memory : fs::temp_directory_path();
    root_ = (base / ("tapwright-disturbed-" + std::to_string(::getpid()))).string();
    work_ = root_ + "/work";
    const std::string kept = root_ + "/kept";
    fs::create_directories(kept + "/photos");
    fs::create_directories(root_ + "/settings");
    ::setenv("XDG_CONFIG_HOME", (root_ + "/settings").c_str(), 1);
    ::setenv("HOME", work_.c_str(), 1);
    ::setenv("TAPWRIGHT_LANGUAGE", "en", 1);
    ::setenv("SOURCE_DATE_EPOCH", "1772438400", 1);
    const std::string photo = made::camera_jpeg(60, 40, 1);
    put_bytes(kept + "/photos/" + hex(sha256(photo)) + ".jpg", photo);
    put_bytes(kept + "/job.json", sample_json(hex(sha256(photo))));
    put_bytes(kept + "/photo.jpg", made::camera_jpeg(60, 40, 2));
    put_bytes(kept + "/points.csv", "kind,label,room,tap_w\nspeaker,C-7,Hall,5\nspeaker,C-8,Hall,2.5\n");
    put_bytes(kept + "/changes.json", R"([{"op":"set","kind":"point","id":"p1","fields":{"tap_w":2.5}}])");
    lay_out();
    for (const std::vector<std::string>& words :
         {std::vector<std::string>{"import", "job.json", "a.tapjob"}, {"set", "a.tapjob", "p2", "tap_w=2.5"}}) {
        const Ended ended = run_forked(*this, words, nothing, nothing);
        if (!ended.by_itself || ended.status > 1) fail(line_of(words) + ": " + ended.err);
    }
    fs::copy_file(work_ + "/a.tapjob", kept + "/a.tapjob");
}

Scene::~Scene() {
    std::error_code error;
    fs::remove_all(root_, error);
}

void Scene::lay_out() const {
    fs::remove_all(work_);
    fs::copy(root_ + "/kept", work_, fs::copy_options::recursive);
}

std::vector<Given> Scene::all_given() {
    return {
        {{"new", "b.tapjob", "--name", "Barn"}, "b.tapjob"},
        {{"import", "job.json", "b.tapjob"}, "b.tapjob"},
        {{"photo", "a.tapjob", "p1", "photo.jpg"}, "", true},
        {{"seal", "a.tapjob", "b.tapjob"}, "b.tapjob"},
        {{"sheet", "a.tapjob", "sheet.html"}, "sheet.html", true},
        {{"sheet", "a.tapjob", "sheet.pdf"}, "sheet.pdf", true},
        {{"labels", "a.tapjob", "labels.html"}, "labels.html"},
        {{"undo", "a.tapjob"}, "", true},
        {{"redo", "a.tapjob"}, "", true, true},
        {{"set", "a.tapjob", "p1", "tap_w=10"}, "", true},
        {{"remove", "a.tapjob", "p2"}, "", true},
        {{"add", "a.tapjob", "room", "name=Shed"}, "", true},
        {{"add", "a.tapjob", "points", "--csv", "points.csv"}, "", true},
        {{"read", "a.tapjob", "z1", "ohms=500", "hz=1000"}, "", true},
        {{"survey", "a.tapjob", "r1", "t1", "--keep"}, "", true},
        {{"trial", "a.tapjob", "changes.json", "--keep", "Less"}, "", true},
        {{"fit", "a.tapjob", "z1", "--add", "t1x2@10"}, ""},
        {{"export", "a.tapjob", "out.json"}, "out.json"},
        {{"export", "a.tapjob", "table"}, "table/points.csv"},
        {{"verify", "a.tapjob"}, ""},
        {{"check", "a.tapjob", "--why"}, ""},
        {{"solve", "a.tapjob", "--json"}, ""},
        {{"list", "a.tapjob"}, ""},
        {{"show", "a.tapjob", "p1"}, ""},
        {{"history", "a.tapjob"}, ""},
        {{"cable", "--load", "100", "--length", "50", "--volts", "70.7"}, ""},
        {{"help"}, ""},
    };
}

void Scene::begin(const Given& given) {
    given_ = given;
    works_from_.clear();
    static const std::string plain = bytes_of(root_ + "/kept/a.tapjob");
    put_bytes(root_ + "/kept/a.tapjob", plain);
    lay_out();
    if (given.undone_first) {
        if (run_forked(*this, {"undo", "a.tapjob"}, nothing, nothing).status > 1) fail("nothing to undo");
        put_bytes(root_ + "/kept/a.tapjob", bytes_of(work_ + "/a.tapjob"));
    }
    names_before_ = names_in(work_);
    before_ = held_in(work_ + "/a.tapjob");
    good_ = run_forked(*this, given.words, nothing, nothing);
    if (!good_.by_itself || good_.status > 1) fail(line_of(given.words) + ": " + good_.err);
    names_after_ = names_in(work_);
    after_ = held_in(work_ + "/a.tapjob");
    if ((after_.counts != before_.counts) != given.changes) fail(line_of(given.words) + " is not as described here");
    made_ = given.makes.empty() ? "" : sort_of(work_ + "/" + given.makes);
    lay_out();
}

bool Scene::same_made() const {
    const std::string path = work_ + "/" + given_.makes;
    return given_.makes.empty() || (fs::exists(path) && sort_of(path) == made_);
}

void Scene::check_names(bool may_leave_parts) const {
    for (const std::string& name : names_in(work_)) {
        const bool is_known = std::binary_search(names_before_.begin(), names_before_.end(), name) ||
                              std::binary_search(names_after_.begin(), names_after_.end(), name);
        const bool may_be = name == "a.tapjob-journal" || (may_leave_parts && name.find(".tapwright-part-") == 0);
        if (!is_known && !may_be) fail(name + " was left");
    }
}

// All that a command finds there, byte for byte.
std::string Scene::state() const {
    std::string all;
    for (const std::string& folder : {work_, root_ + "/settings"})
        for (const std::string& name : names_in(folder)) {
            const std::string path = folder + "/" + name;
            all += path + '\n';
            if (fs::is_regular_file(path)) all += hex(sha256(bytes_of(path))) + '\n';
        }
    return all;
}

void Scene::check(const Ended& ended, bool may_leave_parts) {
    const bool is_done = ended.by_itself && ended.status < 2;
    if (ended.by_itself && ended.status > 3) fail("exit status " + std::to_string(ended.status));
    if (ended.by_itself && ended.status >= 2 && ended.err.find("tapwright: ") != 0 &&
        ended.err.find("{\"error\":") != 0)
        fail("no sentence: " + ended.err);
    if (is_done && ended.status != good_.status) fail("exit status " + std::to_string(ended.status));
    if (is_done && ended.out.size() != good_.out.size()) fail("another answer: " + ended.out);
    const Held now = held_in(work_ + "/a.tapjob");
    // A photo's bytes are kept before its record is: without one they are in nobody's way, and used the next time.
    const bool is_before = now.json == before_.json && now.counts.starts_with(before_.changes());
    const bool is_after = now.counts == after_.counts;
    if (!is_before && !is_after) fail("the job holds neither what it held nor what it was to hold: " + now.counts);
    // On a disk that never works again nobody can read what became of the commit.
    if (ended.by_itself && ended.status == 2 && given_.changes && !is_before && !may_leave_parts)
        fail("not refused but kept: " + ended.err);
    // The same status tells of a sheet that stands although the job could not record it.
    const bool is_kept = ended.by_itself && ended.status == 3;
    const bool is_unrecorded =
        is_kept && ended.err.find("was written, but the job does not record it") != ended.err.npos;
    if (is_unrecorded && (!same_made() || (!is_before && !may_leave_parts))) fail("not as it says: " + ended.err);
    if ((is_done || (is_kept && !is_unrecorded) || (given_.changes && !ended.out.empty())) && !is_after)
        fail("what was acknowledged is lost");
    const bool is_made = !given_.makes.empty() && fs::exists(work_ + "/" + given_.makes);
    if (is_done ? !same_made() : is_made && !same_made())
        fail(given_.makes + " is not " + made_ + " but " + sort_of(work_ + "/" + given_.makes) + ": " + ended.err);
    check_names(may_leave_parts);
    if (is_done || is_made || (given_.changes && is_after)) return;
    std::string from = state();
    if (works_from_.contains(from)) return;
    const Ended again = run_forked(*this, given_.words, nothing, nothing);
    if (!again.by_itself || again.status != good_.status) fail("a second run does not work: " + again.err);
    if (held_in(work_ + "/a.tapjob").counts != after_.counts || !same_made()) fail("a second run does something else");
    check_names(may_leave_parts && given_.makes.empty());
    works_from_.insert(std::move(from));
}

}  // namespace tapwright::test
