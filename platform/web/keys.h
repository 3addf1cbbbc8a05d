// Keys of a keyboard as the browser names them (UI Events KeyboardEvent code and key Values), for Dear ImGui.
#pragma once

#include <imgui.h>

#include <string_view>

namespace tapwright::web {

// ImGuiKey_None for a key that means nothing here. Letters and digits go by what is printed on the key ("key"), all
// others by where they are ("code").
ImGuiKey key_of(std::string_view code, std::string_view key);

}  // namespace tapwright::web
