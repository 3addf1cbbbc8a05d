// Choosing a file inside the window, with the same widgets and for the same thumb as everything else. No other program
// is started.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "ui/frame/host.h"
#include "ui/frame/toolkit.h"
#include "ui/widgets/fields.h"

namespace tapwright::desktop {

class FileChooser {
public:
    // Opens it for one purpose. The folder is where the last choice was made, else the person's home.
    void ask(ui::FilePurpose purpose, const std::string& suggested_name);

    // Draws it over the page while it is open. Marks "files.*": the entries in sight are files.entry.NAME.
    // Returns: the path that was chosen, in the frame in which it was.
    std::optional<std::string> draw(ui::Context& context);

    ui::FilePurpose purpose() const { return purpose_; }

private:
    struct Entry {
        std::string name;
        bool folder = false;
        Message size;
    };
    void read_folder();
    void draw_entries(ui::Context& context, std::optional<std::string>& chosen);
    void draw_new_name(ui::Context& context, std::optional<std::string>& chosen);

    ui::FilePurpose purpose_ = ui::FilePurpose::open_job;
    bool open_ = false, ask_overwrite_ = false;
    std::filesystem::path folder_;
    std::vector<Entry> entries_;
    Message problem_;
    std::string name_;
    ui::Draft draft_;
};

}  // namespace tapwright::desktop
