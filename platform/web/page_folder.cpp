#include "platform/web/page_folder.h"

#include <utility>

#include "platform/web/page.h"

namespace tapwright::web {
namespace {

Value list_of(const std::vector<std::string>& names) {
    return List(names.begin(), names.end());
}

std::int64_t whole(const Value& value) {
    const double* number = value.number();
    return number ? static_cast<std::int64_t>(*number) : 0;
}

std::function<void(Answer)> only_done(Folder::Done<void> done) {
    return [done = std::move(done)](const Answer& answer) {
        done(answer.trouble.empty() ? Result<void>() : refused_by_browser(answer.trouble));
    };
}

}  // namespace

// The names are those of the File System Standard (https://fs.spec.whatwg.org) and of the Storage Standard.
Refusal refused_by_browser(const std::string& trouble) {
    if (trouble == "NoModificationAllowedError")
        return {Message("Tapwright is open in another tab or window of this browser. Close it there, then try again.")};
    if (trouble == "QuotaExceededError")
        return {Message(
            "The browser's storage is full, so this was not kept. Export jobs you no longer need here and delete "
            "them, or make room on the device.")};
    if (trouble == "NotFoundError")
        return {Message("The file is no longer there. The browser may have cleared what this site kept.")};
    if (trouble == "NotReadableError")
        return {Message("The file cannot be read. Choose it once more, or copy it to this device first.")};
    if (trouble == "TooLarge") return {Message("The file is too large to be read here.")};
    return {Message("The browser refused: {reason}. Close the other tabs of this browser and try again.",
                    {{"reason", entered(trouble)}})};
}

void PageFolder::list(Done<std::vector<FolderEntry>> done) {
    ask_page("list", {}, [done = std::move(done)](const Answer& answer) {
        if (!answer.trouble.empty()) return done(refused_by_browser(answer.trouble));
        std::vector<FolderEntry> entries;
        if (const List* listed = answer.value.list())
            for (const Value& entry : *listed)
                if (const std::string* name = entry.find("name").text())
                    entries.push_back({*name, whole(entry.find("bytes")), whole(entry.find("changed"))});
        done(std::move(entries));
    });
}

void PageFolder::open(const std::vector<std::string>& names, Done<void> done) {
    ask_page("open", list_of(names), [this, names, done = std::move(done)](const Answer& answer) {
        if (!answer.trouble.empty()) return done(refused_by_browser(answer.trouble));
        const List* handles = answer.value.list();
        TAPWRIGHT_ENSURE(handles && handles->size() == names.size());
        for (std::size_t i = 0; i < names.size(); ++i)
            files_.add(names[i], page_handle(static_cast<int>(whole((*handles)[i]))));
        done({});
    });
}

void PageFolder::close(const std::vector<std::string>& names) {
    for (const std::string& name : names) files_.close(name);
    tell_page("close", list_of(names));
}

void PageFolder::remove(const std::vector<std::string>& names, Done<void> done) {
    ask_page("remove", list_of(names), only_done(std::move(done)));
}

void PageFolder::copy(const std::string& from, const std::string& to, Done<void> done) {
    ask_page("copy", Map{{"from", from}, {"to", to}}, only_done(std::move(done)));
}

void PageFolder::read(const std::string& name, std::size_t most_bytes, Done<std::string> done) {
    ask_page("read", Map{{"name", name}, {"most", static_cast<double>(most_bytes)}},
             [done = std::move(done)](Answer answer) {
                 if (!answer.trouble.empty()) return done(refused_by_browser(answer.trouble));
                 done(std::move(answer.bytes));
             });
}

}  // namespace tapwright::web
