#include "ui/photo_shelf.h"

#include <algorithm>
#include <cmath>

#include "ui/shapes.h"
#include "ui/text.h"
#include "ui/touchable.h"

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
    if (pixels) {
        made.picture = context.host.make_picture(pixels->width, pixels->height, pixels->rgba.data());
        made.width = pixels->width;
        made.height = pixels->height;
    } else {
        made.problem = pixels.refusal().text;
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

PhotoTouch photo_picture(Context& context, std::string_view name, PhotoShelf& shelf, const PhotoShelf::Source& source,
                         const std::string& sha256, std::string_view words, float width, float most_units) {
    const float most = context.px(most_units);
    const int longest = static_cast<int>(std::max(width, most));
    const PhotoShelf::Picture* photo = shelf.look(context, source, sha256, longest);
    PhotoTouch touch;
    float across = width, down = most;
    if (photo && photo->picture != 0) {
        const float scale =
            std::min({width / static_cast<float>(photo->width), most / static_cast<float>(photo->height), 2.0F});
        across = std::max(1.0F, std::floor(static_cast<float>(photo->width) * scale));
        down = std::max(1.0F, std::floor(static_cast<float>(photo->height) * scale));
    }
    const float height = std::max(down, context.px(measure::touch));
    const Touch touched = touchable(context, name, ImVec2(width, height), words);
    ImDrawList* list = ImGui::GetWindowDrawList();
    touch.picture = {touched.area.x + std::floor((width - across) / 2), touched.area.y, across, down};
    const Area& a = touch.picture;
    if (!photo || photo->picture == 0) {
        panel(context, list, a, context.theme.plain.fill, context.theme.edge, measure::corner);
        const Lines lines = broken_into_lines(context, TextSize::body, photo ? photo->problem : "Being made ready",
                                              std::max(1.0F, a.width - context.px(16)), 4);
        write(context, list, TextSize::body, context.theme.quiet_text, lines,
              {a.x + context.px(8), a.y, a.width - context.px(16), a.height}, Align::centre);
        if (!photo) touch.picture.width = 0;
    } else if (in_sight(list, ImVec2(a.x, a.y), ImVec2(a.x + a.width, a.y + a.height))) {
        list->AddImage(static_cast<ImTextureID>(photo->picture), ImVec2(a.x, a.y),
                       ImVec2(a.x + a.width, a.y + a.height));
    }
    focus_ring(context, touched, measure::corner);
    touch.tapped = touched.tapped;
    const ImVec2 finger = ImGui::GetIO().MousePos;
    touch.x = std::clamp((finger.x - a.x) / a.width, 0.0F, 1.0F);
    touch.y = std::clamp((finger.y - a.y) / a.height, 0.0F, 1.0F);
    return touch;
}

}  // namespace tapwright::ui
