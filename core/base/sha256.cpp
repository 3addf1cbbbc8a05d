// Source: FIPS 180-4, sections 4.1.2, 4.2.2, 5.1.1, 5.3.3 and 6.2. The round constants are the first 32 bits of the
// fractional parts of the cube roots of the first 64 primes; they are worked out here, not copied, in exact integers.
#include "core/base/sha256.h"

#include <algorithm>
#include <bit>
#include <cstring>

namespace tapwright {
namespace {

constexpr std::array<std::uint32_t, 64> first_primes() {
    std::array<std::uint32_t, 64> primes{};
    std::size_t found = 0;
    for (std::uint32_t candidate = 2; found < primes.size(); ++candidate) {
        bool is_prime = true;
        for (std::uint32_t divisor = 2; divisor * divisor <= candidate; ++divisor)
            is_prime = is_prime && candidate % divisor != 0;
        if (is_prime) primes[found++] = candidate;
    }
    return primes;
}

__extension__ using Wide = unsigned __int128;

// floor(2^32 * root of n) for the square (power 2) or cube (power 3) root, by bisection. 2^32 * root < 2^36.
constexpr std::uint64_t scaled_root(std::uint32_t n, int power) {
    std::uint64_t low = 0;
    std::uint64_t high = std::uint64_t{1} << 37;
    while (high - low > 1) {
        const std::uint64_t middle = low + (high - low) / 2;
        const Wide target = power == 2 ? Wide{n} << 64 : Wide{n} << 96;
        const Wide square = Wide{middle} * middle;
        const bool fits = power == 2 ? square <= target : square <= target / middle;
        (fits ? low : high) = middle;
    }
    return low;
}

constexpr std::array<std::uint32_t, 64> round_constants() {
    std::array<std::uint32_t, 64> constants{};
    for (std::size_t i = 0; i < constants.size(); ++i)
        constants[i] = static_cast<std::uint32_t>(scaled_root(first_primes()[i], 3));
    return constants;
}

constexpr std::array<std::uint32_t, 8> start_state() {
    std::array<std::uint32_t, 8> state{};
    for (std::size_t i = 0; i < state.size(); ++i)
        state[i] = static_cast<std::uint32_t>(scaled_root(first_primes()[i], 2));
    return state;
}

const std::array<std::uint32_t, 64> round_constant = round_constants();
const std::array<std::uint32_t, 8> start = start_state();

std::uint32_t big_endian(const std::uint8_t* bytes) {
    return std::uint32_t{bytes[0]} << 24 | std::uint32_t{bytes[1]} << 16 | std::uint32_t{bytes[2]} << 8 | bytes[3];
}

}  // namespace

Sha256::Sha256() : state_(start) {}

void Sha256::compress(const std::uint8_t* block) {
    std::array<std::uint32_t, 64> w;
    for (std::size_t t = 0; t < 16; ++t) w[t] = big_endian(block + 4 * t);
    for (std::size_t t = 16; t < 64; ++t) {
        const std::uint32_t small0 = std::rotr(w[t - 15], 7) ^ std::rotr(w[t - 15], 18) ^ (w[t - 15] >> 3);
        const std::uint32_t small1 = std::rotr(w[t - 2], 17) ^ std::rotr(w[t - 2], 19) ^ (w[t - 2] >> 10);
        w[t] = w[t - 16] + small0 + w[t - 7] + small1;
    }
    auto [a, b, c, d, e, f, g, h] = state_;
    // One round with the eight words in turn, so that none has to be moved: d and h change, and the next round calls
    // each by its next name.
    const auto round = [&w](std::uint32_t a1, std::uint32_t b1, std::uint32_t c1, std::uint32_t& d1, std::uint32_t e1,
                            std::uint32_t f1, std::uint32_t g1, std::uint32_t& h1, std::size_t t) {
        const std::uint32_t big1 = std::rotr(e1, 6) ^ std::rotr(e1, 11) ^ std::rotr(e1, 25);
        const std::uint32_t choose = g1 ^ (e1 & (f1 ^ g1));
        const std::uint32_t temp1 = h1 + big1 + choose + round_constant[t] + w[t];
        const std::uint32_t big0 = std::rotr(a1, 2) ^ std::rotr(a1, 13) ^ std::rotr(a1, 22);
        const std::uint32_t majority = (a1 & b1) | (c1 & (a1 | b1));
        d1 += temp1;
        h1 = temp1 + big0 + majority;
    };
    for (std::size_t t = 0; t < 64; t += 8) {
        round(a, b, c, d, e, f, g, h, t);
        round(h, a, b, c, d, e, f, g, t + 1);
        round(g, h, a, b, c, d, e, f, t + 2);
        round(f, g, h, a, b, c, d, e, t + 3);
        round(e, f, g, h, a, b, c, d, t + 4);
        round(d, e, f, g, h, a, b, c, t + 5);
        round(c, d, e, f, g, h, a, b, t + 6);
        round(b, c, d, e, f, g, h, a, t + 7);
    }
    const std::array<std::uint32_t, 8> added{a, b, c, d, e, f, g, h};
    for (std::size_t i = 0; i < 8; ++i) state_[i] += added[i];
}

Sha256& Sha256::add(std::span<const std::uint8_t> bytes) {
    std::size_t filled = length_ % 64;
    length_ += bytes.size();
    while (!bytes.empty()) {
        if (filled == 0 && bytes.size() >= 64) {
            compress(bytes.data());
            bytes = bytes.subspan(64);
            continue;
        }
        const std::size_t take = std::min(bytes.size(), 64 - filled);
        std::copy_n(bytes.data(), take, block_.data() + filled);
        bytes = bytes.subspan(take);
        filled = (filled + take) % 64;
        if (filled == 0) compress(block_.data());
    }
    return *this;
}

Sha256& Sha256::add(std::string_view bytes) {
    return add(std::span(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size()));
}

Sha256& Sha256::add_number(std::uint64_t number) {
    std::array<std::uint8_t, 8> bytes;
    for (std::size_t i = 0; i < 8; ++i) bytes[i] = static_cast<std::uint8_t>(number >> (56 - 8 * i));
    return add(std::span<const std::uint8_t>(bytes));
}

Sha256& Sha256::add_framed(std::string_view bytes) {
    return add_number(bytes.size()).add(bytes);
}

Digest Sha256::finish() {
    const std::uint64_t bits = length_ * 8;
    const std::uint8_t one = 0x80;
    const std::uint8_t zero = 0;
    add(std::span(&one, 1));
    while (length_ % 64 != 56) add(std::span(&zero, 1));
    add_number(bits);
    Digest digest;
    for (std::size_t i = 0; i < 32; ++i) digest[i] = static_cast<std::uint8_t>(state_[i / 4] >> (24 - 8 * (i % 4)));
    return digest;
}

Digest sha256(std::string_view bytes) {
    return Sha256().add(bytes).finish();
}

std::string hex(std::span<const std::uint8_t> bytes) {
    static constexpr char digits[] = "0123456789abcdef";
    std::string text;
    text.reserve(bytes.size() * 2);
    for (const std::uint8_t byte : bytes) {
        text += digits[byte >> 4];
        text += digits[byte & 15];
    }
    return text;
}

}  // namespace tapwright
