// The port through which the window sees the machine it runs on. Screens and widgets know this class and nothing else
// of the outside: no files, no clock, no operating system. platform/desktop fills it with a real window, a browser
// build with its own, and ui/frame/headless_host.h with memory for tests.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace tapwright::ui {

// The typefaces the window is set in, and those it falls back on for other scripts.
enum class Face { regular, semibold, other_scripts };

// What a person is about to choose a file for.
enum class FilePurpose { open_job, new_job, import_json, photo, save_sheet, seal, import_types, export_types };

// A rectangle in window pixels.
struct Area {
    float x = 0, y = 0, width = 0, height = 0;
    bool operator==(const Area&) const = default;
};

// Places where a browser or an on-screen keyboard must act inside the touch itself.
struct NativeArea {
    enum class Kind { text, number, file } kind = Kind::text;
    Area area;
    std::string name;  // the mark's name
    std::string text;  // what stands in a field now, so that an input method can go on with it
    FilePurpose purpose = FilePurpose::open_job;  // of a button that asks for a file
    bool operator==(const NativeArea&) const = default;
};

class Host {
public:
    virtual ~Host() = default;

    // The time for words on the screen ("14:02"), local to the person.
    virtual std::string time_of_day() = 0;

    // Asks the platform to let the person choose a file. The answer comes later through Program::file_chosen(); no
    // answer means that the person changed their mind.
    virtual void choose_file(FilePurpose purpose, std::string_view suggested_name) = 0;

    virtual void copy_text(std::string_view text) = 0;

    // Asks for one frame after so many milliseconds, 0 for the next possible moment. Without a request and without
    // input no frame is drawn.
    virtual void wake_after(int milliseconds) = 0;

    // True when the machine's own setting is a dark appearance.
    virtual bool prefers_night() = 0;

    // Pixels for each unit as the display suggests, before the person's own choice of text size; 1 or more.
    virtual float content_scale() = 0;

    // A picture for the screen: rows from the top, 4 bytes a pixel (red, green, blue, alpha). Returns: what Dear ImGui
    // knows it by, not 0; drop_picture() gives it back.
    virtual std::uint64_t make_picture(int width, int height, const std::uint8_t* rgba) = 0;
    virtual void drop_picture(std::uint64_t picture) = 0;

    // Called when the set of such places has changed, with all of them; empty when there are none.
    virtual void publish_native_areas(const std::vector<NativeArea>& areas) = 0;

    // The bytes of a typeface (TrueType or OpenType), or nothing when the machine does not have it. `other_scripts` is
    // asked for once, when a character is met that `regular` does not have; several files may answer.
    virtual std::vector<std::string> font_files(Face face) = 0;
};

}  // namespace tapwright::ui
