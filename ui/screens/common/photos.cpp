#include "ui/screens/common/photos.h"

#include <algorithm>

#include "core/base/sort.h"
#include "core/base/text.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {
namespace {

void draw_pin(Context& context, const Pin& pin, const Area& picture, float units) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    const ImVec2 at(picture.x + static_cast<float>(pin.x) * picture.width,
                    picture.y + static_cast<float>(pin.y) * picture.height);
    list->AddCircle(at, context.px(units), IM_COL32(255, 255, 255, 255), 32, context.px(6));
    list->AddCircle(at, context.px(units), ink(context.theme.stop.solid), 32, context.px(3));
}

Message caption_of(const Photo& photo) {
    return photo.caption ? Message(entered(*photo.caption)) : Message("Photo without a caption");
}

// One photo over the whole window, until it is touched or Escape is pressed.
void draw_full_view(Context& context, Shared& shared, const Photo& photo, bool& open) {
    constexpr const char* id = "photo.full.view";
    if (open && !ImGui::IsPopupOpen(id)) {
        ImGui::OpenPopup(id);
        context.requests.another_frame();
    }
    if (!ImGui::IsPopupOpen(id)) return;
    const ImVec2 window = ImGui::GetIO().DisplaySize;
    ImGui::SetNextWindowPos(ImVec2(0, 0));
    ImGui::SetNextWindowSize(window);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(0, 0));
    ImGui::PushStyleVar(ImGuiStyleVar_WindowRounding, 0);
    ImGui::PushStyleColor(ImGuiCol_PopupBg, IM_COL32(0, 0, 0, 255));
    const bool shown = ImGui::BeginPopupModal(
        id, nullptr, ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings);
    ImGui::PopStyleColor();
    ImGui::PopStyleVar(2);
    if (!shown) return;
    const InPart part(context.marks, PartKind::dialog, id);
    const PhotoTouch touch =
        photo_full(context, "photo.full", shared.shelf, shared.photo_pixels, photo.sha256->hex,
                   Message("{photo}, touch to close", {{"photo", caption_of(photo)}}), window.x, window.y);
    if (photo.pin && touch.picture.width > 0) draw_pin(context, *photo.pin, touch.picture, 16);
    if (touch.tapped || ImGui::IsKeyPressed(ImGuiKey_Escape, false)) open = false;
    if (!open) ImGui::CloseCurrentPopup();
    ImGui::EndPopup();
}

bool add_photo_button(Context& context) {
    return file_button(context, "photos.add", Message("Add a photo"), FilePurpose::photo,
                       {.kind = ButtonKind::primary, .shape = Shape::plus});
}

// One photo with its pin, its words and who may see it; a touch shows it over the whole window.
class PhotoScreen : public ScreenOfRecord {
public:
    PhotoScreen(Shared& shared, Id photo) : ScreenOfRecord(shared, std::move(photo), Message("Photo")) {}
    void draw_foot(Context& context) override { add_photo_button(context); }

private:
    bool is_there(const Job& job) const override {
        const Photo* photo = job.find<Photo>(id_);
        return photo && photo->sha256;
    }
    Message title_of_record(Context&, const Job& job) override {
        const Photo& photo = *job.find<Photo>(id_);
        return photo.caption ? Message(entered(*photo.caption)) : Message("Photo");
    }
    // Beside the shelf the next photo is added from here; the shelf in its pane takes the file.
    bool has_record_foot(Context& context, const Job&) override { return context.wide; }
    void draw_record(Context& context, const Job& job) override {
        const Photo* photo = job.find<Photo>(id_);
        const PhotoTouch touch = photo_picture(context, "photo.picture", shared_.shelf, shared_.photo_pixels,
                                               photo->sha256->hex, title(context), width_left(), 520);
        if (photo->pin && touch.picture.width > 0) draw_pin(context, *photo->pin, touch.picture, 16);
        if (touch.tapped && touch.picture.width > 0 && !placing_) full_ = true;
        if (touch.tapped && touch.picture.width > 0 && placing_) set_pin(context, touch);
        draw_pin_keys(context, *photo);
        for (const char* field : {"caption", "share", "about"})
            field_row(context, shared_, form_, "photo", Kind::photo, id_, *find_field(Kind::photo, field));
        draw_removal(context, job);
        draw_full_view(context, shared_, *photo, full_);
    }

