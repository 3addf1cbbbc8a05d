// docs/records.md, written from the field table so that it cannot fall behind it.
#pragma once

#include <string>

namespace tapwright {

// The whole document as Markdown: an introduction, then a table for each kind of record.
std::string records_document();

}  // namespace tapwright
