// Making a file to hand over, and what to do with it once it is made: a sheet with its keys, over the page.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "ui/screens/common/shared.h"

namespace tapwright::ui {

// "Owner's sheet", and what it is for.
Message title_of_file(HandoverFile which);
Message help_of_file(HandoverFile which);

// Belongs to a screen.
class MadeFiles {
public:
    explicit MadeFiles(Shared& shared) : shared_(shared) {}
    // Asks for it after the frame; what came of it opens over the page.
    void make(Context& context, HandoverFile which);
    // The sheet. Marks handover.made, made.share.all, made.save.all, made.open.N, made.print.N, made.share.N,
    // made.save.N, made.folder, made.close.
    void draw(Context& context);
    // A row that opens it once more; nothing before anything was made. Mark handover.last.
    void draw_last(Context& context);

private:
    // What came of the file asked for last. The answer may come when the screen has gone.
    struct Made {
        std::vector<MadeFile> files;
        std::optional<Message> problem;
        Message title, when;
        bool is_open = false;
    };

    Message what_was_made() const;
    void draw_all(Context& context);
    void use(Context& context, FileUse use, std::vector<std::string> files);

    Shared& shared_;
    std::shared_ptr<Made> made_ = std::make_shared<Made>();
};

}  // namespace tapwright::ui
