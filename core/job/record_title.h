// What people call a record. Ids are for machines: nobody reads one.
#pragma once

#include "core/job/job.h"

namespace tapwright {

// "Visit on 25 Nov 2026: service".
Message visit_title(const Visit& visit);

// Its name; a link to another system by what it does; without a name a visit by its day, a photo by its caption, a snag
// by its text, a sheet by its reader and day; else what it is and what it is about: "Reading of C-104". A record that
// is not there keeps its id, as nothing else is known of it.
Message record_title(const Job& job, const Id& id);

}  // namespace tapwright
