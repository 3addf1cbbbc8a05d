// What page/worker.js calls. Texts are UTF-8 with a zero behind, bytes have a length; the caller frees both.
#include <emscripten.h>
#include <imgui.h>

#include <string>

#include "core/job/json.h"
#include "platform/web/keys.h"
#include "platform/web/page.h"
#include "platform/web/web_app.h"

using namespace tapwright;
using web::the_app;

#define EXPORTED extern "C" EMSCRIPTEN_KEEPALIVE

namespace {

// A text that the worker's script reads before it calls again.
const char* lent(std::string text) {
    static std::string kept;
    kept = std::move(text);
    return kept.c_str();
}

Value value_of(const char* json) {
    Result<Value> value = parse_json(json, "page");
    return value ? std::move(*value) : Value();
}

}  // namespace

// ---- the start -------------------------------------------------------------------------------------------

EXPORTED void app_typeface(int face, const char* bytes, int size) {
    the_app().host().typefaces[static_cast<std::size_t>(face)].assign(bytes, static_cast<std::size_t>(size));
}
EXPORTED void app_folder_lasts(int lasts) {
    the_app().ports().folder().set_lasts(lasts != 0);
}
EXPORTED void app_can_share(int can_share) {
    the_app().ports().set_can_share(can_share != 0);
}
EXPORTED int app_start(float width, float height, float scale, int night, const char* language) {
    the_app().host().scale = scale;
    the_app().host().night = night != 0;
    return the_app().start(width, height, language) ? 1 : 0;
}

// ---- what came in ----------------------------------------------------------------------------------------

EXPORTED void app_answer(int number, const char* trouble, const char* json, const char* bytes, int size) {
    web::page_answers(number, {trouble, value_of(json), std::string(bytes, static_cast<std::size_t>(size))});
    the_app().touched();
}
EXPORTED void app_size(float width, float height, float scale) {
    the_app().host().scale = scale;
    the_app().resize(width, height);
}
EXPORTED void app_night(int night) {
    the_app().host().night = night != 0;
    the_app().touched();
}
// `phase`: 0 pressed, 1 moved, 2 released, 3 cancelled, 4 left the page. `seconds`: by the worker's clock.
EXPORTED void app_pointer(int phase, int id, float x, float y, double seconds, int is_touch) {
    ui::Gesture& gesture = the_app().touched().gesture();
    const auto kind = is_touch ? ui::Gesture::Pointer::touch : ui::Gesture::Pointer::mouse;
    switch (phase) {
        case 0:
            return gesture.pressed(id, x, y, seconds, kind);
        case 1:
            return gesture.moved(id, x, y, seconds, kind);
        case 2:
            return gesture.released(id, seconds);
        case 3:
            return gesture.cancelled();
        default:
            return gesture.left_window();
    }
}
EXPORTED void app_wheel(float x, float y) {
    the_app().touched();
    ImGui::GetIO().AddMouseWheelEvent(x, y);
}
// What the page's hidden field became: so many characters less before the cursor, then this text.
EXPORTED void app_edit(int back, const char* text) {
    the_app().touched();
    ImGuiIO& io = ImGui::GetIO();
    io.AddKeyEvent(ImGuiMod_Ctrl, false);  // held while it was pasted: Dear ImGui takes no text then
    for (int i = 0; i < back; ++i) {
        io.AddKeyEvent(ImGuiKey_Backspace, true);
        io.AddKeyEvent(ImGuiKey_Backspace, false);
    }
    io.AddInputCharactersUTF8(text);
}
// `held`: 1 Ctrl or the Apple key, 2 Shift, 4 Alt.
EXPORTED void app_key(const char* code, const char* key, int is_down, int held) {
    the_app().touched();
    ImGuiIO& io = ImGui::GetIO();
    io.AddKeyEvent(ImGuiMod_Ctrl, (held & 1) != 0);
    io.AddKeyEvent(ImGuiMod_Shift, (held & 2) != 0);
    io.AddKeyEvent(ImGuiMod_Alt, (held & 4) != 0);
    if (const ImGuiKey known = web::key_of(code, key); known != ImGuiKey_None) io.AddKeyEvent(known, is_down != 0);
}
// What a screen reader does to the thing of that name (ui/frame/hand.h): "tap", "focus", "write" with a text, "leave".
EXPORTED void app_act(const char* what, const char* name, const char* text) {
    ui::Toolkit& toolkit = the_app().touched();
    const std::string_view act = what;
    if (act == "tap") toolkit.hand().tap(toolkit.marks(), name);
    if (act == "focus") toolkit.hand().focus(toolkit.marks(), name);
    if (act == "write") toolkit.hand().write(toolkit.marks(), name, text);
    if (act == "leave") toolkit.hand().leave();
}
EXPORTED void app_focus(int has_focus) {
    if (!has_focus) the_app().touched().gesture().cancelled();
    ImGui::GetIO().AddFocusEvent(has_focus != 0);
}
// The page is not seen any more, and may end any moment.
EXPORTED void app_hidden() {
    the_app().ports().jobs().note_changes();
}
// `file`: the page's name for it (platform/web/store/folder.h).
EXPORTED void app_file_chosen(const char* purpose, const char* file) {
    the_app().touched();
    using ui::FilePurpose;
    for (const FilePurpose known : {FilePurpose::open_job, FilePurpose::import_json, FilePurpose::photo,
                                    FilePurpose::import_types, FilePurpose::export_types})
        if (std::string_view(web::word_of(known)) == purpose) the_app().app().file_chosen(known, file);
}
EXPORTED void app_files_dropped(const char* json) {
    the_app().touched();
    std::vector<std::string> files;
    const Value names = value_of(json);
    if (const List* list = names.list())
        for (const Value& name : *list)
            if (name.text()) files.push_back(*name.text());
    the_app().app().files_dropped(files);
}
// A job as JSON that came with the page.
EXPORTED void app_import(const char* json, const char* name) {
    the_app().touched();
    web::WebPorts& ports = the_app().ports();
    ports.jobs().import_text(json, name, ports.stamp(), [&ports](const Result<void>& made) {
        if (!made) ports.say(ui::Tone::stop, made.refusal().message);
    });
}

// ---- what goes out ---------------------------------------------------------------------------------------

EXPORTED double app_frame() {
    return the_app().frame();
}
EXPORTED int app_restored() {
    return the_app().restored() ? 1 : 0;
}
EXPORTED const char* app_marks() {
    return lent(the_app().marks());
}
EXPORTED const char* app_figures() {
    return lent(the_app().figures());
}
EXPORTED int app_questions() {
    return static_cast<int>(web::questions_open());
}
