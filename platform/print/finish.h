// The last pass over the PDF, with libqpdf: what cairo leaves out, or some versions of it do. It turns the markers of
// marks.h into marked content, writes the tag tree (alternative texts, header scopes, language), marks everything
// outside of it as an artifact, writes the metadata, and gives the file an identifier made from its own content.
#pragma once

#include <string>

#include "core/base/result.h"
#include "core/sheet/document.h"
#include "platform/print/structure.h"

namespace tapwright::print {

// `painted`: what paint() returned for the same structure. Returns: the finished bytes, or a sentence.
Result<std::string> finish(const std::string& painted, const Structure& structure, const document::Document& document);

// "2026-05-04T09:30:00+02:00" as "D:20260504093000+02'00'" (ISO 32000-1, 7.9.4). Empty when it is no RFC 3339 time.
std::string pdf_date(const std::string& rfc3339);

}  // namespace tapwright::print
