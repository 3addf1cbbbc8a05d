// Setting and drawing pages in a child process: the C libraries that do it end their process where memory runs out, and
// libqpdf where it does while it tidies up. The job that is open, and the person's other work, are in the parent.
#pragma once

#include <functional>

#include "platform/print/pdf.h"

namespace tapwright::print {

// What `make` returns when it is called in a child process. Or one sentence, when the child ended before it had a PDF,
// or when pango had something to say against what it drew. Throws std::bad_alloc when `make` did, or when there is no
// memory here for the bytes.
//
// Requires: this process has not set or drawn anything itself. pango leaves threads behind, and what they hold when the
// child is made is held in it for ever. And: a refusal of `make` has only names and code in its places.
//
// With the address sanitizer of GCC it is called in this process, so that its reports and leaks are seen.
Result<Pdf> in_own_process(const std::function<Result<Pdf>()>& make);

}  // namespace tapwright::print
