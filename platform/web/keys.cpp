#include "platform/web/keys.h"

#include <utility>

namespace tapwright::web {
namespace {

constexpr std::pair<std::string_view, ImGuiKey> named_keys[] = {
    {"Enter", ImGuiKey_Enter},
    {"NumpadEnter", ImGuiKey_KeypadEnter},
    {"Escape", ImGuiKey_Escape},
    {"Tab", ImGuiKey_Tab},
    {"Backspace", ImGuiKey_Backspace},
    {"Delete", ImGuiKey_Delete},
    {"Insert", ImGuiKey_Insert},
    {"Space", ImGuiKey_Space},
    {"ArrowLeft", ImGuiKey_LeftArrow},
    {"ArrowRight", ImGuiKey_RightArrow},
    {"ArrowUp", ImGuiKey_UpArrow},
    {"ArrowDown", ImGuiKey_DownArrow},
    {"Home", ImGuiKey_Home},
    {"End", ImGuiKey_End},
    {"PageUp", ImGuiKey_PageUp},
    {"PageDown", ImGuiKey_PageDown},
    {"Comma", ImGuiKey_Comma},
    {"Period", ImGuiKey_Period},
    {"Slash", ImGuiKey_Slash},
    {"Minus", ImGuiKey_Minus},
    {"Equal", ImGuiKey_Equal},
    {"NumpadDecimal", ImGuiKey_KeypadDecimal},
    {"NumpadDivide", ImGuiKey_KeypadDivide},
    {"NumpadMultiply", ImGuiKey_KeypadMultiply},
    {"NumpadSubtract", ImGuiKey_KeypadSubtract},
    {"NumpadAdd", ImGuiKey_KeypadAdd},
};

// "F1" to "F12"; 0 for anything else.
int function_key(std::string_view code) {
    if (code.size() < 2 || code.size() > 3 || code[0] != 'F') return 0;
    int number = 0;
    for (const char digit : code.substr(1)) {
        if (digit < '0' || digit > '9') return 0;
        number = number * 10 + (digit - '0');
    }
    return number >= 1 && number <= 12 ? number : 0;
}

}  // namespace

ImGuiKey key_of(std::string_view code, std::string_view key) {
    if (key.size() == 1) {
        const char printed = key[0];
        if (printed >= 'a' && printed <= 'z') return static_cast<ImGuiKey>(ImGuiKey_A + (printed - 'a'));
        if (printed >= 'A' && printed <= 'Z') return static_cast<ImGuiKey>(ImGuiKey_A + (printed - 'A'));
        if (printed >= '0' && printed <= '9') return static_cast<ImGuiKey>(ImGuiKey_0 + (printed - '0'));
    }
    if (const int number = function_key(code)) return static_cast<ImGuiKey>(ImGuiKey_F1 + (number - 1));
    for (const auto& [name, named] : named_keys)
        if (name == code) return named;
    return ImGuiKey_None;
}

}  // namespace tapwright::web
