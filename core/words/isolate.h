// A message as text in which what people typed cannot turn the direction of what stands around it: for sheets and
// labels, whose renderers write from right to left too.
#pragma once

#include <string>

#include "core/words/words.h"

namespace tapwright {

// words.text(message), each of somebody's own texts isolated where it turns the direction (core/base/direction.h).
std::string text_with_isolates(const Words& words, const Message& message);

}  // namespace tapwright
