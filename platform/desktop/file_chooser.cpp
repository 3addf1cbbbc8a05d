#include "platform/desktop/file_chooser.h"

#include <imgui.h>

#include <algorithm>
#include <cctype>
#include <cstdlib>

#include "core/base/text.h"
#include "ui/widgets/widgets.h"

namespace tapwright::desktop {
namespace {

namespace fs = std::filesystem;

bool makes_a_file(ui::FilePurpose purpose) {
    return purpose == ui::FilePurpose::new_job || purpose == ui::FilePurpose::save_sheet ||
           purpose == ui::FilePurpose::seal || purpose == ui::FilePurpose::export_types;
}

Message title_of(ui::FilePurpose purpose) {
    switch (purpose) {
        case ui::FilePurpose::new_job:
            return Message("Where to save the new job");
        case ui::FilePurpose::import_json:
            return Message("Choose a JSON file to import");
        case ui::FilePurpose::photo:
            return Message("Choose a photo");
        case ui::FilePurpose::save_sheet:
            return Message("Where to save the sheet");
        case ui::FilePurpose::seal:
            return Message("Where to save the sealed copy");
        case ui::FilePurpose::import_types:
            return Message("Choose a JSON file with types or a job");
        case ui::FilePurpose::export_types:
            return Message("Where to save the types");
        case ui::FilePurpose::open_job:
            break;
    }
    return Message("Choose a job");
}

std::vector<std::string> extensions_of(ui::FilePurpose purpose) {
    switch (purpose) {
        case ui::FilePurpose::import_json:
        case ui::FilePurpose::import_types:
        case ui::FilePurpose::export_types:
            return {".json"};
        case ui::FilePurpose::photo:
            return {".jpg", ".jpeg", ".png"};
        case ui::FilePurpose::save_sheet:
            return {".pdf", ".html"};
        default:
            return {".tapjob"};
    }
}

bool is_wanted(const fs::path& path, const std::vector<std::string>& extensions) {
    std::string extension = path.extension().string();
    std::transform(extension.begin(), extension.end(), extension.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return std::find(extensions.begin(), extensions.end(), extension) != extensions.end();
}

Message size_in_words(std::uintmax_t bytes) {
    if (bytes < 1000) return Message("{count} B", {{"count", bytes}});
    if (bytes < 1000 * 1000) return Message("{count} kB", {{"count", bytes / 1000}});
    return Message("{count} MB", {{"count", Figure{static_cast<double>(bytes) / 1e6, Unit::none, 1}}});
}

fs::path home() {
    const char* folder = std::getenv("HOME");
    std::error_code error;
    return folder ? fs::path(folder) : fs::current_path(error);
}

}  // namespace

void FileChooser::ask(ui::FilePurpose purpose, const std::string& suggested_name) {
    purpose_ = purpose;
    name_ = suggested_name;
    draft_ = {};
    open_ = true;
    ask_overwrite_ = false;
    if (folder_.empty()) folder_ = home();
    read_folder();
}

void FileChooser::read_folder() {
    entries_.clear();
    problem_ = {};
    std::error_code error;
    const std::vector<std::string> extensions = extensions_of(purpose_);
    for (fs::directory_iterator it(folder_, fs::directory_options::skip_permission_denied, error), end;
         !error && it != end; it.increment(error)) {
        const std::string name = it->path().filename().string();
        if (name.empty() || name.front() == '.') continue;
        std::error_code ignored;
        if (it->is_directory(ignored))
            entries_.push_back({name, true, {}});
        else if (is_wanted(it->path(), extensions))
            entries_.push_back({name, false, size_in_words(it->file_size(ignored))});
    }
    if (error)
        problem_ =
            Message("The folder {folder} cannot be read ({reason}). Choose another one.",
                    {{"folder", entered(tapwright::cited(folder_.string(), 200))}, {"reason", code(error.message())}});
    std::sort(entries_.begin(), entries_.end(), [](const Entry& first, const Entry& second) {
        return first.folder != second.folder ? first.folder : first.name < second.name;
    });
}

void FileChooser::draw_entries(ui::Context& context, std::optional<std::string>& chosen) {
    const float height = std::max(context.px(160), ImGui::GetIO().DisplaySize.y * 0.42F);
    std::string go_to;
    {
        ui::Page page(context, "files.list", height);
        if (folder_.has_parent_path() && folder_ != folder_.root_path() &&
            ui::list_row(context, "files.up", {.title = Message("Up one folder"), .shape = ui::Shape::arrow_up}).tapped)
            go_to = "..";
        for (const Entry& entry : entries_) {
            ui::Row row;
            row.title = entered(entry.name);
            row.value = entry.size;
            row.chevron = entry.folder;
            if (!ui::list_row(context, "files.entry." + entry.name, row).tapped) continue;
            if (entry.folder)
                go_to = entry.name;
            else if (makes_a_file(purpose_))
                name_ = entry.name, draft_ = {};
            else
                chosen = (folder_ / entry.name).string();
        }
        if (entries_.empty() && problem_.empty())
            ui::quiet_paragraph(context, Message("This folder holds no file of that kind."));
    }
    if (go_to.empty()) return;
    folder_ = go_to == ".." ? folder_.parent_path() : folder_ / go_to;
    context.requests.after_frame([this] { read_folder(); });
}

void FileChooser::draw_new_name(ui::Context& context, std::optional<std::string>& chosen) {
    if (ui::text_field(context, "files.name", Message("File name"), name_, draft_) == ui::FieldEvent::commit) {
        name_ = draft_.text;
        draft_ = {};
    }
    const std::string typed = draft_.editing ? draft_.text : name_;
    const bool named = !typed.empty() && typed.find('/') == std::string::npos;
    if (!ui::button(context, "files.keep", Message("Save here"), {.kind = ui::ButtonKind::primary, .enabled = named}))
        return;
    fs::path path = folder_ / typed;
    if (!is_wanted(path, extensions_of(purpose_))) path += extensions_of(purpose_).front();
    std::error_code error;
    if (fs::exists(path, error))
        problem_ = Message("This folder already holds a file called {name}. Give another name.",
                           {{"name", entered(tapwright::cited(path.filename().string()))}});
    else
        chosen = path.string();
}

std::optional<std::string> FileChooser::draw(ui::Context& context) {
    std::optional<std::string> chosen;
    if (ui::Sheet sheet(context, "files", title_of(purpose_), open_); sheet) {
        ui::quiet_paragraph(context, entered(folder_.string()));
        if (!problem_.empty()) ui::tone_box(context, "files.problem", ui::Tone::stop, problem_);
        draw_entries(context, chosen);
        if (makes_a_file(purpose_)) draw_new_name(context, chosen);
        if (chosen) open_ = false;
    }
    return chosen;
}

}  // namespace tapwright::desktop
