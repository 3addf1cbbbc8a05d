#include "platform/desktop/picture.h"

#define GL_GLEXT_PROTOTYPES
#include <GLFW/glfw3.h>

#include <GL/glext.h>
#include <png.h>

#include <cstring>
#include <vector>

#include "core/base/text.h"
#include "platform/system/files.h"

namespace tapwright::desktop {
namespace {

template <class Function>
Function entry(const char* name) {
    return reinterpret_cast<Function>(glfwGetProcAddress(name));
}

// An off-screen colour buffer, bound as long as it lives.
class Canvas {
public:
    Canvas(int width, int height) {
        entry<PFNGLGENFRAMEBUFFERSPROC>("glGenFramebuffers")(1, &frame_);
        entry<PFNGLGENRENDERBUFFERSPROC>("glGenRenderbuffers")(1, &colour_);
        entry<PFNGLBINDRENDERBUFFERPROC>("glBindRenderbuffer")(GL_RENDERBUFFER, colour_);
        entry<PFNGLRENDERBUFFERSTORAGEPROC>("glRenderbufferStorage")(GL_RENDERBUFFER, GL_RGBA8, width, height);
        entry<PFNGLBINDFRAMEBUFFERPROC>("glBindFramebuffer")(GL_FRAMEBUFFER, frame_);
        entry<PFNGLFRAMEBUFFERRENDERBUFFERPROC>("glFramebufferRenderbuffer")(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0,
                                                                             GL_RENDERBUFFER, colour_);
    }
    ~Canvas() {
        entry<PFNGLBINDFRAMEBUFFERPROC>("glBindFramebuffer")(GL_FRAMEBUFFER, 0);
        entry<PFNGLDELETERENDERBUFFERSPROC>("glDeleteRenderbuffers")(1, &colour_);
        entry<PFNGLDELETEFRAMEBUFFERSPROC>("glDeleteFramebuffers")(1, &frame_);
    }
    Canvas(const Canvas&) = delete;
    Canvas& operator=(const Canvas&) = delete;

    bool complete() const {
        return entry<PFNGLCHECKFRAMEBUFFERSTATUSPROC>("glCheckFramebufferStatus")(GL_FRAMEBUFFER) ==
               GL_FRAMEBUFFER_COMPLETE;
    }

private:
    GLuint frame_ = 0, colour_ = 0;
};

}  // namespace

Result<void> write_picture(const std::string& path, int width, int height, const std::function<void()>& paint) {
    Canvas canvas(width, height);
    if (!canvas.complete())
        return Refusal{
            Message("This graphics driver cannot draw off the screen, so no picture was made. Try software OpenGL.")};
    glViewport(0, 0, width, height);
    paint();
    const auto row = static_cast<std::size_t>(width) * 3;
    std::vector<unsigned char> pixels(row * static_cast<std::size_t>(height));
    glPixelStorei(GL_PACK_ALIGNMENT, 1);
    glReadPixels(0, 0, width, height, GL_RGB, GL_UNSIGNED_BYTE, pixels.data());
    png_image image;
    std::memset(&image, 0, sizeof image);
    image.version = PNG_IMAGE_VERSION;
    image.width = static_cast<png_uint_32>(width);
    image.height = static_cast<png_uint_32>(height);
    image.format = PNG_FORMAT_RGB;
    // OpenGL's first row is the lowest: a negative stride turns it over.
    const auto stride = -static_cast<png_int_32>(row);
    // Asked without a buffer first, libpng says how many bytes it needs.
    png_alloc_size_t size = 0;
    std::string bytes;
    if (png_image_write_to_memory(&image, nullptr, &size, 0, pixels.data(), stride, nullptr)) {
        bytes.resize(size);
        if (png_image_write_to_memory(&image, bytes.data(), &size, 0, pixels.data(), stride, nullptr)) {
            bytes.resize(size);
            return write_file(path, bytes);
        }
    }
    return Refusal{Message("The picture could not be made: {reason}.", {{"reason", entered(cited(image.message))}})};
}

}  // namespace tapwright::desktop
