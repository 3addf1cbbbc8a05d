// Jobs that lie inside the program: each duplicated or deleted. They are lost with the device, so each says how many of
// its changes have not left it yet.
#include "ui/screens/job/kept_jobs.h"

#include <utility>

#include "ui/screens/common/parts.h"
#include "ui/screens/common/screen.h"
#include "ui/widgets/widgets.h"

namespace tapwright::ui {
namespace {

Message not_exported(std::size_t changes) {
    return plural("{count} change not exported yet", "{count} changes not exported yet",
                  static_cast<std::int64_t>(changes));
}

class KeptJobs : public TitledScreen {
public:
    explicit KeptJobs(Shared& shared) : TitledScreen(shared, Message("Jobs on this device")) {}
    void draw(Context& context) override {
        const OnlyLooks leaves_the_open_job_alone(context);
        const std::vector<RecentJob> jobs = shared_.ports.recent_jobs();
        if (jobs.empty()) quiet_paragraph(context, Message("There is no job here."));
        for (std::size_t i = 0; i < jobs.size(); ++i) draw_job(context, jobs[i], std::to_string(i));
        ask_before_deleting(context);
    }

private:
    void draw_job(Context& context, const RecentJob& job, const std::string& number) {
        section_title(context, entered(job.name));
        if (job.not_given_out.value_or(0) > 0) paragraph(context, not_exported(*job.not_given_out));
        const float width = share_of_width(context, 2);
        if (button(context, "kept.duplicate." + number, Message("Duplicate"), {.width = width, .shape = Shape::plus}))
            carry_out(context, [file = job.file](Ports& ports, Ports::Done<void> done) {
                ports.duplicate_job(file, std::move(done));
            });
        beside(context);
        if (button(context, "kept.delete." + number, Message("Delete"),
                   {.kind = ButtonKind::danger, .width = width, .shape = Shape::cross})) {
            deleted_ = job;
            asked_ = true;
        }
    }

    void ask_before_deleting(Context& context) {
        const std::size_t lost = deleted_.not_given_out.value_or(0);
        const Message what =
            lost == 0 ? Message("A copy of all its changes has left this device. It cannot be undone.")
                      : plural("{count} change has not left this device and is lost. It cannot be undone.",
                               "{count} changes have not left this device and are lost. It cannot be undone.",
                               static_cast<std::int64_t>(lost));
        if (ask(context, "kept.ask", Message("Delete {job}?", {{"job", entered(deleted_.name)}}), what,
                Message("Delete it"), Message("Cancel"), asked_) != Answer::yes)
            return;
        carry_out(context, [file = deleted_.file](Ports& ports, Ports::Done<void> done) {
            ports.delete_job(file, std::move(done));
        });
    }

    // Where the open job is deleted, this screen is gone afterwards.
    void carry_out(Context& context, std::function<void(Ports&, Ports::Done<void>)> act) {
        context.requests.after_frame([&shared = shared_, act = std::move(act)] {
            act(shared.ports, [&shared](const Result<void>& done) {
                if (!done) shared.say(Tone::stop, done.refusal().message);
            });
        });
        context.requests.another_frame();
    }

    RecentJob deleted_;
    bool asked_ = false;
};

}  // namespace

void tell_given_out(const RecentJob& job, Row& row) {
    if (job.not_given_out.value_or(0) == 0) return;
    row.tone = Tone::warning;
    row.word = Message("To export");
    row.detail = not_exported(*job.not_given_out);
}

std::unique_ptr<Screen> kept_jobs_screen(Shared& shared) {
    return std::make_unique<KeptJobs>(shared);
}

}  // namespace tapwright::ui
