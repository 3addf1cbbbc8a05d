// A neutral document (core/sheet/document.h) as the bytes of a tagged PDF.
//
// What comes out: pages of A4 or Letter with "Page X of Y" and the footer on each, bookmarks from the headings, title,
// author, language and creation date, and a tag tree (Document, H1-H3, P, L, Table with TH and TD, Figure with
// alternative text) in the order of the blocks. Rules, shapes, repeated header rows and footers are artifacts, outside
// of that tree. The same document gives the same bytes: no clock, no chance, and a fontconfig configuration of our own
// in place of the machine's.
//
// Text in any script wraps, also inside words, and is never clipped; bytes that are not UTF-8 and control characters
// show as U+FFFD; a character that no font has shows as a box with its number. Rows that are higher than a page go on
// over the next.
//
// What it is not: it writes no file, decodes no picture (JPEG bytes go in as they are), and makes no claim of PDF/UA.
#pragma once

#include <string>

#include "core/base/result.h"
#include "core/sheet/document.h"

namespace tapwright::print {

struct Pdf {
    std::string bytes;
    int pages = 0;
};

// Requires: every table row has as many cells as its table has columns; heading levels are 1, 2 or 3.
// Returns: the PDF, or one sentence: no fonts on this machine, a picture that is no JPEG, a creation date that is not
// RFC 3339, a footer higher than a quarter of the page, a figure without alternative text, or what cairo or qpdf say.
// Throws std::bad_alloc. The work is done in a child process (platform/print/own_process.h), so a library that ends its
// process for want of memory does not end this one.
Result<Pdf> render_pdf(const document::Document& document);

// The same in this process, which must not call render_pdf() afterwards: for tests of what is drawn.
Result<Pdf> render_pdf_here(const document::Document& document);

}  // namespace tapwright::print
