// What an export holds of persons, in a message, so that whoever hands it on knows.
#pragma once

#include "core/base/message.h"
#include "core/job/job.h"

namespace tapwright {

// "It holds personal data: the client, whom to call, the names of people on 2 visits, 1 drawn signature and 3 photos as
// taken. Notes may hold more. Give it only to people who may have them." Or that it holds none that the program knows
// of.
Message personal_data(const Job& job);

}  // namespace tapwright
