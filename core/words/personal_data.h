// What an export holds of persons, so that whoever hands it on knows.
#pragma once

#include <string>

#include "core/job/job.h"

namespace tapwright {

// "It holds personal data: the client, who to call, 2 names of people on visits, 1 drawn signature and 3 photos as the
// camera made them. Notes may hold more. Give it only to people who may see this." Or that it holds none that the
// program knows of.
Message personal_data(const Job& job);

// Until its callers carry messages.
std::string personal_data_sentence(const Job& job);

}  // namespace tapwright
