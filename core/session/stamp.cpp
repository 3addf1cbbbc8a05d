#include "core/session/stamp.h"

namespace tapwright {

// The mixing function of SplitMix64 (Steele, Lea, Flood: Fast splittable pseudorandom number generators, 2014).
std::uint64_t IdMaker::number() {
    state_ += 0x9E3779B97F4A7C15u;
    std::uint64_t z = state_;
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
    z ^= z >> 31;
    return z == 0 ? 1 : z;
}

Id IdMaker::make(Kind kind) {
    static constexpr char letters[] = "0123456789abcdefghjkmnpqrstvwxyz";
    std::string text(1, singular(kind).front());
    std::uint64_t bits = number();
    for (int i = 0; i < 12; ++i, bits >>= 5) text += letters[bits & 31];
    return Id(text);
}

}  // namespace tapwright
