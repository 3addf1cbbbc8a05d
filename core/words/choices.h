// The words for people of every closed list, by the key that files hold. The keys are file format and never change; the
// words do, and are translated.
#pragma once

#include "core/base/message.h"

namespace tapwright {

// "first fix" as it stands within a sentence, or "First fix" where it is a title. Requires: the list has that key.
Message words_of(const Choice& choice);

// A choice that stands alone, in a row, a cell or on a button, as a title; any other message as it is.
Message as_title(Message message);

// Whether there are words for it: for the test that every choice has some.
bool has_words(const Choice& choice);

}  // namespace tapwright
