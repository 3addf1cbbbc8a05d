// Owners for what cairo, pango and fontconfig hand out: each is freed by its own function, once.
#pragma once

#include <cairo.h>
#include <fontconfig/fontconfig.h>
#include <pango/pango.h>

#include <memory>

namespace tapwright::print {

template <auto release>
struct Release {
    template <class T>
    void operator()(T* handle) const {
        release(handle);
    }
};

struct ReleaseObject {
    template <class T>
    void operator()(T* object) const {
        g_object_unref(object);
    }
};

using FontMap = std::unique_ptr<PangoFontMap, ReleaseObject>;
using FontContext = std::unique_ptr<PangoContext, ReleaseObject>;
using Layout = std::unique_ptr<PangoLayout, ReleaseObject>;
using FontDescription = std::unique_ptr<PangoFontDescription, Release<pango_font_description_free>>;
using Attributes = std::unique_ptr<PangoAttrList, Release<pango_attr_list_unref>>;
using FontConfig = std::unique_ptr<FcConfig, Release<FcConfigDestroy>>;
using FontOptions = std::unique_ptr<cairo_font_options_t, Release<cairo_font_options_destroy>>;
using Surface = std::unique_ptr<cairo_surface_t, Release<cairo_surface_destroy>>;
using Context = std::unique_ptr<cairo_t, Release<cairo_destroy>>;

}  // namespace tapwright::print
