#include "platform/shell/photo_work.h"

#include <utility>

namespace tapwright::desktop {

PhotoWorker::~PhotoWorker() {
    {
        const std::lock_guard lock(mutex_);
        stopping_ = true;
        waiting_.clear();
    }
    wake_.notify_all();
    if (thread_.joinable()) thread_.join();
}

void PhotoWorker::begin(const Id& about, const std::vector<std::string>& paths) {
    const std::lock_guard lock(mutex_);
    if (progress_.done == progress_.all) progress_ = {};
    for (const std::string& path : paths) waiting_.push_back({about, path, round_});
    progress_.all += paths.size();
    if (!thread_.joinable()) thread_ = std::thread([this] { work(); });
    wake_.notify_all();
}

void PhotoWorker::cancel() {
    const std::lock_guard lock(mutex_);
    round_ += 1;
    waiting_.clear();
    ready_.clear();
    progress_ = {};
}

PhotoWorker::Progress PhotoWorker::progress() const {
    const std::lock_guard lock(mutex_);
    return progress_;
}

std::vector<ReadyPhoto> PhotoWorker::take_ready() {
    const std::lock_guard lock(mutex_);
    return std::exchange(ready_, {});
}

void PhotoWorker::work() {
    std::unique_lock lock(mutex_);
    while (!stopping_) {
        if (waiting_.empty()) {
            wake_.wait(lock);
            continue;
        }
        const Wanted wanted = waiting_.front();
        waiting_.pop_front();
        lock.unlock();
        Result<PreparedPhoto> photo = prepare_photo(wanted.path);
        lock.lock();
        if (wanted.round != round_) continue;
        ready_.push_back({wanted.about, std::move(photo)});
        progress_.done += 1;
    }
}

}  // namespace tapwright::desktop
