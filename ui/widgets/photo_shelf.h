// Pictures of photos for the screen, made when they are first looked at: at most one a frame, so that a page full of
// photos stays quick to the touch, and no more than forty are held.
#pragma once

#include <cstdint>
#include <functional>
#include <list>
#include <string>
#include <vector>

#include "core/base/result.h"
#include "ui/frame/context.h"

namespace tapwright::ui {

// Rows from the top, 4 bytes a pixel.
struct PhotoPixels {
    int width = 0, height = 0;
    std::vector<std::uint8_t> rgba;
};

class PhotoShelf {
public:
    // `sha256` in hex; the longer side gets at most `longest` pixels. A width of 0: not yet; whoever makes it asks for
    // a frame once it is there.
    using Source = std::function<Result<PhotoPixels>(const std::string& sha256, int longest)>;

    struct Picture {
        std::string key;
        std::uint64_t picture = 0;  // 0: it cannot be shown, and `problem` says why
        int width = 0, height = 0;
        Message problem;
    };

    // Returns: the picture, or nothing while it is still to be made (then one more frame has been asked for). Good
    // until the next call.
    const Picture* look(Context& context, const Source& source, const std::string& sha256, int longest);

    // All pictures are gone with the graphics memory they were in: they are made anew.
    void forget() { shelf_.clear(); }

private:
    std::list<Picture> shelf_;  // the one looked at last in front
    int made_in_frame_ = -1;
};

// The photo in a box at the cursor, as wide as what is left and at most `most_units` high, itself a touch target.
// Returns: where the picture lies (width 0 while there is none), and whether it was tapped.
struct PhotoTouch {
    Area picture;
    bool tapped = false;
    float x = 0, y = 0;  // of the tap, in 0..1 of the picture
};
PhotoTouch photo_picture(Context& context, std::string_view name, PhotoShelf& shelf, const PhotoShelf::Source& source,
                         const std::string& sha256, const Message& words, float width, float most_units);

// The same in the middle of a box of so many pixels, as large as it goes in there.
PhotoTouch photo_full(Context& context, std::string_view name, PhotoShelf& shelf, const PhotoShelf::Source& source,
                      const std::string& sha256, const Message& words, float width, float height);

}  // namespace tapwright::ui
