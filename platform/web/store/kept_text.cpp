#include "platform/web/store/kept_text.h"

#include <charconv>
#include <optional>

#include "core/base/sha256.h"

namespace tapwright {
namespace {

// The digits of a hash, a line feed; then the number, a line feed, the text.
constexpr std::size_t hash_digits = 64;

struct Slot {
    std::uint64_t number = 0;
    std::string text;
};

std::optional<Slot> slot_in(const std::string& bytes) {
    if (bytes.size() < hash_digits + 3 || bytes[hash_digits] != '\n') return std::nullopt;
    const std::string_view rest = std::string_view(bytes).substr(hash_digits + 1);
    if (hex(sha256(rest)) != std::string_view(bytes).substr(0, hash_digits)) return std::nullopt;
    Slot slot;
    const auto [end, error] = std::from_chars(rest.data(), rest.data() + rest.size(), slot.number);
    if (error != std::errc() || end == rest.data() + rest.size() || *end != '\n') return std::nullopt;
    slot.text = rest.substr(static_cast<std::size_t>(end - rest.data()) + 1);
    return slot;
}

}  // namespace

std::string KeptText::load() {
    std::string latest;
    for (const std::string& name : names_) {
        std::string bytes;
        Handle* const file = files_.find(name);
        if (file == nullptr || !read_whole(*file, bytes)) continue;
        std::optional<Slot> slot = slot_in(bytes);
        if (!slot || slot->number <= number_) continue;
        number_ = slot->number;
        latest = std::move(slot->text);
    }
    return latest;
}

Result<void> KeptText::save(std::string_view text) {
    const std::uint64_t number = number_ + 1;
    const std::string rest = std::to_string(number) + "\n" + std::string(text);
    Handle* const file = files_.find(names_[number % 2]);
    if (file == nullptr || !write_whole(*file, hex(sha256(rest)) + "\n" + rest))
        return Refusal{
            Message("The browser keeps no more of this program's settings: its storage is full or refused. Export your "
                    "jobs, then make room on the device.")};
    number_ = number;
    return done();
}

}  // namespace tapwright
