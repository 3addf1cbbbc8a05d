// The gallery in a real window: test_ui_gallery [--place NAME] [--picture OUT.png] [--size 390x844] [--scale 2]
// [--theme day|night] [--marks OUT.json] [--seconds N]. With --picture it draws one place and ends.
#include <cstdio>
#include <iostream>
#include <map>
#include <string>

#include "platform/desktop/window.h"
#include "tests/ui/widgets/gallery.h"

namespace {

using namespace tapwright;

int whole(const std::string& text) {
    return std::stoi(text);
}

}  // namespace

int main(int count, char** words) {
    std::map<std::string, std::string> given;
    for (int i = 1; i + 1 < count; i += 2) given[words[i]] = words[i + 1];
    desktop::WindowOptions options;
    options.picture_file = given["--picture"];
    options.marks_file = given["--marks"];
    options.figures = options.picture_file.empty();
    if (given.count("--size")) std::sscanf(given["--size"].c_str(), "%dx%d", &options.width, &options.height);
    if (given.count("--scale")) options.scale = static_cast<float>(whole(given["--scale"]));
    if (given.count("--seconds")) options.close_after_seconds = whole(given["--seconds"]);
    options.preferences.appearance =
        given["--theme"] == "night" ? ui::Preferences::Appearance::night : ui::Preferences::Appearance::day;
    tests::GalleryLog log;
    log.pad_open = given["--sheet"] == "pad";
    log.sheet_open = given["--sheet"] == "ask";
    options.make_program = [&](ui::Host& host) {
        auto app = std::make_unique<ui::App>(host, tests::gallery_parts(log));
        const char* names[] = {"survey", "rooms", "lines", "readings", "snags", "handover"};
        for (int i = 0; i < ui::place_count; ++i)
            if (given["--place"] == names[i]) app->show(static_cast<ui::PlaceId>(i));
        if (given.count("--say")) app->say(ui::Tone::stop, entered(given["--say"]));
        return app;
    };
    return desktop::run_window(options);
}
