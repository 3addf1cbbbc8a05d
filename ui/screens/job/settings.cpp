// Settings of the person and the window, and the way to another job: none of it needs the program to start anew.
#include <algorithm>
#include <array>
#include <cmath>

#include "core/words/language.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/job/kept_jobs.h"

namespace tapwright::ui {
namespace {

constexpr std::array text_scales = {1.0F, 1.25F, 1.5F, 2.0F, 3.0F};

class Settings : public TitledScreen {
public:
    explicit Settings(Shared& shared)
        : TitledScreen(shared, Message("Settings")), recent_(shared.ports.recent_jobs()) {}
    void draw(Context& context) override {
        draw_jobs(context);
        const OnlyLooks works_in_any_job(context);
        section_title(context, Message("You"));
        draw_person(context);
        section_title(context, Message("The window"));
        draw_appearance(context);
        draw_text_size(context);
        draw_language(context);
    }

private:
    void draw_jobs(Context& context) {
        const Job& job = context.session->job();
        section_title(context, entered(name_of(job, job_id())));
        field_row(context, shared_, form_, "job", Kind::job, job_id(), *find_field(Kind::job, "units"));
        if (list_row(context, "settings.job", {.title = Message("Job settings"), .chevron = true}).tapped)
            context.requests.open(record_screen(shared_, Kind::job, job_id()));
        section_title(context, Message("Other jobs"));
        for (std::size_t i = 0; i < recent_.size() && i < most_recent; ++i) {
            if (recent_[i].is_open) continue;
            Row row{.title = entered(recent_[i].name), .detail = entered(recent_[i].where), .chevron = true};
            tell_given_out(recent_[i], row);
            if (list_row(context, "settings.recent." + std::to_string(i), row).tapped) open(context, recent_[i].file);
        }
        if (button(context, "settings.other", Message("New job, or one from a file"), {.shape = Shape::more}))
            context.requests.open(opening_screen(shared_));
    }

    // The screen is gone once another job is open.
    void open(Context& context, const std::string& file) {
        context.requests.after_frame([&shared = shared_, file] {
            shared.ports.open_job(file, [&shared](const Result<void>& done) {
                if (!done) shared.say(Tone::stop, done.refusal().message);
            });
        });
        context.requests.another_frame();
    }

    void draw_person(Context& context) {
        const std::string kept = shared_.author().person;
        if (text_field(context, "settings.person", Message("Your name"), kept, person_,
                       {.hint = Message("for the history")}) != FieldEvent::commit)
            return;
        context.requests.after_frame([&shared = shared_, name = person_.text] { shared.ports.set_person(name); });
        person_.unkept = false;
    }

    void prefer(Context& context, const Preferences& preferences) {
        context.requests.prefer(preferences);
        context.requests.after_frame([&shared = shared_, preferences] { shared.ports.keep_preferences(preferences); });
    }

    void draw_appearance(Context& context) {
        quiet_paragraph(context, Message("Colours"));
        const Choice choices[] = {{Message("As the system")}, {Message("Day")}, {Message("Night")}};
        const auto chosen = static_cast<int>(context.preferences.appearance);
        const int tapped = choice_row(context, "settings.theme", choices, chosen);
        if (tapped < 0 || tapped == chosen) return;
        Preferences wanted = context.preferences;
        wanted.appearance = static_cast<Preferences::Appearance>(tapped);
        prefer(context, wanted);
    }

    void draw_text_size(Context& context) {
        quiet_paragraph(context, Message("Text size"));
        std::vector<Choice> choices;
        int chosen = -1;
        for (const float scale : text_scales) {
            if (std::abs(scale - context.preferences.text_scale) < 0.01F) chosen = static_cast<int>(choices.size());
            choices.push_back({Figure{static_cast<double>(scale) * 100, Unit::percent}});
        }
        const int tapped = choice_row(context, "settings.text", choices, chosen);
        if (tapped < 0 || tapped == chosen) return;
        Preferences wanted = context.preferences;
        wanted.text_scale = text_scales[static_cast<std::size_t>(tapped)];
        prefer(context, wanted);
    }

    void draw_language(Context& context) {
        quiet_paragraph(context, Message("Language"));
        std::vector<Choice> choices;
        int chosen = -1;
        for (const Language& language : languages()) {
            if (language.code == context.preferences.language->code) chosen = static_cast<int>(choices.size());
            choices.push_back({entered(std::string(language.name))});
        }
        const int tapped = choice_row(context, "settings.language", choices, chosen);
        if (tapped < 0 || tapped == chosen) return;
        Preferences wanted = context.preferences;
        wanted.language = &languages()[static_cast<std::size_t>(tapped)];
        prefer(context, wanted);
    }

    static constexpr std::size_t most_recent = 8;
    std::vector<RecentJob> recent_;
    FormState form_;
    Draft person_;
};

}  // namespace

std::unique_ptr<Screen> settings_screen(Shared& shared) {
    return std::make_unique<Settings>(shared);
}

}  // namespace tapwright::ui
