#include "platform/photos/pixels.h"

#include <algorithm>
#include <cmath>

namespace tapwright::photos {
namespace {

// Which pixels of a side go into one pixel of the smaller side, and with what share.
struct Share {
    int first = 0;
    std::vector<float> weights;
};

std::vector<Share> shares(int from, int to) {
    std::vector<Share> list(static_cast<std::size_t>(to));
    const double step = static_cast<double>(from) / to;
    for (int i = 0; i < to; ++i) {
        const double begin = i * step;
        const double end = std::min(begin + step, static_cast<double>(from));
        Share& share = list[static_cast<std::size_t>(i)];
        share.first = std::min(static_cast<int>(begin), from - 1);
        for (int k = share.first; k < from && (k < end || k == share.first); ++k) {
            const double covered = std::min(end, k + 1.0) - std::max(begin, static_cast<double>(k));
            share.weights.push_back(static_cast<float>(std::max(covered, 0.0) / step));
        }
    }
    return list;
}

void squeeze_row(const std::vector<float>& sums, const std::vector<Share>& columns, std::uint8_t* out) {
    for (const Share& column : columns) {
        float red = 0;
        float green = 0;
        float blue = 0;
        const float* at = sums.data() + static_cast<std::size_t>(column.first) * 3;
        for (const float weight : column.weights) {
            red += weight * at[0];
            green += weight * at[1];
            blue += weight * at[2];
            at += 3;
        }
        for (const float sum : {red, green, blue})
            *out++ = static_cast<std::uint8_t>(std::clamp(sum + 0.5F, 0.0F, 255.0F));
    }
}

}  // namespace

Size fitted(int width, int height, int longest) {
    const int longer = std::max(width, height);
    if (longer <= longest) return {width, height};
    const double factor = static_cast<double>(longest) / longer;
    const auto side = [&](int pixels) { return std::max(1, static_cast<int>(std::lround(pixels * factor))); };
    return {side(width), side(height)};
}

Pixels scaled(const Pixels& from, Size size) {
    if (size.width == from.width && size.height == from.height) return from;
    Pixels to{size.width, size.height, {}};
    to.rgb.resize(to.row_bytes() * static_cast<std::size_t>(size.height));
    const std::vector<Share> columns = shares(from.width, size.width);
    const std::vector<Share> rows = shares(from.height, size.height);
    std::vector<float> sums(from.row_bytes());
    for (std::size_t y = 0; y < rows.size(); ++y) {
        std::fill(sums.begin(), sums.end(), 0.0F);
        const std::uint8_t* row = from.rgb.data() + static_cast<std::size_t>(rows[y].first) * from.row_bytes();
        for (const float weight : rows[y].weights) {
            for (std::size_t i = 0; i < sums.size(); ++i) sums[i] += weight * static_cast<float>(row[i]);
            row += from.row_bytes();
        }
        squeeze_row(sums, columns, to.rgb.data() + y * to.row_bytes());
    }
    return to;
}

Pixels upright(Pixels from, int orientation) {
    if (orientation < 2 || orientation > 8) return from;
    const bool swapped = orientation >= 5;  // rows become columns
    // EXIF 2.3, tag 274: where the first row and the first column of what is stored belong.
    const bool from_right = orientation == 2 || orientation == 3 || orientation == 7 || orientation == 8;
    const bool from_bottom = orientation == 3 || orientation == 4 || orientation == 6 || orientation == 7;
    Pixels to{swapped ? from.height : from.width, swapped ? from.width : from.height, {}};
    to.rgb.resize(from.rgb.size());
    std::uint8_t* out = to.rgb.data();
    for (int y = 0; y < to.height; ++y)
        for (int x = 0; x < to.width; ++x) {
            int column = swapped ? y : x;
            int row = swapped ? x : y;
            if (from_right) column = from.width - 1 - column;
            if (from_bottom) row = from.height - 1 - row;
            const std::uint8_t* in = from.rgb.data() + static_cast<std::size_t>(row) * from.row_bytes() +
                                     static_cast<std::size_t>(column) * 3;
            out = std::copy(in, in + 3, out);
        }
    return to;
}

}  // namespace tapwright::photos
