// Handover: what is missing, who signed, the files that are handed over, and how it came about.
#include <algorithm>
#include <memory>
#include <optional>
#include <utility>

#include "ui/screens/common/cached.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/photos.h"
#include "ui/screens/common/places.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"
#include "ui/screens/handover/made_files.h"
#include "ui/screens/handover/may_be_kept.h"
#include "ui/screens/handover/missing.h"
#include "ui/screens/handover/pages.h"
#include "ui/screens/handover/signed.h"
#include "ui/screens/lines/trials.h"

namespace tapwright::ui {
namespace {

class HandoverScreen : public TitledScreen {
public:
    explicit HandoverScreen(Shared& shared)
        : TitledScreen(shared, Message("Handover")), files_(shared), kept_(shared) {}
    void draw(Context& context) override {
        if (!seen_.still(*context.session)) missing_ = missing_in(*context.session, shared_);
        if (!context.session->can_write())
            tone_box(
                context, "handover.read_only", Tone::note,
                Message("This job can only be read. Sheets and copies can be made; nothing in it can be changed."));
        section_title(context, Message("Before you hand over"));
        draw_missing(context);
        draw_signed(context);
        draw_files(context);
        kept_.draw(context);
        draw_record_of(context);
        files_.draw(context);
    }

    bool has_foot(Context&) override { return true; }
    void draw_foot(Context& context) override {
        const float width = share_of_width(context, 2);
        if (button(context, "handover.sign", Message("Sign off"),
                   {.width = width, .shape = Shape::check, .changes = true}))
            context.requests.open(sign_off_screen(shared_));
        beside(context);
        const OnlyLooks sheets_are_made_of_any_job(context);
        if (button(context, "handover.owner", Message("Owner's sheet"),
                   {.kind = ButtonKind::primary, .enabled = shared_.ports.makes_files(), .shape = Shape::handover}))
            files_.make(context, HandoverFile::owner_sheet);
    }

private:
    void draw_missing(Context& context) {
        if (missing_.empty())
            return tone_box(context, "handover.complete", Tone::good,
                            Message("Nothing is missing in the record. Sign off, and hand over the sheets."));
        const std::size_t shown = all_ ? missing_.size() : std::min(missing_.size(), few);
        for (std::size_t i = 0; i < shown; ++i) draw_one(context, missing_[i]);
        const auto count = static_cast<std::int64_t>(missing_.size());
        if (shown < missing_.size() &&
            button(context, "handover.all", plural("Show {count}", "Show all {count}", count), {.shape = Shape::more}))
            all_ = true;
        const bool has_reasons = std::any_of(missing_.begin(), missing_.begin() + static_cast<std::ptrdiff_t>(shown),
                                             [](const Missing& each) { return !each.why.empty(); });
        const OnlyLooks shows_more(context);
        if (has_reasons && toggle(context, "handover.why", Message("Say why"), why_)) {
            why_ = !why_;
            context.requests.another_frame();  // the rows are of other heights
        }
    }

    void draw_one(Context& context, const Missing& missing) {
        Row row;
        row.title = missing.title;
        row.detail = why_ && !missing.why.empty() ? sentences({missing.detail, missing.why}) : missing.detail;
        row.whole = true;
        row.tone = missing.tone;
        row.word = missing.tone == Tone::stop      ? Message("Fix first")
                   : missing.tone == Tone::warning ? Message("To do")
                                                   : in_context("finding", "Note");
        row.chevron = true;
        if (list_row(context, "handover.missing." + missing.name, row).tapped) missing.go(context);
    }

    void draw_signed(Context& context) {
        section_title(context, Message("Sign-off"));
        const std::vector<SignedRow> rows = signed_rows(*context.session, shared_);
        if (rows.empty()) quiet_paragraph(context, Message("Nobody has signed yet."));
        for (std::size_t i = 0; i < rows.size() && i < few_signed; ++i)
            if (list_row(context, "handover.signed." + rows[i].id.text(), rows[i].row).tapped)
                context.requests.open(signed_screen(shared_, rows[i].id));
    }

    void draw_files(Context& context) {
        section_title(context, Message("Files"));
        files_.draw_last(context);
        const std::pair<const char*, HandoverFile> keys[] = {{"handover.technician", HandoverFile::technician_sheet},
                                                             {"handover.labels", HandoverFile::labels},
                                                             {"handover.sealed", HandoverFile::sealed_copy},
                                                             {"handover.json", HandoverFile::json},
                                                             {"handover.csv", HandoverFile::csv}};
        for (const auto& [name, which] : keys)
            if (list_row(context, name,
                         {.title = title_of_file(which),
                          .detail = help_of_file(which),
                          .shape = Shape::handover,
                          .enabled = shared_.ports.makes_files()})
                    .tapped)
                files_.make(context, which);
    }

    void draw_record_of(Context& context) {
        section_title(context, Message("Record"));
        const Job& job = context.session->job();
        const auto row = [&](const char* name, const Message& title, std::size_t count, auto open) {
            const Message value = count == 0 ? Message() : Message(Count{static_cast<std::int64_t>(count)});
            if (list_row(context, name, {.title = title, .value = value, .chevron = true}).tapped)
                context.requests.open(open());
        };
        row("handover.settings", Message("Settings as left"), job.count(Kind::setting),
            [&] { return settings_left_screen(shared_); });
        row("handover.photos", titles_of(Kind::photo), job.count(Kind::photo),
            [&] { return all_photos_screen(shared_); });
        row("handover.trials", titles_of(Kind::trial), job.count(Kind::trial), [&] { return trials_screen(shared_); });
        row("handover.visits", Message("Visits"), job.count(Kind::visit), [&] { return visits_screen(shared_); });
        row("handover.history", Message("History"), 0, [&] { return history_screen(shared_); });
        row("handover.job", Message("Job settings"), 0, [&] { return record_screen(shared_, Kind::job, job_id()); });
        row("handover.program", Message("Settings and other jobs"), 0, [&] { return settings_screen(shared_); });
    }

    static constexpr std::size_t few = 12, few_signed = 3;
    Seen<> seen_;
    std::vector<Missing> missing_;
    MadeFiles files_;
    MayBeKept kept_;
    bool all_ = false, why_ = false;
};

}  // namespace

std::unique_ptr<Screen> handover_screen(Shared& shared) {
    return std::make_unique<HandoverScreen>(shared);
}

}  // namespace tapwright::ui
