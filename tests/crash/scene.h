// A folder with a small job and what commands take in, each command of the command line as somebody would give it
// there, and what must hold after a command was disturbed, by whatever it was.
#pragma once

#include <chrono>
#include <set>
#include <string>
#include <vector>

namespace tapwright::test {

struct Given {
    std::vector<std::string> words;  // behind `tapwright`, with names inside the scene's folder
    std::string makes;               // the file it is to make; "" for none
    bool changes = false;            // the job
    bool undone_first = false;       // needs a job whose last change was undone
};

// What a job file holds: its content as JSON, and how many batches, ops and photos there are.
struct Held {
    std::string json;
    std::string counts;  // "2 batches, 45 ops, 1 photos"
    std::string changes() const { return counts.substr(0, counts.rfind(',')); }
};

struct Ended {
    bool by_itself = false;
    int status = 0;  // of exit, or the signal
    std::string out;
    std::string err;
};

class Scene {
public:
    Scene();
    Scene(const Scene&) = delete;
    Scene& operator=(const Scene&) = delete;
    ~Scene();

    static std::vector<Given> all_given();
    // Lays the folder out anew and notes what is there; then runs the command undisturbed and notes what there is to
    // be after it. Leaves the folder as at first.
    void begin(const Given& given);
    void lay_out() const;
    // Ends the test with what went wrong. After a disturbed command: the job as before or as after, the file it makes
    // not there or whole, the names of before or after; done where it says so. Then the same command works as it is.
    // `may_leave_parts`: a part's name may be there until then, for nobody could take it away.
    void check(const Ended& ended, bool may_leave_parts);

    const std::string& folder() const { return work_; }
    const Ended& undisturbed() const { return good_; }
    // Where a child's output goes.
    std::string out() const { return root_ + "/stdout"; }
    std::string err() const { return root_ + "/stderr"; }

private:
    bool same_made() const;
    void check_names(bool may_leave_parts) const;
    std::string state() const;

    std::string root_;
    std::string work_;
    Given given_;
    Held before_;
    Held after_;
    Ended good_;
    std::vector<std::string> names_before_;
    std::vector<std::string> names_after_;
    std::string made_;                  // what the undisturbed command made: size, or counts of a job
    std::set<std::string> works_from_;  // states of the folder in which the command was seen to work
};

// Runs the command line in a child process, with `prepare` called in it just before and `finish` just after.
Ended run_forked(const Scene& scene, const std::vector<std::string>& words, void (*prepare)(), void (*finish)());

// Runs the real program, and kills it after a while; 0: lets it run to its end.
Ended run_program(const Scene& scene, const std::vector<std::string>& words, const std::string& program,
                  std::chrono::microseconds killed_after);

// What is being tried, for fail() to tell.
std::string& where();
[[noreturn]] void fail(const std::string& why);
std::string line_of(const std::vector<std::string>& words);

}  // namespace tapwright::test

// platform/main.cpp under another name.
int tapwright_main(int count, char** arguments);
