// SHA-256 (FIPS 180-4): the one hash of the program, for batches, photos and sheets.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>

namespace tapwright {

using Digest = std::array<std::uint8_t, 32>;

class Sha256 {
public:
    Sha256();
    Sha256& add(std::span<const std::uint8_t> bytes);
    Sha256& add(std::string_view bytes);
    // Adds the length (8 bytes, big-endian) and then the bytes, so that two neighbouring texts cannot run together.
    Sha256& add_framed(std::string_view bytes);
    Sha256& add_number(std::uint64_t number);
    Digest finish();

private:
    void compress(const std::uint8_t* block);

    std::array<std::uint32_t, 8> state_;
    std::array<std::uint8_t, 64> block_{};
    std::uint64_t length_ = 0;
};

Digest sha256(std::string_view bytes);
// Lower-case hexadecimal, 64 characters for a whole digest.
std::string hex(std::span<const std::uint8_t> bytes);

}  // namespace tapwright