    void draw_pin_keys(Context& context, const Photo& photo) {
        if (placing_) {
            paragraph(context, Message("Touch the photo at the spot to look at."));
            if (button(context, "photo.pin_not", Message("Leave the pin as it is"), {.shape = Shape::cross}))
                placing_ = false;
            return;
        }
        const float width = photo.pin ? share_of_width(context, 2) : 0;
        if (button(context, "photo.pin", photo.pin ? Message("Move the pin") : Message("Pin a spot"), {.width = width}))
            placing_ = true;
        if (!photo.pin) return;
        beside(context);
        if (button(context, "photo.unpin", Message("Take it out"), {.width = width}))
            shared_.ask(context, {setting(Kind::photo, id_, {{"pin", Value()}})}, Message("Pin taken out"));
    }

    void set_pin(Context& context, const PhotoTouch& touch) {
        placing_ = false;
        const Map spot = {{"x", static_cast<double>(touch.x)}, {"y", static_cast<double>(touch.y)}};
        shared_.ask(context, {setting(Kind::photo, id_, {{"pin", spot}})}, Message("Pin set on the photo"));
    }

    void draw_removal(Context& context, const Job& job) {
        space(context, 12);
        if (button(context, "photo.remove", Message("Remove"), {.kind = ButtonKind::danger, .shape = Shape::cross}))
            remove_open_ = true;
        if (ask(context, "photo.remove_ask", Message("Remove this photo?"),
                Message("It will not appear on screens or sheets. The file still contains it."), Message("Remove it"),
                Message("Leave it"), remove_open_) != Answer::yes)
            return;
        shared_.ask(context, removal(job, Kind::photo, id_), Message("Photo removed"));
        context.requests.back();
    }

    FormState form_;
    bool remove_open_ = false, placing_ = false, full_ = false;
};

// The latest first, by when they were taken, else by when they came into the job. `about`: only those of that record.
std::vector<const Photo*> newest_first(const Job& job, const std::optional<Id>& about) {
    std::vector<const Photo*> photos;
    for (const Photo& photo : job.all<Photo>())
        if (photo.sha256 && (!about || photo.about == *about)) photos.insert(photos.begin(), &photo);
    sort_by(photos, [](const Photo* first, const Photo* second) {
        return first->taken && second->taken && milliseconds(*first->taken) > milliseconds(*second->taken);
    });
    return photos;
}

void words_below(Context& context, TextSize size, Colour colour, const Message& words, float width) {
    const Lines lines = broken_into_lines(context, size, context.words.text(words), width, 3);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::Dummy(ImVec2(width, lines.height));
    write(context, ImGui::GetWindowDrawList(), size, colour, lines, {at.x, at.y, width, lines.height});
}

