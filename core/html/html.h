// A neutral document as one self-contained HTML page: no scripts, nothing fetched, pictures and drawings inside. Reads
// on a phone from 360 CSS pixels on, and prints on the document's paper.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <string_view>

#include "core/sheet/document.h"

namespace tapwright {

// Returns: the page, UTF-8. The same document gives the same bytes. Whatever the texts hold, they stay texts.
std::string html_page(const document::Document& document);

// The same page written block by block, for what is too large to be in memory whole.
class HtmlWriter {
public:
    using Out = std::function<void(std::string_view)>;
    // `head`: the document with or without its blocks, which are not written; labels alone have to be among them, as
    // their size is part of the page's head.
    HtmlWriter(const document::Document& head, Out out);
    ~HtmlWriter();
    // What is written on the way refers to this very object.
    HtmlWriter(const HtmlWriter&) = delete;
    HtmlWriter& operator=(const HtmlWriter&) = delete;

    void add(const document::Block& block);
    // What is known only in the end, the way to the sections, and where in all that was given out it belongs. Whoever
    // keeps the page puts it there.
    struct Later {
        std::size_t at = 0;
        std::string text;  // may say nothing
    };
    // The rest of the page. Nothing can be added afterwards.
    Later finish();

private:
    class Page;
    std::string footer_;
    Out out_;
    std::unique_ptr<Page> page_;
};

}  // namespace tapwright
