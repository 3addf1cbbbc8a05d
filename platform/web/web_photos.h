// Photos by the browser's own decoder: taken in from the chooser, and made into pixels for the screen.
//
// A photo is decoded, turned upright, made smaller and encoded anew before it is kept, both its original and its copy:
// so nothing but the visible picture is in the job, no place and no maker. The file that was chosen stays where it is.
#pragma once

#include <deque>
#include <map>
#include <string>
#include <vector>

#include "platform/jobs/keep_photo.h"
#include "platform/web/store/job_store.h"
#include "ui/screens/common/ports.h"

namespace tapwright::web {

class WebPhotos {
public:
    // `jobs` outlives it.
    explicit WebPhotos(JobStore& jobs) : jobs_(jobs) {}

    void take(const Id& about, const std::vector<std::string>& files);
    ui::PhotoWork work() const { return {done_, all_}; }
    void cancel();

    std::vector<ReadyPhoto> take_ready();

    // A width of 0: they are being made.
    Result<ui::PhotoPixels> pixels(const std::string& sha256, int longest);

private:
    void take_next();

    struct Wanted {
        Id about;
        std::string file;
    };
    JobStore& jobs_;
    std::deque<Wanted> waiting_;
    std::vector<ReadyPhoto> ready_;
    std::size_t done_ = 0, all_ = 0;
    bool is_busy_ = false;
    int round_ = 0;  // cancelling begins another; what belongs to an older one is forgotten

    std::map<std::string, Result<ui::PhotoPixels>> pixels_;  // ready ones, and those on their way with a width of 0
};

}  // namespace tapwright::web
