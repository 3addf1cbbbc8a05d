// Photos made ready on a thread of their own, so that the window stays quick: read, checked, decoded, made small.
//
// Only that happens on the thread. What is ready is fetched by the window's own thread, which keeps it in the job.
#pragma once

#include <condition_variable>
#include <deque>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

#include "core/base/result.h"
#include "core/job/id.h"
#include "platform/handover/photo_files.h"

namespace tapwright::desktop {

class PhotoWorker {
public:
    PhotoWorker() = default;
    ~PhotoWorker();
    PhotoWorker(const PhotoWorker&) = delete;
    PhotoWorker& operator=(const PhotoWorker&) = delete;

    // Files to be photos of a record, behind those still waiting.
    void begin(const Id& about, const std::vector<std::string>& paths);
    // Forgets what waits; one in the middle is finished and forgotten too.
    void cancel();

    struct Progress {
        std::size_t done = 0, all = 0;  // since nothing waited last
    };
    Progress progress() const;

    std::vector<ReadyPhoto> take_ready();

private:
    struct Wanted {
        Id about;
        std::string path;
        int round = 0;
    };
    void work();

    mutable std::mutex mutex_;
    std::condition_variable wake_;
    std::deque<Wanted> waiting_;
    std::vector<ReadyPhoto> ready_;
    Progress progress_;
    int round_ = 0;  // cancelling begins another; what belongs to an older one is forgotten
    bool stopping_ = false;
    std::thread thread_;
};

}  // namespace tapwright::desktop
