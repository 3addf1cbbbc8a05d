// libFuzzer on the bytes of a photo: whatever they are, taking it in must end in a sentence or in a copy within bounds,
// and the copy must itself be a photo that can be taken in. Begin with a folder of small JPEG and PNG files.
#include <cstdint>
#include <string>

#include "core/base/ensure.h"
#include "core/words/words.h"
#include "platform/photos/photos.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace tapwright;
    const auto photo = photos::take_in({reinterpret_cast<const char*>(data), size}, "the photo");
    if (!photo) {
        TAPWRIGHT_ENSURE(!in_english(photo.refusal()).empty());
        return 0;
    }
    TAPWRIGHT_ENSURE(photo->copy.width <= photos::copy_side && photo->copy.height <= photos::copy_side);
    TAPWRIGHT_ENSURE(photos::reduced(photo->copy.bytes, 64).ok());
    return 0;
}
