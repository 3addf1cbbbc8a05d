// Handover: what is missing before the sheet can be given, the findings in sentences, and the sheets themselves.
#include <algorithm>
#include <memory>
#include <optional>
#include <utility>

#include "core/findings/findings.h"
#include "core/words/findings_text.h"
#include "core/words/statement.h"
#include "ui/screens/common/cached.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/places.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {
namespace {

class HandoverScreen : public TitledScreen {
public:
    explicit HandoverScreen(Shared& shared) : TitledScreen(shared, Message("Handover")) {}
    void draw(Context& context) override {
        look(*context.session);
        section_title(context, Message("Before you hand over"));
        draw_missing(context);
        section_title(context, Message("Sheets"));
        // Above the keys: below them it would appear out of sight.
        if (sheet_->files)
            tone_box(context, "handover.made", Tone::good,
                     Message("Sheet made: {files}.", {{"files", *sheet_->files}}));
        draw_sheet(context, true, Message("Make the owner's sheet"));
        draw_sheet(context, false, Message("Make the technician's sheet"));
        draw_findings(context);
        section_title(context, Message("Visits and history"));
        if (button(context, "handover.visits", Message("Visits"))) context.requests.open(visits_screen(shared_));
        if (button(context, "handover.history", Message("History"), {.shape = Shape::undo}))
            context.requests.open(history_screen(shared_));
        if (button(context, "handover.job", Message("Job settings")))
            context.requests.open(record_screen(shared_, Kind::job, job_id()));
    }

private:
    // What came of the sheet asked for last. The answer may come when this screen has gone.
    struct SheetMade {
        std::optional<Series> files;
        std::optional<Message> problem;
    };
    static Series names_of(const std::vector<std::string>& files) {
        Series names;
        for (const std::string& file : files) names.items.emplace_back(entered(file));
        return names;
    }

    struct Missing {
        std::string name;  // of the mark
        Message title, detail;
        Tone tone;
        PlaceId place;
        Id room = {}, zone = {};  // what is taken in hand there
    };

    void look(const Session& session) {
        if (seen_.still(session)) return;
        missing_.clear();
        statements_.clear();
        const Job& job = session.job();
        for (const Room* room : walking_order(job)) {
            std::int64_t without = 0;
            for (const Point* point : points_in(job, room->id))
                if (is_speaker(*point) && !point->tap_w && point->wired.value_or(Wired::line) == Wired::line) ++without;
            if (without > 0)
                missing_.push_back({"room." + room->id.text(),
                                    entered(name_of(job, room->id)),
                                    plural("{count} loudspeaker without a recorded tap",
                                           "{count} loudspeakers without a recorded tap", without),
                                    Tone::warning,
                                    PlaceId::rooms,
                                    room->id,
                                    {}});
        }
        std::int64_t stops = 0;
        const FindingWords words(job, session.derived());
        for (const Finding& finding : session.derived().findings) {
            statements_.push_back(words.statement_of(finding));
            stops += finding.severity == Severity::stop;
            if (code_of(finding) == FindingCode::zone_without_reading)
                missing_.push_back({"zone." + finding.at.text(),
                                    entered(name_of(job, finding.at)),
                                    Message("No impedance reading yet"),
                                    Tone::note,
                                    PlaceId::readings,
                                    {},
                                    finding.at});
        }
        std::int64_t open = 0;
        for (const Snag& snag : job.all<Snag>()) open += snag.state.value_or(SnagState::open) == SnagState::open;
        if (open > 0)
            missing_.push_back({"snags", plural("{count} open snag", "{count} open snags", open),
                                Message("Fix them, or hand over with them open"), Tone::warning, PlaceId::snags});
        if (stops > 0)
            missing_.push_back({"stops", plural("{count} finding to fix first", "{count} findings to fix first", stops),
                                Message("See the findings below"), Tone::stop, PlaceId::handover});
    }

    void draw_missing(Context& context) {
        if (missing_.empty())
            tone_box(context, "handover.complete", Tone::good,
                     Message("Nothing left to do. Make the sheets and hand over."));
        for (const Missing& each : missing_) {
            Row row;
            row.title = each.title;
            row.detail = each.detail;
            row.tone = each.tone;
            row.word = each.tone == Tone::stop ? Message("Stop") : Message("To do");
            row.chevron = each.place != PlaceId::handover;
            if (!list_row(context, "handover.missing." + each.name, row).tapped) continue;
            if (each.zone != Id()) shared_.zone = each.zone;
            if (each.room != Id())
                context.requests.open(room_screen(shared_, each.room));
            else
                context.requests.show(each.place);
        }
    }

    void draw_sheet(Context& context, bool owner, const Message& label) {
        if (!button(context, owner ? "handover.owner" : "handover.technician", label,
                    {.kind = ButtonKind::primary,
                     .enabled = shared_.ports.makes_sheets(),
                     .shape = Shape::handover,
                     .reads = true}))
            return;
        context.requests.after_frame([&ports = shared_.ports, sheet = sheet_, owner] {
            ports.make_sheet(owner, [sheet](const Result<std::vector<std::string>>& made) {
                sheet->files.reset();
                if (!made)
                    sheet->problem = made.refusal().message;
                else if (!made->empty())
                    sheet->files = names_of(*made);
            });
        });
        context.requests.another_frame();
    }

    void draw_findings(Context& context) {
        if (sheet_->problem) context.requests.say(Tone::stop, *std::exchange(sheet_->problem, std::nullopt));
        if (statements_.empty()) return;
        const auto all = static_cast<std::int64_t>(statements_.size());
        section_title(context, plural("{count} finding", "{count} findings", all));
        const std::size_t shown = all_ ? statements_.size() : std::min<std::size_t>(statements_.size(), few);
        for (std::size_t i = 0; i < shown; ++i)
            statement_box(context, "handover.finding." + std::to_string(i),
                          tone_of(context.session->derived().findings[i].severity), statements_[i]);
        if (shown < statements_.size() &&
            button(context, "handover.all", plural("Show {count} finding", "Show all {count} findings", all)))
            all_ = true;
    }

    static constexpr std::size_t few = 12;
    Seen<> seen_;
    std::vector<Missing> missing_;
    std::vector<Statement> statements_;  // of the findings, in their order
    std::shared_ptr<SheetMade> sheet_ = std::make_shared<SheetMade>();
    bool all_ = false;
};

}  // namespace

std::unique_ptr<Screen> handover_screen(Shared& shared) {
    return std::make_unique<HandoverScreen>(shared);
}

}  // namespace tapwright::ui
