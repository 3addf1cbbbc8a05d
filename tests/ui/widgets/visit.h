// A person in front of the gallery, at one of its places.
#pragma once

#include <imgui.h>
#include <imgui_internal.h>

#include "tests/ui/frame/person.h"
#include "tests/ui/widgets/gallery.h"

namespace tapwright::tests {

struct Visit {
    explicit Visit(ui::PlaceId place, Screen screen = {})
        : app(words, gallery_parts(log)), person((app.show(place), app), screen, regular_face(), semibold_face()) {}
    GalleryLog log;
    ui::HeadlessHost words;
    ui::App app;
    Person person;
};

}  // namespace tapwright::tests
