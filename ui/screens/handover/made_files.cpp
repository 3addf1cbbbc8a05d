#include "ui/screens/handover/made_files.h"

#include <utility>

#include "ui/widgets/widgets.h"

namespace tapwright::ui {
namespace {

bool is_pdf(const MadeFile& file) {
    return file.name.ends_with(".pdf");
}

bool is_page(const MadeFile& file) {
    return file.name.ends_with(".html");
}

// What a viewer shows; the rest is for other programs.
bool is_to_look_at(const MadeFile& file) {
    return is_pdf(file) || is_page(file);
}

}  // namespace

Message title_of_file(HandoverFile which) {
    switch (which) {
        case HandoverFile::owner_sheet:
            return Message("Owner's sheet");
        case HandoverFile::technician_sheet:
            return Message("Technician's sheet");
        case HandoverFile::labels:
            return Message("Cable labels");
        case HandoverFile::sealed_copy:
            return Message("Sealed copy of the job");
        case HandoverFile::json:
            return Message("Job as JSON");
        case HandoverFile::csv:
            break;
    }
    return Message("Job as CSV tables");
}

Message help_of_file(HandoverFile which) {
    switch (which) {
        case HandoverFile::owner_sheet:
            return Message("What is where, what to do when there is no sound");
        case HandoverFile::technician_sheet:
            return Message("All that the next visit needs");
        case HandoverFile::labels:
            return Message("To cut out, for both ends of every cable");
        case HandoverFile::sealed_copy:
            return Message("Checked and compact, with photos and history");
        case HandoverFile::json:
            return Message("For other programs, with photos beside it");
        case HandoverFile::csv:
            break;
    }
    return Message("For a spreadsheet, one file for each kind of record");
}

void MadeFiles::make(Context& context, HandoverFile which) {
    const Message when = Message("Made {time}", {{"time", code(context.host.time_of_day())}});
    context.requests.after_frame([&ports = shared_.ports, made = made_, which, when] {
        ports.make_files(which, [made, which, when](const Result<std::vector<MadeFile>>& result) {
            if (!result) {
                made->problem = result.refusal().message;
                return;
            }
            if (result->empty()) return;
            *made = {*result, std::nullopt, title_of_file(which), when, true};
        });
    });
    context.requests.another_frame();
}

void MadeFiles::use(Context& context, FileUse use, std::vector<std::string> files) {
    context.requests.after_frame([&shared = shared_, use, files = std::move(files)] {
        shared.ports.use_files(use, files, [&shared](const Result<void>& done) {
            if (!done) shared.say(Tone::stop, done.refusal().message);
        });
    });
    context.requests.another_frame();
}

void MadeFiles::draw(Context& context) {
    if (made_->problem) context.requests.say(Tone::stop, *std::exchange(made_->problem, std::nullopt));
    const OnlyLooks uses_a_file(context);
    if (Sheet sheet(context, "made", made_->title, made_->is_open); sheet) {
        const Message where = made_->files.front().folder.empty()
                                  ? made_->when
                                  : Message("{made}, in {folder}",
                                            {{"made", made_->when}, {"folder", entered(made_->files.front().folder)}});
        tone_box(context, "handover.made", Tone::good, what_was_made());
        quiet_paragraph(context, where);
        draw_all(context);
        for (std::size_t i = 0; i < made_->files.size(); ++i) {
            const MadeFile& file = made_->files[i];
            const std::string number = std::to_string(i);
            const Message open = is_pdf(file) ? Message("Open or print") : Message("Open as a page");
            if (is_to_look_at(file) && shared_.ports.can(FileUse::open) &&
                button(context, "made.open." + number, open,
                       {.kind = i == 0 ? ButtonKind::primary : ButtonKind::plain, .shape = Shape::handover}))
                use(context, FileUse::open, {file.file});
            if (is_page(file) && shared_.ports.can(FileUse::print) &&
                button(context, "made.print." + number, Message("Print")))
                use(context, FileUse::print, {file.file});
            if (shared_.ports.can(FileUse::share) &&
                button(context, "made.share." + number,
                       is_pdf(file) ? Message("Share as PDF") : Message("Share {file}", {{"file", entered(file.name)}}),
                       {.shape = Shape::arrow_up}))
                use(context, FileUse::share, {file.file});
            if (shared_.ports.can(FileUse::save) &&
                button(context, "made.save." + number, Message("Save {file}", {{"file", entered(file.name)}})))
                use(context, FileUse::save, {file.file});
        }
        if (shared_.ports.can(FileUse::show_folder) && button(context, "made.folder", Message("Show its folder")))
            use(context, FileUse::show_folder, {made_->files.front().file});
    }
}

// Their names, where a few; where there are many, each has a key with its name.
Message MadeFiles::what_was_made() const {
    const auto count = static_cast<std::int64_t>(made_->files.size());
    if (count > 3 && shared_.ports.can(FileUse::save)) return plural("{count} file", "{count} files", count);
    std::vector<Message> names;
    for (const MadeFile& file : made_->files) names.push_back(entered(file.name));
    return read_out(names);
}

void MadeFiles::draw_all(Context& context) {
    if (made_->files.size() < 2) return;
    std::vector<std::string> all;
    for (const MadeFile& file : made_->files) all.push_back(file.file);
    const auto count = static_cast<std::int64_t>(all.size());
    const bool can_share = shared_.ports.can(FileUse::share);
    if (can_share && button(context, "made.share.all", plural("Share {count} file", "Share all {count} files", count),
                            {.kind = ButtonKind::primary, .shape = Shape::arrow_up}))
        use(context, FileUse::share, all);
    if (shared_.ports.can(FileUse::save) &&
        button(context, "made.save.all", plural("Save {count} file", "Save all {count} files", count),
               {.kind = can_share ? ButtonKind::plain : ButtonKind::primary}))
        use(context, FileUse::save, all);
}

void MadeFiles::draw_last(Context& context) {
    if (made_->files.empty()) return;
    Row row;
    row.title = made_->title;
    row.detail = made_->when;
    row.tone = Tone::good;
    row.word = Message("Open");
    row.chevron = true;
    if (list_row(context, "handover.last", row).tapped) made_->is_open = true;
}

}  // namespace tapwright::ui
