#include "ui/widgets/photo_shelf.h"

#include <algorithm>
#include <cmath>

#include "core/words/words.h"
#include "ui/frame/shapes.h"
#include "ui/frame/text.h"
#include "ui/widgets/touchable.h"

namespace tapwright::ui {
namespace {

constexpr std::size_t most_held = 40;

}  // namespace

const PhotoShelf::Picture* PhotoShelf::look(Context& context, const Source& source, const std::string& sha256,
                                            int longest) {
    const std::string key = sha256 + "/" + std::to_string(longest);
    const auto found = std::find_if(shelf_.begin(), shelf_.end(), [&](const Picture& each) { return each.key == key; });
    if (found != shelf_.end()) {
        shelf_.splice(shelf_.begin(), shelf_, found);
        return &shelf_.front();
    }
    if (made_in_frame_ == context.frame) {
        context.requests.another_frame();
        return nullptr;
    }
    made_in_frame_ = context.frame;
    Picture made;
    made.key = key;
    const Result<PhotoPixels> pixels = source(sha256, longest);
    if (pixels && pixels->width == 0) return nullptr;
    if (pixels) {
        made.picture = context.host.make_picture(pixels->width, pixels->height, pixels->rgba.data());
        made.width = pixels->width;
        made.height = pixels->height;
    } else {
        made.problem = pixels.refusal().message;
    }
    shelf_.push_front(std::move(made));
    if (shelf_.size() > most_held) {
        // What may be in this frame's drawing goes only after it.
        const std::uint64_t old = shelf_.back().picture;
        shelf_.pop_back();
        if (old != 0) context.requests.after_frame([&host = context.host, old] { host.drop_picture(old); });
    }
    return &shelf_.front();
}

namespace {

// How large a photo is drawn in a box of `width` by `most` pixels; before it is made, as large as the box.
ImVec2 size_in(const PhotoShelf::Picture* photo, float width, float most, float most_scale) {
    if (!photo || photo->picture == 0) return {width, most};
    const float across = static_cast<float>(photo->width), down = static_cast<float>(photo->height);
    const float scale = std::min({width / across, most / down, most_scale});
    return {std::max(1.0F, std::floor(across * scale)), std::max(1.0F, std::floor(down * scale))};
}

void draw_picture(Context& context, const PhotoShelf::Picture* photo, const Area& a) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    if (!photo || photo->picture == 0) {
        panel(context, list, a, context.theme.plain.fill, context.theme.edge, measure::corner);
        const Message words = photo ? photo->problem : Message("Being made ready");
        const Lines lines = broken_into_lines(context, TextSize::body, context.words.text(words),
                                              std::max(1.0F, a.width - context.px(16)), 4);
        write(context, list, TextSize::body, context.theme.quiet_text, lines,
              {a.x + context.px(8), a.y, a.width - context.px(16), a.height}, Align::centre);
    } else if (in_sight(list, ImVec2(a.x, a.y), ImVec2(a.x + a.width, a.y + a.height))) {
        list->AddImage(static_cast<ImTextureID>(photo->picture), ImVec2(a.x, a.y),
                       ImVec2(a.x + a.width, a.y + a.height));
    }
}

PhotoTouch touch_of(Context& context, const PhotoShelf::Picture* photo, const Touch& touched, const Area& picture) {
    draw_picture(context, photo, picture);
    focus_ring(context, touched, measure::corner);
    PhotoTouch touch;
    touch.picture = picture;
    if (!photo) touch.picture.width = 0;
    touch.tapped = touched.tapped;
    const ImVec2 finger = ImGui::GetIO().MousePos;
    touch.x = std::clamp((finger.x - picture.x) / picture.width, 0.0F, 1.0F);
    touch.y = std::clamp((finger.y - picture.y) / picture.height, 0.0F, 1.0F);
    return touch;
}

}  // namespace

PhotoTouch photo_picture(Context& context, std::string_view name, PhotoShelf& shelf, const PhotoShelf::Source& source,
                         const std::string& sha256, const Message& words, float width, float most_units) {
    constexpr float most_scale = 2;
    const float most = context.px(most_units);
    const PhotoShelf::Picture* photo = shelf.look(context, source, sha256, static_cast<int>(std::max(width, most)));
    const ImVec2 size = size_in(photo, width, most, most_scale);
    const float height = std::max(size.y, context.px(measure::touch));
    const Touch touched = touchable(context, name, ImVec2(width, height), context.words.text(words));
    const Area& a = touched.area;
    return touch_of(context, photo, touched, {a.x + std::floor((width - size.x) / 2), a.y, size.x, size.y});
}

PhotoTouch photo_full(Context& context, std::string_view name, PhotoShelf& shelf, const PhotoShelf::Source& source,
                      const std::string& sha256, const Message& words, float width, float height) {
    constexpr float any_scale = 1000;
    const PhotoShelf::Picture* photo = shelf.look(context, source, sha256, static_cast<int>(std::max(width, height)));
    const ImVec2 size = size_in(photo, width, height, any_scale);
    const Touch touched = touchable(context, name, ImVec2(width, height), context.words.text(words));
    const Area& a = touched.area;
    return touch_of(context, photo, touched,
                    {a.x + std::floor((width - size.x) / 2), a.y + std::floor((height - size.y) / 2), size.x, size.y});
}

}  // namespace tapwright::ui
