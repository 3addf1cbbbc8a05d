// The browser's private folder (OPFS), by the worker's script.
#pragma once

#include "platform/web/store/folder.h"
#include "platform/web/store/handles.h"

namespace tapwright::web {

class PageFolder : public Folder {
public:
    // `files` outlives it.
    explicit PageFolder(OpenFiles& files) : files_(files) {}

    // Before start(): the worker's script has tried.
    void set_lasts(bool lasts) { lasts_ = lasts; }
    bool lasts() const override { return lasts_; }

    void list(Done<std::vector<FolderEntry>> done) override;
    void open(const std::vector<std::string>& names, Done<void> done) override;
    void close(const std::vector<std::string>& names) override;
    void remove(const std::vector<std::string>& names, Done<void> done) override;
    void copy(const std::string& from, const std::string& to, Done<void> done) override;
    void read(const std::string& name, std::size_t most_bytes, Done<std::string> done) override;

private:
    OpenFiles& files_;
    bool lasts_ = true;
};

// Why the browser did not do what it was asked, by its own name for it.
Refusal refused_by_browser(const std::string& trouble);

}  // namespace tapwright::web
