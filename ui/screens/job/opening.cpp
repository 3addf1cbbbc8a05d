// Before a job is open: the recent ones, a new one in three fields, opening and importing files.
#include "core/job/job.h"
#include "core/units/parse.h"
#include "core/units/show.h"
#include "ui/screens/common/figure_entry.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/job/kept_jobs.h"
#include "ui/widgets/widgets.h"

namespace tapwright::ui {
namespace {

class Opening : public TitledScreen {
public:
    explicit Opening(Shared& shared) : TitledScreen(shared, code("Tapwright")), recent_(shared.ports.recent_jobs()) {
        // As in the job made last.
        line_v_.text = shared.ports.usual_line_v();
        person_.text = shared.ports.author().person;
    }
    void draw(Context& context) override {
        const OnlyLooks leaves_the_open_job_alone(context);
        if (shared_.ports.keeps_jobs()) recent_ = shared_.ports.recent_jobs();
        if (!recent_.empty()) section_title(context, Message("Recent jobs"));
        for (std::size_t i = 0; i < recent_.size() && i < most_recent; ++i) {
            Row row;
            row.title = entered(recent_[i].name);
            row.detail = entered(recent_[i].where);
            tell_given_out(recent_[i], row);
            row.chevron = true;
            if (!list_row(context, "opening.recent." + std::to_string(i), row).tapped) continue;
            carry_out(context, [file = recent_[i].file](Ports& ports, Ports::Done<void> done) {
                ports.open_job(file, std::move(done));
            });
        }
        if (shared_.ports.keeps_jobs() && !recent_.empty() &&
            button(context, "opening.kept", Message("Duplicate or delete jobs"), {.shape = Shape::more}))
            context.requests.open(kept_jobs_screen(shared_));
        section_title(context, Message("New job"));
        text_field(context, "opening.name", Message("Name"), "", name_,
                   {.hint = Message("such as the address; empty: today's date"), .is_new = true});
        draw_voltage(context);
        text_field(context, "opening.person", Message("Your name"), "", person_,
                   {.hint = Message("for the history"), .is_new = true});
        if (button(context, "opening.new", Message("Create job"),
                   {.kind = ButtonKind::primary, .shape = Shape::plus})) {
            const std::string name =
                name_.text.empty() ? context.words.text(Message("Job of {day}", {{"day", Day{shared_.stamp().date()}}}))
                                   : name_.text;
            carry_out(context, [job = NewJob{name, line_v_.text, person_.text}](Ports& ports, Ports::Done<void> done) {
                ports.create_job(job, std::move(done));
            });
        }
        section_title(context, Message("From a file"));
        file_button(context, "opening.open", Message("Open a job file"), FilePurpose::open_job);
        file_button(context, "opening.import", Message("Import a job from JSON"), FilePurpose::import_json);
        quiet_paragraph(context, Message("You can also drop a file onto the window."));
    }

private:
    void draw_voltage(Context& context) {
        quiet_paragraph(context, Message("Line voltage"));
        const Result<Volts> typed = parse<Volts>(line_v_.text);
        std::optional<Volts> now = line_v_.text.empty() ? Defaults::line_v : std::optional<Volts>();
        if (typed) now = *typed;
        const VoltsTouch touch = volts_row(context, "opening.volts", now);
        if (touch.volts) line_v_.text = editable_number(touch.volts->value(), Unit::none);
        if (touch.volts || touch.other) is_other_ = touch.other;
        if (!is_other_) return;
        text_field(context, "opening.line_v", Message("Another line voltage"), "", line_v_,
                   {.unit = code(words_of(Unit::volt).shown), .number = true, .is_new = true});
    }

    // The screen may be gone afterwards: a job that opens empties all stacks.
    void carry_out(Context& context, std::function<void(Ports&, Ports::Done<void>)> act) {
        context.requests.after_frame([&shared = shared_, act = std::move(act)] {
            act(shared.ports, [&shared](const Result<void>& done) {
                if (!done) shared.say(Tone::stop, done.refusal().message);
            });
        });
        context.requests.another_frame();
    }

    static constexpr std::size_t most_recent = 8;
    std::vector<RecentJob> recent_;
    Draft name_, line_v_, person_;
    bool is_other_ = false;  // a voltage that has no key is being typed
};

}  // namespace

std::unique_ptr<Screen> opening_screen(Shared& shared) {
    return std::make_unique<Opening>(shared);
}

}  // namespace tapwright::ui
