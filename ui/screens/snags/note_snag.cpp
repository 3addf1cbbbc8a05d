#include "ui/screens/snags/note_snag.h"

#include "ui/screens/common/forms.h"

namespace tapwright::ui {

void NoteSnag::begin(const Id& about) {
    about_ = about;
    open_ = just_opened_ = true;
}

void NoteSnag::draw(Context& context) {
    Sheet sheet(context, "snag.new", Message("Note a snag"), open_);
    if (!sheet) return;
    const Job& job = context.session->job();
    const FieldEvent event = text_field(context, "snag.new.text", Message("What is wrong"), "", text_,
                                        {.hint = Message("such as ceiling tile cracked"), .focus = just_opened_});
    just_opened_ = false;
    const bool has_about = about_ != Id() && job.kind_of(about_);
    Row about;
    about.title = Message("Where");
    about.value = has_about ? entered(name_of(job, about_)) : Message("Not chosen");
    about.chevron = true;
    if (list_row(context, "snag.new.about", about).tapped) pick_about(context);
    const bool tapped = button(context, "snag.new.add", Message("Note this snag"),
                               {.kind = ButtonKind::primary, .enabled = !text_.text.empty(), .shape = Shape::plus});
    if (!(tapped || event == FieldEvent::commit) || text_.text.empty()) return;
    Map fields = {{"text", text_.text}};
    if (has_about) fields.emplace_back("about", about_.text());
    open_ = false;
    text_ = {};
    context.requests.after_frame([this] { text_ = {}; });
    shared_.ask(context, {adding(Kind::snag, std::move(fields))}, Message("Snag noted"));
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
