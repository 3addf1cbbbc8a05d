// Before a job is open: the recent ones, a new one in three fields, opening and importing files.
#include "core/words/words.h"
#include "ui/screens/common/parts.h"
#include "ui/widgets/widgets.h"

namespace tapwright::ui {
namespace {

class Opening : public Screen {
public:
    explicit Opening(Shared& shared) : shared_(shared), recent_(shared.recent_jobs()) {}
    Message title(Context&) override { return "Tapwright"; }
    void draw(Context& context) override {
        if (!recent_.empty()) section_title(context, "Go on with");
        for (std::size_t i = 0; i < recent_.size() && i < most_recent; ++i) {
            Row row;
            row.title = recent_[i].name;
            row.detail = recent_[i].path;
            row.chevron = true;
            if (!list_row(context, "opening.recent." + std::to_string(i), row).tapped) continue;
            carry_out(context, [&shared = shared_, path = recent_[i].path] { return shared.open_job(path); });
        }
        section_title(context, "A new job");
        text_field(context, "opening.name", "Name", "", name_,
                   {.hint = "the house or the street; empty: today's date"});
        text_field(context, "opening.line_v", "Line voltage", "", line_v_,
                   {.hint = "70.7", .unit = "V", .number = true});
        text_field(context, "opening.person", "Who works", "", person_, {.hint = "your name, for the history"});
        if (button(context, "opening.new", "Make this job", {.kind = ButtonKind::primary, .shape = Shape::plus})) {
            const std::string name = name_.text.empty() ? "Job of " + shared_.stamp().date() : name_.text;
            carry_out(context, [&shared = shared_, job = NewJob{name, line_v_.text, person_.text}] {
                return shared.create_job(job);
            });
        }
        section_title(context, "From a file");
        if (button(context, "opening.open", "Open a job file")) context.host.choose_file(FilePurpose::open_job, "");
        if (button(context, "opening.import", "Import a job from JSON"))
            context.host.choose_file(FilePurpose::import_json, "");
        quiet_paragraph(context, "A file can also be dropped onto the window.");
    }

private:
    // The screen may be gone afterwards: a job that opens empties all stacks.
    void carry_out(Context& context, std::function<Result<void>()> act) {
        context.requests.after_frame([&shared = shared_, act = std::move(act)] {
            const Result<void> done = act();
            if (!done) shared.say(Tone::stop, in_english(done.refusal()));
        });
        context.requests.another_frame();
    }

    static constexpr std::size_t most_recent = 8;
    Shared& shared_;
    std::vector<RecentJob> recent_;
    Draft name_, line_v_, person_;
};

}  // namespace

std::unique_ptr<Screen> opening_screen(Shared& shared) {
    return std::make_unique<Opening>(shared);
}

}  // namespace tapwright::ui
