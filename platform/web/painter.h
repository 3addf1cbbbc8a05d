// Paints Dear ImGui's lists with WebGL 1, and asks WebGL nothing back while it does: each question would wait for the
// browser's graphics process, tens of milliseconds.
#pragma once

#include <cstdint>
#include <vector>

struct ImDrawCmd;
struct ImDrawData;
struct ImDrawList;
struct ImDrawVert;
struct ImTextureData;

namespace tapwright::web {

class Painter {
public:
    // Makes the context on the worker's canvas, and what painting needs in it. Returns: whether there is WebGL.
    bool start();
    // The same in a context that was lost and has been given back. Textures are made anew: those of Dear ImGui by the
    // next frame, others by whoever made them.
    bool restore();

    // The whole picture, on a ground of that colour (0 to 1 each).
    void paint(ImDrawData& data, const float (&ground)[3]);

private:
    bool make();
    void update(ImTextureData& texture);
    void draw(const ImDrawList& list, float height);
    void draw_narrow(const ImDrawList& list, const ImDrawCmd& command);

    unsigned program_ = 0, vertices_ = 0, indices_ = 0, bound_ = 0;
    int size_ = -1;
    bool has_wide_indices_ = false;  // of 32 bits; nearly every device has them
    std::vector<ImDrawVert> spread_;
    std::vector<std::uint16_t> counted_;
};

// A picture of 4 bytes a pixel as a texture that is cut at its edges.
unsigned make_texture(int width, int height, const void* rgba);
void drop_texture(unsigned texture);

}  // namespace tapwright::web
