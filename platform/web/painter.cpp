#include "platform/web/painter.h"

#include <GLES2/gl2.h>
#include <emscripten.h>
#include <imgui.h>

#include <algorithm>
#include <cstddef>

// clang-format off
// Takes the context that page/worker.js has made. Returns: 0 without WebGL, 1, or 2 with indices of 32 bits.
EM_JS(int, js_start_gl, (), {
    if (!Module.webGl) return 0;
    GL.makeContextCurrent(GL.registerContext(Module.webGl, {majorVersion: 1, enableExtensionsByDefault: 0}));
    return GLctx.getExtension('OES_element_index_uint') ? 2 : 1;
});
// A context that was given back has forgotten which extensions were asked for.
EM_JS(int, js_restore_gl, (), {
    return GLctx.getExtension('OES_element_index_uint') ? 2 : 1;
});
// clang-format on

namespace tapwright::web {
namespace {

constexpr char vertex_text[] =
    "precision highp float;\n"
    "uniform vec2 size; attribute vec2 place; attribute vec2 uv; attribute vec4 colour;\n"
    "varying vec2 at; varying vec4 ink;\n"
    "void main() {\n"
    "  at = uv; ink = colour;\n"
    "  gl_Position = vec4(place.x * 2.0 / size.x - 1.0, 1.0 - place.y * 2.0 / size.y, 0.0, 1.0);\n"
    "}";
constexpr char fragment_text[] =
    "precision mediump float;\n"
    "uniform sampler2D picture; varying vec2 at; varying vec4 ink;\n"
    "void main() { gl_FragColor = ink * texture2D(picture, at); }";

constexpr GLuint places[] = {0, 1, 2};  // of the three attributes
constexpr int largest_texture = 4096;   // every phone of the last ten years has that
constexpr std::size_t most_narrow = 65535 / 3 * 3;

GLuint shader(GLenum kind, const char* text) {
    const GLuint made = glCreateShader(kind);
    glShaderSource(made, 1, &text, nullptr);
    glCompileShader(made);
    return made;
}

const void* offset(std::size_t bytes) {
    return reinterpret_cast<const void*>(bytes);
}

int pixels(float length) {
    return static_cast<int>(length);
}

}  // namespace

unsigned make_texture(int width, int height, const void* rgba) {
    GLuint name = 0;
    glGenTextures(1, &name);
    glBindTexture(GL_TEXTURE_2D, name);
    for (const GLenum which : {GL_TEXTURE_MIN_FILTER, GL_TEXTURE_MAG_FILTER})
        glTexParameteri(GL_TEXTURE_2D, which, GL_LINEAR);
    // WebGL 1 shows black where a size is no power of two, unless the texture ends at its edges.
    for (const GLenum which : {GL_TEXTURE_WRAP_S, GL_TEXTURE_WRAP_T})
        glTexParameteri(GL_TEXTURE_2D, which, GL_CLAMP_TO_EDGE);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA, width, height, 0, GL_RGBA, GL_UNSIGNED_BYTE, rgba);
    return name;
}

void drop_texture(unsigned texture) {
    const GLuint name = texture;
    glDeleteTextures(1, &name);
}

bool Painter::start() {
    const int offered = js_start_gl();
    has_wide_indices_ = offered == 2;
    return offered != 0 && make();
}

bool Painter::restore() {
    has_wide_indices_ = js_restore_gl() == 2;
    for (ImTextureData* texture : ImGui::GetPlatformIO().Textures) {
        texture->SetTexID(ImTextureID_Invalid);
        texture->SetStatus(ImTextureStatus_Destroyed);  // the next frame wants it created
    }
    return make();
}

bool Painter::make() {
    ImGuiIO& io = ImGui::GetIO();
    io.BackendRendererName = "tapwright_webgl";
    io.BackendFlags |= ImGuiBackendFlags_RendererHasTextures;
    ImGuiPlatformIO& platform = ImGui::GetPlatformIO();
    platform.Renderer_TextureMaxWidth = platform.Renderer_TextureMaxHeight = largest_texture;
    program_ = glCreateProgram();
    glAttachShader(program_, shader(GL_VERTEX_SHADER, vertex_text));
    glAttachShader(program_, shader(GL_FRAGMENT_SHADER, fragment_text));
    glBindAttribLocation(program_, places[0], "place");
    glBindAttribLocation(program_, places[1], "uv");
    glBindAttribLocation(program_, places[2], "colour");
    glLinkProgram(program_);
    GLint is_linked = 0;
    glGetProgramiv(program_, GL_LINK_STATUS, &is_linked);
    if (!is_linked) return false;
    glUseProgram(program_);
    size_ = glGetUniformLocation(program_, "size");
    glUniform1i(glGetUniformLocation(program_, "picture"), 0);
    glGenBuffers(1, &vertices_);
    glGenBuffers(1, &indices_);
    glBindBuffer(GL_ARRAY_BUFFER, vertices_);
    glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, indices_);
    for (const GLuint place : places) glEnableVertexAttribArray(place);
    constexpr GLsizei step = sizeof(ImDrawVert);
    glVertexAttribPointer(places[0], 2, GL_FLOAT, GL_FALSE, step, offset(offsetof(ImDrawVert, pos)));
    glVertexAttribPointer(places[1], 2, GL_FLOAT, GL_FALSE, step, offset(offsetof(ImDrawVert, uv)));
    glVertexAttribPointer(places[2], 4, GL_UNSIGNED_BYTE, GL_TRUE, step, offset(offsetof(ImDrawVert, col)));
    glEnable(GL_BLEND);
    glBlendFuncSeparate(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
    glEnable(GL_SCISSOR_TEST);
    glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
    return true;
}

