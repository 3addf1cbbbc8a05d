#include "ui/screens/snags/note_snag.h"

#include "ui/screens/common/forms.h"

namespace tapwright::ui {

void NoteSnag::begin(const Id& about) {
    about_ = about;
    draft_ = "snag.new.text." + about.text() + ".";
    open_ = just_opened_ = true;
}

void NoteSnag::draw(Context& context) {
    const bool was_open = open_;
    Sheet sheet(context, "snag.new", Message("Note a snag"), open_);
    if (const Draft* typed = shared_.typed_draft(draft_); was_open && !open_ && typed)
        context.requests.say(Tone::note, draft_words(*typed));
    if (!sheet) return;
    const Job& job = context.session->job();
    Draft& typed = shared_.drafts[draft_];
    text_field(context, "snag.new.text", Message("What is wrong"), "", typed,
               {.hint = Message("such as ceiling tile cracked"), .focus = just_opened_, .is_new = true});
    just_opened_ = false;
    const bool has_about = about_ != Id() && job.kind_of(about_);
    Row about;
    about.title = Message("Where");
    about.value = has_about ? entered(name_of(job, about_)) : Message("Not chosen");
    about.chevron = true;
    if (list_row(context, "snag.new.about", about).tapped) pick_about(context);
    if (!button(context, "snag.new.add", Message("Note this snag"),
                {.kind = ButtonKind::primary, .enabled = !typed.text.empty(), .shape = Shape::plus}))
        return;
    Map fields = {{"text", typed.text}};
    if (has_about) fields.emplace_back("about", about_.text());
    open_ = false;
    shared_.ask(context, {adding(Kind::snag, std::move(fields))}, Message("Snag noted"),
                [this](const std::vector<Id>&) { shared_.drop_drafts(draft_); });
}

void NoteSnag::pick_about(Context& context) {
    PickOptions options;
    options.title = Message("Where is it?");
    options.kinds = {Kind::room, Kind::point, Kind::zone, Kind::amplifier, Kind::control};
    options.current = about_;
    open_ = false;
    context.requests.open(pick_screen(shared_, options, [this](Context& now, const Id& picked) {
        about_ = picked;
        now.requests.after_frame([this] { open_ = true; });
    }));
}

}  // namespace tapwright::ui
