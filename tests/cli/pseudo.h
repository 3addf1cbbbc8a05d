// What is left of a text in the pseudo-language once everything that came through a Message is taken out: the words
// that a translator would never see. A text that is wholly made of messages leaves only figures, units, punctuation,
// and what people or the call put in.
#pragma once

#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "core/job/value.h"

namespace tapwright::test {

// `text` without what stands between « and », which may be nested. A mark without its other half stays.
std::string outside_marks(std::string_view text);

// The words outside the marks that hold a letter, are no unit, and are not among `known`: names, ids, paths and command
// words, each as a whole, blanks in it included.
std::vector<std::string> untranslated_words(std::string_view text, const std::set<std::string>& known);

// What a job's records are called: every id, name and label in its JSON, and nothing else of it.
std::set<std::string> names_in(const Value& job);

}  // namespace tapwright::test
