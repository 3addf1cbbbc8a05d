#include "platform/web/web_host.h"

#include <ctime>

#include "platform/web/page.h"
#include "platform/web/painter.h"

namespace tapwright::web {
namespace {

const char* word_of(ui::NativeArea::Kind kind) {
    switch (kind) {
        case ui::NativeArea::Kind::text:
            return "text";
        case ui::NativeArea::Kind::number:
            return "number";
        case ui::NativeArea::Kind::file:
            break;
    }
    return "file";
}

}  // namespace

const char* word_of(ui::FilePurpose purpose) {
    switch (purpose) {
        case ui::FilePurpose::open_job:
            return "open_job";
        case ui::FilePurpose::new_job:
            return "new_job";
        case ui::FilePurpose::import_json:
            return "import_json";
        case ui::FilePurpose::photo:
            return "photo";
        case ui::FilePurpose::save_sheet:
            return "save_sheet";
        case ui::FilePurpose::seal:
            return "seal";
        case ui::FilePurpose::import_types:
            return "import_types";
        case ui::FilePurpose::export_types:
            break;
    }
    return "export_types";
}

std::string WebHost::time_of_day() {
    const std::time_t now = std::time(nullptr);
    std::tm local{};
    localtime_r(&now, &local);
    char text[8];
    return std::string(text, std::strftime(text, sizeof text, "%H:%M", &local));
}

void WebHost::choose_file(ui::FilePurpose purpose, std::string_view suggested_name) {
    // Where a download goes, the browser decides: the name is all there is to choose.
    if (purpose == ui::FilePurpose::export_types)
        return chosen.emplace_back(purpose, std::string(suggested_name)), void();
    tell_page("choose", Map{{"purpose", word_of(purpose)}, {"name", std::string(suggested_name)}});
}

void WebHost::copy_text(std::string_view text) {
    tell_page("copy", std::string(text));
}

void WebHost::wake_after(int milliseconds) {
    const double at = steady_seconds() + milliseconds / 1000.0;
    if (wake_at < 0 || at < wake_at) wake_at = at;
}

std::uint64_t WebHost::make_picture(int width, int height, const std::uint8_t* rgba) {
    return make_texture(width, height, rgba);
}

void WebHost::drop_picture(std::uint64_t picture) {
    drop_texture(static_cast<unsigned>(picture));
}

void WebHost::publish_native_areas(const std::vector<ui::NativeArea>& areas) {
    List list;
    for (const ui::NativeArea& area : areas)
        list.emplace_back(Map{{"kind", word_of(area.kind)},
                              {"name", area.name},
                              {"text", area.text},
                              {"purpose", web::word_of(area.purpose)},
                              {"x", static_cast<double>(area.area.x)},
                              {"y", static_cast<double>(area.area.y)},
                              {"width", static_cast<double>(area.area.width)},
                              {"height", static_cast<double>(area.area.height)}});
    tell_page("areas", std::move(list));
}

std::vector<std::string> WebHost::font_files(ui::Face face) {
    if (face == ui::Face::other_scripts) return {};
    return {typefaces[static_cast<std::size_t>(face)]};
}

}  // namespace tapwright::web
