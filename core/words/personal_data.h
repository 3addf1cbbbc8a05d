// What an export holds of persons, in one sentence, so that whoever hands it on knows.
#pragma once

#include <string>

#include "core/job/job.h"

namespace tapwright {

// "It holds personal data: the client, whom to call, 2 names of people on visits, 1 drawn signature and 3 photos. Hand
// it only to those who may have them." Or that it holds none that the program knows of.
std::string personal_data_sentence(const Job& job);

}  // namespace tapwright
