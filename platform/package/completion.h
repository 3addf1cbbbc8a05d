// What bash offers after `tapwright` and the Tab key, made from the command table.
#pragma once

#include <string>

namespace tapwright::package {

// Returns: a bash script that needs no other: commands, options and the values there are to choose from, kinds and
// fields of records, and files of the endings a command takes.
std::string bash_completion();

}  // namespace tapwright::package
