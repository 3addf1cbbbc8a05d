#include "ui/screens/photos.h"

#include "core/base/text.h"
#include "ui/screens/forms.h"
#include "ui/screens/words.h"

namespace tapwright::ui {
namespace {

// One photo over the whole width; a touch sets the pin that says where to look.
class PhotoScreen : public Screen {
public:
    PhotoScreen(Shared& shared, Id photo) : shared_(shared), id_(std::move(photo)) {}
    std::string title(Context& context) override {
        const Photo* photo = context.session->job().find<Photo>(id_);
        return photo && photo->caption ? *photo->caption : "Photo";
    }
    void draw(Context& context) override {
        const Job& job = context.session->job();
        const Photo* photo = job.find<Photo>(id_);
        if (!photo || !photo->sha256)
            return empty_state(context, Shape::erase, "Removed", "This photo is no more. Undo brings it back.");
        const PhotoTouch touch = photo_picture(context, "photo.picture", shared_.shelf, shared_.photo_pixels,
                                               photo->sha256->hex, title(context), width_left(), 520);
        if (photo->pin && touch.picture.width > 0) draw_pin(context, *photo->pin, touch.picture);
        if (touch.tapped && touch.picture.width > 0)
            shared_.ask(
                context,
                {setting(Kind::photo, id_,
                         {{"pin", Map{{"x", static_cast<double>(touch.x)}, {"y", static_cast<double>(touch.y)}}}})},
                "Pin set on the photo");
        quiet_paragraph(context, "Touch the photo to set the pin that says where to look.");
        if (photo->pin && button(context, "photo.unpin", "Take the pin out", {.shape = Shape::cross}))
            shared_.ask(context, {setting(Kind::photo, id_, {{"pin", Value()}})}, "Pin taken out");
        for (const char* field : {"caption", "share", "about"})
            field_row(context, shared_, form_, "photo", Kind::photo, id_, *find_field(Kind::photo, field));
        draw_removal(context, job);
    }

private:
    static void draw_pin(Context& context, const Pin& pin, const Area& picture) {
        ImDrawList* list = ImGui::GetWindowDrawList();
        const ImVec2 at(picture.x + static_cast<float>(pin.x) * picture.width,
                        picture.y + static_cast<float>(pin.y) * picture.height);
        list->AddCircle(at, context.px(16), IM_COL32(255, 255, 255, 255), 32, context.px(6));
        list->AddCircle(at, context.px(16), ink(context.theme.stop.solid), 32, context.px(3));
    }

    void draw_removal(Context& context, const Job& job) {
        space(context, 12);
        if (button(context, "photo.remove", "Remove", {.kind = ButtonKind::danger, .shape = Shape::cross}))
            remove_open_ = true;
        if (ask(context, "photo.remove_ask", "Remove this photo?",
                "It is no longer shown and stands on no sheet. The file keeps its bytes; undo brings it back.",
                "Remove it", "Leave it", remove_open_) != Answer::yes)
            return;
        shared_.ask(context, removal(job, Kind::photo, id_), "Photo removed");
        context.requests.back();
    }

    Shared& shared_;
    Id id_;
    FormState form_;
    bool remove_open_ = false;
};

class PhotosScreen : public Screen {
public:
    PhotosScreen(Shared& shared, Id about) : shared_(shared), about_(std::move(about)) {}
    std::string title(Context& context) override { return "Photos of " + name_of(context.session->job(), about_); }
    bool has_foot(Context& context) override { return context.session->job().kind_of(about_).has_value(); }
    void draw_foot(Context& context) override {
        if (!button(context, "photos.add", "Add a photo", {.kind = ButtonKind::primary, .shape = Shape::plus})) return;
        context.host.choose_file(FilePurpose::photo, "");
        take_files();
    }
    void draw(Context& context) override {
        const Job& job = context.session->job();
        if (!job.kind_of(about_)) return empty_state(context, Shape::erase, "Removed", "This record is no more.");
        take_files();
        draw_work(context);
        std::size_t shown = 0;
        const bool two = width_left() > context.px(300);
        const float width = two ? share_of_width(context, 2) : width_left();
        for (const Photo& photo : job.all<Photo>()) {
            if (photo.about != about_ || !photo.sha256) continue;
            if (two && shown % 2 == 1) beside(context);
            const std::string words = photo.caption.value_or("Photo without a caption");
            if (photo_picture(context, "photo." + photo.id.text(), shared_.shelf, shared_.photo_pixels,
                              photo.sha256->hex, words, width, 160)
                    .tapped)
                context.requests.open(std::make_unique<PhotoScreen>(shared_, photo.id));
            ++shown;
        }
        if (shown == 0)
            empty_state(context, Shape::rooms, "No photos yet",
                        "Add one from a file, or drop it onto this page: JPEG or PNG, up to 40 MB.");
    }

private:
    // Files that are chosen or dropped while this page is in front are photos of this record.
    void take_files() {
        shared_.takes_files = true;
        shared_.on_file = [&shared = shared_, about = about_](FilePurpose purpose, const std::string& path) {
            if (purpose == FilePurpose::photo && shared.take_photos) shared.take_photos(about, {path});
        };
    }

    void draw_work(Context& context) {
        const PhotoWork work = shared_.photo_work ? shared_.photo_work() : PhotoWork();
        if (work.all == work.done) return;
        const std::string what = "Taking in photo " + std::to_string(work.done + 1) + " of " + std::to_string(work.all);
        if (progress(context, "photos.work", what, static_cast<float>(work.done) / static_cast<float>(work.all)))
            context.requests.after_frame([this] { shared_.cancel_photos(); });
    }

    Shared& shared_;
    Id about_;
};

}  // namespace

std::unique_ptr<Screen> photos_screen(Shared& shared, const Id& about) {
    return std::make_unique<PhotosScreen>(shared, about);
}

void photos_button(Context& context, Shared& shared, std::string_view name, const Id& about) {
    std::size_t count = 0;
    for (const Photo& photo : context.session->job().all<Photo>()) count += photo.about == about;
    const std::string label = count == 0 ? "Photos" : counted(count, "photo");
    if (button(context, name, label, {.shape = Shape::more})) context.requests.open(photos_screen(shared, about));
}

}  // namespace tapwright::ui