// A shelf of thumbnails: the photo, its caption, what it is of where that is asked for, and who may see it.
void draw_shelf(Context& context, Shared& shared, const std::vector<const Photo*>& photos, bool with_subject) {
    const auto columns = static_cast<std::size_t>(std::clamp(width_left() / context.px(170), 1.0F, 4.0F));
    const float width = share_of_width(context, static_cast<int>(columns));
    for (std::size_t i = 0; i < photos.size(); ++i) {
        const Photo& photo = *photos[i];
        if (i % columns != 0) beside(context);
        const Message caption = caption_of(photo), share = share_words(photo.share);
        const Message pinned = photo.pin ? Message("{share}, a spot is pinned", {{"share", share}}) : share;
        const Message subject =
            with_subject && photo.about ? record_words(context.session->job(), *photo.about) : Message();
        ImGui::BeginGroup();
        const PhotoTouch touch = photo_picture(context, "photo." + photo.id.text(), shared.shelf, shared.photo_pixels,
                                               photo.sha256->hex, read_out({caption, subject, pinned}), width, 160);
        if (photo.pin && touch.picture.width > 0) draw_pin(context, *photo.pin, touch.picture, 9);
        words_below(context, TextSize::strong, context.theme.text, caption, width);
        if (!subject.empty()) words_below(context, TextSize::body, context.theme.text, subject, width);
        words_below(context, TextSize::body, context.theme.quiet_text, pinned, width);
        ImGui::EndGroup();
        if (touch.tapped) context.requests.open(std::make_unique<PhotoScreen>(shared, photo.id));
    }
}

class AllPhotos : public TitledScreen {
public:
    explicit AllPhotos(Shared& shared) : TitledScreen(shared, titles_of(Kind::photo)) {}
    void draw(Context& context) override {
        const std::vector<const Photo*> photos = newest_first(context.session->job(), std::nullopt);
        if (photos.empty())
            return empty_state(context, Shape::rooms, Message("No photos yet"),
                               Message("Add them on the page of what they show: a room, a loudspeaker, a snag."));
        draw_shelf(context, shared_, photos, true);
    }
};

class PhotosScreen : public ScreenOfRecord {
public:
    PhotosScreen(Shared& shared, Id about) : ScreenOfRecord(shared, std::move(about), Message("Photos")) {}
    void draw_foot(Context& context) override {
        if (add_photo_button(context)) take_files();
    }

private:
    Message title_of_record(Context&, const Job& job) override {
        return Message("Photos of {record}", {{"record", record_words(job, id_)}});
    }
    bool has_record_foot(Context&, const Job&) override { return true; }
    void draw_record(Context& context, const Job& job) override {
        take_files();
        draw_work(context);
        const std::vector<const Photo*> photos = newest_first(job, id_);
        draw_shelf(context, shared_, photos, false);
        if (photos.empty())
            empty_state(context, Shape::rooms, Message("No photos yet"),
                        Message("Add one from a file, or drop it onto this page: JPEG or PNG, up to 40 MB."));
    }

    // Files that are chosen or dropped while this page is in front are photos of this record.
    void take_files() {
        shared_.takes_files = true;
        shared_.on_file = [&shared = shared_, about = id_](FilePurpose purpose, const std::string& path) {
            if (purpose == FilePurpose::photo) shared.ports.take_photos(about, {path});
        };
    }

    void draw_work(Context& context) {
        const PhotoWork work = shared_.ports.photo_work();
        if (work.all == work.done) return;
        const Message what =
            Message("Taking in photo {number} of {all}", {{"number", work.done + 1}, {"all", work.all}});
        if (progress(context, "photos.work", what, static_cast<float>(work.done) / static_cast<float>(work.all)))
            context.requests.after_frame([this] { shared_.ports.cancel_photos(); });
    }
};

}  // namespace

std::unique_ptr<Screen> all_photos_screen(Shared& shared) {
    return std::make_unique<AllPhotos>(shared);
}

std::unique_ptr<Screen> photos_screen(Shared& shared, const Id& about) {
    return std::make_unique<PhotosScreen>(shared, about);
}

void photos_button(Context& context, Shared& shared, std::string_view name, const Id& about) {
    std::size_t count = 0;
    for (const Photo& photo : context.session->job().all<Photo>()) count += photo.about == about;
    const Message label =
        count == 0 ? Message("Photos") : plural("{count} photo", "{count} photos", static_cast<std::int64_t>(count));
    if (button(context, name, label, {.shape = Shape::more})) context.requests.open(photos_screen(shared, about));
}

}  // namespace tapwright::ui
