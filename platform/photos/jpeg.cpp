// JPEG by libjpeg-turbo. Its TurboJPEG interface keeps the long jumps of libjpeg's error handling inside the library.
#include <turbojpeg.h>

#include <algorithm>
#include <limits>
#include <memory>

#include "platform/photos/formats.h"

namespace tapwright::photos {
namespace {

constexpr int quality = 82;

struct Destroy {
    void operator()(void* handle) const { tjDestroy(handle); }
};
using Handle = std::unique_ptr<void, Destroy>;

struct Free {
    void operator()(unsigned char* buffer) const { tjFree(buffer); }
};

const unsigned char* data_of(std::string_view bytes) {
    return reinterpret_cast<const unsigned char*>(bytes.data());
}

// What the library says of its last error.
Entered reason(const Handle& handle) {
    return entered(tjGetErrorStr2(handle.get()));
}

// What was wrong while decoding; nothing when the picture is whole. Bytes too many between two segments are common and
// harm nothing. The library tells its warnings apart by their text alone.
Message trouble_of(const Handle& handle, int status) {
    if (status == 0) return {};
    const std::string_view said = tjGetErrorStr2(handle.get());
    if (tjGetErrorCode(handle.get()) == TJERR_WARNING && said.find("extraneous bytes") != said.npos) return {};
    if (said.find("remature end") != said.npos) return Message("It ends too early.");
    return Message("Its data are damaged ({reason}).", {{"reason", reason(handle)}});
}

Pixels rgb_from_cmyk(const std::vector<std::uint8_t>& cmyk, int width, int height, bool inverted) {
    Pixels pixels{width, height, std::vector<std::uint8_t>(cmyk.size() / 4 * 3)};
    std::uint8_t* out = pixels.rgb.data();
    for (std::size_t i = 0; i + 3 < cmyk.size(); i += 4) {
        const unsigned light = inverted ? cmyk[i + 3] : 255U - cmyk[i + 3];
        for (std::size_t k = 0; k < 3; ++k)
            *out++ = static_cast<std::uint8_t>((inverted ? cmyk[i + k] : 255U - cmyk[i + k]) * light / 255U);
    }
    return pixels;
}

// The smallest of 1/1, 1/2, 1/4, 1/8 (those with fast code) that leaves `longest` pixels.
tjscalingfactor factor_for(int longer, int longest) {
    int part = 1;
    while (part < 8 && longer / (part * 2) >= longest) part *= 2;
    return {1, part};
}

}  // namespace

Result<Pixels> decode_jpeg(std::string_view bytes, const Header& header, int longest) {
    bytes = bytes.substr(0, header.image_end);
    const Handle handle(tjInitDecompress());
    if (!handle) return Refusal{Message("The decoder could not start.")};
    const auto size = static_cast<unsigned long>(bytes.size());
    int width = 0;
    int height = 0;
    int sampling = 0;
    int space = 0;
    if (tjDecompressHeader3(handle.get(), data_of(bytes), size, &width, &height, &sampling, &space) != 0)
        return Refusal{Message("Its header cannot be read ({reason}).", {{"reason", reason(handle)}})};
    // The library may have found another frame header than we did: its own figures are what it will decode.
    if (width < 1 || height < 1 || static_cast<std::uint64_t>(width) * static_cast<std::uint64_t>(height) > most_pixels)
        return Refusal{Message("It gives two sizes.")};
    const tjscalingfactor factor = factor_for(std::max(width, height), longest);
    width = TJSCALED(width, factor);
    height = TJSCALED(height, factor);
    const bool is_cmyk = space == TJCS_CMYK || space == TJCS_YCCK;
    const int format = is_cmyk ? TJPF_CMYK : TJPF_RGB;
    std::vector<std::uint8_t> buffer(static_cast<std::size_t>(width) * static_cast<std::size_t>(height) *
                                     static_cast<std::size_t>(tjPixelSize[format]));
    // The fast ways are good enough for what is scaled down afterwards.
    const int how = TJFLAG_LIMITSCANS | TJFLAG_FASTUPSAMPLE | TJFLAG_FASTDCT;
    const int status = tjDecompress2(handle.get(), data_of(bytes), size, buffer.data(), width, 0, height, format, how);
    if (Message trouble = trouble_of(handle, status); !trouble.empty()) return Refusal{std::move(trouble)};
    if (is_cmyk) return rgb_from_cmyk(buffer, width, height, header.has_adobe);
    return Pixels{width, height, std::move(buffer)};
}

Result<Jpeg> encode_jpeg(const Pixels& pixels) {
    const Handle handle(tjInitCompress());
    if (!handle) return Refusal{Message("The encoder could not start.")};
    unsigned char* made = nullptr;
    unsigned long size = 0;
    const int status = tjCompress2(handle.get(), pixels.rgb.data(), pixels.width, 0, pixels.height, TJPF_RGB, &made,
                                   &size, TJSAMP_420, quality, TJFLAG_ACCURATEDCT);
    const std::unique_ptr<unsigned char, Free> owned(made);
    if (status != 0) return Refusal{Message("It could not be encoded ({reason}).", {{"reason", reason(handle)}})};
    return Jpeg{std::string(reinterpret_cast<const char*>(made), size), pixels.width, pixels.height};
}

}  // namespace tapwright::photos
