// Snags: what still has to be put right, added with a sentence, closed with one touch.
#include "core/base/text.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/words.h"
#include "ui/screens/snags/note_snag.h"

namespace tapwright::ui {
namespace {

bool is_open(const Snag& snag) {
    return snag.state.value_or(SnagState::open) == SnagState::open;
}

class SnagsScreen : public Screen {
public:
    explicit SnagsScreen(Shared& shared) : shared_(shared), note_(shared) {}
    Message title(Context&) override { return "Snags"; }
    void draw(Context& context) override {
        const Job& job = context.session->job();
        std::size_t open = 0, closed = 0;
        for (const Snag& snag : job.all<Snag>()) ++(is_open(snag) ? open : closed);
        if (open + closed == 0)
            empty_state(context, Shape::snags, "No snags yet",
                        "What still has to be put right is noted here. Start with what you saw.");
        if (open > 0) section_title(context, std::to_string(open) + " open");
        for (const Snag& snag : job.all<Snag>())
            if (is_open(snag)) draw_snag(context, job, snag);
        draw_closed(context, job, closed);
        note_.draw(context);
    }
    bool has_foot(Context&) override { return true; }
    void draw_foot(Context& context) override {
        if (button(context, "snags.add", "Note a snag", {.kind = ButtonKind::primary, .shape = Shape::plus}))
            note_.begin(Id());
    }

private:
    void draw_closed(Context& context, const Job& job, std::size_t closed) {
        if (closed == 0) return;
        if (toggle(context, "snags.show_closed", counted(closed, "closed snag") + " shown", show_closed_))
            show_closed_ = !show_closed_;
        for (const Snag& snag : job.all<Snag>())
            if (show_closed_ && !is_open(snag)) draw_snag(context, job, snag);
    }

    void draw_snag(Context& context, const Job& job, const Snag& snag) {
        const bool open = is_open(snag);
        const std::string name = "snag." + snag.id.text();
        Card card(context, open ? Tone::warning : Tone::plain);
        paragraph(context, snag.text.value_or("Snag without words"), TextSize::strong);
        std::string about = snag.about ? "About " + name_of(job, snag.about) : "About nothing in particular";
        if (snag.opened) about += ", found " + snag.opened->text;
        if (snag.closed && !open) about += ", put right " + snag.closed->text;
        quiet_paragraph(context, about);
        tone_badge(context, open ? Tone::warning : Tone::good, open ? "Open" : "Put right");
        if (button(context, name, "Change it", {.width = share_of_width(context, 2)}))
            context.requests.open(record_screen(shared_, Kind::snag, snag.id));
        beside(context);
        if (!button(context, name + (open ? ".close" : ".open"), open ? "It is put right" : "Open it again",
                    {.shape = open ? Shape::check : Shape::undo}))
            return;
        const Value day = open ? Value(shared_.stamp().date()) : Value();
        shared_.ask(context, {setting(Kind::snag, snag.id, {{"state", open ? "closed" : "open"}, {"closed", day}})},
                    open ? "Snag put right" : "Snag open again");
    }

    Shared& shared_;
    NoteSnag note_;
    bool show_closed_ = false;
};

}  // namespace

std::unique_ptr<Screen> snags_screen(Shared& shared) {
    return std::make_unique<SnagsScreen>(shared);
}

}  // namespace tapwright::ui