void Painter::update(ImTextureData& texture) {
    if (texture.Status == ImTextureStatus_WantDestroy && texture.UnusedFrames > 0) {
        drop_texture(static_cast<unsigned>(texture.TexID));
        texture.SetTexID(ImTextureID_Invalid);
        texture.SetStatus(ImTextureStatus_Destroyed);
    }
    if (texture.Status == ImTextureStatus_WantCreate) {
        texture.SetTexID(make_texture(texture.Width, texture.Height, texture.GetPixels()));
        texture.SetStatus(ImTextureStatus_OK);
    }
    if (texture.Status == ImTextureStatus_WantUpdates) {
        glBindTexture(GL_TEXTURE_2D, static_cast<GLuint>(texture.TexID));
        const ImTextureRect& changed = texture.UpdateRect;  // whole rows of it: those lie together in memory
        glTexSubImage2D(GL_TEXTURE_2D, 0, 0, changed.y, texture.Width, changed.h, GL_RGBA, GL_UNSIGNED_BYTE,
                        texture.GetPixelsAt(0, changed.y));
        texture.SetStatus(ImTextureStatus_OK);
    }
}

void Painter::paint(ImDrawData& data, const float (&ground)[3]) {
    const float height = data.DisplaySize.y;
    glViewport(0, 0, pixels(data.DisplaySize.x), pixels(height));
    glScissor(0, 0, pixels(data.DisplaySize.x), pixels(height));
    glClearColor(ground[0], ground[1], ground[2], 1);
    glClear(GL_COLOR_BUFFER_BIT);
    if (data.Textures)
        for (ImTextureData* texture : *data.Textures)
            if (texture->Status != ImTextureStatus_OK) update(*texture);
    glUniform2f(size_, data.DisplaySize.x, height);
    bound_ = 0;
    for (const ImDrawList* list : data.CmdLists) draw(*list, height);
}

void Painter::draw(const ImDrawList& list, float height) {
    if (has_wide_indices_) {
        glBufferData(GL_ARRAY_BUFFER, list.VtxBuffer.size_in_bytes(), list.VtxBuffer.Data, GL_STREAM_DRAW);
        glBufferData(GL_ELEMENT_ARRAY_BUFFER, list.IdxBuffer.size_in_bytes(), list.IdxBuffer.Data, GL_STREAM_DRAW);
    }
    for (const ImDrawCmd& command : list.CmdBuffer) {
        const ImVec4& clip = command.ClipRect;
        if (command.UserCallback || command.ElemCount == 0 || clip.z <= clip.x || clip.w <= clip.y) continue;
        glScissor(pixels(clip.x), pixels(height - clip.w), pixels(clip.z - clip.x), pixels(clip.w - clip.y));
        const auto texture = static_cast<GLuint>(command.GetTexID());
        if (texture != bound_) glBindTexture(GL_TEXTURE_2D, bound_ = texture);
        if (has_wide_indices_)
            glDrawElements(GL_TRIANGLES, static_cast<int>(command.ElemCount), GL_UNSIGNED_INT,
                           offset(command.IdxOffset * sizeof(ImDrawIdx)));
        else
            draw_narrow(list, command);
    }
}

// Indices of 16 bits reach 65,536 vertices: so many triangles at a time, each with corners of its own.
void Painter::draw_narrow(const ImDrawList& list, const ImDrawCmd& command) {
    for (std::size_t begin = 0; begin < command.ElemCount; begin += most_narrow) {
        const std::size_t count = std::min<std::size_t>(most_narrow, command.ElemCount - begin);
        spread_.clear();
        counted_.clear();
        for (std::size_t i = 0; i < count; ++i) {
            const ImDrawIdx index = list.IdxBuffer[static_cast<int>(command.IdxOffset + begin + i)];
            spread_.push_back(list.VtxBuffer[static_cast<int>(index)]);
            counted_.push_back(static_cast<std::uint16_t>(i));
        }
        glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(count * sizeof(ImDrawVert)), spread_.data(),
                     GL_STREAM_DRAW);
        glBufferData(GL_ELEMENT_ARRAY_BUFFER, static_cast<GLsizeiptr>(count * sizeof(std::uint16_t)), counted_.data(),
                     GL_STREAM_DRAW);
        glDrawElements(GL_TRIANGLES, static_cast<int>(count), GL_UNSIGNED_SHORT, nullptr);
    }
}

}  // namespace tapwright::web
