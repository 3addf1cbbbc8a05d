// Handover: what is missing before the sheet can be given, the findings in sentences, and the sheets themselves.
#include <algorithm>

#include "core/base/text.h"
#include "core/findings/findings.h"
#include "core/words/findings_text.h"
#include "core/words/words.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/places.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {
namespace {

class HandoverScreen : public Screen {
public:
    explicit HandoverScreen(Shared& shared) : shared_(shared) {}
    Message title(Context&) override { return "Handover"; }
    void draw(Context& context) override {
        look(*context.session);
        section_title(context, "Before the sheet is given");
        draw_missing(context);
        section_title(context, "The sheet");
        // Above the keys: below them it would appear out of sight.
        if (!made_.empty()) tone_box(context, "handover.made", Tone::good, made_);
        draw_sheet(context, true, "Make the owner's sheet");
        draw_sheet(context, false, "Make the technician's sheet");
        draw_findings(context);
        section_title(context, "How it came about");
        if (button(context, "handover.visits", "Visits")) context.requests.open(visits_screen(shared_));
        if (button(context, "handover.history", "History", {.shape = Shape::undo}))
            context.requests.open(history_screen(shared_));
        if (button(context, "handover.job", "Job settings"))
            context.requests.open(record_screen(shared_, Kind::job, job_id()));
    }

private:
    struct Missing {
        std::string name, title, detail;
        Tone tone;
        PlaceId place;
    };

    void look(const Session& session) {
        if (session_ == &session && batches_ == session.batch_count()) return;
        session_ = &session;
        batches_ = session.batch_count();
        missing_.clear();
        sentences_.clear();
        const Job& job = session.job();
        for (const Room* room : walking_order(job)) {
            std::size_t without = 0;
            for (const Point* point : points_in(job, room->id))
                if (is_speaker(*point) && !point->tap_w && point->wired.value_or(Wired::line) == Wired::line) ++without;
            if (without > 0)
                missing_.push_back({"room." + room->id.text(), name_of(job, room->id),
                                    counted(without, "loudspeaker") + " without a tap as set", Tone::warning,
                                    PlaceId::rooms});
        }
        std::size_t stops = 0;
        for (const Finding& finding : session.derived().findings) {
            sentences_.push_back(sentence(job, session.derived(), finding));
            stops += finding.severity == Severity::stop;
            if (code_of(finding) == FindingCode::zone_without_reading)
                missing_.push_back({"zone." + finding.at.text(), name_of(job, finding.at), "No impedance was read here",
                                    Tone::note, PlaceId::readings});
        }
        std::size_t open = 0;
        for (const Snag& snag : job.all<Snag>()) open += snag.state.value_or(SnagState::open) == SnagState::open;
        if (open > 0)
            missing_.push_back({"snags", counted(open, "open snag"), "Put them right, or hand them over as they are",
                                Tone::warning, PlaceId::snags});
        if (stops > 0)
            missing_.push_back({"stops", counted(stops, "stop finding"), "Read below what must change first",
                                Tone::stop, PlaceId::handover});
    }

    void draw_missing(Context& context) {
        if (missing_.empty())
            tone_box(context, "handover.complete", Tone::good, "Nothing is missing. The sheet can be given.");
        for (const Missing& each : missing_) {
            Row row;
            row.title = each.title;
            row.detail = each.detail;
            row.tone = each.tone;
            row.word = each.tone == Tone::stop ? "Stop" : "Missing";
            row.chevron = each.place != PlaceId::handover;
            if (!list_row(context, "handover.missing." + each.name, row).tapped) continue;
            if (each.name.starts_with("zone.")) shared_.zone = Id(each.name.substr(5));
            if (each.name.starts_with("room."))
                context.requests.open(room_screen(shared_, Id(each.name.substr(5))));
            else
                context.requests.show(each.place);
        }
    }

    void draw_sheet(Context& context, bool owner, const char* label) {
        if (!button(context, owner ? "handover.owner" : "handover.technician", label,
                    {.kind = ButtonKind::primary,
                     .enabled = static_cast<bool>(shared_.make_sheet),
                     .shape = Shape::handover}))
            return;
        context.requests.after_frame([this, owner] {
            const Result<Message> made = shared_.make_sheet(owner);
            made_ = made ? in_english(*made) : std::string();
            problem_ = made ? std::string() : in_english(made.refusal());
        });
        context.requests.another_frame();
    }

    void draw_findings(Context& context) {
        if (!problem_.empty()) {
            context.requests.say(Tone::stop, problem_);
            problem_.clear();
        }
        if (sentences_.empty()) return;
        section_title(context, counted(sentences_.size(), "finding"));
        const std::size_t shown = all_ ? sentences_.size() : std::min<std::size_t>(sentences_.size(), few);
        for (std::size_t i = 0; i < shown; ++i)
            tone_box(context, "handover.finding." + std::to_string(i),
                     tone_of(context.session->derived().findings[i].severity), sentences_[i]);
        if (shown < sentences_.size() &&
            button(context, "handover.all", "Show all " + counted(sentences_.size(), "finding")))
            all_ = true;
    }

    static constexpr std::size_t few = 12;
    Shared& shared_;
    const Session* session_ = nullptr;
    std::size_t batches_ = 0;
    std::vector<Missing> missing_;
    std::vector<std::string> sentences_;
    std::string made_, problem_;
    bool all_ = false;
};

}  // namespace

std::unique_ptr<Screen> handover_screen(Shared& shared) {
    return std::make_unique<HandoverScreen>(shared);
}

}  // namespace tapwright::ui
