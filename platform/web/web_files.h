// Files made of the open job, for the page to show, print, share or save. The page keeps their bytes.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/words/words.h"
#include "platform/web/store/job_store.h"
#include "ui/screens/common/ports.h"

namespace tapwright::web {

class WebFiles {
public:
    // `jobs` outlives it.
    explicit WebFiles(JobStore& jobs) : jobs_(jobs) {}

    // Sheets and labels as pages, named after the job; a sealed copy, the job as JSON or as CSV tables with the day in
    // their names. A sheet that was made is recorded in the job. Errors: no job is open; what making refuses. What was
    // made before goes.
    Result<std::vector<ui::MadeFile>> make(ui::HandoverFile which, const Words& words);
    // The types and cables of all jobs, saved by the page.
    void save_types(const std::string& name, ui::Ports::Done<void> done);
    void use(ui::FileUse use, const std::vector<std::string>& files, ui::Ports::Done<void> done);

private:
    struct Given {
        int lent = 0;  // the page's number for the bytes
        const char* type = "";
        std::string job;          // that it is a copy of
        std::size_t changes = 0;  // that are in it; 0 where it is no copy of a whole job
    };

    Result<std::string> sheet(SheetReader reader, const Words& words);
    ui::MadeFile add(const std::string& name, const char* type, const std::string& bytes, bool is_copy = false);
    std::string named(const std::string& ending) const;
    std::string dated(const std::string& what, const std::string& ending) const;

    JobStore& jobs_;
    std::map<std::string, Given> given_;  // by file name
};

}  // namespace tapwright::web
