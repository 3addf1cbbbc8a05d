// A job's name as the name of its file.
#pragma once

#include <string>

namespace tapwright {

// What a job may be called as a file: what no file's name may hold becomes "-", blanks and dots at the ends go, and a
// long name is cut at a letter, so that a number and .tapjob still go behind. Never empty.
std::string file_name_of(const std::string& job_name);

}  // namespace tapwright
