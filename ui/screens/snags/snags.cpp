// Snags: what still has to be fixed, added with a sentence, closed with one touch.
#include <algorithm>

#include "core/words/place_name.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"
#include "ui/screens/snags/note_snag.h"

namespace tapwright::ui {
namespace {

bool is_open(const Snag& snag) {
    return snag.state.value_or(SnagState::open) == SnagState::open;
}

class SnagsScreen : public TitledScreen {
public:
    explicit SnagsScreen(Shared& shared) : TitledScreen(shared, Message("Snags")), note_(shared) {}
    void draw(Context& context) override {
        const Job& job = context.session->job();
        std::int64_t open = 0, closed = 0;
        for (const Snag& snag : job.all<Snag>()) ++(is_open(snag) ? open : closed);
        if (open + closed == 0)
            empty_state(context, Shape::snags, Message("No snags yet"),
                        Message("Note what still has to be fixed, and where."));
        if (open > 0 && !context.low) section_title(context, plural("{count} open snag", "{count} open snags", open));
        for (const Snag& snag : job.all<Snag>())
            if (is_open(snag)) draw_snag(context, job, snag);
        draw_closed(context, job, closed);
        note_.draw(context);
    }
    bool has_foot(Context&) override { return true; }
    void draw_foot(Context& context) override {
        if (button(context, "snags.add", Message("Note a snag"), {.kind = ButtonKind::primary, .shape = Shape::plus}))
            note_.begin(Id());
    }

private:
    void draw_closed(Context& context, const Job& job, std::int64_t closed) {
        if (closed == 0) return;
        const OnlyLooks shows_more(context);
        if (toggle(context, "snags.show_closed", plural("Show {count} fixed snag", "Show {count} fixed snags", closed),
                   show_closed_))
            show_closed_ = !show_closed_;
        for (const Snag& snag : job.all<Snag>())
            if (show_closed_ && !is_open(snag)) draw_snag(context, job, snag);
    }

    static Message where_and_when(const Job& job, const Snag& snag) {
        return sentences({
            snag.about ? Message("{place}.", {{"place", place_name(job, snag.about)}}) : Message("No location."),
            snag.opened ? Message("Noted {day}.", {{"day", Day{snag.opened->text}}}) : Message(),
            snag.closed && !is_open(snag) ? Message("Fixed {day}.", {{"day", Day{snag.closed->text}}}) : Message(),
        });
    }

    void draw_snag(Context& context, const Job& job, const Snag& snag) {
        const bool open = is_open(snag);
        const std::string name = "snag." + snag.id.text();
        if (context.low) return draw_row(context, job, snag, name);
        Card card(context, open ? Tone::warning : Tone::plain);
        const Message text = snag.text ? entered(*snag.text) : Message("Snag without a description");
        const About about(context.marks, context.words.text(text));
        paragraph(context, text, TextSize::strong);
        quiet_paragraph(context, where_and_when(job, snag));
        tone_badge(context, open ? Tone::warning : Tone::good, open ? in_context("snag", "Open") : Message("Fixed"));
        const Message edit = Message("Edit"), next = open ? Message("Mark as fixed") : Message("Open again");
        const float width = share_of_width(context, 2);
        ButtonOptions first{.width = width},
            second{.width = width, .shape = open ? Shape::check : Shape::undo, .changes = true};
        first.height = second.height =
            std::max(button_height(context, edit, first), button_height(context, next, second));
        if (button(context, name, edit, first)) context.requests.open(record_screen(shared_, Kind::snag, snag.id));
        beside(context);
        if (!button(context, name + (open ? ".close" : ".open"), next, second)) return;
        const Value day = open ? Value(shared_.stamp().date()) : Value();
        shared_.ask(context, {setting(Kind::snag, snag.id, {{"state", open ? "closed" : "open"}, {"closed", day}})},
                    open ? Message("Snag marked as fixed") : Message("Snag opened again"));
    }

    // Where few lines have room; its page says the rest.
    void draw_row(Context& context, const Job& job, const Snag& snag, const std::string& name) {
        Row row;
        row.title = snag.text ? entered(*snag.text) : Message("Snag without a description");
        row.detail = where_and_when(job, snag);
        row.tone = is_open(snag) ? Tone::warning : Tone::good;
        row.word = is_open(snag) ? in_context("snag", "Open") : Message("Fixed");
        row.chevron = true;
        if (list_row(context, name, row).tapped) context.requests.open(record_screen(shared_, Kind::snag, snag.id));
    }

    NoteSnag note_;
    bool show_closed_ = false;
};

}  // namespace

std::unique_ptr<Screen> snags_screen(Shared& shared) {
    return std::make_unique<SnagsScreen>(shared);
}

}  // namespace tapwright::ui
